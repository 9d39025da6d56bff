#include "runnel/filling/fill.h"

#include <algorithm>

#include "runnel/filling/check.h"
#include "runnel/filling/draws.h"
#include "runnel/filling/run.h"
#include "runnel/filling/state_teller.h"
#include "runnel/network/change.h"
#include "runnel/steady/assemble.h"
#include "runnel/steady/datum.h"

namespace runnel::filling {
namespace {

void raise(FillHistory& history, double by_m) {
  for (StorageHistory& h : history.storages) {
    for (double* level : {&h.start_level_m, &h.end_level_m, &h.lowest_m, &h.highest_m}) *level += by_m;
    if (h.never_m) *h.never_m += by_m;
    for (Row& row : h.series) row.level_m += by_m;
  }
  for (StepRecord& step : history.record)
    for (std::vector<double>* levels : {&step.level_m, &step.last_level_m})
      for (double& level : *levels) level += by_m;
}

}  // namespace

double PlaceHistory::asked_a_day_m3(double duration_s) const {
  return asked_m3 * std::min(1.0, day_s / std::max(duration_s, 1.0));
}

const StorageHistory* FillHistory::storage(const std::string& name) const {
  for (const StorageHistory& h : storages)
    if (h.name == name) return &h;
  return nullptr;
}

FillHistory fill(const network::System& system, const FillOptions& options) {
  // Elevations are counted from near the water, since a film far thinner than the rounding of an elevation of
  // a thousand metres still carries water over a mouth.
  const double datum = steady::local_datum_m(steady::assemble(system, {.for_filling = true}).kernel);
  const network::System low = network::lowered(system, datum);
  const StateTeller teller(system, datum);
  FillOptions lowered = options;
  for (double& level_m : lowered.emptied_at_m) level_m -= datum;
  FillHistory history = Run(low, lowered, options.look ? &teller : nullptr).go();
  raise(history, datum);
  if (options.keep_steps) history.proof = check(system, options, history);
  return history;
}

}  // namespace runnel::filling
