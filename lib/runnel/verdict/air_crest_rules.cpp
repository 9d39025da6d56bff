// One crest: why it is a risk, and what was tried against it, each with the figure it achieved.
#include <algorithm>
#include <cmath>

#include "runnel/verdict/air_rules.h"
#include "runnel/verdict/air_words.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"

namespace runnel::verdict {
namespace {

constexpr Code air_crest_rule{
    "air-crest",
    "air is held at a high point",
    "Air gathers at a high point when the line fills, when the grade line passes close above it, or when "
    "the current is too slow to carry bubbles down the far side.",
    "A pocket takes head away: as much as its own height. It comes back after each emptying.",
    "What the advice says: an air valve, a trench or a narrower pipe. Each was built into the model and "
    "solved again; the figures are what it then gives. In a sealed line under suction an air valve lets "
    "air in and stops it.",
    "grades of our own; at 50 mm and 10 degrees published clearing laws differ by 1.6 times [wisner1975],"
    " [walski1994]"};

using air::CrestRemedies;
using air::DigGoal;
using air::Risk;
using air::Swept;

constexpr double shown_m = 0.01;  // heads under a centimetre are not worth mentioning

void say_sweep(const air::SweepResult& sweep, Sentence& advice) {
  advice.say("To carry air down from here the water would have to run at ")
      .figure(Kind::velocity, sweep.least_ms);
  advice.say(" to ").figure(Kind::velocity, sweep.most_ms);
  advice.say(sweep.screening ? " by the published laws, which were measured in larger pipes."
                             : " by the published laws.");
}

void say_vent(const CrestRemedies& remedies, Sentence& advice) {
  const air::TriedVent& vent = *remedies.vent;
  if (vent.after.flow_m3s < remedies.before.flow_m3s * (1.0 - 1e-6)) {
    advice.say(" Put no air valve here: it would let air in, and the line would carry ")
        .figure(Kind::flow, vent.after.flow_m3s);
    advice.say(" instead of ").figure(Kind::flow, remedies.before.flow_m3s).say(".");
    return;
  }
  const double gain_m = std::max(vent.gain_m, vent.uncompressed_gain_m);
  if (gain_m < shown_m) {
    advice.say(" An air valve here lets out what gathers; for starting from empty it gains nothing.");
    return;
  }
  advice.say(" An air valve here lowers the level needed to start from empty by ")
      .figure(Kind::head, std::max(0.0, vent.gain_m));
  if (vent.uncompressed_gain_m > vent.gain_m + shown_m)
    advice.say(", or ").figure(Kind::head, vent.uncompressed_gain_m).say(" if trapped air does not give way");
  if (vent.start_after.verdict == air::StartVerdict::starts)
    advice.say("; the line then starts");
  else if (remedies.vent_gains_most)
    advice.say("; no other gains more");
  advice.say(".");
}

void say_dig(const air::TriedDig& dig, Sentence& advice) {
  // The least depth with which water starts drives next to none over it.
  advice.say(dig.goal == DigGoal::water_starts ? " Dug down by a little more than " : " Dug down by ");
  advice.figure(Kind::head, dig.depth_m);
  switch (dig.goal) {
    case DigGoal::water_starts:
      advice.say(" it starts from empty even if no air gives way.");
      return;
    case DigGoal::asks_met:
      advice.say(" the line carries ")
          .figure(Kind::flow, dig.after.flow_m3s)
          .say(" and all that is asked for is met.");
      return;
    case DigGoal::grade_line_clear:
      advice.say(" the grade line stands ").figure(Kind::head, dig.after.clearance_m.value_or(0.0));
      advice.say(" clear of it, and the line carries ").figure(Kind::flow, dig.after.flow_m3s).say(".");
      return;
  }
}

void say_bore(const CrestRemedies& remedies, Sentence& advice) {
  const air::TriedBore& bore = *remedies.bore;
  advice.say(" In ").name(bore.pipe.name).say(" from ").figure(Kind::length, bore.stretch.from_m);
  advice.say(" to ").figure(Kind::length, bore.stretch.to_m).say(" the water runs at ");
  advice.figure(Kind::velocity, bore.velocity_ms).say(" and carries the air off by every law; the line ");
  const double before_m3s = remedies.before.flow_m3s, after_m3s = bore.after.flow_m3s;
  if (std::abs(after_m3s - before_m3s) <= 1e-3 * before_m3s) {
    advice.say("still carries ").figure(Kind::flow, after_m3s);
  } else {
    advice.say("then carries ")
        .figure(Kind::flow, after_m3s)
        .say(" instead of ")
        .figure(Kind::flow, before_m3s);
  }
  advice.say(bore.after.missing_m3s > remedies.before.missing_m3s * (1.0 + 1e-6) ? ", less than is asked for."
                                                                                 : ".");
}

void say_remedies(const air::JudgedCrest& judged, Sentence& advice) {
  if (!judged.remedies) {
    advice.say(judged.crest.vented ? " Dig the line down here, or enlarge the pipe above."
                                   : " An air valve here lets the air out.");
    return;
  }
  const CrestRemedies& remedies = *judged.remedies;
  // At a crest above its source an air valve does not help.
  if (remedies.vent && remedies.before.flow_m3s > 0.0) say_vent(remedies, advice);
  std::vector<air::TriedDig> digs = remedies.digs;
  std::stable_sort(digs.begin(), digs.end(), [](auto& a, auto& b) { return a.depth_m < b.depth_m; });
  for (const air::TriedDig& dig : digs) say_dig(dig, advice);
  if (remedies.bore) say_bore(remedies, advice);
  if (!remedies.vent && remedies.digs.empty() && !remedies.bore)
    advice.say(
        " No cut and no narrower pipe at this point alone settles it: take a wider pipe above, or go round.");
}

bool worth_telling(const air::JudgedCrest& judged) {
  if (judged.crest.graded.risk == Risk::low) return false;
  if (!judged.crest.vented || judged.crest.graded.risk == Risk::high) return true;
  // A crest with an air valve that the grade line only just clears is as it should be, unless it stands in
  // the way of what is asked for.
  return judged.remedies && std::any_of(judged.remedies->digs.begin(), judged.remedies->digs.end(),
                                        [](const air::TriedDig& d) { return d.goal == DigGoal::asks_met; });
}

}  // namespace

void crest_finding(const network::Line& line, const air::JudgedCrest& judged, std::vector<Finding>& out) {
  if (!worth_telling(judged)) return;
  const air::Crest& crest = judged.crest;
  Draft d(air_crest_rule, crest.graded.risk == Risk::high ? Severity::warning : Severity::note);
  d.on_line(line.name, crest.station_m);
  d.message.say("Air at the high point at ")
      .figure(Kind::length, crest.station_m)
      .say(" of ")
      .name(line.name);
  d.message.say(": ").say(words(crest.graded.reason));
  if (crest.clearance_m) {
    d.against({Kind::head, *crest.clearance_m}, {Kind::head, crest.wanted_clearance_m});
    if (std::abs(*crest.clearance_m) > shown_m)
      d.message.say(" (water ").figure(Kind::head, std::abs(*crest.clearance_m));
    if (std::abs(*crest.clearance_m) > shown_m)
      d.message.say(*crest.clearance_m > 0.0 ? " above the pipe)" : " below the pipe)");
  }
  d.message.say(".");
  if (crest.hardest && crest.hardest->sweep.swept != Swept::by_all) say_sweep(crest.hardest->sweep, d.advice);
  say_remedies(judged, d.advice);
  d.source(
      "each remedy solved again; grades of our own; clearance: the survey's stated error, else 1 m (common "
      "practice, no source); clearing laws [kalinske-bliss1943], [wisner1975], [walski1994], "
      "[escarameia2007]");
  out.push_back(d.done());
}

std::vector<Code> air_crest_codes() { return {air_crest_rule}; }

}  // namespace runnel::verdict
