#pragma once
// The least that springs are known to have given, and a year in which they give so little again.
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/system.h"

namespace runnel::verdict {

/// The least that a spring is known to have given, or that is to be expected by its spread between years.
struct OnRecord {
  Flow yield;
  Flow counted;                       ///< what the model counts on at such a time
  std::string when;                   ///< a day, a year, or how often
  bool dry_year = false;              ///< the least of a year, which is drier in all its periods
  bool by_its_spread = false;         ///< reckoned, not seen
  std::optional<std::size_t> period;  ///< of the usual year, in which so much is counted on
};

using Record = std::vector<std::optional<OnRecord>>;  ///< one for each box

/// From the log, from the yields of several years and by the spread between them; none where the model counts
/// on no more. The least of a year is held against the least of the usual year, what was logged above that
/// against its own period.
Record least_on_record(const network::System& system);

/// The same system where each spring on record gives less than is counted on by a `share` of the way to its
/// record: all year; or, where the model says how the usual year goes, in proportion to that, and what was
/// logged in its own period. That a dry year is as much drier in all its months is common practice, no
/// source.
network::System in_such_a_year(const network::System& system, const Record& record, double share);

}  // namespace runnel::verdict
