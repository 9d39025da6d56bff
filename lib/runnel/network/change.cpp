#include "runnel/network/change.h"

#include <algorithm>
#include <string>

#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/network/part_loss.h"

namespace runnel::network {
namespace {

SurveyPoint survey_point(double station_m, double elevation_m) {
  return {Length::metres(station_m), Length::metres(elevation_m)};
}

/// Where the leg between two points crosses a level.
SurveyPoint crossing(const SurveyPoint& a, const SurveyPoint& b, double level_m) {
  const double share = (level_m - a.elevation.metres()) / (b.elevation.metres() - a.elevation.metres());
  return survey_point(a.station.metres() + share * (b.station.metres() - a.station.metres()), level_m);
}

/// A tank drawn down until only what runs in runs out, as a box; its lines are changed so that they end as
/// before.
Box drawn_down(const Tank& tank, std::vector<Pipeline>& lines) {
  Box box;
  box.name = tank.name;
  box.mark = tank.mark;
  box.floor = tank.floor;
  box.lip = box.outlet = tank.lip;
  for (Pipeline& line : lines) {
    if (line.from == tank.name) box.outlet = std::min(box.outlet, line.survey.front().elevation);
    if (line.to != tank.name) continue;
    // A tank receives at its inlet, though the survey may end lower by its error.
    SurveyPoint& end = line.survey.back();
    end.elevation = std::max(end.elevation, tank.inlet);
    const std::optional<FloatValve>& valve = line.float_valve ? line.float_valve : tank.float_valve;
    if (!valve) {
      box.outlet = std::min(box.outlet, end.elevation);
      continue;
    }
    line.exit_loss += valve->loss;
    const bool shut = tank.level >= valve->shuts_at;
    Part keeps;  // a float valve lets no water back
    keeps.kind = shut ? PartKind::valve : PartKind::check_valve;
    keeps.type = shut ? "ball_valve" : "check_valve";
    keeps.open = shut ? 0.0 : 1.0;
    keeps.at = end.station;
    line.parts.push_back(keeps);
    line.float_valve.reset();
  }
  box.outlet = std::max(box.outlet, tank.floor);
  return box;
}

/// Lets no water out of the tanks at its ends.
void keep_in(Pipeline& line, bool from_tank, bool to_tank) {
  if (from_tank) {
    Part shut;
    shut.kind = PartKind::valve;
    shut.type = "ball_valve";
    shut.open = 0.0;
    shut.at = line.survey.front().station;
    line.parts.insert(line.parts.begin(), shut);
  }
  if (!to_tank) return;
  Part keeps;
  keeps.kind = PartKind::check_valve;
  keeps.type = "check_valve";
  keeps.at = line.survey.back().station;
  line.parts.push_back(keeps);
}

/// Removes the `draws` of taps and joints.
void leave_out_draws(Model& model) {
  for (Joint& joint : model.joints)
    if (!joint.draws.empty()) joint.draw = {};
  for (Outlet& outlet : model.outlets)
    if (!outlet.draws.empty()) outlet.shut = true;
}

/// Another yield than the one that was measured.
void give(Box& box, Flow yield) {
  box.yield = yield;
  box.bucket_tests.reset();
  box.history = {};
}

/// What is drawn from a tank, with the hours of its draws.
void demand(Tank& tank, Flow flow) {
  const double drawn_m3s = daily_mean(tank.draws).si();
  if (!(drawn_m3s > 0.0)) {
    tank.draws = {drawn_always(flow)};
    return;
  }
  for (Draw& draw : tank.draws) draw.flow = draw.flow * (flow.si() / drawn_m3s);
}

Pipeline& line_of(Model& model, int line) { return model.pipelines[static_cast<std::size_t>(line)]; }

}  // namespace

/// Makes a System without `resolve`, for changes that cannot make it an invalid one.
class Rebuilt {
 public:
  static System from(Model model) { return System(std::move(model)); }
};

void put_air_valve(Pipeline& line, double station_m) {
  Part valve;
  valve.kind = PartKind::air_valve;
  valve.type = "air_valve";
  // Names are told apart: several may be tried at once.
  valve.name = "air valve tried at " + std::to_string(station_m) + " of " + line.name;
  valve.at = Length::metres(station_m);
  const auto after = std::find_if(line.parts.begin(), line.parts.end(),
                                  [&](const Part& p) { return p.at.metres() > station_m; });
  line.parts.insert(after, valve);
}

Checked<System> with_air_valve(const System& system, int line, double station_m) {
  Model changed = system.model();
  put_air_valve(line_of(changed, line), station_m);
  return resolve(std::move(changed));
}

Checked<System> with_trench(const System& system, int line, Stretch stretch, double floor_m) {
  Model changed = system.model();
  auto& survey = line_of(changed, line).survey;
  std::vector<SurveyPoint> dug;
  for (std::size_t i = 0; i < survey.size(); ++i) {
    const double station_m = survey[i].station.metres(), elevation_m = survey[i].elevation.metres();
    const bool end = i == 0 || i + 1 == survey.size();
    const bool inside = station_m >= stretch.from_m && station_m <= stretch.to_m;
    dug.push_back(inside && !end ? survey_point(station_m, std::min(elevation_m, floor_m)) : survey[i]);
    if (i + 1 == survey.size()) break;
    const double next_m = survey[i + 1].elevation.metres();
    const bool covered = station_m >= stretch.from_m && survey[i + 1].station.metres() <= stretch.to_m;
    const bool crosses = (elevation_m - floor_m) * (next_m - floor_m) < 0.0;
    if (covered && crosses) dug.push_back(crossing(survey[i], survey[i + 1], floor_m));
  }
  survey = std::move(dug);
  return resolve(std::move(changed));
}

void dig_down(Pipeline& line, std::size_t point, Length depth) {
  const auto ground = line.survey;
  const Length top = ground[point].elevation, floor = top - depth;
  // The next point lies above the top, so that the floor rises to it; below the floor, which comes out of the
  // ground before; or it is brought down too. The ends of the line stay.
  std::size_t first = point, last = point;
  while (first > 1 && ground[first - 1].elevation <= top && ground[first - 1].elevation >= floor) --first;
  while (last + 2 < ground.size() && ground[last + 1].elevation <= top && ground[last + 1].elevation >= floor)
    ++last;
  line.survey.assign(ground.begin(), ground.begin() + static_cast<std::ptrdiff_t>(first));
  if (ground[first - 1].elevation < floor)
    line.survey.push_back(crossing(ground[first - 1], ground[first], floor.metres()));
  for (std::size_t i = first; i <= last; ++i)
    line.survey.push_back(survey_point(ground[i].station.metres(), floor.metres()));
  if (ground[last + 1].elevation < floor)
    line.survey.push_back(crossing(ground[last], ground[last + 1], floor.metres()));
  line.survey.insert(line.survey.end(), ground.begin() + static_cast<std::ptrdiff_t>(last) + 1, ground.end());
}

Checked<System> with_dug_point(const System& system, int line, int point, Length depth) {
  Model changed = system.model();
  dig_down(line_of(changed, line), static_cast<std::size_t>(point), depth);
  return resolve(std::move(changed));
}

Checked<System> with_pipe(const System& system, int line, Stretch stretch, const pipes::Pipe& pipe) {
  Model changed = system.model();
  Pipeline& l = line_of(changed, line);
  const double first_m = l.survey.front().station.metres(), last_m = l.survey.back().station.metres();
  LaidPipe after = pipe_at(l, Length::metres(stretch.to_m));
  after.from = Length::metres(stretch.to_m);
  after.entry_loss.reset();
  std::vector<LaidPipe> laid;
  for (const LaidPipe& p : l.pipes)
    if (p.from.metres() < stretch.from_m) laid.push_back(p);
  const bool whole = laid.empty() || stretch.from_m <= first_m;
  if (whole) laid.clear();
  laid.push_back({pipe, Length::metres(whole ? first_m : stretch.from_m), std::nullopt, {}});
  if (stretch.to_m < last_m) laid.push_back(after);
  for (const LaidPipe& p : l.pipes)
    if (p.from.metres() > stretch.to_m) laid.push_back(p);
  l.pipes = std::move(laid);
  return resolve(std::move(changed));
}

System without_springs(const System& system) {
  Model model = system.model();
  for (Box& box : model.boxes) box.yield = {};
  return Rebuilt::from(std::move(model));
}

System with_even_draws(const System& system) {
  Model model = system.model();
  for (Tank& tank : model.tanks)
    for (Draw& draw : tank.draws) draw.from_hour = draw.to_hour = 0.0;
  for (std::size_t o = 0; o < model.outlets.size(); ++o)
    if (const auto most = system.opened_above_draws(static_cast<int>(o)))
      model.outlets[o].draws = {drawn_always(*most)};
  return Rebuilt::from(std::move(model));
}

System with_asked_draws(const System& system) {
  Model model = system.model();
  for (std::size_t o = 0; o < model.outlets.size(); ++o) {
    std::vector<Draw>& draws = model.outlets[o].draws;
    const double busiest_m3s = busiest_hour(draws).si();
    const auto most = system.opened_above_draws(static_cast<int>(o));
    if (most && busiest_m3s > 0.0)
      for (Draw& draw : draws) draw.flow = draw.flow * (most->si() / busiest_m3s);
  }
  return Rebuilt::from(std::move(model));
}

System with_level(const System& system, const std::string& tank, Length level) {
  Model model = system.model();
  for (Tank& t : model.tanks)
    if (t.name == tank) t.level = level;
  return Rebuilt::from(std::move(model));
}

System with_full_tanks(const System& system) {
  System full = system;
  for (const Tank& tank : system.tanks())
    if (!tank.held) full = with_level(full, tank.name, full_level(system.model(), tank));
  return full;
}

System with_floats_shut(const System& system, const std::vector<std::string>& tanks) {
  Model model = system.model();
  for (Tank& t : model.tanks) {
    if (std::find(tanks.begin(), tanks.end(), t.name) == tanks.end()) continue;
    t.float_valve = usual_float(t);
    t.level = t.float_valve->shuts_at;
  }
  return Rebuilt::from(std::move(model));
}

System with_empty_tank(const System& system, const std::string& tank) {
  Model model = system.model();
  const auto at =
      std::find_if(model.tanks.begin(), model.tanks.end(), [&](const Tank& t) { return t.name == tank; });
  model.boxes.push_back(drawn_down(*at, model.pipelines));
  model.tanks.erase(at);
  return Rebuilt::from(std::move(model));
}

System with_tanks_receiving(const System& system, const std::vector<Flow>& yields) {
  return with_tanks_receiving(system, yields, {});
}

System with_tanks_receiving(const System& system, const std::vector<Flow>& yields,
                            const std::vector<std::string>& full) {
  Model model = system.model();
  for (std::size_t b = 0; b < model.boxes.size(); ++b) model.boxes[b].yield = yields[b];
  const auto receives = [&](const Tank* tank) {
    return tank && std::find(full.begin(), full.end(), tank->name) == full.end();
  };
  for (Tank& tank : model.tanks) tank.level = receives(&tank) ? tank.floor : full_level(system.model(), tank);
  leave_out_draws(model);
  for (Pipeline& line : model.pipelines) {
    // Out of an empty tank nothing runs unless the mouth lies under its floor. A line that is drawn from the
    // tank may well bring water to it.
    const Tank* from = model.tank(line.from);
    keep_in(line, receives(from) && line.survey.front().elevation < from->floor,
            receives(model.tank(line.to)));
  }
  return Rebuilt::from(std::move(model));
}

System with_tanks_full(const System& system, const std::vector<Flow>& yields,
                       const std::vector<std::string>& kept) {
  constexpr double just_below_m = 1e-3;  // leaves the float valve open
  Model model = system.model();
  for (std::size_t b = 0; b < model.boxes.size(); ++b) model.boxes[b].yield = yields[b];
  for (Tank& tank : model.tanks) {
    tank.level = tank.lip;
    for (const FloatValve& valve : floats_of(system.model(), tank))
      tank.level = std::min(tank.level, valve.shuts_at - Length::metres(just_below_m));
  }
  leave_out_draws(model);
  const auto keeps = [&](const std::string& place) {
    return std::find(kept.begin(), kept.end(), place) != kept.end();
  };
  for (Pipeline& line : model.pipelines) keep_in(line, keeps(line.from), keeps(line.to));
  return Rebuilt::from(std::move(model));
}

System with_taps_shut(const System& system) {
  Model model = system.model();
  for (Outlet& outlet : model.outlets) outlet.shut = true;
  return Rebuilt::from(std::move(model));
}

System in_period(const System& system, std::size_t period) {
  Model model = system.model();
  for (const Year::Row& row : system.year()->yields)
    for (Box& box : model.boxes)
      if (box.name == row.place) give(box, row.flows[period]);
  for (const Year::Row& row : system.year()->demands)
    for (Tank& tank : model.tanks)
      if (tank.name == row.place) demand(tank, row.flows[period]);
  return Rebuilt::from(std::move(model));
}

System with_yields(const System& system, const std::vector<Flow>& yields) {
  Model model = system.model();
  for (std::size_t b = 0; b < model.boxes.size(); ++b) give(model.boxes[b], yields[b]);
  return Rebuilt::from(std::move(model));
}

System with_year(const System& system, const std::vector<Flow>& yields, Year year) {
  Model model = system.model();
  for (std::size_t b = 0; b < model.boxes.size(); ++b) give(model.boxes[b], yields[b]);
  if (model.year) model.year = std::move(year);
  return Rebuilt::from(std::move(model));
}

System with_open_line(const System& system, int line) {
  Model model = system.model();
  line_of(model, line).air = Air::open;
  return Rebuilt::from(std::move(model));
}

System lowered(const System& system, double by_m) {
  Model copy = system.model();
  const Length by = Length::metres(by_m);
  auto lower = [&](Length& elevation) { elevation = elevation - by; };
  each_place(copy, [&](auto& place) { place.each_elevation(lower); });
  for (Pipeline& line : copy.pipelines) {
    for (SurveyPoint& point : line.survey) lower(point.elevation);
    if (line.float_valve) lower(line.float_valve->shuts_at), lower(line.float_valve->opens_at);
  }
  return Rebuilt::from(std::move(copy));
}

}  // namespace runnel::network
