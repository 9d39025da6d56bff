#include "runnel/verdict/on_record.h"

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <cmath>

#include "runnel/network/change.h"
#include "runnel/springs/dry_year.h"
#include "runnel/verdict/dry_needs.h"

namespace runnel::verdict {
namespace {

using network::System;

// The dry year that a supply is held against where only the spread between years is known: one in ten; common
// practice, no source. The normal deviate below which a tenth of the years lie.
constexpr double dry_year_deviate = 1.2816;

/// The periods of the usual year of a box; none where it gives its yield all year.
const network::Year::Row* usual_year(const System& system, const std::string& box) {
  const auto& year = system.year();
  if (!year) return nullptr;
  const auto row = std::find_if(year->yields.begin(), year->yields.end(),
                                [&](const network::Year::Row& one) { return one.place == box; });
  return row == year->yields.end() || row->flows.empty() ? nullptr : &*row;
}

/// What a box is counted on for at a time.
struct Counted {
  Flow yield;
  std::optional<std::size_t> period;
};

/// The least in the usual year: in its driest period, or as drawn.
Counted least_of_usual_year(const System& system, const network::Box& box) {
  Counted least{box.yield, std::nullopt};
  if (const auto* row = usual_year(system, box.name)) {
    const auto driest = std::min_element(row->flows.begin(), row->flows.end());
    if (*driest < least.yield) least = {*driest, static_cast<std::size_t>(driest - row->flows.begin())};
  }
  return least;
}

/// The period of a year of so many in which an entry was logged.
std::size_t period_of(const network::LoggedYield& entry, std::size_t periods) {
  const std::chrono::year year{entry.year};
  const std::chrono::sys_days first{year / 1 / 1};
  const std::chrono::sys_days day{year / entry.month / entry.day};
  const auto weeks = static_cast<std::size_t>((day - first).count() / 7);
  return periods == 12 ? static_cast<std::size_t>(entry.month - 1) : std::min(periods - 1, weeks);
}

/// One year in ten: by the spread that is stated, about the yields of the years on record or else about the
/// least of the usual year; or by the spread of the years themselves, if they are enough to tell. None if
/// neither is known.
std::optional<Flow> one_year_in_ten(const System& system, const network::Box& box) {
  std::vector<Flow> years;
  for (const network::SpringHistory::Year& year : box.history.years) years.push_back(year.least);
  if (box.history.yearly_spread) {
    const double log_spread = springs::log_spread_of_share(*box.history.yearly_spread);
    double mean_log = std::log(least_of_usual_year(system, box).yield.si()), of_mean = 0.0;
    if (!years.empty()) {
      mean_log = 0.0;
      for (const Flow year : years) mean_log += std::log(year.si()) / static_cast<double>(years.size());
      of_mean = 1.0 / static_cast<double>(years.size());
    }
    const double share = dry_year_deviate * log_spread * std::sqrt(1.0 + of_mean);
    return Flow::cubic_metres_per_second(std::exp(mean_log - share));
  }
  // Two years give a spread that a third may well turn over; common practice, no source.
  constexpr std::size_t fewest_years = 3;
  return years.size() < fewest_years ? std::nullopt : springs::yield_of_next_year(years, 0.9);
}

std::optional<OnRecord> least_on_record(const System& system, const network::Box& box) {
  const Counted driest = least_of_usual_year(system, box);
  const auto* usual = usual_year(system, box.name);
  std::optional<OnRecord> least;
  const auto lower_by = [](const OnRecord& one) { return one.yield.si() / one.counted.si(); };
  const auto take = [&](const OnRecord& one) {
    if (!least || lower_by(one) < lower_by(*least)) least = one;
  };
  const auto take_year = [&](Flow yield, std::string when, bool by_its_spread = false) {
    take({yield, driest.yield, std::move(when), true, by_its_spread, driest.period});
  };
  for (const network::SpringLog& log : system.model().logs) {
    if (log.box != box.name) continue;
    for (const network::LoggedYield& entry : log.entries) {
      const std::string when = fmt::format("{:04}-{:02}-{:02}", entry.year, entry.month, entry.day);
      const std::size_t period = usual ? period_of(entry, usual->flows.size()) : 0;
      if (usual && entry.yield >= driest.yield)
        take({entry.yield, usual->flows[period], when, false, false, period});
      else
        take_year(entry.yield, when);
    }
  }
  for (const network::SpringHistory::Year& year : box.history.years)
    take_year(year.least, std::to_string(year.year));
  if (const auto yield = one_year_in_ten(system, box)) take_year(*yield, "one year in ten", true);
  if (least && !(lower_by(*least) < 1.0 - 1e-6)) least.reset();
  return least;
}

/// A usual year in which each period gives the share `left` of what it does, and what was logged then, by a
/// share of the way to that.
void make_dry(const System& system, double left, double share, network::Year::Row& row) {
  const std::vector<Flow> usual = row.flows;
  for (Flow& flow : row.flows) flow = flow * left;
  for (const network::SpringLog& log : system.model().logs)
    for (const network::LoggedYield& entry : log.entries) {
      if (log.box != row.place) continue;
      const std::size_t period = period_of(entry, usual.size());
      row.flows[period] = std::min(row.flows[period], usual[period] + (entry.yield - usual[period]) * share);
    }
}

}  // namespace

Record least_on_record(const System& system) {
  Record record;
  for (const network::Box& box : system.boxes()) record.push_back(least_on_record(system, box));
  return record;
}

System in_such_a_year(const System& system, const Record& record, double share) {
  std::vector<Flow> yields = dry::yields_now(system);
  network::Year year = system.year() ? *system.year() : network::Year{};
  for (std::size_t b = 0; b < yields.size(); ++b) {
    const auto& entry = record[b];
    if (!entry) continue;
    const double lower_by = 1.0 - entry->yield.si() / entry->counted.si();
    const double left = entry->dry_year ? 1.0 - share * lower_by : 1.0;
    yields[b] = yields[b] * left;
    for (network::Year::Row& row : year.yields)
      if (row.place == system.boxes()[b].name) make_dry(system, left, share, row);
  }
  return network::with_year(system, yields, std::move(year));
}

}  // namespace runnel::verdict
