#include "runnel/verdict/dry_followed.h"

#include <algorithm>

#include "runnel/filling/fill.h"
#include "runnel/network/change.h"
#include "runnel/verdict/cures_tried.h"
#include "runnel/verdict/fill_watch.h"

namespace runnel::verdict {
namespace {

using network::System;

// Newton steps a period: a second or less of a small system.
constexpr filling::WorkLimit patience{.at_once = 1e6, .a_day = 0.0};
constexpr double exact_enough = 1e-6;  // of a tank's volume in a step

/// The same in another period, its tanks as a run has left them.
System after(const System& next, const filling::FillHistory& run) {
  System out = next;
  for (const network::Tank& tank : next.tanks())
    if (const auto* seen = tank.held ? nullptr : run.storage(tank.name))
      out = network::with_level(out, tank.name, std::min(tank.lip, Length::metres(seen->end_level_m)));
  return out;
}

}  // namespace

std::optional<MissedInDryTime> follow_dry_time(const System& system, const filling::YearPart& part,
                                               const std::vector<AskResult>& asks) {
  network::Model model = system.model();
  throttle(model, taps_that_take_more(model));
  const auto throttled = network::resolve(std::move(model));
  if (!throttled || !part.need.storage_m3 || *part.need.storage_m3 <= 0.0) return std::nullopt;
  const auto due = [&](const std::string& place) { return part.holds(system.find_place(place)); };
  const std::size_t periods = part.season.length_s.size();
  std::optional<filling::FillHistory> before;
  for (std::size_t p = part.need.falls_from;; p = (p + 1) % periods) {
    const System there = network::in_period(*throttled.value, p);
    const System begun = before ? after(there, *before) : network::with_full_tanks(there);
    filling::FillOptions options{.duration_s = part.season.length_s[p], .until_alike = true};
    options.tolerance = exact_enough;
    options.every_s = 0.0;
    options.keep_steps = false;
    options.work = patience;
    FillWatch watch(begun);
    options.look = [&](double time_s, const auto& state) { watch.look(time_s, state); };
    filling::FillHistory run = filling::fill(begun, options);
    if (run.outcome != filling::FillOutcome::done) return std::nullopt;
    if (const auto missing = missing_draw(begun, run, due)) return MissedInDryTime{p, missing, {}};
    if (auto need = short_in(watch, asks); need && due(need->ask.at))
      return MissedInDryTime{p, {}, std::move(need)};
    before = std::move(run);
    if (p == part.need.lowest_at) return std::nullopt;
  }
}

}  // namespace runnel::verdict
