// `tanks:`.
#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/place_sections.h"
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

namespace schema {

namespace {

Json shape() {
  const auto size = [](const char* what) { return value(ValueKind::length, what, "8 ft"); };
  Json row = Json{
      {"type", "array"},
      {"items", Json::array({size("Depth."), value(ValueKind::volume, "Volume up to there.", "350 gal")})},
      {"minItems", 2},
      {"maxItems", 2}};
  Json table =
      shown("[[0 ft, 0 gal], [3 ft, 350 gal]]", list("Rows of depth and volume, from zero.", row, 2));
  const auto other = [](Json piece) { return unless("one of the other shapes", std::move(piece)); };
  Json json = block(
      "What the tank is like; one of these.",
      {{"upright_cylinder",
        other(block("A standing round tank.", {{"diameter", size("Diameter.")}}, {"diameter"}))},
       {"lying_cylinder",
        other(block("A round tank on its side.",
                    {{"diameter", size("Diameter.")}, {"length", size("Length.")}}, {"diameter", "length"}))},
       {"box", other(block("A tank with four walls.",
                           {{"length", size("Length.")}, {"width", size("Width.")}}, {"length", "width"}))},
       {"frustum", other(block("A round tank that widens or narrows.",
                               {{"bottom_diameter", size("Diameter at the floor.")},
                                {"top_diameter", size("Diameter at the top.")},
                                {"height", size("Height between the two.")}},
                               {"bottom_diameter", "top_diameter", "height"}))},
       {"table", other(table)}});
  json["minProperties"] = 1;
  json["maxProperties"] = 1;
  return json;
}

}  // namespace

Json tanks() {
  return named(
      "Tanks", "Tanks, by name.",
      block("A tank.",
            {{"shape", shape()},
             {"floor", value(ValueKind::elevation, "The floor.", "4612.0 ft")},
             {"lip", value(ValueKind::elevation, "The overflow; water cannot stand higher.", "4619.5 ft")},
             {"inlet", value(ValueKind::elevation, "Where water enters.", "4619.2 ft", "the lip")},
             {"level",
              value(ValueKind::level, "Where the water stands at the start.", "4612.0 ft", "the floor")},
             {"rim", value(ValueKind::elevation, "Top of the wall.", "4620.0 ft", "not known")},
             {"overflow", spills()},
             {"float_valve",
              unless("no float: it spills when full",
                     shown("{shuts_at: 4619.0 ft, opens_at: 4618.5 ft, loss: 6}",
                           defined_as("float_valve",
                                      "Shuts the lines that fill it; a line may have its own.")))},
             {"draws", unless("nothing is taken but through pipelines",
                              shown("[{for: beef cattle, head: 40, hours: [6, 20]}]",
                                    defined_as("draws", "What is taken from the tank.")))}},
            {"shape", "floor", "lip"}));
}

}  // namespace schema

}  // namespace runnel::input
