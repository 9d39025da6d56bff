#include "runnel/verdict/opened_wide.h"

#include <algorithm>

#include "runnel/base/index.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/rounding.h"

namespace runnel::verdict {
namespace {

using network::System;

constexpr Code opened_wide_rule{
    "tap-takes-more-when-wide",
    "a tap that takes what another needs if it is opened wide",
    "A tap with `draws` is reckoned as people are said to open it: just so far that no more comes than is "
    "wanted there. Opened wide it would take so much that another tap gets less than it needs.",
    "Few people open a tap only as far as they need.",
    "Give the tap a smaller opening, or set a valve before it once and for all.",
    "the solver, with that one tap opened wide"};

// Lines solved to see what taps could give: a tenth of a second or less on a small machine.
constexpr std::size_t most_lines_tried = 20000;

/// The number of a tap that people do not open wide.
std::optional<int> held_tap(const System& system, const std::string& name) {
  const auto place = system.find_place(name);
  if (!place || system.kind(*place) != network::PlaceKind::outlet) return std::nullopt;
  const int tap = system.place(*place).index;
  return system.lets_out(tap) ? std::optional(tap) : std::nullopt;
}

/// Opens a tap wide for as long as it lives.
class Wide {
 public:
  Wide(steady::Solver& solver, int tap)
      : solver_(solver), tap_(tap), people_let_(solver.system().lets_out(tap)) {
    solver_.open(tap_, std::nullopt);
  }
  ~Wide() { solver_.open(tap_, people_let_); }
  Wide(const Wide&) = delete;
  Wide& operator=(const Wide&) = delete;

  /// None where they do not settle.
  const steady::Flows* flows() {
    const steady::Flows& flows = solver_.solve();
    return flows.outcome == steady::Outcome::settled ? &flows : nullptr;
  }

 private:
  steady::Solver& solver_;
  int tap_;
  std::optional<Flow> people_let_;
};

/// The needs at other taps that are met now and would not be with these flows.
std::vector<std::pair<const AskResult*, double>> short_then(const System& system,
                                                            const std::vector<AskResult>& asks,
                                                            const std::string& wide,
                                                            const steady::Flows& flows) {
  std::vector<std::pair<const AskResult*, double>> found;
  for (const AskResult& r : asks) {
    if (r.ask.at == wide || r.ask.kind != network::AskKind::flow || !r.judged || !r.met) continue;
    const auto place = system.find_place(r.ask.at);
    if (!place || system.kind(*place) != network::PlaceKind::outlet) continue;
    const double then_m3s = flows.outlet_m3s[at(system.place(*place).index)];
    if (then_m3s < r.asked.si * (1.0 - rounding)) found.emplace_back(&r, then_m3s);
  }
  return found;
}

Finding takes_more(const std::string& tap, const std::vector<std::pair<const AskResult*, double>>& others) {
  const auto& [first, then_m3s] = others.front();
  Draft d(opened_wide_rule, Severity::warning);
  d.at_place(tap).against({Kind::flow, then_m3s}, first->asked);
  d.message.say("If people open ").name(tap).say(" wide, ").name(first->ask.at);
  d.message.say(" gets only ").figure(Kind::flow, then_m3s).say(" of the ").figure(first->asked);
  d.message.say(first->ask.as_drawn ? " drawn there" : " asked there");
  if (others.size() > 1)
    d.message.say(", and " + std::to_string(others.size() - 1) + " more would get too little");
  d.message.say(".");
  d.advice.say("Give ").name(tap).say(" a smaller opening, or set a valve before it once and for all.");
  return d.done();
}

}  // namespace

bool held_at_tap(const System& system, const AskResult& r) {
  if (r.ask.kind != network::AskKind::flow || !r.judged || !r.met || !r.got) return false;
  const auto tap = held_tap(system, r.ask.at);
  return tap && r.got->si >= system.lets_out(*tap)->si() * (1.0 - rounding);
}

void try_wide_open(steady::Solver& solver, AskResult& r) {
  if (!held_at_tap(solver.system(), r)) return;
  const int tap = *held_tap(solver.system(), r.ask.at);
  Wide wide(solver, tap);
  if (const steady::Flows* flows = wide.flows()) r.could = Figure{Kind::flow, flows->outlet_m3s[at(tap)]};
}

void open_taps_wide(const System& system, FlowVerdict& verdict) {
  std::vector<AskResult>& asks = verdict.asks;
  const auto held = [&](const AskResult& r) { return held_at_tap(system, r); };
  const auto taps = static_cast<std::size_t>(std::count_if(asks.begin(), asks.end(), held));
  if (taps == 0 || taps * system.lines().size() > most_lines_tried) return;
  steady::Solver solver(system);
  for (AskResult& r : asks) {
    if (!held(r)) continue;
    const int tap = *held_tap(system, r.ask.at);
    Wide wide(solver, tap);
    const steady::Flows* flows = wide.flows();
    if (!flows) continue;
    r.could = Figure{Kind::flow, flows->outlet_m3s[at(tap)]};
    const auto others = short_then(system, asks, r.ask.at, *flows);
    if (!others.empty()) verdict.findings.push_back(takes_more(r.ask.at, others));
  }
}

double most_si(const AskResult& r) { return r.could ? std::max(r.could->si, r.got->si) : r.got->si; }

std::vector<Code> opened_wide_codes() { return {opened_wide_rule}; }

}  // namespace runnel::verdict
