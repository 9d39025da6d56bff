// How much of what gains most is enough: which size, how wide, how deep, how many times the yield.
#include <algorithm>
#include <array>
#include <cmath>

#include "runnel/network/change.h"
#include "runnel/network/drawn_needs.h"
#include "runnel/verdict/digging.h"
#include "runnel/verdict/dug_points.h"
#include "runnel/verdict/lifted.h"
#include "runnel/verdict/next_size.h"
#include "runnel/verdict/reason_search.h"

namespace runnel::verdict {
namespace {

// Sizes tried one after another until the need is met.
constexpr int most_sizes = 4;
// How many times its yield is tried of a spring of which twice is not enough.
constexpr std::array more_times{3.0, 4.0, 6.0, 10.0, 20.0};
constexpr double dig_step_m = 0.5;

}  // namespace

/// The reason is a pipe one size too small; which size meets the need?
void ReasonSearch::follow_pipe(std::size_t ask) {
  Reason& reason = *asks_[ask].reason;
  const int l = *system_.find_line(reason.line);
  const network::Line& line = system_.lines()[static_cast<std::size_t>(l)];
  const int p = line.course.pipe_at(reason.from_m);
  const pipes::Pipe& laid = line.pipes[static_cast<std::size_t>(p)].pipe;
  std::optional<pipes::Pipe> wider = next_size(laid);
  follow_filling(ask);
  for (int size = 1; size < most_sizes && !reason.cures && !reason.for_now && wider; ++size) {
    wider = next_size(*wider);
    if (!wider || !solver_.lay(l, p, *wider)) break;
    const auto now = judged();
    if (!now || !(got_si((*now)[ask]) > reason.with.si * (1.0 + worth_naming))) break;
    reason.pipe = wider->name;
    promise(*now, ask);
    follow_filling(ask);
  }
  solver_.lay(l, p, laid);
}

/// The reason is a spring of which twice is not enough; how many times is? None if pipe or opening end it.
void ReasonSearch::follow_spring(std::size_t ask) {
  Reason& reason = *asks_[ask].reason;
  const auto& boxes = system_.boxes();
  const auto spring = std::find_if(boxes.begin(), boxes.end(),
                                   [&](const network::Box& box) { return box.name == reason.place; });
  const int b = static_cast<int>(spring - boxes.begin());
  for (const double times : more_times) {
    if (reason.cures) break;
    solver_.yield(b, spring->yield * times);
    const auto now = judged();
    if (!now) break;
    if (!(got_si((*now)[ask]) > reason.with.si * (1.0 + worth_naming))) {
      reason.no_more = true;
      break;
    }
    reason.times = times;
    promise(*now, ask);
  }
  solver_.yield(b, spring->yield);
}

/// The reason is a narrow tap; how wide meets the need?
void ReasonSearch::follow_opening(std::size_t ask) {
  Reason& reason = *asks_[ask].reason;
  const auto& outlets = system_.outlets();
  const auto tap = std::find_if(outlets.begin(), outlets.end(),
                                [&](const network::Outlet& o) { return o.name == reason.place; });
  const double most_m = bore_behind_m(system_, static_cast<int>(tap - outlets.begin()));
  follow_filling(ask);
  while (!reason.cures && !reason.for_now && reason.dug_m < most_m && afford()) {
    const double tried_m = std::min(most_m, next_opening_m(reason.dug_m));
    const auto now = needs_at_opening(reason.place, tried_m);
    if (!now || !(got_si((*now)[ask]) > reason.with.si * (1.0 + worth_naming))) return;
    reason.dug_m = tried_m;
    promise(*now, ask);
    follow_filling(ask);
  }
}

/// The reason is a high point; how little digging is enough?
void ReasonSearch::follow_dig(std::size_t ask) {
  Reason& reason = *asks_[ask].reason;
  follow_filling(ask);
  if (!reason.cures) return;
  const int l = *system_.find_line(reason.line);
  const int point = *survey_point(system_.lines()[static_cast<std::size_t>(l)], reason.from_m);
  const auto dug_by = [&](double dug_m) {
    return network::with_dug_point(system_, l, point, Length::metres(dug_m));
  };
  for (double dug_m = dig_step_m; dug_m < most_dug_m && afford(); dug_m += dig_step_m) {
    const auto dug = dug_by(dug_m);
    const auto now = !dug                 ? std::nullopt
                     : reason.once_filled ? needs_of(with_tanks_filled(*dug.value))
                                          : needs_of(dug.value);
    if (!now) break;
    if (!(*now)[ask].met) continue;
    reason.dug_m = dug_m;
    promise(*now, ask);
    break;
  }
  if (const auto dug = dug_by(reason.dug_m))
    reason.starts = start_of(judge_air(*dug.value, steady::solve(*dug.value)), asks_[ask].ask.at);
}

/// The reason is a reducing valve; how high must it be set? Without it the pipe below might burst.
void ReasonSearch::follow_setting(std::size_t ask) {
  Reason& reason = *asks_[ask].reason;
  constexpr double step_pa = 10e3, most_pa = 1600e3;
  const auto set_now_pa = set_pressure_pa(system_, reason.line, reason.part);
  if (!reason.cures || !set_now_pa) return;
  const auto met_at = [&](double set_pa) {
    const auto now =
        afford() ? needs_of(with_set_pressure(system_, reason.line, reason.part, set_pa)) : std::nullopt;
    return now && (*now)[ask].met ? now : std::nullopt;
  };
  double low = std::ceil(*set_now_pa / step_pa), high = std::ceil(most_pa / step_pa);
  if (!(low < high) || !met_at(high * step_pa)) return;
  while (high - low > 1.0) {
    const double middle = std::floor(0.5 * (low + high));
    (met_at(middle * step_pa) ? high : low) = middle;
  }
  const auto now = met_at(high * step_pa);
  if (!now) return;
  reason.set_pa = high * step_pa;
  promise(*now, ask);
}

/// The reason are other taps; is it enough that they are throttled to what is asked of them?
void ReasonSearch::follow_taps(std::size_t ask) {
  Reason& reason = *asks_[ask].reason;
  const auto runs_free = [&](const std::string& name) {
    const network::Outlet* tap = system_.outlet(name);
    return tap && tap->draws.empty();
  };
  const auto wanted = [&](const std::string& name) {
    return network::flow_asked_at(system_.model(), name) > Flow{};
  };
  if (reason.throttled || !std::all_of(reason.taps.begin(), reason.taps.end(), runs_free) ||
      std::none_of(reason.taps.begin(), reason.taps.end(), wanted) || !afford())
    return;
  const auto now = needs_of(with_lifted(system_, reason));
  if (!now || !(*now)[ask].met) return;
  reason.throttled = true;
  promise(*now, ask);
}

/// What is not enough at the levels that tanks are drawn at may be once they have filled.
void ReasonSearch::follow_filling(std::size_t ask) {
  Reason& reason = *asks_[ask].reason;
  if (reason.cures || reason.for_now || reason.once_filled || !afford()) return;
  const bool shut = reason.bound == Bound::other_taps && !reason.throttled;
  const auto lifted = shut ? std::nullopt : with_lifted(system_, reason);
  const auto now = lifted ? needs_of(with_tanks_filled(*lifted)) : std::nullopt;
  if (!now || !(*now)[ask].met) return;
  reason.once_filled = true;
  promise(*now, ask);
}

/// The reason is a mouth that is hardly covered; how little deeper is enough?
void ReasonSearch::follow_mouth(std::size_t ask) {
  Reason& reason = *asks_[ask].reason;
  const int l = *system_.find_line(reason.line);
  for (const double by_m : deeper_m) {
    const auto deeper = afford() ? with_deeper_mouth(system_, l, by_m) : std::nullopt;
    const auto now = needs_of(deeper);
    if (!now) return;
    const bool all = got_si((*now)[ask]) >= reason.with.si * (1.0 - worth_naming);
    if (reason.cures ? !(*now)[ask].met : !all) continue;
    reason.dug_m = by_m;
    promise(*now, ask);
    return;
  }
}

}  // namespace runnel::verdict
