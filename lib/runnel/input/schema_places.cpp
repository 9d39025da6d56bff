// Site, friction, places.
#include "runnel/input/schema_words.h"
#include "runnel/losses/law_table.h"
#include "runnel/network/daily_needs.h"

namespace runnel::input::schema {

Json site() {
  const std::string follows = "follows from the temperature";
  Json water = block(
      "What the water is like; what is not given follows from the temperature.",
      {{"temperature", value(ValueKind::temperature, "Temperature, 0 to 40 degC.", "48 degF", "10 degC")},
       {"density", value(ValueKind::density, "Density.", "999.7 kg/m3", follows)},
       {"kinematic_viscosity", value(ValueKind::viscosity, "Kinematic viscosity.", "1.31 mm2/s", follows)},
       {"vapour_pressure", value(ValueKind::pressure, "Vapour pressure, absolute.", "1.2 kPa", follows)}});
  return block(
      "Where the system is.",
      {{"altitude", value(ValueKind::elevation, "Height above sea; the air's pressure follows from it.",
                          "1450 m", "sea level")},
       {"water",
        unless("10 degC",
               either("Temperature of the water, or more about it.",
                      {value(ValueKind::temperature, "Temperature, 0 to 40 degC.", "9 degC"), water}))},
       {"air_pressure", value(ValueKind::pressure, "Absolute air pressure, if measured.", "85 kPa",
                              "follows from the altitude")}});
}

Json friction() {
  Json law = words("The friction law.", losses::law_words());
  const auto constant = [](const char* meaning, const char* example) {
    return number(meaning, 0, example, "as `hazen-williams` is usually written");
  };
  Json full = block("A law with its constants: h = k L Q^n / (C^n D^m) in SI.",
                    {{"law", shown("hazen-williams", law)},
                     {"k", constant("Factor.", "10.67")},
                     {"n", constant("Exponent of flow.", "1.852")},
                     {"m", constant("Exponent of bore.", "4.8704")}},
                    {"law"});
  std::vector<std::string> bare;  // laws that have no constants to set
  for (const losses::LawRow& row : losses::law_rows())
    if (!row.has_constants) bare.emplace_back(row.word);
  full["if"] = Json{{"properties", {{"law", {{"enum", bare}}}}}};
  full["then"] = Json{{"maxProperties", 1}};
  return either("The friction law, alone or with its constants.", {law, full});
}

Json overflow() {
  const auto other = [](Json piece) { return unless("it spills another way", std::move(piece)); };
  const auto bore = [](const char* what, const char* example) {
    return value(ValueKind::length, what, example);
  };
  Json drain = block("The pipe below a standpipe.",
                     {{"bore", bore("Its bore.", "3 in")},
                      {"loss", number("K of all of it, friction and end included.", 0, "4")},
                      {"drop", value(ValueKind::length, "From the rim down to its free end.", "4 ft")}},
                     {"bore", "loss", "drop"});
  Json row = block("A row of holes.",
                   {{"above", value(ValueKind::length, "Height of the centres over the lip.", "1/4 in")},
                    {"bore", bore("Of the holes.", "1/2 in")},
                    {"holes", number("How many.", 1, "8")}},
                   {"above", "bore", "holes"});
  Json slope{{"description", "Its fall."}, {"type", Json::array({"number", "string"})}};
  slope[kind_remark] = "a slope";
  slope = unless("level", shown("2 %", slope));
  Json json = block(
      "How it spills over the lip; one of these.",
      {{"weir", other(block("A straight lip or notch.",
                            {{"length", value(ValueKind::length, "Length of the lip.", "2 ft")},
                             {"pinched_ends",
                              number("Ends that pinch the water: 0 if as wide as the box.", 0, "2", "2")}},
                            {"length"}))},
       {"standpipe", other(block("An upright pipe whose rim is the lip.",
                                 {{"bore", bore("Of the rim.", "3 in")},
                                  {"drain", unless("it takes whatever the rim lets in", drain)}},
                                 {"bore"}))},
       {"drilled_riser",
        other(block("An upright pipe, closed on top, with rows of holes.",
                    {{"rows", shown("[{above: 1/4 in, bore: 1/2 in, holes: 8}]", list("Its rows.", row, 1))}},
                    {"rows"}))},
       {"wall_pipe", other(block("A pipe through the wall; its invert is the lip.",
                                 {{"bore", bore("Its bore.", "4 in")}, {"slope", slope}}, {"bore"}))}});
  json["minProperties"] = 1;
  json["maxProperties"] = 1;
  return json;
}

namespace {

/// The overflow of a place.
Json spills() {
  return unless("the lip is taken as free, and said so",
                shown("{weir: {length: 2 ft}}", defined_as("overflow", "How it spills over the lip.")));
}

}  // namespace

Json boxes() {
  Json times = shown("[157 s, 161 s, 155 s]", list("How long it took to fill, each time.",
                                                   value(ValueKind::duration, "A time.", "157 s"), 1));
  Json tests =
      block("Timed buckets; the yield is the volume over the mean time.",
            {{"volume", value(ValueKind::volume, "What the bucket holds.", "5 gal")}, {"times", times}},
            {"volume", "times"});
  Json plan = block("Inside measures, seen from above.",
                    {{"length", value(ValueKind::length, "Length.", "4 ft")},
                     {"width", value(ValueKind::length, "Width.", "3 ft")}},
                    {"length", "width"});
  Json falling = block("A yield that falls while no rain comes.",
                       {{"at", value(ValueKind::flow, "What the spring gave on that day.", "1.9 gal/min")},
                        {"date", value(ValueKind::text, "The day.", "2026-05-02", "not known")},
                        {"halves_in", value(ValueKind::duration, "The time in which it falls by half.",
                                            "90 days", "it stays as it is")}},
                       {"at"});
  Json yield =
      unless("it has no spring of its own",
             shown("1.9 gal/min",
                   either("What the spring gives; or what it gave on a day, and how it falls from then on.",
                          {value(ValueKind::flow, "What the spring gives.", "1.9 gal/min"), falling})));
  Json years = unless("not known, and no chance is told",
                      shown("{2024: 1.2 gal/min, 2025: 1.6 gal/min}",
                            named("Yields of years", "The least that the spring gave in each year.",
                                  value(ValueKind::flow, "The least of that year.", "1.2 gal/min"))));
  years["propertyNames"] = Json{{"pattern", "^[0-9]{4}$"}};
  Json spread =
      value(ValueKind::opening, "Deviation between years as a share of their mean, of springs like it.",
            "30 %", "not known");
  spread[kind_remark] = "a share";
  Json box = block(
      "A collection box; without yield an open break-pressure box.",
      {{"yield", yield},
       {"bucket_tests", unless("`yield` says it", tests)},
       {"yearly_yields", years},
       {"yearly_spread", spread},
       {"outlet", value(ValueKind::elevation, "Where the outlet pipe leaves, on its axis.", "4755.8 ft")},
       {"lip", value(ValueKind::elevation, "The overflow lip; water cannot stand higher.", "4757.4 ft")},
       {"floor", value(ValueKind::elevation, "The floor.", "4755.0 ft", "not known")},
       {"rim", value(ValueKind::elevation, "Top of the wall.", "4758.0 ft", "not known")},
       {"overflow", spills()},
       {"plan", unless("not known", plan)}},
      {"outlet", "lip"});
  // Editors can say which key is one too many; of `not` they only say that something is not allowed.
  box["dependencies"] = Json{{"yield", {{"properties", {{"bucket_tests", false}}}}}};
  return named("Collection boxes", "Collection boxes and open break-pressure boxes, by name.", box);
}

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

Json draws() {
  Json hours =
      Json{{"description", "Hours of the day, from and to."},
           {"type", "array"},
           {"items", Json{{"type", Json::array({"number", "string"})}, {"minimum", 0}, {"maximum", 24}}},
           {"minItems", 2},
           {"maxItems", 2},
           {"examples", Json::array({Json::array({6, 20})})}};
  hours[kind_remark] = "two numbers";
  Json draw = block(
      "One use.", {{"for", value(ValueKind::text, "What for; with `head` one of the kinds that runnel knows.",
                                 "beef cattle", "nothing is said; needed with `head`")},
                   {"flow", value(ValueKind::flow, "Mean flow over a day.", "600 gal/day", "`head` says it")},
                   {"head", number("How many drink there, instead of the flow.", 0, "40", "`flow` says it")},
                   {"hours", unless("all day", shown("[6, 20]", hours))}});
  Json known = Json::array();
  for (const network::DailyNeed& need : network::daily_needs()) known.push_back(need.who);
  const Json by_head{{"required", {"head", "for"}},
                     {"properties", {{"for", {{"enum", known}}}, {"head", {{"exclusiveMinimum", 0}}}}}};
  draw["oneOf"] = Json::array({Json{{"required", {"flow"}}}, by_head});
  return list("What is taken.", draw);
}

Json float_valve() {
  return block("Shuts a line as its tank fills.",
               {{"shuts_at", value(ValueKind::level, "Level at which it is shut.", "4619.0 ft")},
                {"opens_at", value(ValueKind::level, "Level at which it opens again.", "4618.5 ft",
                                   "the level at which it shuts, and said so")},
                {"loss", number("K when open, on the bore of the pipe.", 0, "6")}},
               {"shuts_at", "loss"});
}

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

Json outlets() {
  Json outlet = block(
      "A tap, a pipe end, a trough valve: open to the air.",
      {{"elevation", value(ValueKind::elevation, "The opening.", "4640 ft")},
       {"opening", value(ValueKind::length, "Bore of the opening.", "1/2 in", "the whole bore of the pipe")},
       {"loss", number("K on the opening, the jet's own 1.0 included.", 1, "2.5", "1.0")},
       {"on", value(ValueKind::name, "The joint it hangs on, if no pipeline ends at it.", "gate tee",
                    "a pipeline ends here")},
       {"set", value(ValueKind::opening, "Whether it is `shut` or `open`.", "shut", "open")},
       {"draws", unless("it stands open all day",
                        shown("[{for: people at a tapstand, head: 60, hours: [6, 9]}]",
                              defined_as("draws", "What is drawn here; the tap lets out no more.")))}},
      {"elevation"});
  outlet["dependencies"] = Json{{"loss", {"opening"}}, {"on", {"opening"}}};
  return named("Outlets", "Where water leaves the system, by name.", outlet);
}

namespace {

/// The run of a tee.
Json straight() {
  Json two =
      shown("[main, barn line]",
            list("The two pipelines that lie straight through a tee. What it costs to run on and to turn "
                 "into a branch is then counted.",
                 value(ValueKind::name, "Name of a pipeline.", "main"), 2));
  two["maxItems"] = 2;
  two["examples"] = Json::array({Json::array({"main", "barn line"})});
  return two;
}

}  // namespace

Json joints() {
  Json joint = block(
      "A joint.",
      {{"elevation", value(ValueKind::elevation, "The pipe's axis there.", "4701 ft")},
       {"draw", value(ValueKind::flow, "What is taken there at all times.", "0.5 gal/min", "nothing")},
       {"draws",
        unless("nothing but `draw`", shown("[{flow: 600 gal/day, hours: [5, 8]}]",
                                           defined_as("draws", "What is taken there through the day.")))},
       {"straight", unless("its lines meet without loss", straight())}},
      {"elevation"});
  // Editors can say which key is one too many; of `not` they only say that something is not allowed.
  joint["dependencies"] = Json{{"draws", {{"properties", {{"draw", false}}}}}};
  return named("Joints", "Tees, reducers, ends; by name.", joint);
}

}  // namespace runnel::input::schema
