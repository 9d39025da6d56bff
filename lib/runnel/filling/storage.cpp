#include "runnel/filling/storage.h"

#include <algorithm>
#include <limits>

#include "runnel/filling/fill.h"

namespace runnel::filling {
namespace {

void set_lip(Storage& s, double lip_m) {
  s.lip_m = lip_m;
  s.lip_m3 = s.volume_m3(lip_m);
}

double emptied_volume(const network::System& system, int place, const Storage& s) {
  double lowest = system.tank(place)->lip.metres();
  bool leaves = false;
  for (const int l : system.lines_at(place)) {
    const network::Line& line = system.lines()[static_cast<std::size_t>(l)];
    if (line.from != place) continue;
    leaves = true;
    lowest = std::min(lowest, std::max(line.start_elevation().metres(), s.floor_m));
  }
  return leaves && !s.draws.any() ? s.volume_m3(lowest + emptied_m) : 0.0;
}

Storage tank_storage(const network::System& system, int place, double start_hour) {
  const network::Tank& tank = *system.tank(place);
  Storage s;
  s.name = tank.name;
  s.floor_m = tank.floor.metres();
  s.curve = TankCurve(tank.shape);
  set_lip(s, tank.lip.metres());
  s.inlet.volume_m3 = s.volume_m3(tank.inlet.metres());
  for (double v : s.curve.bends_m3()) s.bends.push_back({v, 0});
  s.draws = DrawSchedule(tank.draws, start_hour);
  s.dry_m3 = emptied_volume(system, place, s);
  return s;
}

Storage box_storage(const network::Box& box) {
  Storage s;
  s.name = box.name;
  s.kind = network::PlaceKind::box;
  s.floor_m = box.floor.value_or(box.outlet).metres();
  s.curve = TankCurve(network::Cuboid{box.plan_length, box.plan_width});
  set_lip(s, box.lip.metres());
  return s;
}

void find_mouths(const network::System& system, Storage& s) {
  const int place = *system.find_place(s.name);
  const network::Tank* tank = system.tank(place);
  auto add = [&](double level_m) {
    level_m = std::max(level_m, s.floor_m);
    if (level_m + film_m < s.lip_m)
      s.mouths.push_back({level_m, s.volume_m3(level_m), s.volume_m3(level_m + film_m)});
  };
  for (const int l : system.lines_at(place)) {
    const network::Line& line = system.lines()[static_cast<std::size_t>(l)];
    if (line.from == place) add(line.survey.front().elevation.metres());
    if (line.to != place) continue;
    if (line.float_valve) continue;  // which lets no water back
    add(std::max(line.survey.back().elevation, tank ? tank->inlet : line.survey.back().elevation).metres());
  }
}

void hang_floats(const network::System& system, std::vector<Storage>& stores) {
  const std::vector<FloatGroup> groups = float_groups(system);
  for (std::size_t g = 0; g < groups.size(); ++g) {
    Storage& s = stores[groups[g].tank];
    const network::FloatValve& valve = groups[g].valve;
    const std::string line = groups[g].lines.empty() ? "" : system.lines()[groups[g].lines.front()].name;
    s.floats.push_back({g, line, s.volume_m3(valve.shuts_at.metres()), s.volume_m3(valve.opens_at.metres())});
  }
  for (Storage& s : stores)
    if (s.floats.size() == 1) s.floats.front().line.clear();
}

}  // namespace

std::vector<FloatGroup> float_groups(const network::System& system) {
  std::vector<FloatGroup> groups;
  for (std::size_t t = 0; t < system.tanks().size(); ++t) {
    const std::size_t first = groups.size();
    const auto add = [&](const network::FloatValve& valve) -> FloatGroup& {
      for (std::size_t g = first; g < groups.size(); ++g)
        if (groups[g].valve.shuts_at == valve.shuts_at && groups[g].valve.opens_at == valve.opens_at)
          return groups[g];
      return groups.emplace_back(FloatGroup{t, valve, {}});
    };
    const int place = system.tank_place(static_cast<int>(t));
    for (const int l : system.lines_at(place)) {
      const network::Line& line = system.lines()[static_cast<std::size_t>(l)];
      if (line.to == place && line.float_valve)
        add(*line.float_valve).lines.push_back(static_cast<std::size_t>(l));
    }
    // A float valve in a tank at which no line ends still says when the tank is full.
    if (groups.size() == first && system.tanks()[t].float_valve) add(*system.tanks()[t].float_valve);
  }
  return groups;
}

double Storage::lowest_mouth_m() const {
  double lowest = std::numeric_limits<double>::infinity();
  for (const Mouth& mouth : mouths) lowest = std::min(lowest, mouth.level_m);
  return lowest;
}

std::vector<Storage> storages_of(const network::System& system, double start_hour) {
  std::vector<Storage> all;
  for (std::size_t t = 0; t < system.tanks().size(); ++t)
    all.push_back(tank_storage(system, system.tank_place(static_cast<int>(t)), start_hour));
  for (const network::Box& box : system.boxes())
    if (box.stores()) all.push_back(box_storage(box));
  for (Storage& s : all) find_mouths(system, s);
  hang_floats(system, all);
  return all;
}

}  // namespace runnel::filling
