#pragma once
// What a steady answer means to the person who asked: does it deliver, by how much, and what else is
// worth knowing before anyone digs.
#include <algorithm>
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/filling/lasting.h"
#include "runnel/filling/typical_day.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/air_answer.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/reasons.h"
#include "runnel/verdict/ruling.h"
#include "runnel/verdict/siphon_rules.h"

namespace runnel::verdict {

/// A need whose lines start with air in them.
struct AirAsk {
  std::optional<Figure> at_first;  ///< with all the air that start-up leaves
  std::optional<Figure> most;      ///< by the law of clearing that leaves it most
  std::optional<Figure> without;   ///< once all air is gone
  bool met_without = false;
  std::vector<AirPlace> held;    ///< the air that takes head where it gets least
  std::optional<Figure> vented;  ///< what comes for good with air valves at `held`; none if not tried
  const Figure& let_out() const { return vented ? *vented : *without; }
};

enum class LowWaterKind {
  lowest,      ///< the tank stands lower at no other time
  sunk,        ///< it has sunk, while other taps are open than when it stands lowest
  float_open,  ///< its float valve is open
};

/// The tank whose low water a need is missed at, and how low it stands then.
struct LowWater {
  std::string tank;
  double level_m = 0.0;
  LowWaterKind kind = LowWaterKind::lowest;
};

/// A place at which the water for a need divides by centimetres (splits.h).
struct HangsOn {
  std::string place;
  std::string when;  ///< the state in which it does: "once tanks are empty"; empty: as drawn
};

/// A place whose draws are missed, because of the hour at which a float valve opens: of its own tank or one
/// above it, or of one beside it that takes its head.
struct LateFloat {
  std::string place, tank;
  bool beside = false;
  std::string shown_by;  ///< what run shows it; empty: none of those from the levels as drawn
};

/// One need, judged.
struct AskResult {
  network::Ask ask;
  bool judged = false;  ///< false: this answer cannot tell (`full_within`, a shut float valve)
  std::string why_not_judged;
  bool met = false;
  bool at_spring = false;       ///< what leaves the spring itself is asked for
  bool cut_off = false;         ///< the setting itself shuts the water off there: nothing is due
  Figure asked;                 ///< flow [m3/s], pressure [Pa] or duration [s]
  std::optional<Figure> got;    ///< none where no water stands. With air in the lines: what comes when the
                                ///< current has carried off what it can, by the law that carries off least
  std::optional<Figure> could;  ///< what a tap would give that people do not open wide (opened_wide.h)
  std::optional<double> met_until_s;  ///< met at first; `got` is what it gets once tanks are drawn down
  bool met_for_now = false;           ///< of a trial (reasons.h): met, until stores are drawn down
  std::optional<Figure> at_first;     ///< of a trial: what comes while a tank sinks that it comes from
  bool met_only_primed = false;       ///< met by a siphon; `got` is what it gets once that has lost its water
  std::optional<LowWater> low_water;  ///< met as drawn; `got` is what it gets then
  std::optional<AirAsk> air;          ///< none where no air makes a difference
  std::optional<Reason> reason;       ///< of a need not met: the bound whose lifting gains most
  std::optional<Range> range;         ///< none if it was not worked out
  std::optional<double> begins_at_m;  ///< of a time to fill: the level from which it counts, if not the floor
  std::vector<HangsOn> hangs_on;      ///< met only if its branch gets its share there
  std::optional<double> least_m3s;    ///< of such a need: what its branch gets if it does not
  std::string only_if;                ///< met at the bad corner only under this condition: "if ..."
  /// Not met, though it is due.
  bool missed() const { return judged && !met && !cut_off; }
  /// Met only once the air is gone, and nothing is sure to carry it off.
  bool held_by_air() const { return judged && !met && air && air->met_without; }
  /// What it gives over what is asked; negative when it falls short. Zero if not judged.
  double margin_si() const {
    if (!got || !judged) return 0.0;
    return ask.kind == network::AskKind::full_within ? asked.si - got->si : got->si - asked.si;
  }
};

/// Flows that are asked at one time, and what all springs give (beyond_reach.h).
struct AskedInAll {
  double asked_m3s = 0.0, springs_m3s = 0.0;
  std::size_t springs = 0;
  std::vector<std::string> taps;  ///< that count, in the model's order
  bool counts(const std::string& place) const {
    return std::find(taps.begin(), taps.end(), place) != taps.end();
  }
};

struct FlowVerdict {
  // Written in flow_verdict.cpp: it holds much, and many files move or drop it.
  FlowVerdict();
  FlowVerdict(const FlowVerdict&);
  FlowVerdict(FlowVerdict&&) noexcept;
  FlowVerdict& operator=(const FlowVerdict&);
  FlowVerdict& operator=(FlowVerdict&&) noexcept;
  ~FlowVerdict();

  Ruling ruling = Ruling::no_answer;          ///< the worst bearing of the findings
  Sentence sentence;                          ///< one plain sentence
  std::vector<AskResult> asks;                ///< in the model's order
  std::vector<Finding> findings;              ///< errors first, then warnings, then notes
  std::optional<AirAnswer> air;               ///< none if nothing was settled
  std::optional<AfterSiphons> after_siphons;  ///< none if every sealed line keeps its water
  std::optional<filling::Lasting> lasting;    ///< none if no tank gives more than it gets
  std::optional<filling::TypicalDay> day;     ///< none if not followed, or with siphons that lose their water
  std::optional<LateFloat> late_float;        ///< the first that was found: first_days.h
  std::vector<Sentence> dry_conditions;       ///< "if the taps below tank are not left running": dry_times.h
  std::optional<AskedInAll> asked_beyond;     ///< at taps, more than all springs give: beyond_reach.h

  bool good() const { return is_good(ruling); }
  /// Whether some error has been told at a place.
  bool fails_at(const std::string& place) const;
  /// Whether it does, or a need there is missed.
  bool misses_at(const std::string& place) const;
};

/// What is known of a run beside its state.
struct Aside {
  std::vector<Finding> findings = {};     ///< from elsewhere, to be sorted in
  std::vector<std::string> cut_off = {};  ///< places that the setting itself shuts off
  /// Follow the filling of this system for needs of `full_within`; without it they are not judged.
  const network::System* fill_from = nullptr;
  /// A day of that system that has been followed already, with all siphons full of water.
  const filling::TypicalDay* day = nullptr;
  /// Look beyond the state itself: weigh the corners (margins.h), hold the needs against drier times
  /// (dry_times.h), and try what would lift a need that is not met (reasons.h).
  bool try_more = false;
  /// Judged with the tanks as they stand once they have filled, which the answer says: what is missing before
  /// that is not told again.
  bool once_filled = false;
  /// Only whether it is good is asked: once a need is missed, nothing more is tried.
  bool only_if_good = false;
};

/// Judges one state. The system must outlive the verdict. Never throws; a state that is not settled, or that
/// did not pass its check, gives a verdict that says so and judges nothing. `answer_model` (answer.h) is what
/// asks a whole model.
FlowVerdict judge_flow(const network::System& system, const steady::State& state, const Aside& aside = {});

/// Judges every need against the answer.
std::vector<AskResult> judge_asks(const network::System& system, const steady::State& state);

/// The condition of an answer that holds under one: "if it is filled by hand before it runs". Empty
/// otherwise.
Sentence condition_of(const FlowVerdict& verdict);

/// The one sentence, from the ruling, needs, air and findings already in the verdict. `listed_below`: the
/// findings stand below it, and it points to them.
Sentence flow_sentence(const network::System& system, const steady::State& state, const FlowVerdict& verdict,
                       bool listed_below = true);

}  // namespace runnel::verdict
