#include "runnel/verdict/dry_needs.h"

#include <algorithm>

#include "runnel/filling/fill.h"
#include "runnel/network/change.h"
#include "runnel/network/draws.h"
#include "runnel/network/hours.h"
#include "runnel/verdict/drawn_hours.h"
#include "runnel/verdict/filling_needs.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/rounding.h"
#include "runnel/verdict/start_levels.h"

namespace runnel::verdict::dry {

using network::System;

bool held(const AskResult& r) {
  return r.judged && r.met && !r.cut_off && r.ask.kind != network::AskKind::full_within;
}

std::vector<Flow> yields_now(const System& system) {
  std::vector<Flow> yields;
  for (const network::Box& box : system.boxes()) yields.push_back(box.yield);
  return yields;
}

std::vector<Flow> most_yields(const System& system) {
  std::vector<Flow> most = yields_now(system);
  const network::Model& model = system.model();
  for (std::size_t b = 0; b < most.size(); ++b) {
    const std::string& box = system.boxes()[b].name;
    if (system.year())
      for (const network::Year::Row& row : system.year()->yields)
        if (row.place == box)
          for (const Flow flow : row.flows) most[b] = std::max(most[b], flow);
    // In a year on record it ran at its least at some time.
    for (const network::SpringHistory::Year& year : system.boxes()[b].history.years)
      most[b] = std::max(most[b], year.least);
    for (const network::SpringLog& log : model.logs)
      if (log.box == box)
        for (const network::LoggedYield& entry : log.entries) most[b] = std::max(most[b], entry.yield);
    for (const network::Collection& works : model.collections)
      if (works.box == box && works.greatest_flow) most[b] = std::max(most[b], *works.greatest_flow);
  }
  return most;
}

std::vector<Flow> yields_in(const System& system, std::size_t period) {
  std::vector<Flow> yields = yields_now(system);
  for (const network::Year::Row& row : system.year()->yields)
    for (std::size_t b = 0; b < yields.size(); ++b)
      if (system.boxes()[b].name == row.place) yields[b] = row.flows[period];
  return yields;
}

std::vector<std::size_t> unlike_periods(const System& system) {
  std::vector<std::size_t> periods;
  std::vector<std::vector<Flow>> met;
  for (std::size_t p = 0; p < system.year()->periods(); ++p) {
    std::vector<Flow> flows = yields_in(system, p);
    for (const network::Year::Row& row : system.year()->demands) flows.push_back(row.flows[p]);
    if (std::find(met.begin(), met.end(), flows) != met.end()) continue;
    met.push_back(std::move(flows));
    periods.push_back(p);
  }
  return periods;
}

bool is_harder(const System& system, std::size_t period) {
  const std::vector<Flow> now = yields_now(system), then = yields_in(system, period);
  for (std::size_t b = 0; b < now.size(); ++b)
    if (then[b] < now[b]) return true;
  const auto& demands = system.year()->demands;
  return std::any_of(demands.begin(), demands.end(), [&](const network::Year::Row& row) {
    const network::Tank* tank = system.tank(row.place);
    return tank && network::daily_mean(tank->draws) < row.flows[period];
  });
}

std::vector<std::size_t> hardest_of(const System& system, const std::vector<std::size_t>& periods) {
  const auto at_least_as_hard = [&](std::size_t p, std::size_t q) {
    const std::vector<Flow> here = yields_in(system, p), there = yields_in(system, q);
    for (std::size_t b = 0; b < here.size(); ++b)
      if (here[b] > there[b]) return false;
    const auto& demands = system.year()->demands;
    return std::all_of(demands.begin(), demands.end(),
                       [&](const network::Year::Row& row) { return row.flows[p] >= row.flows[q]; });
  };
  std::vector<std::size_t> hardest;
  for (const std::size_t q : periods)
    if (std::none_of(periods.begin(), periods.end(),
                     [&](std::size_t p) { return p != q && at_least_as_hard(p, q); }))
      hardest.push_back(q);
  return hardest;
}

std::optional<Asks> needs_at(const System& system, const filling::TypicalDay& day) {
  return needs_on(system, steady::solve(system), true, &day);
}

bool missed(const AskResult& now, const AskResult& then) { return held(now) && then.judged && !then.met; }

filling::TypicalDay day_of(const System& system) {
  return network::has_draws(system.model()) ? filling::typical_day(system) : filling::TypicalDay{};
}

std::string short_of_draws(const filling::TypicalDay& day) {
  return day.known ? short_on(day) : std::string();
}

Asks slow_fillings(const System& system, const Asks& asks, const filling::TypicalDay& day) {
  const auto due = [](const AskResult& r) {
    return r.judged && r.met && !r.cut_off && r.ask.kind == network::AskKind::full_within;
  };
  Asks slow;
  double longest_s = 0.0;
  for (const AskResult& r : asks)
    if (due(r)) longest_s = std::max(longest_s, r.asked.si);
  if (longest_s <= 0.0) return slow;
  std::vector<Finding> remarks;  // reported already
  filling::FillOptions options{.duration_s = longest_s * (1.0 + 10.0 * rounding)};
  options.keep_steps = false;
  const auto runs = fillings_begun_at_any_time(with_asked_tanks_empty(system, remarks), options, day);
  for (const filling::FillHistory& run : runs)
    if (run.outcome != filling::FillOutcome::done) return slow;
  for (const AskResult& r : asks) {
    if (!due(r)) continue;
    AskResult then = r;
    then.got.reset();
    judge_slowest(runs, then);
    if (!then.met) slow.push_back(std::move(then));
  }
  return slow;
}

}  // namespace runnel::verdict::dry
