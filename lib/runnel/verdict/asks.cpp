// Judges every need of the owner against the answer.
#include <algorithm>

#include "runnel/network/place_state.h"
#include "runnel/verdict/asked.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/rounding.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/splits.h"

namespace runnel::verdict {
namespace {

using network::Ask;
using network::AskKind;
using network::PlaceKind;

double flow_leaving(const network::System& system, const steady::State& state, const std::string& box) {
  double out = 0.0;
  const int place = system.find_place(box).value_or(-1);
  for (const int l : place < 0 ? std::vector<int>{} : system.lines_at(place)) {
    const double flow_m3s = state.lines[static_cast<std::size_t>(l)].flow_m3s;
    out += system.lines()[static_cast<std::size_t>(l)].from == place ? flow_m3s : -flow_m3s;
  }
  return out;
}

double flow_at(const network::System& system, const steady::State& state, const steady::PlaceState& place) {
  if (place.kind == PlaceKind::box) {
    const network::Box* box = system.box(place.name);
    if (box && box->yield.si() > 0.0) return std::max(0.0, flow_leaving(system, state, place.name));
  }
  // Open water, and a joint that draws nothing, get what the lines bring.
  const bool by_lines =
      network::open_water(place.kind) || (place.kind == PlaceKind::joint && !(place.draw_asked_m3s > 0.0));
  return by_lines ? brought_m3s(system, state, place.name) : network::gets_m3s(place);
}

void judge_flow_ask(const network::System& system, const steady::State& state,
                    const steady::PlaceState& place, AskResult& result) {
  if (place.float_shut) {
    result.why_not_judged = "the float valve is shut at the level the model starts from, so nothing runs in";
    return;
  }
  result.judged = true;
  const network::Box* box = system.box(place.name);
  result.at_spring = box && box->yield > Flow{};
  result.got = Figure{Kind::flow, flow_at(system, state, place)};
  result.met = result.got->si >= result.asked.si * (1.0 - rounding);
}

/// At an outlet or a joint; no pressure can be asked at boxes and tanks, which stand open.
void judge_pressure_ask(const network::System& system, const steady::PlaceState& place, AskResult& result) {
  if (const network::Outlet* outlet = system.outlet(place.name); outlet && outlet->shut) {
    result.why_not_judged = "its tap is shut, so only standing water presses there";
    return;
  }
  result.judged = true;
  if (const auto head = place.dry ? std::nullopt : place.pressure_head_m) {
    result.got = pressure_of_head(system, *head);
    result.met = result.got->si >= result.asked.si * (1.0 - rounding);
  }
}

}  // namespace

double brought_m3s(const network::System& system, const steady::State& state, const std::string& name) {
  double in_m3s = 0.0;
  const int place = system.find_place(name).value_or(-1);
  for (const int l : place < 0 ? std::vector<int>{} : system.lines_at(place)) {
    const double flow_m3s = state.lines[static_cast<std::size_t>(l)].flow_m3s;
    in_m3s += std::max(0.0, system.lines()[static_cast<std::size_t>(l)].to == place ? flow_m3s : -flow_m3s);
  }
  return in_m3s;
}

const steady::LineState* run_of(const network::System& system, const steady::State& state,
                                const network::Line& line) {
  const auto index = static_cast<std::size_t>(&line - system.lines().data());
  if (index < state.lines.size() && state.lines[index].name == line.name) return &state.lines[index];
  return state.line(line.name);
}

Figure pressure_of_head(const network::System& system, double head_m) {
  return {Kind::pressure, head_m * system.site().specific_weight_nm3()};
}

std::vector<AskResult> judge_asks(const network::System& system, const steady::State& state) {
  std::vector<AskResult> results;
  for (const Ask& ask : system.asks()) {
    AskResult result;
    result.ask = ask;
    result.asked = asked_figure(ask);
    const steady::PlaceState* place = state.place(ask.at);
    if (ask.kind == AskKind::full_within) {
      result.why_not_judged = "how long it takes to fill needs the answer over time";
    } else if (state.outcome != steady::Outcome::settled || !place) {
      result.why_not_judged = "no answer was reached";
    } else if (ask.kind == AskKind::flow) {
      judge_flow_ask(system, state, *place, result);
    } else {
      judge_pressure_ask(system, *place, result);
    }
    results.push_back(std::move(result));
  }
  mark_splits(system, state, results);
  return results;
}

}  // namespace runnel::verdict
