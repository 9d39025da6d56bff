#include "runnel/filling/fill.h"

#include "runnel/filling/check.h"
#include "runnel/filling/datum.h"
#include "runnel/filling/run.h"
#include "runnel/network/change.h"

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

const StorageHistory* FillHistory::storage(const std::string& name) const {
  for (const StorageHistory& h : storages)
    if (h.name == name) return &h;
  return nullptr;
}

FillHistory fill(const network::System& system, const FillOptions& options) {
  const double datum = middle_m(system);
  const network::System low = network::lowered(system, datum);
  FillHistory history = Run(low, options).go();
  raise(history, datum);
  if (options.keep_steps) history.proof = check(system, options, history);
  return history;
}

}  // namespace runnel::filling
