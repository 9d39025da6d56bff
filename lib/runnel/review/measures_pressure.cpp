// What the pipes have to bear: everything shut, running, struck by a wave, and under suction.
#include <algorithm>
#include <cmath>
#include <map>
#include <set>

#include "runnel/base/constants.h"
#include "runnel/review/measure.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/surge_way.h"

namespace runnel::review {

namespace {

using network::Line;
using steady::LinePoint;
using steady::LineState;

verdict::Case case_of(const Seen& seen) { return {seen.system, seen.state, seen.verdict.asks}; }

struct Greatest {
  const LinePoint* point = nullptr;
  double head_m = 0.0;
};

/// The greatest head by `head` on one pipe of a line, ends included.
template <class Head>
Greatest greatest(const LineState& run, const Line& line, std::size_t pipe, Head head) {
  const double from = line.pipes[pipe].from.metres() - network::same_station_m;
  const double to =
      (pipe + 1 < line.pipes.size() ? line.pipes[pipe + 1].from : line.survey.back().station).metres() +
      network::same_station_m;
  Greatest most;
  for (const LinePoint& p : run.points) {
    const std::optional<double> here = head(p);
    if (p.station_m < from || p.station_m > to || !here) continue;
    if (!most.point || *here > most.head_m) most = {&p, *here};
  }
  return most;
}

/// One figure for each pipe of each line: its greatest head over its rating.
template <class Head, class Wanted>
std::vector<Measured> over_rating(const Seen& seen, Head head, Wanted wanted) {
  std::vector<Measured> out;
  for (const Line& line : seen.system.lines()) {
    const LineState* run = verdict::run_of(seen.system, seen.state, line);
    if (!run) continue;
    for (std::size_t i = 0; i < line.pipes.size(); ++i) {
      const pipes::Pipe& pipe = line.pipes[i].pipe;
      const Greatest most = greatest(*run, line, i, head);
      if (!most.point || !(most.head_m > 0.0) || !wanted(line, pipe)) continue;
      const Where where{"", line.name, "", most.point->station_m};
      const auto rating = verdict::allowed_pressure_pa(seen.system, pipe);
      if (rating && *rating > 0.0)
        out.push_back(exactly(where, verdict::pressure_of_head(seen.system, most.head_m).si / *rating));
      else
        out.push_back(lacking(where, "the rating of " + pipe.name));
    }
  }
  return out;
}

std::optional<double> standing(const LinePoint& p) { return p.static_head_m; }
std::optional<double> running(const LinePoint& p) { return p.pressure_head_m; }

std::vector<Measured> static_over_rating(const Seen& seen) {
  return over_rating(seen, standing, [](const Line&, const pipes::Pipe&) { return true; });
}

std::vector<Measured> working_over_rating(const Seen& seen) {
  return over_rating(seen, running, [](const Line&, const pipes::Pipe&) { return true; });
}

/// Lines and pipes whose wave is known, wherever one runs.
std::set<std::pair<const Line*, const pipes::Pipe*>> surge_known(const std::vector<verdict::Surge>& all) {
  std::set<std::pair<const Line*, const pipes::Pipe*>> known;
  for (const verdict::Surge& surge : all)
    for (const verdict::SurgedStretch& s : surge.stretches)
      if (s.before && s.head) known.insert({s.line, s.pipe});
  return known;
}

std::vector<Measured> static_without_surge(const Seen& seen) {
  const auto known = surge_known(verdict::surges(case_of(seen)));
  return over_rating(seen, standing, [&](const Line& line, const pipes::Pipe& pipe) {
    return known.find({&line, &pipe}) == known.end();
  });
}

/// The worst wave of each line.
std::vector<Measured> surge_over_allowed(const Seen& seen) {
  const verdict::Case c = case_of(seen);
  std::map<const Line*, Measured> worst;
  for (const verdict::Surge& surge : verdict::surges(c))
    for (const verdict::SurgedStretch& s : surge.stretches) {
      const auto load = verdict::surge_load(c, surge, s);
      if (!load) continue;
      const Where where{"", s.line->name, surge.valve, load->station_m};
      const double free = (load->standing_pa + load->wave_free_pa) / load->allowed_pa;
      const double held = (load->standing_pa + load->wave_held_pa) / load->allowed_pa;
      const auto [at, fresh] = worst.try_emplace(s.line);
      if (fresh || held > at->second.high) at->second = between(where, std::min(free, held), held, held);
    }
  std::vector<Measured> out;
  for (const Line& line : seen.system.lines())
    if (const auto at = worst.find(&line); at != worst.end()) out.push_back(at->second);
  return out;
}

bool plastic(const pipes::Pipe& pipe) {
  return pipe.material.starts_with("PE") || pipe.material.starts_with("PVC");
}

std::vector<Measured> plastic_rating(const Seen& seen) {
  std::vector<Measured> out;
  for (const Line& line : seen.system.lines())
    for (const network::FittedPipe& laid : line.pipes) {
      if (!plastic(laid.pipe)) continue;
      const Where where{"", line.name, "", laid.from.metres()};
      out.push_back(laid.pipe.rating > Pressure{} ? exactly(where, laid.pipe.rating.pascals())
                                                  : lacking(where, "the rating of " + laid.pipe.name));
    }
  return out;
}

// Places neglect the velocity head of the pipe beside them: suction of no more, plus a millimetre, is none.
double neglected_m(const LineState& run) {
  double fastest_ms = 0.0;
  for (const steady::Reach& r : run.reaches) fastest_ms = std::max(fastest_ms, std::fabs(r.velocity_ms));
  return 1e-3 + fastest_ms * fastest_ms / (2.0 * gravity_ms2);
}

/// Calls `take(line, point)` with the point of least pressure of every running line.
template <class Take>
void at_least_pressure(const Seen& seen, Take take) {
  for (const Line& line : seen.system.lines()) {
    const LineState* run = verdict::run_of(seen.system, seen.state, line);
    if (!run) continue;
    const LinePoint* least = nullptr;
    for (const LinePoint& p : run->points)
      if (p.pressure_head_m && (!least || *p.pressure_head_m < *least->pressure_head_m)) least = &p;
    if (least) take(line, *least, -*least->pressure_head_m > neglected_m(*run));
  }
}

std::vector<Measured> suction(const Seen& seen) {
  std::vector<Measured> out;
  at_least_pressure(seen, [&](const Line& line, const LinePoint& p, bool sucks) {
    out.push_back(exactly({"", line.name, "", p.station_m}, sucks ? -*p.pressure_head_m : 0.0));
  });
  return out;
}

std::vector<Measured> absolute_under_suction(const Seen& seen) {
  std::vector<Measured> out;
  at_least_pressure(seen, [&](const Line& line, const LinePoint& p, bool sucks) {
    if (!sucks) return;
    const double absolute_m = seen.system.site().atmospheric_head_m() + *p.pressure_head_m;
    out.push_back(exactly({"", line.name, "", p.station_m}, absolute_m));
  });
  return out;
}

std::vector<Measured> tap_pressure(const Seen& seen) {
  std::vector<Measured> out;
  for (const steady::PlaceState& tap : seen.state.outlets)
    if (tap.flow_m3s > 0.0 && tap.pressure_head_m) out.push_back(exactly({tap.name}, *tap.pressure_head_m));
  return out;
}

std::vector<Measured> tap_static(const Seen& seen) {
  std::vector<Measured> out;
  for (const steady::PlaceState& tap : seen.state.outlets)
    if (tap.static_head_m)
      out.push_back(exactly({tap.name}, verdict::pressure_of_head(seen.system, *tap.static_head_m).si));
  return out;
}

}  // namespace

std::vector<Measure> pressure_measures() {
  return {
      {"static pressure over rating", Kind::percent, "of each pipe with everything shut", static_over_rating},
      {"static pressure over rating, surge not known", Kind::percent,
       "of each pipe whose surge cannot be worked out", static_without_surge},
      {"working pressure over rating", Kind::percent, "of each pipe while it runs", working_over_rating},
      {"surge over what is allowed", Kind::percent,
       "standing pressure and the wave of a valve that snaps shut, worst of each line", surge_over_allowed},
      {"rating of plastic pipe", Kind::pressure, "as the catalogue or the model gives it", plastic_rating},
      {"suction", Kind::head, "greatest of each line, below the air's pressure", suction},
      {"absolute pressure under suction", Kind::head, "least of each line that sucks",
       absolute_under_suction},
      {"pressure at an open tap", Kind::head, "before the tap, while it runs", tap_pressure},
      {"static pressure at a tap", Kind::pressure, "with everything shut", tap_static},
  };
}

}  // namespace runnel::review
