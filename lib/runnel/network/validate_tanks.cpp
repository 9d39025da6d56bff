// Tanks: shape, levels, float valves.
#include "runnel/network/complaints.h"

namespace runnel::network {

namespace {

// Tanks of farms and villages are lower (common practice, no source).
constexpr double deepest_tank_m = 15.0;

/// Checks one shape; `depth` is what it must hold, from the floor of the tank to its lip.
struct ShapeCheck {
  const Tank& tank;
  Complaints& complaints;
  Length depth;

  bool positive(std::string_view member, Length value, const char* word) const {
    return complaints.positive(tank.mark, "shape." + std::string(member), {Kind::length, value.metres()},
                               std::string("the ") + word + " of tank " + quoted(tank.name),
                               measure_bounds_m);
  }
  void holds(std::string_view member, Length height) const {
    if (depth <= height * (1.0 + 1e-9)) return;  // room for the rounding of feet and inches
    complaints.error("lip-above-shape", tank.mark, "shape." + std::string(member),
                     "tank " + quoted(tank.name) +
                         " is {0} deep from floor to lip, but the shape given for it is only {1} high",
                     {{Kind::length, depth.metres()}, {Kind::length, height.metres()}});
  }

  void operator()(const UprightCylinder& s) const {
    positive("upright_cylinder.diameter", s.diameter, "diameter");
  }
  void operator()(const Cuboid& s) const {
    positive("box.length", s.length, "length");
    positive("box.width", s.width, "width");
  }
  void operator()(const LyingCylinder& s) const {
    positive("lying_cylinder.length", s.length, "length");
    if (positive("lying_cylinder.diameter", s.diameter, "diameter"))
      holds("lying_cylinder.diameter", s.diameter);
  }
  void operator()(const Frustum& s) const {
    positive("frustum.bottom_diameter", s.bottom_diameter, "bottom diameter");
    positive("frustum.top_diameter", s.top_diameter, "top diameter");
    if (positive("frustum.height", s.height, "height")) holds("frustum.height", s.height);
  }
  void operator()(const DepthVolumeTable& s) const {
    const std::string of = "the table of tank " + quoted(tank.name);
    if (s.depth.size() < 2 || s.depth.size() != s.volume.size()) {
      complaints.error(
          "short-table", tank.mark, "shape.table", of + " needs at least two rows", {},
          "each row is a depth and the volume up to it: table: [[0 ft, 0 gal], [4 ft, 900 gal]]");
      return;
    }
    if (s.depth.front() != Length{} || s.volume.front() != Volume{})
      complaints.error("table-not-from-zero", tank.mark, "shape.table.0",
                       of + " must start with depth zero and volume zero");
    for (std::size_t i = 1; i < s.depth.size(); ++i)
      if (s.depth[i] <= s.depth[i - 1] || s.volume[i] <= s.volume[i - 1]) {
        complaints.error("table-not-rising", tank.mark, "shape.table." + std::to_string(i),
                         of + " must rise from row to row, in depth and in volume");
        return;
      }
    holds("table." + std::to_string(s.depth.size() - 1), s.depth.back());
  }
};

void check_levels(const Tank& tank, Complaints& complaints) {
  const std::string of = " of tank " + quoted(tank.name);
  const Figure floor{Kind::elevation, tank.floor.metres()}, lip{Kind::elevation, tank.lip.metres()};
  const Figure inlet{Kind::elevation, tank.inlet.metres()}, level{Kind::elevation, tank.level.metres()};
  if (tank.lip <= tank.floor) {
    complaints.error("lip-below-floor", tank.mark, "lip",
                     "the lip" + of + " ({0}) is not above its floor ({1})", {lip, floor});
    return;
  }
  if (tank.inlet < tank.floor)
    complaints.error("inlet-below-floor", tank.mark, "inlet",
                     "the inlet" + of + " ({0}) is below its floor ({1})", {inlet, floor});
  // Water often pours in over the rim, but an inlet higher than this belongs to something else.
  if (tank.inlet > tank.lip + Length::metres(2.0))
    complaints.error("inlet-above-lip", tank.mark, "inlet",
                     "the inlet" + of + " ({0}) is far above its lip ({1})", {inlet, lip},
                     "the inlet is where the water leaves the pipe, at the tank");
  if (tank.level < tank.floor)
    complaints.error("level-below-floor", tank.mark, "level",
                     "the level" + of + " ({0}) is below its floor ({1})", {level, floor});
  if (tank.level > tank.lip)
    complaints.error("level-above-lip", tank.mark, "level",
                     "the level" + of + " ({0}) is above its lip ({1}): it would have spilled", {level, lip});
}

/// `of`: the valve in words; `at`: the mark of what it is written in.
void check_float(const FloatValve& valve, const Tank& tank, const Mark& at, const std::string& of,
                 Complaints& complaints) {
  const Figure shuts{Kind::elevation, valve.shuts_at.metres()},
      opens{Kind::elevation, valve.opens_at.metres()};
  const Figure floor{Kind::elevation, tank.floor.metres()}, lip{Kind::elevation, tank.lip.metres()};
  complaints.not_negative(at, "float_valve.loss", {Kind::number, valve.loss}, "the loss of " + of,
                          loss_bounds);
  if (valve.shuts_at <= tank.floor || valve.shuts_at > tank.lip) {
    complaints.error("float-outside-tank", at, "float_valve.shuts_at",
                     of + " shuts at {0}, outside the tank: floor {1}, lip {2}", {shuts, floor, lip},
                     "above the lip the tank spills before the float shuts");
    return;
  }
  if (valve.opens_at > valve.shuts_at)
    complaints.error("float-opens-above-shut", at, "float_valve.opens_at",
                     of + " opens at {0}, above where it shuts ({1})", {opens, shuts},
                     "as the level falls the float opens again: write the lower level");
  else if (valve.opens_at < tank.floor)
    complaints.error("float-outside-tank", at, "float_valve.opens_at",
                     of + " opens at {0}, below the tank's floor ({1})", {opens, floor});
}

/// The float valve of a line hangs in the tank where the line ends.
void check_line_float(const Pipeline& line, const NameIndex& index, Complaints& complaints) {
  if (!line.float_valve || !complaints.whole(line.mark)) return;
  const Tank* tank = index.tank(line.to);
  if (!tank) {
    if (index.place(line.to))
      complaints.error("float-without-tank", line.mark, "float_valve",
                       "pipeline " + quoted(line.name) + " has a float valve, but " + quoted(line.to) +
                           ", where it ends, is no tank",
                       {}, "a float valve works by the water of the tank that its line fills");
    return;
  }
  if (complaints.whole(tank->mark) && tank->lip > tank->floor)
    check_float(*line.float_valve, *tank, line.mark, "the float valve of pipeline " + quoted(line.name),
                complaints);
}

}  // namespace

void validate_tanks(const Model& system, const NameIndex& index, Complaints& complaints) {
  for (const Pipeline& line : system.pipelines) check_line_float(line, index, complaints);
  for (const Tank& tank : system.tanks) {
    check_draws(tank.draws, "a draw from tank " + quoted(tank.name), complaints);
    if (!complaints.whole(tank.mark)) continue;
    const std::string of = " of tank " + quoted(tank.name);
    const bool sane = complaints.on_earth(tank.mark, "floor", tank.floor, "the floor" + of) &&
                      complaints.on_earth(tank.mark, "lip", tank.lip, "the lip" + of);
    if (!sane) continue;
    check_levels(tank, complaints);
    if (tank.lip - tank.floor > Length::metres(deepest_tank_m))
      complaints
          .warning("deeper-than-built", tank.mark, "lip",
                   "tank " + quoted(tank.name) + " is {0} deep, which nobody builds here",
                   {{Kind::length, (tank.lip - tank.floor).metres()}},
                   "look at the lip, the floor and the unit again")
          .where.place = tank.name;
    if (tank.overflow) check_overflow(*tank.overflow, tank.mark, "tank " + quoted(tank.name), complaints);
    check_rim(tank.rim, tank.lip, tank.mark, "tank " + quoted(tank.name), complaints);
    if (tank.float_valve && tank.lip > tank.floor)
      check_float(*tank.float_valve, tank, tank.mark, "the float valve of tank " + quoted(tank.name),
                  complaints);
    std::visit(ShapeCheck{tank, complaints, tank.lip - tank.floor}, tank.shape);
  }
}

}  // namespace runnel::network
