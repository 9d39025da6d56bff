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
  const filling::FillHistory* fill = nullptr;  ///< only where a time of filling is asked or claimed
};

/// A figure at a place, between the least and the most it may be for what is not known (the spread of laws,
/// of bucket tests, of a survey); or what would have to be known to give one.
struct Measured {
  Where where;
  double si = 0.0, low = 0.0, high = 0.0;
  std::string missing;  ///< not empty: there is no figure, for want of this
};

Measured exactly(Where where, double si);
Measured between(Where where, double low, double si, double high);
Measured lacking(Where where, std::string missing);

struct Measure {
  std::string_view name;  ///< as a rule names it: "static pressure over rating"
  Kind kind = Kind::number;
  std::string_view meaning;
  std::vector<Measured> (*take)(const Seen&);
};

/// All of them, in the order of the files they come from.
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

}  // namespace runnel::review
