#include "runnel/verdict/fill_watch.h"

#include <algorithm>

#include "runnel/verdict/air_flow.h"

namespace runnel::verdict {
namespace {

/// Whether `a` is worse off than `b`: not met before met, nothing before something, less before more. What is
/// not judged (a float valve shut: no water is wanted) says nothing.
bool worse(const AskResult& a, const AskResult& b) {
  if (!a.judged || !b.judged) return a.judged;
  if (a.met != b.met) return !a.met;
  if (!a.got || !b.got) return !a.got && b.got;
  return a.got->si < b.got->si;
}

}  // namespace

void FillWatch::look(double time_s, const steady::State& state) {
  ++instants_;
  std::vector<AskResult> now = judge_asks(system_, state);
  if (!air_) {  // from empty a line starts once, and its air is in it from the start
    air_ = judge_air(system_, state);
    judge_with_air(system_, *air_, now);
  }
  if (asks_.empty())
    for (const AskResult& result : now) asks_.push_back({result, time_s});
  else
    for (std::size_t i = 0; i < now.size(); ++i)
      if (worse(now[i], asks_[i].least)) asks_[i] = {std::move(now[i]), time_s};
}

const PathAir* FillWatch::best_way(const std::string& place) const {
  if (!air_) return nullptr;
  const PathAir* best = nullptr;
  for (const PathAir& way : air_->paths)
    if (way.path.end == place &&
        (!best || way.start.verdict < best->start.verdict ||
         (way.start.verdict == best->start.verdict && way.start.margin_m > best->start.margin_m)))
      best = &way;
  return best;
}

bool FillWatch::blocked(const std::string& place) const {
  const PathAir* way = best_way(place);
  return way && way->start.verdict == air::StartVerdict::blocked && air_->paths_left_out == 0;
}

std::optional<double> FillWatch::first_water_s(const std::string& place) const {
  std::optional<double> soonest;
  if (!air_) return soonest;
  for (const PathAir& way : air_->paths)
    if (way.path.end == place && way.first_water)
      soonest = std::min(soonest.value_or(way.first_water->at_end().full_bore_s),
                         way.first_water->at_end().full_bore_s);
  return soonest;
}

}  // namespace runnel::verdict
