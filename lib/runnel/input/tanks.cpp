// `tanks:`.
#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"

namespace runnel::input {

namespace {

using document::Node;

network::Tank read_tank(Reader& reader, const std::string& name, const Mark& mark, const Node& node) {
  const Reader::Object object(reader, mark, &node);
  network::Tank tank;
  tank.name = name;
  tank.mark = mark;
  const std::string what = "tank " + document::quote(name);
  Fields fields(reader, node, mark, what);
  if (const Node* shape = fields.need("shape", "shape: {upright_cylinder: {diameter: 8 ft}}"))
    tank.shape = read_shape(reader, *shape, what);
  tank.floor = fields.need_quantity<Length>("floor", "floor: 4612.0 ft").value_or(Length{});
  tank.lip = fields.need_quantity<Length>("lip", "lip: 4619.5 ft").value_or(Length{});
  // Water usually pours in at the top, and a tank starts empty unless its level is given.
  tank.inlet = fields.find_quantity<Length>("inlet").value_or(tank.lip);
  tank.level = fields.find_quantity<Length>("level").value_or(tank.floor);
  tank.rim = fields.find_quantity<Length>("rim");
  if (const Node* works = fields.find("overflow"))
    tank.overflow = read_overflow(reader, *works, fields.key_mark("overflow"), what);
  if (const Node* valve = fields.find("float_valve"))
    tank.float_valve = read_float_valve(reader, *valve, fields.key_mark("float_valve"), what);
  tank.draws = read_draws(reader, fields, "from " + what);
  fields.close();
  return tank;
}

}  // namespace

void read_tanks(Reader& reader, const Node& node, network::Model& system) {
  each_named(reader, node, node.mark, "tanks",
             [&](const std::string& name, const Mark& mark, const Node& value) {
               system.tanks.push_back(read_tank(reader, name, mark, value));
             });
}

}  // namespace runnel::input
