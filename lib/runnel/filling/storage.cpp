#include "runnel/filling/storage.h"

#include <algorithm>

namespace runnel::filling {
namespace {

// A tank whose only way out is a pipe never quite empties; with a millimetre over the mouth it has.
constexpr double film_m = 1e-3;

void set_lip(Storage& s, double lip_m) {
  s.lip_m = lip_m;
  s.lip_m3 = s.volume_m3(lip_m);
}

double emptied_volume(const network::System& system, const network::Tank& tank, const Storage& s) {
  double lowest = tank.lip.metres();
  bool leaves = false;
  for (const network::Pipeline& line : system.pipelines) {
    if (line.from != tank.name) continue;
    leaves = true;
    lowest = std::min(lowest, std::max(line.start_elevation().metres(), s.floor_m));
  }
  return leaves && !s.draws.any() ? s.volume_m3(lowest + film_m) : 0.0;
}

Storage tank_storage(const network::System& system, const network::Tank& tank, double start_hour) {
  Storage s;
  s.name = tank.name;
  s.floor_m = tank.floor.metres();
  s.curve = TankCurve(tank.shape);
  set_lip(s, tank.lip.metres());
  if (tank.float_valve) {
    s.has_float = true;
    s.shuts_m3 = s.volume_m3(tank.float_valve->shuts_at.metres());
    s.opens_m3 = s.volume_m3(tank.float_valve->opens_at.metres());
  }
  s.inlet.volume_m3 = s.volume_m3(tank.inlet.metres());
  for (double v : s.curve.bends_m3()) s.bends.push_back({v, 0});
  s.draws = DrawSchedule(tank.draws, start_hour);
  s.dry_m3 = emptied_volume(system, tank, s);
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

}  // namespace

std::vector<Storage> storages_of(const network::System& system, double start_hour) {
  std::vector<Storage> all;
  for (const network::Tank& tank : system.tanks) all.push_back(tank_storage(system, tank, start_hour));
  for (const network::Box& box : system.boxes)
    if (box.plan_length.metres() > 0.0 && box.plan_width.metres() > 0.0) all.push_back(box_storage(box));
  return all;
}

}  // namespace runnel::filling
