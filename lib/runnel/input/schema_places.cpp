// Site, friction, places.
#include "runnel/input/schema_words.h"
#include "runnel/losses/law_table.h"
#include "runnel/network/daily_needs.h"

namespace runnel::input::schema {

Json site() {
  Json water = block("What the water is like; what is not given follows from the temperature.",
                     {{"temperature", ref("quantity", "Temperature, 0 to 40 degC.", "48 degF")},
                      {"density", ref("amount", "Density.", "999.7 kg/m3")},
                      {"kinematic_viscosity", ref("amount", "Kinematic viscosity.", "1.31 mm2/s")},
                      {"vapour_pressure", ref("amount", "Vapour pressure, absolute.", "1.2 kPa")}});
  return block(
      "Where the system is.",
      {{"altitude", ref("quantity", "Height above sea; the air's pressure follows from it.", "1450 m")},
       {"water", either("Temperature of the water, or more about it.",
                        {ref("quantity", "Temperature, 0 to 40 degC.", "9 degC"), water})},
       {"air_pressure", ref("amount", "Absolute air pressure, if measured.", "85 kPa")}});
}

Json friction() {
  Json law = words("The friction law.", losses::law_words());
  Json full = block("A law with its constants: h = k L Q^n / (C^n D^m) in SI.",
                    {{"law", law},
                     {"k", number("Factor.", 0)},
                     {"n", number("Exponent of flow.", 0)},
                     {"m", number("Exponent of bore.", 0)}},
                    {"law"});
  std::vector<std::string> bare;  // laws without constants of their own
  for (const losses::LawRow& row : losses::law_rows())
    if (!row.has_constants) bare.emplace_back(row.word);
  full["if"] = Json{{"properties", {{"law", {{"enum", bare}}}}}};
  full["then"] = Json{{"maxProperties", 1}};
  return either("The friction law; darcy-weisbach if not given.", {law, full});
}

Json boxes() {
  Json tests =
      block("Timed buckets; the yield is the volume over the mean time.",
            {{"volume", ref("amount", "What the bucket holds.", "5 gal")},
             {"times", list("How long it took to fill, each time.", ref("amount", "A time.", "157 s"), 1)}},
            {"volume", "times"});
  Json plan =
      block("Inside measures, seen from above.",
            {{"length", ref("amount", "Length.", "4 ft")}, {"width", ref("amount", "Width.", "3 ft")}},
            {"length", "width"});
  Json box = block("A collection box; without yield an open break-pressure box.",
                   {{"yield", ref("amount", "What the spring gives.", "1.9 gal/min")},
                    {"bucket_tests", tests},
                    {"outlet", ref("quantity", "Elevation where the outlet pipe leaves.", "4755.8 ft")},
                    {"lip", ref("quantity", "Elevation of the overflow lip.", "4757.4 ft")},
                    {"floor", ref("quantity", "Elevation of the floor.", "4755.0 ft")},
                    {"plan", plan}},
                   {"outlet", "lip"});
  box["not"] = Json{{"required", Json::array({"yield", "bucket_tests"})}};
  return named("Collection boxes", "Collection boxes and open break-pressure boxes, by name.", box);
}

namespace {

Json shape() {
  const auto size = [](const char* what) { return ref("amount", what, "8 ft"); };
  Json row = Json{{"type", "array"},
                  {"items", Json::array({size("Depth."), ref("amount", "Volume up to there.", "350 gal")})},
                  {"minItems", 2},
                  {"maxItems", 2}};
  Json json = block(
      "What the tank is like; one of these.",
      {{"upright_cylinder", block("A standing round tank.", {{"diameter", size("Diameter.")}}, {"diameter"})},
       {"lying_cylinder",
        block("A round tank on its side.", {{"diameter", size("Diameter.")}, {"length", size("Length.")}},
              {"diameter", "length"})},
       {"box", block("A tank with four walls.", {{"length", size("Length.")}, {"width", size("Width.")}},
                     {"length", "width"})},
       {"frustum", block("A round tank that widens or narrows.",
                         {{"bottom_diameter", size("Diameter at the floor.")},
                          {"top_diameter", size("Diameter at the top.")},
                          {"height", size("Height between the two.")}},
                         {"bottom_diameter", "top_diameter", "height"})},
       {"table", list("Rows of depth and volume, from zero.", row, 2)}});
  json["minProperties"] = 1;
  json["maxProperties"] = 1;
  return json;
}

Json draws() {
  Json hours =
      Json{{"description", "Hours of the day, from and to."},
           {"type", "array"},
           {"items", Json{{"type", Json::array({"number", "string"})}, {"minimum", 0}, {"maximum", 24}}},
           {"minItems", 2},
           {"maxItems", 2},
           {"examples", Json::array({Json::array({6, 20})})}};
  Json draw =
      block("One use.",
            {{"for", ref("text", "What for; with head one of the kinds that runnel knows.", "beef cattle")},
             {"flow", ref("amount", "Mean flow over a day.", "600 gal/day")},
             {"head", number("How many drink there, instead of the flow.", 0)},
             {"hours", hours}});
  Json known = Json::array();
  for (const network::DailyNeed& need : network::daily_needs()) known.push_back(need.who);
  const Json by_head{{"required", {"head", "for"}},
                     {"properties", {{"for", {{"enum", known}}}, {"head", {{"exclusiveMinimum", 0}}}}}};
  draw["oneOf"] = Json::array({Json{{"required", {"flow"}}}, by_head});
  return list("What is taken from the tank.", draw);
}

}  // namespace

Json tanks() {
  Json valve = block("Shuts the line as the tank fills.",
                     {{"shuts_at", ref("quantity", "Level at which it is shut.", "4619.0 ft")},
                      {"opens_at", ref("quantity", "Level at which it opens again.", "4618.5 ft")},
                      {"loss", number("K when open, on the bore of the pipe.", 0)}},
                     {"shuts_at", "loss"});
  return named(
      "Tanks", "Tanks, by name.",
      block("A tank.",
            {{"shape", shape()},
             {"floor", ref("quantity", "Elevation of the floor.", "4612.0 ft")},
             {"lip", ref("quantity", "Elevation of the overflow.", "4619.5 ft")},
             {"inlet", ref("quantity", "Elevation where water enters; the lip if not given.", "4619.2 ft")},
             {"level", ref("quantity", "Water level at the start; the floor if not given.", "4612.0 ft")},
             {"float_valve", valve},
             {"draws", draws()}},
            {"shape", "floor", "lip"}));
}

Json outlets() {
  Json outlet =
      block("A tap, a pipe end, a trough valve: open to the air.",
            {{"elevation", ref("quantity", "Elevation of the opening.", "4640 ft")},
             {"opening", ref("amount", "Bore of the opening; the pipe's own if not given.", "1/2 in")},
             {"loss", number("K on the opening, the jet's own 1.0 included.", 1)},
             {"on", ref("text", "The joint it hangs on, if no pipeline ends at it.", "gate tee")},
             {"set", words("Whether it is shut.", {"shut", "open"})}},
            {"elevation"});
  outlet["properties"]["set"] = ref("opening", "Whether it is `shut` or `open`.", "shut");
  outlet["dependencies"] = Json{{"loss", {"opening"}}, {"on", {"opening"}}};
  return named("Outlets", "Where water leaves the system, by name.", outlet);
}

Json joints() {
  return named("Joints", "Tees, reducers, ends; by name.",
               block("A joint.",
                     {{"elevation", ref("quantity", "Elevation of the pipe there.", "4701 ft")},
                      {"draw", ref("amount", "What is taken there at all times.", "0.5 gal/min")}},
                     {"elevation"}));
}

}  // namespace runnel::input::schema
