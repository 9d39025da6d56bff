#include "runnel/review/yields.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "runnel/network/draws.h"
#include "runnel/springs/bucket_yield.h"

namespace runnel::review {

namespace {

using network::System;

const network::Year::Row* year_row(const System& system, const std::string& box) {
  if (!system.year()) return nullptr;
  for (const network::Year::Row& row : system.year()->yields)
    if (row.place == box) return &row;
  return nullptr;
}

const network::SpringLog* log_of(const System& system, const std::string& box) {
  for (const network::SpringLog& log : system.model().logs)
    if (log.box == box && !log.entries.empty()) return &log;
  return nullptr;
}

/// Two entries at opposite times of the year, whichever years they are of.
bool half_a_year_apart(const network::SpringLog& log) {
  for (const network::LoggedYield& a : log.entries)
    for (const network::LoggedYield& b : log.entries) {
      const int months = std::abs(a.month - b.month);
      if (std::min(months, 12 - months) >= 5) return true;
    }
  return false;
}

}  // namespace

YieldRange yield_of(const network::Box& box) {
  const double mean = box.yield.si();
  if (!box.bucket_tests) return {mean, mean, mean};
  const springs::BucketYield tests = springs::bucket_yield(box.bucket_tests->volume, box.bucket_tests->times);
  // A yield that a setting gives did not come from the bucket.
  const bool from_tests = std::fabs(tests.mean.si() - mean) <= 1e-9 * mean;
  if (!tests.interval || !from_tests) return {mean, mean, mean};
  return {tests.interval->low.si(), mean, tests.interval->high ? tests.interval->high->si() : mean};
}

YieldRange measured_yield(const System& system) {
  YieldRange sum;
  for (const network::Box& box : system.boxes()) {
    const YieldRange one = yield_of(box);
    sum.low_m3s += one.low_m3s;
    sum.mean_m3s += one.mean_m3s;
    sum.high_m3s += one.high_m3s;
  }
  return sum;
}

std::optional<YieldRange> seasons_of(const System& system, const network::Box& box) {
  std::vector<double> seen;
  if (const auto* row = year_row(system, box.name))
    for (const Flow flow : row->flows) seen.push_back(flow.si());
  if (const auto* log = log_of(system, box.name))
    for (const network::LoggedYield& entry : log->entries) seen.push_back(entry.yield.si());
  if (seen.empty()) return std::nullopt;
  seen.push_back(box.yield.si());
  const auto [least, most] = std::minmax_element(seen.begin(), seen.end());
  return YieldRange{*least, box.yield.si(), *most};
}

std::optional<double> dry_season_of(const System& system, const network::Box& box) {
  const auto seasons = seasons_of(system, box);
  if (!seasons) return std::nullopt;
  const auto* log = log_of(system, box.name);
  const bool told = year_row(system, box.name) || (log && half_a_year_apart(*log));
  if (!told && !(seasons->low_m3s < box.yield.si())) return std::nullopt;
  return seasons->low_m3s;
}

std::optional<double> dry_season_yield(const System& system) {
  double sum = 0.0;
  bool any = false;
  for (const network::Box& box : system.boxes()) {
    const auto least = dry_season_of(system, box);
    if (!least && box.yield > Flow{}) return std::nullopt;
    if (least) sum += *least, any = true;
  }
  return any ? std::optional<double>(sum) : std::nullopt;
}

double need_m3s(const System& system) {
  double sum = 0.0;
  for (const network::Tank& tank : system.tanks()) {
    const double drawn = network::daily_mean(tank.draws).si();
    double asked = 0.0;
    for (const network::Ask& ask : system.asks())
      if (ask.kind == network::AskKind::flow && ask.at == tank.name) asked = std::max(asked, ask.flow.si());
    sum += drawn > 0.0 ? drawn : asked;
  }
  for (const network::Joint& joint : system.joints())
    sum += (joint.draws.empty() ? joint.draw : network::daily_mean(joint.draws)).si();
  for (const network::Outlet& outlet : system.outlets()) sum += network::daily_mean(outlet.draws).si();
  return sum;
}

}  // namespace runnel::review
