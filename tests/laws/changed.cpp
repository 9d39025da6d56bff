#include "laws/changed.h"

#include <algorithm>
#include <random>

#include "laws/models.h"

namespace runnel::test {

using namespace network;

namespace {

bool stands_open(PlaceKind kind) { return kind == PlaceKind::box || kind == PlaceKind::tank; }

std::string one_way_reason(const Model& system, const Pipeline& line) {
  if (system.place_kind(line.to) == PlaceKind::outlet) return "it ends in the open air";
  const Tank* tank = system.tank(line.to);
  if (tank && tank->float_valve) return "a float valve ends it";
  if (tank && tank->inlet > line.survey.back().elevation) return "it pours over an inlet";
  const Tank* drained = system.tank(line.from);
  if (drained && drained->inlet > line.survey.front().elevation)
    return "turned round it would pour over an inlet";
  for (const Part& part : line.parts)
    if (part.kind == PartKind::check_valve || part.kind == PartKind::reducing_valve)
      return part.name + " is one-way";
  return {};
}

}  // namespace

Reversed reversed(const Model& system, const Pipeline& line) {
  if (auto why = one_way_reason(system, line); !why.empty()) return {{}, why};
  // Flowing back, open water takes 0.5 in and 1 out whatever was written (steady/line_plan.cpp).
  if (stands_open(*system.place_kind(line.from)) && line.entrance_loss != 0.5)
    return {{}, "its entrance is its own"};
  if (stands_open(*system.place_kind(line.to)) && line.exit_loss != 1.0) return {{}, "its exit is its own"};
  Pipeline back = line;
  std::swap(back.from, back.to);
  const Length first = line.survey.front().station, last = line.survey.back().station;
  const auto turn = [&](Length station) { return first + (last - station); };
  std::reverse(back.survey.begin(), back.survey.end());
  for (SurveyPoint& point : back.survey) point.station = turn(point.station);
  std::reverse(back.parts.begin(), back.parts.end());
  for (Part& part : back.parts) {
    for (const LaidPipe& laid : line.pipes)
      if (part.at == laid.from && part.at > first) return {{}, part.name + " stands where the pipe changes"};
    part.at = turn(part.at);
  }
  back.pipes.clear();
  for (std::size_t p = line.pipes.size(); p-- > 0;) {
    LaidPipe laid = line.pipes[p];
    const bool is_last = p + 1 == line.pipes.size();
    laid.from = turn(is_last ? last : line.pipes[p + 1].from);
    laid.entry_loss = is_last ? std::nullopt : line.pipes[p + 1].entry_loss;
    back.pipes.push_back(laid);
  }
  back.entrance_loss = stands_open(*system.place_kind(line.to)) ? 0.5 : line.exit_loss;
  back.exit_loss = stands_open(*system.place_kind(line.from)) ? 1.0 : line.entrance_loss;
  return {back, {}};
}

Model lifted(Model s, Length by) {
  const auto up = [&](Length& z) { z = z + by; };
  for (Box& box : s.boxes) {
    up(box.outlet), up(box.lip);
    if (box.floor) up(*box.floor);
    if (box.rim) up(*box.rim);
  }
  for (Tank& tank : s.tanks) {
    up(tank.floor), up(tank.lip), up(tank.inlet), up(tank.level);
    if (tank.rim) up(*tank.rim);
    if (tank.float_valve) up(tank.float_valve->shuts_at), up(tank.float_valve->opens_at);
  }
  for (Outlet& outlet : s.outlets) up(outlet.elevation);
  for (Joint& joint : s.joints) up(joint.elevation);
  for (Pipeline& line : s.pipelines)
    for (SurveyPoint& point : line.survey) up(point.elevation);
  for (Setting& setting : s.settings) {
    for (Setting::Level& level : setting.levels) up(level.level);
    if (setting.instead) setting.instead = std::make_shared<const Model>(lifted(*setting.instead, by));
  }
  return s;
}

std::optional<Model> split(const Model& system, std::size_t l, std::size_t i) {
  Model s = system;
  s.collections.clear(), s.logs.clear(), s.ground.reset(), s.claims.clear();  // names that move no water
  Pipeline first = s.pipelines[l], second = first;
  const SurveyPoint at = first.survey[i];
  for (const Part& part : first.parts)
    if (part.at == at.station) return std::nullopt;
  for (std::size_t p = 1; p < first.pipes.size(); ++p)
    if (first.pipes[p].from == at.station) return std::nullopt;
  const auto behind = [&](const auto& thing) { return thing.at > at.station; };
  first.name += " above";
  second.name += " below";
  first.to = second.from = "cut";
  first.exit_loss = second.entrance_loss = 0.0;
  first.survey.resize(i + 1);
  second.survey.erase(second.survey.begin(), second.survey.begin() + static_cast<std::ptrdiff_t>(i));
  first.parts.erase(std::remove_if(first.parts.begin(), first.parts.end(), behind), first.parts.end());
  second.parts.erase(
      std::remove_if(second.parts.begin(), second.parts.end(), [&](const Part& p) { return !behind(p); }),
      second.parts.end());
  while (first.pipes.size() > 1 && first.pipes.back().from > at.station) first.pipes.pop_back();
  while (second.pipes.size() > 1 && second.pipes[1].from <= at.station)
    second.pipes.erase(second.pipes.begin());
  second.pipes.front().from = at.station;
  second.pipes.front().entry_loss.reset();
  Joint joint;
  joint.name = "cut";
  joint.elevation = at.elevation;
  s.joints.push_back(joint);
  s.pipelines[l] = first;
  s.pipelines.push_back(second);
  return s;
}

Model renamed(Model s, const std::string& before) {
  const auto name = [&](std::string& n) { n = before + n; };
  for (Box& box : s.boxes) name(box.name);
  for (Tank& tank : s.tanks) name(tank.name);
  for (Joint& joint : s.joints) name(joint.name);
  for (Outlet& outlet : s.outlets) {
    name(outlet.name);
    if (!outlet.on.empty()) name(outlet.on);
  }
  for (Pipeline& line : s.pipelines) {
    name(line.name), name(line.from), name(line.to);
    for (Part& part : line.parts)
      if (!part.name.empty()) name(part.name);
  }
  // What refers to places by name but does not move water.
  s.settings.clear(), s.asks.clear(), s.claims.clear(), s.year.reset();
  s.collections.clear(), s.logs.clear(), s.ground.reset();
  return s;
}

Model shuffled(Model s, unsigned seed) {
  std::mt19937 random(seed);
  std::shuffle(s.boxes.begin(), s.boxes.end(), random);
  std::shuffle(s.tanks.begin(), s.tanks.end(), random);
  std::shuffle(s.joints.begin(), s.joints.end(), random);
  std::shuffle(s.outlets.begin(), s.outlets.end(), random);
  std::shuffle(s.pipelines.begin(), s.pipelines.end(), random);
  return s;
}

}  // namespace runnel::test
