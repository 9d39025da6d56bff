#pragma once
// What can be measured on an answer, place by place, for a rule to be held against.
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/base/figure.h"
#include "runnel/base/finding.h"
#include "runnel/filling/fill.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::review {

/// An answer as a measure sees it.
struct Seen {
  const network::System& system;
  const steady::State& state;
  const verdict::FlowVerdict& verdict;
  const filling::FillHistory* fill = nullptr;  ///< only where a need of time is missed
  /// What is needed on average over a day, as a setting may draw more for a while. None: that of `system`.
  std::optional<double> need_m3s = {};
};

/// A figure at a place, with the least and the most that it may be for what is not known (the spread of laws,
/// of bucket tests, of a survey); or what would have to be known to give one.
struct Measured {
  Where where;
  double si = 0.0, low = 0.0, high = 0.0;
  std::string missing;  ///< not empty: there is no figure, for want of this
};

Measured exactly(Where where, double si);
Measured between(Where where, double low, double si, double high);
Measured lacking(Where where, std::string missing);

/// The works at one box as a measure sees them.
struct SeenWorks {
  const network::System& system;
  const network::Collection& works;
  const network::Box& box;
  Flow greatest;  ///< what the spring gives in the wettest time; its yield where that is not written
};

struct Measure {
  std::string_view name;  ///< as a rule names it: "static pressure over rating"
  Kind kind = Kind::number;
  std::string_view meaning;
  std::vector<Measured> (*take)(const Seen&) = nullptr;  ///< null for the works at a spring
  /// Null for lines and places, and for what published editions judge (`edition_measures`). Gives no figure
  /// where the works have nothing to measure.
  std::optional<Measured> (*of_works)(const SeenWorks&) = nullptr;
};

/// All measures, in the order of the files they come from.
const std::vector<Measure>& measures();
/// nullptr if there is none of that name.
const Measure* find_measure(std::string_view name);

// The parts of `measures`, one file each.
std::vector<Measure> pressure_measures();
std::vector<Measure> flow_measures();
std::vector<Measure> air_measures();
std::vector<Measure> part_measures();
std::vector<Measure> supply_measures();
std::vector<Measure> ground_measures();
std::vector<Measure> trough_measures();
std::vector<Measure> spacing_measures();
std::vector<Measure> works_measures();
std::vector<Measure> distance_measures();
/// One for each rule that handbooks of filters and walls print with a limit of their own: how much of that
/// limit is taken up, each named by the id of its rule.
std::vector<Measure> edition_measures();

}  // namespace runnel::review
