// Pipes, pipelines, parts.
#include "runnel/input/schema_words.h"
#include "runnel/losses/mouth.h"
#include "runnel/network/part_table.h"

namespace runnel::input::schema {

using network::kind_of_part;
using network::part_words;
using network::PartKey;
using network::PartKindRow;

Json pipe() {
  const auto record = [](const char* example) {
    return value(ValueKind::text, "For the record.", example, "nothing is said");
  };
  Json json = block(
      "A pipe described on the spot.",
      {{"bore", value(ValueKind::length, "Inside diameter.", "38.1 mm", "`outside` less twice `wall`")},
       {"roughness", value(ValueKind::length, "Equivalent sand roughness.", "0.0015 mm", "`C` is given")},
       {"C", number("Hazen-Williams C, 50 to 200.", 50, "150", "`roughness` is given")},
       {"outside", value(ValueKind::length, "Outside diameter.", "1.900 in", "`bore` is given")},
       {"wall", value(ValueKind::length, "Wall.", "4.4 mm", "`bore` is given")},
       {"rating", value(ValueKind::pressure, "Pressure rating.", "200 psi", "not known, and not judged")},
       {"modulus",
        value(ValueKind::pressure, "Short-term elastic modulus of the wall.", "900 MPa", "not known")},
       {"material", record("PE")},
       {"standard", record("ASTM D3035")},
       {"nominal", record("1-1/2 in")},
       {"source", record("read on the print line")},
       {"bore_convention", record("average")},
       {"certainty", record("user")},
       {"temperature_factors", record("pe")}});
  json["properties"]["C"]["maximum"] = 200;
  const auto needs = [](std::vector<std::string> keys) { return Json{{"required", std::move(keys)}}; };
  json["allOf"] = Json::array({Json{{"anyOf", {needs({"bore"}), needs({"outside", "wall"})}}},
                               Json{{"anyOf", {needs({"roughness"}), needs({"C"})}}}});
  return json;
}

namespace {

Json pipe_choice(const char* meaning) {
  return either(std::string(meaning) + " By name (`runnel pipes` lists them), or described here.",
                {value(ValueKind::name, "Name of a pipe.", "PE4710 DR11 1-1/2 in"),
                 Json{{"$ref", "#/definitions/pipe"}}});
}

Json needs_one_of(const std::vector<std::string>& keys) {
  Json kinds = Json::array();
  for (const std::string& key : keys) kinds.push_back(Json{{"required", Json::array({key})}});
  return Json{{"anyOf", kinds}};
}

/// Exactly one word says what the part is.
Json one_word() {
  Json kinds = Json::array({Json{{"required", Json::array({"pipe"})}}});
  for (const std::string& word : part_words()) kinds.push_back(Json{{"required", Json::array({word})}});
  return kinds;
}

/// A key of one kind of part: only words of that kind may have it, and those that need it must.
void add_key(Json& part, const PartKindRow& row, const PartKey& key) {
  const bool share = std::holds_alternative<double network::Part::*>(key.member);
  const std::string example = std::string(key.example).substr(std::string(key.key).size() + 2);
  part["properties"][key.key] =
      value(share ? ValueKind::opening : ValueKind::pressure, key.what, example, key.left_out);
  std::vector<std::string> words;
  for (const std::string& word : part_words())
    if (kind_of_part(word) == row.kind) words.push_back(word);
  part["dependencies"][key.key] = needs_one_of(words);
  for (const std::string& word : words)
    if (key.needed) part["dependencies"][word].push_back(key.key);
}

}  // namespace

Json parts() {
  Json part = block("A part, and the station it stands at. Exactly one word says what it is.",
                    {{"at", value(ValueKind::station, "Station on this line.", "120 ft")},
                     {"loss", number("K on the bore of the pipe.", 0, "2.5",
                                     "the published one; a part without one needs it")},
                     {"pipe", unless("the pipe stays", pipe_choice("From here on the line is this pipe."))}},
                    {"at"});
  for (const std::string& word : part_words()) {
    const bool by_name = network::part_kind_row(kind_of_part(word)).called_by_name;
    const std::string called = by_name ? "Followed by its name." : "Followed by how many, or by a name.";
    part["properties"][word] =
        unless("another word says what it is",
               value(ValueKind::name, std::string(network::part_meaning(word)) + " " + called,
                     by_name ? "V1" : "2"));
    if (!by_name) part["properties"][word][kind_remark] = "a count or a name";
  }
  part["oneOf"] = one_word();
  part["dependencies"] = Json{{"fitting", {"loss"}}};
  for (const PartKindRow& row : network::part_kind_rows())
    for (const PartKey& key : row.keys) add_key(part, row, key);
  return list("Parts in order from the start of the line.", part);
}

namespace {

/// Sights through a level, in the order of the walk.
Json level_book(const Json& cell) {
  const auto sight = [&](const char* what, const char* written, const char* left_out) {
    Json piece = cell;
    piece["description"] = what;
    piece[kind_remark] = "a length";
    return unless(left_out, shown(written, std::move(piece)));
  };
  Json row =
      block("One row.",
            {{"at", sight("The station on the line.", "120", "no point of the line")},
             {"fore", sight("Foresight: read on the rod at this point.", "1.46", "this is the bench mark")},
             {"back", sight("Backsight: read on the rod at this point once the level has been "
                            "moved.",
                            "1.52", "the level stays where it is")}});
  row["anyOf"] = needs_one_of({"fore", "back"})["anyOf"];
  return block(
      "Sights through a level, in the order of the walk.",
      {{"bench", value(ValueKind::elevation, "Elevation of the point of the first backsight.", "4760.00 ft")},
       {"rows",
        shown("[{back: 1.52}, {at: 0, fore: 1.20}, {at: 20, fore: 2.36}]", list("The readings.", row, 2))},
       {"closes_on", value(ValueKind::elevation,
                           "Elevation of the last point, if it is known; what is missed is spread "
                           "over the set-ups.",
                           "4760.00 ft", "the walk is not closed")}},
      {"bench", "rows"});
}

Json survey() {
  Json cell = either("In the unit of the survey, or with its own.",
                     {Json{{"type", "number"}}, value(ValueKind::station, "With its own unit.", "4755.8 ft"),
                      number("", -1e9, "")});
  Json point = Json{{"description", "Station and elevation."},
                    {"type", "array"},
                    {"items", cell},
                    {"minItems", 2},
                    {"maxItems", 2}};
  Json points =
      shown("[[0, 4755.8], [120, 4741]]", list("Points along the line: station, elevation.", point, 2));
  points["examples"] = Json::array({Json::array({Json::array({0, 4755.8}), Json::array({120, 4741})})});
  Json leg = Json{{"description", "Length of pipe, and its rise; a fall is below zero."},
                  {"type", "array"},
                  {"items", cell},
                  {"minItems", 2},
                  {"maxItems", 2}};
  Json legs = shown("[[150, -12], [80, 3]]",
                    list("Legs as the tape lies on the pipe: length, rise or fall.", leg, 1));
  legs["examples"] = Json::array({Json::array({Json::array({150, -12}), Json::array({80, 3})})});
  Json here = block(
      "The survey: points, legs or a level book.",
      {{"unit", value(ValueKind::text, "Unit of the bare numbers.", "ft", "each number has its own")},
       {"along", unless("level", words("What stations count: `level` as on a map, `pipe` as a tape along the "
                                       "pipe reads.",
                                       {"pipe", "level"}))},
       {"points", unless("legs or a level book say it", points)},
       {"legs", unless("points or a level book say it", legs)},
       {"from", value(ValueKind::elevation, "Where the first leg begins.", "4755.8 ft",
                      "where water leaves the first place")},
       {"level_book", unless("points or legs say it", level_book(cell))}});
  here["oneOf"] = Json::array(
      {Json{{"required", {"points"}}}, Json{{"required", {"legs"}}}, Json{{"required", {"level_book"}}}});
  return either("Stations (distance on the level, from the start) and elevations, or the name of a CSV file.",
                {value(ValueKind::text, "Name of a file.", "main.csv"),
                 shown("{unit: ft, points: [[0, 4755.8], [120, 4741]]}", here)});
}

/// The pipe of a whole line, whose choice may be left open.
Json pipe_or_choice() {
  Json piece = pipe_choice("The pipe.");
  const Json names =
      list("Names of pipes.", value(ValueKind::name, "Name of a pipe.", "PE100 SDR11 25 mm"), 1);
  piece["anyOf"].push_back(
      block("Left open: `runnel size` chooses the cheapest that does.",
            {{"choose", either("What it chooses from: a list of names, or words that a name must hold.",
                               {value(ValueKind::text, "Words of the names.", "pe100 sdr11"), names})},
             {"split", number("How many sizes the line may have, one after the other.", 1, "2", "1")}},
            {"choose"}));
  return piece;
}

}  // namespace

Json pipelines() {
  Json line = block(
      "A pipe from one place to another.",
      {{"from", value(ValueKind::name, "The place it starts at.", "upper box")},
       {"to", value(ValueKind::name, "The place it ends at.", "barn tank")},
       {"pipe", pipe_or_choice()},
       {"air",
        unless("open", words("`open` if air can get into the pipe, else `sealed`.", {"open", "sealed"}))},
       {"survey", unless("`length` is given", survey())},
       {"length", value(ValueKind::length, "Length of the pipe, where only its ends matter.", "380 m",
                        "`survey` is given")},
       {"from_elevation", value(ValueKind::elevation, "Its start, if it has a length and no survey.",
                                "4755.8 ft", "where water leaves that place")},
       {"to_elevation", value(ValueKind::elevation, "Its end, if it has a length and no survey.", "4619.2 ft",
                              "where water enters that place")},
       {"survey_error", value(ValueKind::length, "How far surveyed elevations may be off.", "0.5 ft",
                              "a grade line within 1 m of the pipe is told")},
       {"taped_length",
        value(ValueKind::length, "Length of the pipe on the ground, to hold the survey against.", "690 ft",
              "the survey is taken as it is")},
       {"mouth", unless(losses::mouth_words().front(),
                        words("How its end in a box or tank is cut and built in: what gets in while it is "
                              "hardly covered. `entrance_loss` counts once it is deep under water.",
                              losses::mouth_words()))},
       {"entrance_loss", number("K at its start.", 0, "0.5", "0.5 from a box or tank, else 0")},
       {"exit_loss", number("K at its end.", 0, "1.0", "1.0 into water or open air, else 0")},
       {"float_valve",
        unless("its tank says it",
               shown("{shuts_at: 4619.0 ft, opens_at: 4618.5 ft, loss: 6}",
                     defined_as("float_valve", "Of this line alone, in the tank where it ends.")))},
       {"parts", unless("none", defined_as("parts", "Valves, fittings and changes of pipe, in order."))}},
      {"from", "to", "pipe"});
  const auto needs = [](const char* key) { return Json{{"required", Json::array({key})}}; };
  line["oneOf"] = Json::array({needs("survey"), needs("length")});
  line["dependencies"] = Json{{"from_elevation", {"length"}}, {"to_elevation", {"length"}}};
  return named("Pipelines", "Pipelines, by name.", line);
}

}  // namespace runnel::input::schema
