#include "runnel/verdict/answer.h"

#include <algorithm>
#include <limits>
#include <utility>

#include "runnel/filling/typical_day.h"
#include "runnel/network/floats.h"
#include "runnel/network/hours.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/answer_sentence.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/cures_tried.h"
#include "runnel/verdict/cut_off.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/rounding.h"
#include "runnel/verdict/settings.h"
#include "runnel/verdict/shortfall.h"
#include "runnel/verdict/siphon_rules.h"
#include "runnel/verdict/start_levels.h"
#include "runnel/verdict/store_cures.h"
#include "runnel/verdict/told_acts.h"
#include "runnel/verdict/turns.h"

namespace runnel::verdict {
namespace {

constexpr Code float_taken_open_rule{
    "float-taken-open",
    "a full tank is judged as if it had been drawn from",
    "A flow is asked of a tank whose float valve is shut at the level the model starts from. What it gets"
    " is worked out with the water at the level where the float opens.",
    "At the level as written nothing runs in, and the answer would say nothing about the line.",
    "Nothing, if that is what is meant. Write a lower `level` to see the line filling an empty tank.",
    ""};

constexpr Code taps_never_open_rule{
    "taps-never-open",
    "taps that no setting opens",
    "A tap is drawn shut, and no setting opens it. The needs are met without it; with it open as well some "
    "need is not.",
    "A tap that is there will be opened. Then the lower one takes the water and the higher one runs dry.",
    "Add a setting that opens the taps which may run together, or throttle the lower ones.",
    "computed: the system with those taps open",
    Filling::follows};

constexpr Code by_turns_rule{
    "taps-by-turns",
    "taps and joints that are used by turns",
    "No hour finds all drawn that is drawn by the hour. Drawn together, some need is not met; each judged in "
    "its own hours, with the taps shut that are not drawn then and what joints draw then, all needs are met.",
    "A tap is opened when somebody is thirsty. Then the lower one takes the water and the higher one runs "
    "dry.",
    "See that the hours are kept, or bring more water.",
    "computed: the system in each of these hours",
    Filling::follows};

using network::Model;

bool asked_flow(const Model& model, const std::string& place) {
  return std::any_of(model.asks.begin(), model.asks.end(), [&](const network::Ask& ask) {
    return ask.kind == network::AskKind::flow && ask.at == place;
  });
}

Finding taken_open(const network::Tank& tank, Length level) {
  Draft d(float_taken_open_rule, Severity::note);
  d.at_place(tank.name);
  d.message.name(tank.name)
      .say(" starts with its float valve shut; what it gets is worked out with its water at ")
      .figure(Kind::elevation, level.metres())
      .say(", where the float opens.");
  d.source("the model's own levels");
  return d.done();
}

/// A flow that a shut float valve has to bring is judged at the level at which the float opens; so is a model
/// that asks for nothing, which is asked what runs.
Model with_floats_open(Model model, std::vector<Finding>& remarks) {
  for (network::Tank& tank : model.tanks) {
    const auto floats = network::floats_of(model, tank);
    const bool about_it = model.asks.empty() || asked_flow(model, tank.name);
    if (floats.empty() || tank.level < floats.front().shuts_at || !about_it) continue;
    const Length opens = std::min(tank.lip, network::all_open(floats));
    if (opens < tank.floor) continue;
    tank.level = opens;
    remarks.push_back(taken_open(tank, opens));
  }
  return model;
}

/// The levels at which needs are judged, with a remark on each that is not the model's own.
Model with_levels_to_judge(Model model, std::vector<Finding>& remarks) {
  return with_floats_open(with_empty_tanks_settled(std::move(model), remarks), remarks);
}

/// Adds what checking the model found, unless reading it has reported the same.
void add_unsaid(const std::vector<Finding>& found, std::vector<Finding>& remarks) {
  for (const Finding& one : found)
    if (std::none_of(remarks.begin(), remarks.end(),
                     [&](const Finding& said) { return said.message == one.message; }))
      remarks.push_back(one);
}

/// A model at the levels at which it is judged.
Checked<Run> judge_levels(Model judged, const std::string& setting, const Aside& aside) {
  auto system = network::resolve(std::move(judged));
  if (!system) return {std::nullopt, std::move(system.findings)};
  Checked<Run> run{Run{setting, std::move(*system.value), {}, {}}, {}};
  run.value->state = steady::solve(run.value->system);
  Aside here = aside;
  if (auto open = with_falling_lines_open(run.value->system, run.value->state, here.findings)) {
    run.value->system = std::move(*open);
    run.value->state = steady::solve(run.value->system);
  }
  // What is judged points into the lines of the system, which stay where they are when a Run moves.
  run.value->verdict = judge_flow(run.value->system, run.value->state, here);
  return run;
}

/// Findings that concern the whole are told with the run as drawn, which they may change the answer of.
void hold_to(std::vector<Finding> findings, Run& run) {
  if (findings.empty() || !has_figures(run.verdict.ruling)) return;
  auto& all = run.verdict.findings;
  const auto first_note =
      std::find_if(all.begin(), all.end(), [](const Finding& f) { return f.severity == Severity::note; });
  all.insert(first_note, findings.begin(), findings.end());
  run.verdict.ruling = ruling_of(all);
  run.verdict.sentence = flow_sentence(run.system, run.state, run.verdict);
}

/// Whether what is missing may come once tanks have risen.
bool misses_while_low(const FlowVerdict& verdict) {
  // The day is followed from full tanks: what is short on it no filling brings.
  const bool may_come = verdict.day && short_on(*verdict.day).empty();
  const bool draws_short =
      may_come && std::any_of(verdict.findings.begin(), verdict.findings.end(), [](const Finding& f) {
        return f.code == "draw-missed-in-its-hours" || f.code == "draw-not-met";
      });
  return draws_short || std::any_of(verdict.asks.begin(), verdict.asks.end(), [](const AskResult& r) {
           return r.missed() && !r.low_water && r.ask.kind != network::AskKind::full_within;
         });
}

/// Where a need is missed at the levels as drawn: the same once the tanks have filled by themselves, if that
/// does not fail.
std::optional<Run> judge_once_filled(const Model& judged, const std::string& setting, Aside aside) {
  aside.once_filled = true;
  const auto then = once_filled(judged);
  if (!then) return std::nullopt;
  // A tank that stands higher yet is told of once.
  std::erase_if(aside.findings, [&](const Finding& f) {
    const network::Tank* tank = judged.tank(f.where.place);
    return f.code == "empty-taken-settled" && tank && then->model.tank(f.where.place)->level > tank->level;
  });
  auto later = judge_levels(then->model, setting, aside);
  if (!later || !later.value->verdict.good()) return std::nullopt;
  later.value->verdict.dry_conditions.push_back(then->condition);
  hold_to({then->finding}, *later.value);
  return std::move(*later.value);
}

/// `turn`: none, as drawn; else in those hours.
Checked<Run> judge_run(const Model& model, const std::string& setting, Aside aside, const Turn* turn) {
  auto drawn = network::resolve(model);
  if (!drawn) return {std::nullopt, std::move(drawn.findings)};
  add_unsaid(drawn.findings, aside.findings);
  const auto judged = [&](std::vector<Finding>& remarks) {
    Model at_levels = with_levels_to_judge(model, remarks);
    return turn ? in_turn(std::move(at_levels), *turn) : at_levels;
  };
  aside.fill_from = &*drawn.value;
  aside.try_more = true;
  auto run = judge_levels(judged(aside.findings), setting, aside);
  if (!run || !misses_while_low(run.value->verdict)) return run;
  std::vector<Finding> told;
  if (run.value->verdict.day) aside.day = &*run.value->verdict.day;
  if (auto later = judge_once_filled(judged(told), setting, aside)) return {std::move(*later), {}};
  return run;
}

/// What falls short where all that has hours is drawn together: a need, what a joint draws, or a bound on how
/// fast water runs; empty if nothing does.
Sentence short_together(const Run& together) {
  for (const AskResult& r : together.verdict.asks)
    if (r.judged && !r.met) return shortfall(r);
  for (const Finding& f : together.verdict.findings) {
    if (f.code == "draw-not-met") return Sentence().name(f.where.place).say(" gets less than is drawn there");
    if (f.code == "faster-than-asked")
      return Sentence().say("water runs too fast in ").name(f.where.pipeline);
  }
  return {};
}

Finding by_turns(const Sentence& short_together, const Turn& turn) {
  Draft d(by_turns_rule, Severity::warning);
  d.at_place(turn.drawn.front());
  d.message.name(turn.drawn.front()).say(" is judged in its hours");
  if (!turn.idle.empty()) d.message.say(", with nothing drawn at ").name(turn.idle.front());
  if (turn.idle.size() > 1) d.message.say(" and " + std::to_string(turn.idle.size() - 1) + " more");
  d.message.say(turn.idle.empty() ? ", in which not all is drawn." : ", where water is drawn at others.");
  d.message.say(" All drawn together, some need is not met: ").append(short_together).say(".");
  d.advice.say("See that the hours are kept.");
  return d.done();
}

/// What a turn rests on: two taps must not be open together. More of them must be open at no other hours than
/// theirs, and nothing may be drawn at joints at others. `apart`: no turn draws at two places.
Sentence while_kept(const Model& model, const Turn& turn, bool apart) {
  std::vector<std::string> places = turn.drawn;
  places.insert(places.end(), turn.idle.begin(), turn.idle.end());
  const auto number = [&](const std::string& place) {
    return std::find_if(model.outlets.begin(), model.outlets.end(),
                        [&](const network::Outlet& outlet) { return outlet.name == place; });
  };
  // In the model's order, so that all turns say the same.
  std::stable_sort(places.begin(), places.end(),
                   [&](const std::string& a, const std::string& b) { return number(a) < number(b); });
  const bool taps =
      std::all_of(places.begin(), places.end(), [&](const std::string& p) { return model.outlet(p); });
  Sentence s = Sentence().say("as long as ").names(places);
  if (!taps) return s.say(" are drawn from in their own hours alone");
  return s.say(places.size() == 2 && apart ? " are not open together" : " are open in their own hours alone");
}

/// Where something falls short when all that has hours is drawn together, and no hour finds it so: the same
/// run in each of its turns, which are the states that come. Else `together` alone.
std::vector<Run> by_turns(const Model& model, Run together, const Aside& aside) {
  const Sentence short_of = short_together(together);
  std::vector<Run> runs;
  const std::vector<Turn> turns = short_of.empty() ? std::vector<Turn>{} : turns_by_hours(model);
  const bool apart =
      std::all_of(turns.begin(), turns.end(), [](const Turn& turn) { return turn.drawn.size() == 1; });
  for (const Turn& turn : turns) {
    Aside here = aside;
    here.day = together.verdict.day ? &*together.verdict.day : nullptr;  // the same for all turns
    const auto idle = not_due_in(model, turn);
    here.cut_off.insert(here.cut_off.end(), idle.begin(), idle.end());
    const std::string name = runs.empty() ? together.setting : name_of_turn(together.setting, turn.hours);
    Checked<Run> run = judge_run(model, name, std::move(here), &turn);
    if (!run || run.value->verdict.ruling > Ruling::fails) {
      runs.clear();
      break;
    }
    run.value->hours = turn.hours;
    run.value->setting_of_model = together.setting;
    run.value->verdict.dry_conditions.push_back(while_kept(model, turn, apart));
    runs.push_back(std::move(*run.value));
    hold_to({by_turns(short_of, turn)}, runs.back());
  }
  if (runs.empty()) runs.push_back(std::move(together));
  return runs;
}

/// Whether everything comes, with the hours kept, in a model that is tried.
bool all_comes(const Model& tried, const std::string& setting, const Aside& aside) {
  Aside here = aside;
  here.only_if_good = true;
  // The hours decide most trials, in a small part of the time.
  filling::TypicalDay day;
  if (network::has_draws(tried)) {
    const auto system = network::resolve(tried);
    if (!system) return false;
    day = filling::typical_day(*system.value);
    if (!lasts_day_by_day(day)) return false;
    here.day = &day;
  }
  auto together = judge_run(tried, setting, here, nullptr);
  if (!together) return false;
  const std::vector<Run> then = by_turns(tried, std::move(*together.value), here);
  return std::all_of(then.begin(), then.end(), [](const Run& run) { return is_good(run.verdict.ruling); });
}

/// Gives the findings of a code about needs that `which` is true of another advice.
template <class Which>
void advise_needs(const char* code, const Which& which, const Sentence& advice, std::vector<Run>& runs) {
  for (Run& run : runs)
    for (Finding& finding : run.verdict.findings) {
      const auto about = [&](const AskResult& r) { return which(r) && r.ask.at == finding.where.place; };
      if (finding.code == code && std::any_of(run.verdict.asks.begin(), run.verdict.asks.end(), about))
        advise(finding, advice);
    }
}

/// Gives all findings of a code another advice.
void advise_all(const char* code, const Sentence& advice, std::vector<Run>& runs) {
  for (Run& run : runs)
    for (Finding& finding : run.verdict.findings)
      if (finding.code == code) advise(finding, advice);
}

/// The first need of a kind in any run.
template <class Which>
const AskResult* first_need(const std::vector<Run>& runs, const Which& which) {
  for (const Run& run : runs)
    for (const AskResult& r : run.verdict.asks)
      if (which(r)) return &r;
  return nullptr;
}

/// The first tank, in the model's order, from which water runs to a place.
const network::Tank* tank_above(const Model& model, const std::string& place) {
  const auto above = std::find_if(model.tanks.begin(), model.tanks.end(), [&](const network::Tank& tank) {
    return tank.name != place && gives_to(model, tank.name, place);
  });
  return above == model.tanks.end() ? nullptr : &*above;
}

/// Says under draws that are missed in their hours whether a high point keeps them from the water of a tank.
template <class Comes>
void advise_on_draws(const Model& model, const std::optional<Model>& mended, const Comes& comes,
                     std::vector<Run>& runs) {
  for (Run& run : runs)
    for (Finding& finding : run.verdict.findings) {
      if (finding.code != "draw-missed-in-its-hours") continue;
      const network::Tank* tank = tank_above(model, finding.where.place);
      if (!tank) continue;
      if (const auto cure = high_point_cure(model, tank->name, comes, mended)) advise(finding, *cure);
      return;
    }
}

/// Says under draws that are missed when a float valve opens late what would help, as tried.
template <class Comes>
void advise_on_late_float(const Model& model, const LateFloat& late, const std::optional<Model>& mended,
                          const Comes& comes, std::vector<Run>& runs) {
  const network::Tank* above = late.beside ? tank_above(model, late.place) : nullptr;
  auto cure = late_float_cure(model, late, above ? above->name : late.tank, comes, mended);
  if (!cure) return;
  advise_all("float-opens-too-late", cure->say(late.shown_by), runs);
}

/// Says under needs that are missed once a tank is empty, or stands low, what would help, as tried.
void advise_on_stores(const Model& model, const std::string& setting, const Aside& aside,
                      std::vector<Run>& runs) {
  // Each trial would be given up after as much work as the day as drawn.
  const auto& day = runs.front().verdict.day;
  if (day && day->lost) return;
  const auto comes = [&](const Model& tried) { return all_comes(tried, setting, aside); };
  const std::optional<Model> mended = with_told_acts(model, runs);
  const auto runs_out = [](const AskResult& r) { return r.met_until_s.has_value(); };
  const auto first = std::find_if(runs.begin(), runs.end(), [&](const Run& run) {
    return run.verdict.lasting && std::any_of(run.verdict.asks.begin(), run.verdict.asks.end(), runs_out);
  });
  if (first != runs.end()) {
    advise_needs("ask-not-met", runs_out,
                 store_cure(model, first->verdict.lasting->stores.back().tank, comes, mended), runs);
    return;
  }
  const auto low = [](const AskResult& r) { return r.low_water && !r.held_by_air(); };
  const AskResult* need = first_need(runs, low);
  const auto& late = runs.front().verdict.late_float;
  if (!need && late) return advise_on_late_float(model, *late, mended, comes, runs);
  if (!need) return advise_on_draws(model, mended, comes, runs);
  const auto cure = low_water_cure(model, need->low_water->tank, comes, mended);
  if (!cure) return;
  advise_needs("need-missed-at-low-water", low, *cure, runs);
  // Then what is drawn in its hours comes as well.
  advise_all("draw-missed-in-its-hours", *cure, runs);
}

Checked<std::vector<Run>> judge_setting(const Model& model, const std::string& setting,
                                        const std::vector<std::string>& turns, const AnswerOptions& options) {
  auto run = network::under_setting(model, setting);
  if (!run) return {std::nullopt, std::move(run.findings)};
  Aside aside{.findings = options.remarks};
  aside.cut_off = options.setting ? options.not_due : not_due(model, *run.value, turns);
  auto together = judge_run(*run.value, setting, aside, nullptr);
  if (!together) return {std::nullopt, std::move(together.findings)};
  std::vector<Run> runs = by_turns(*run.value, std::move(*together.value), aside);
  if (options.try_cures) advise_on_stores(*run.value, setting, aside, runs);
  return {std::move(runs), {}};
}

/// Taps that stand shut under every setting.
std::vector<std::string> never_open(const Answer& answer) {
  std::vector<std::string> shut;
  for (const network::Outlet& outlet : answer.runs.front().system.outlets()) {
    const bool always = std::all_of(answer.runs.begin(), answer.runs.end(), [&](const Run& run) {
      const network::Outlet* there = run.system.outlet(outlet.name);
      return there && there->shut;
    });
    if (always) shut.push_back(outlet.name);
  }
  return shut;
}

Finding opened_too(const std::vector<std::string>& taps, const std::string& tap, const AskResult& then) {
  Draft d(taps_never_open_rule, Severity::warning);
  d.at_place(tap);
  if (then.got) d.against(*then.got, then.asked);
  d.message.name(tap).say(" is drawn shut and no setting opens it. ");
  d.message.say(taps.size() == 1 ? "With it open " : "With all such taps open ").name(then.ask.at);
  if (then.got && then.got->si > 0.0)
    d.message.say(then.ask.kind == network::AskKind::flow ? " gets " : " has ").figure(*then.got);
  else
    d.message.say(" gets no water");
  d.message.say(" where ").figure(then.asked).say(" is ").say(asked_or_drawn(then.ask)).say(".");
  d.advice.say("Add a setting that opens the taps which may run together, or throttle the lower ones.");
  return d.done();
}

/// What becomes of the needs met as drawn when the taps that no setting opens are opened as well: a warning
/// for each tap with which some need is missed.
std::vector<Finding> with_all_open(const Model& model, const Answer& answer) {
  const std::vector<std::string> taps = never_open(answer);
  const Run& drawn = answer.runs.front();
  if (taps.empty() || taps.size() == model.outlets.size()) return {};
  Model opened = model;
  for (network::Outlet& outlet : opened.outlets)
    if (std::find(taps.begin(), taps.end(), outlet.name) != taps.end()) outlet.shut = false;
  std::vector<Finding> unheard;
  const auto system = network::resolve(with_levels_to_judge(std::move(opened), unheard));
  if (!system) return {};
  const steady::State state = steady::solve(*system.value);
  if (!state.proved()) return {};
  const std::vector<AskResult> then = judge_asks(*system.value, state);
  std::vector<Finding> found;
  for (std::size_t i = 0; i < then.size() && found.empty(); ++i)
    if (drawn.verdict.asks[i].met && then[i].judged && !then[i].met)
      for (const std::string& tap : taps) found.push_back(opened_too(taps, tap, then[i]));
  return found;
}

/// The share of its need that the worst-off place gets; 1 if none falls short.
double least_share(const Run& run) {
  double least = 1.0;
  for (const AskResult& r : run.verdict.asks)
    if (r.judged && !r.met && r.asked.si > 0.0 && r.ask.kind != network::AskKind::full_within)
      least = std::min(least, r.got ? std::max(0.0, r.got->si) / r.asked.si : 0.0);
  return least;
}

/// How much a condition asks of a spring that gave less before [m3/s]; 0 for none.
double asked_of_springs_m3s(const Run& run) {
  double most_m3s = 0.0;
  for (const Finding& f : run.verdict.findings)
    if (f.code == "need-fails-at-logged-yield" && f.figure) most_m3s = std::max(most_m3s, f.figure->si);
  return most_m3s;
}

/// How long a spring that falls is enough [s]; for ever where no condition says.
double enough_for_s(const Run& run) {
  double least_s = std::numeric_limits<double>::infinity();
  for (const Finding& f : run.verdict.findings)
    if (f.code == "yield-falls" && f.figure) least_s = std::min(least_s, f.figure->si);
  return least_s;
}

/// Whether a setting comes before another when the worst leads.
bool leads_before(const Run& a, const Run& b) {
  if (a.verdict.ruling != b.verdict.ruling) return a.verdict.ruling > b.verdict.ruling;
  if (asks_something(a) != asks_something(b))
    return asks_something(a);  // a setting that asks for something says more
  if (least_share(a) != least_share(b)) return least_share(a) < least_share(b);
  if (enough_for_s(a) != enough_for_s(b)) return enough_for_s(a) < enough_for_s(b);
  return asked_of_springs_m3s(a) > asked_of_springs_m3s(b) * (1.0 + 2.0 * rounding);
}

}  // namespace

Checked<Answer> answer_model(const Model& model, const AnswerOptions& options) {
  Checked<Answer> answer{Answer{}, {}};
  const std::vector<std::string> settings = settings_to_run(model, options.setting);
  // A setting named alone is judged on all needs.
  const auto turns = options.setting ? std::vector<std::string>{} : opened_elsewhere(model);
  answer.value->runs.reserve(settings.size());
  for (const std::string& setting : settings) {
    auto runs = judge_setting(model, setting, turns, options);
    if (!runs) return {std::nullopt, std::move(runs.findings)};
    for (Run& run : *runs.value) answer.value->runs.push_back(std::move(run));
  }
  auto& runs = answer.value->runs;
  if (!options.setting) hold_to(with_all_open(model, *answer.value), runs.front());
  const auto worst = std::min_element(runs.begin(), runs.end(), leads_before);
  answer.value->leads = static_cast<std::size_t>(worst - runs.begin());
  answer.value->sentence = whole_sentence(*answer.value);
  return answer;
}

std::vector<Code> answer_codes() { return {float_taken_open_rule, taps_never_open_rule, by_turns_rule}; }

}  // namespace runnel::verdict
