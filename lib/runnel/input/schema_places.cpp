// Site, friction, and what several kinds of place have.
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

Json spills() {
  return unless("the lip is taken as free, and said so",
                shown("{weir: {length: 2 ft}}", defined_as("overflow", "How it spills over the lip.")));
}

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

}  // namespace runnel::input::schema
