#pragma once
// The rules that `runnel flow` holds an answer against. Each looks at one thing and adds what it finds.
#include <optional>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {

/// What every rule sees.
struct Case {
  const network::System& system;
  const steady::State& state;
  const std::vector<AskResult>& asks;
};
using Findings = std::vector<Finding>;

// pressure_rules.cpp
void pressure_against_rating(const Case& c, Findings& out);
void nothing_to_shut(const Case& c, Findings& out);
// reducing_rules.cpp
void reducing_valves_fail_open(const Case& c, Findings& out);
void pressure_below_air(const Case& c, Findings& out);
// surge_rules.cpp
void quick_shutting(const Case& c, Findings& out);
// box_rules.cpp
void box_spills(const Case& c, Findings& out);
void box_top_part_full(const Case& c, Findings& out);
void shallow_box_on_fast_pipe(const Case& c, Findings& out);
// overflow_rules.cpp
void overflows(const Case& c, Findings& out);
// mouth_rules.cpp
void mouths_that_govern(const Case& c, Findings& out);
void thin_cover_and_fall(const Case& c, Findings& out);
// survey_margin_rules.cpp
void heights_too_close(const Case& c, Findings& out);
// own_pipe_rules.cpp
void pipes_better_than_any(const Case& c, Findings& out);
// own_water_rules.cpp
void water_unlike_water(const Case& c, Findings& out);
// joint_rules.cpp
void tees_not_counted(const Case& c, Findings& out);
void parts_where_the_bore_changes(const Case& c, Findings& out);
// supply_rules.cpp
void asks_not_met(const Case& c, Findings& out);
void asks_not_judged(const Case& c, Findings& out);
void draws_not_met(const Case& c, Findings& out);
/// A joint that gets all that it draws, and more is asked of it: neither pipe nor spring is to blame.
bool draws_all(const steady::State& state, const AskResult& result);
void dry_outlets(const Case& c, Findings& out);
void lines_that_do_not_run(const Case& c, Findings& out);
// split_rules.cpp
void undetermined_splits(const Case& c, Findings& out);
// friction_rules.cpp
void thin_margins(const Case& c, Findings& out);
void hazen_williams_range(const Case& c, Findings& out);
void fast_water(const Case& c, Findings& out);
void slow_water(const Case& c, Findings& out);
// velocity_asks.cpp
void velocities_not_met(const Case& c, Findings& out);
// transition_rules.cpp
void uncertain_friction(const Case& c, Findings& out);

// trust_rules.cpp
void nothing_arrives(const Case& c, Findings& out);
void lines_not_surveyed(const Case& c, Findings& out);
void unusual_friction_constants(const Case& c, Findings& out);
void claims_not_judged(const Case& c, Findings& out);
void float_openings_taken(const Case& c, Findings& out);

/// The beginning of every finding of a need that is missed: the place, what it gets and what is asked.
/// (supply_rules.cpp)
Draft ask_not_met(const AskResult& result, const char* code = "ask-not-met");
/// "because ..." of a reason that was tried, with what it gains. (reason_words.cpp)
Sentence because_of(const network::System& system, const Reason& reason, bool of_several = false);
/// What somebody could do about it, with what that gives; "" where it is not an act of building.
Sentence act_on(const Reason& reason, std::string_view place = {});
/// What a finding that leaves the answer open does not know, as the clause after "because".
Sentence open_question(const Finding& finding);

/// What the lines bring to a place [m3/s], without deducting what they take away again: a tank gets what
/// arrives, and a joint passes on what comes to it. (asks.cpp)
double brought_m3s(const network::System& system, const steady::State& state, const std::string& place);

/// How a pipeline of `system.lines()` runs, or nullptr. Fast: states stand in the system's own order.
const steady::LineState* run_of(const network::System& system, const steady::State& state,
                                const network::Line& line);
/// The name of a pipe with that of its line; a pipe that the model describes bears the line's name already.
std::string pipe_on(const network::Line& line, const pipes::Pipe& pipe);
/// The gauge pressure [Pa] a pipe may stand under at this system's water temperature; none if unknown.
std::optional<double> allowed_pressure_pa(const network::System& system, const pipes::Pipe& pipe);
/// A head of this system's water as a pressure figure.
Figure pressure_of_head(const network::System& system, double head_m);

}  // namespace runnel::verdict
