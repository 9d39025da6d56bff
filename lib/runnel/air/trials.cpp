#include "runnel/air/trials.h"

#include <algorithm>
#include <cmath>

#include "runnel/network/place_state.h"

namespace runnel::air {
namespace {

// The solver closes flows to 1e-10 of the total; a part in a million is far above that.
constexpr double rounding = 1e-6;

std::optional<double> got_m3s(const steady::State& state, const std::string& place) {
  const steady::PlaceState* p = state.place(place);
  if (!p || p->float_shut || p->kind == network::PlaceKind::box) return std::nullopt;
  return network::comes_to_m3s(*p);
}

}  // namespace

double missing_m3s(const network::System& system, const steady::State& state) {
  double missing = 0.0;
  for (const network::Ask& ask : system.asks()) {
    if (ask.kind != network::AskKind::flow) continue;
    const auto got = got_m3s(state, ask.at);
    if (got && *got < ask.flow.si() * (1.0 - rounding)) missing += ask.flow.si() - *got;
  }
  return missing;
}

Running running(const network::System& system, const steady::State& state, const std::string& line,
                network::Stretch over) {
  Running now;
  now.missing_m3s = missing_m3s(system, state);
  const steady::LineState* run = state.line(line);
  if (!run) return now;
  now.flow_m3s = std::abs(run->flow_m3s);
  if (now.flow_m3s > 0.0) now.clearance_m = least_clearance_m(*run, over.from_m, over.to_m);
  return now;
}

const Trials::Shape& Trials::shape(int line) {
  const auto [at, fresh] = shapes_.try_emplace(line);
  Shape& shape = at->second;
  if (!fresh) return shape;
  shape.profile = profile_of(system_.lines()[static_cast<std::size_t>(line)]);
  shape.turns = turns(shape.profile);
  return shape;
}

const Profile& Trials::profile(int line) { return shape(line).profile; }

network::Stretch Trials::mound_around(int line, double station_m) {
  const Shape& here = shape(line);
  return air::mound_around(here.profile, here.turns, station_m);
}

std::optional<steady::State> Trials::solve(const network::System& changed) {
  // A line of some fifty points costs about as much as an ordinary pipeline.
  std::size_t points = 0;
  for (const network::Line& line : changed.lines()) points += line.course.points().size();
  const std::size_t cost = std::max({std::size_t{1}, changed.lines().size(), points / 50});
  if (cost > left_) {
    spent_ = true;
    return std::nullopt;
  }
  left_ -= cost;
  ++solves_;
  steady::State state = steady::solve(changed, {.depths = false});
  if (state.outcome != steady::Outcome::settled) return std::nullopt;
  return state;
}

}  // namespace runnel::air
