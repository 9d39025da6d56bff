// Pipes, pipelines, parts.
#include "runnel/input/schema_words.h"
#include "runnel/network/part_table.h"

namespace runnel::input::schema {

using network::kind_of_part;
using network::part_words;
using network::PartKey;
using network::PartKindRow;

Json pipe() {
  Json text = ref("text", "For the record.");
  Json json = block("A pipe described on the spot.",
                    {{"bore", ref("amount", "Inside diameter; or give `outside` and `wall`.", "38.1 mm")},
                     {"roughness", ref("amount", "Equivalent sand roughness.", "0.0015 mm")},
                     {"C", number("Hazen-Williams C, 50 to 200.", 50)},
                     {"outside", ref("amount", "Outside diameter.", "1.900 in")},
                     {"wall", ref("amount", "Wall.", "4.4 mm")},
                     {"rating", ref("amount", "Pressure rating.", "200 psi")},
                     {"modulus", ref("amount", "Short-term elastic modulus of the wall.", "900 MPa")},
                     {"material", text},
                     {"standard", text},
                     {"nominal", text},
                     {"source", text},
                     {"bore_convention", text},
                     {"certainty", text},
                     {"temperature_factors", text}});
  json["properties"]["C"]["maximum"] = 200;
  const auto needs = [](std::vector<std::string> keys) { return Json{{"required", std::move(keys)}}; };
  json["allOf"] = Json::array({Json{{"anyOf", {needs({"bore"}), needs({"outside", "wall"})}}},
                               Json{{"anyOf", {needs({"roughness"}), needs({"C"})}}}});
  return json;
}

namespace {

Json pipe_choice() {
  return either(
      "A pipe by name (`runnel pipes` lists them), or described here.",
      {ref("text", "Name of a pipe.", "PE4710 DR11 1-1/2 in"), Json{{"$ref", "#/definitions/pipe"}}});
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

/// A key of one kind of part: only the words of that kind may have it, and those that need it must.
void add_key(Json& part, const PartKindRow& row, const PartKey& key) {
  const bool share = std::holds_alternative<double network::Part::*>(key.member);
  const std::string example = std::string(key.example).substr(std::string(key.key).size() + 2);
  part["properties"][key.key] = ref(share ? "opening" : "amount", key.what, example);
  std::vector<std::string> words;
  for (const std::string& word : part_words())
    if (kind_of_part(word) == row.kind) words.push_back(word);
  part["dependencies"][key.key] = needs_one_of(words);
  for (const std::string& word : words)
    if (key.needed) part["dependencies"][word].push_back(key.key);
}

}  // namespace

Json parts() {
  Json part = block("A part, and the station it stands at.",
                    {{"at", ref("quantity", "Station on this line.", "120 ft")},
                     {"loss", number("K on the bore of the pipe, instead of the published one.", 0)},
                     {"pipe", pipe_choice()}},
                    {"at"});
  for (const std::string& word : part_words()) {
    const bool named = network::part_kind_row(kind_of_part(word)).called_by_name;
    const char* what = named ? "Its name." : "How many of them, or what it is called.";
    part["properties"][word] = ref("text", what, named ? "V1" : "2");
  }
  part["oneOf"] = one_word();
  part["dependencies"] = Json{{"fitting", {"loss"}}};
  for (const PartKindRow& row : network::part_kind_rows())
    for (const PartKey& key : row.keys) add_key(part, row, key);
  return list("Parts in order from the start of the line.", part);
}

namespace {

Json survey() {
  Json cell = either(
      "In the unit of the survey, or with its own.",
      {Json{{"type", "number"}}, ref("quantity", "With its own unit.", "4755.8 ft"), number("", -1e9)});
  Json point = Json{{"description", "Station and elevation."},
                    {"type", "array"},
                    {"items", cell},
                    {"minItems", 2},
                    {"maxItems", 2}};
  Json points = list("Points along the line.", point, 2);
  points["examples"] = Json::array({Json::array({Json::array({0, 4755.8}), Json::array({120, 4741})})});
  Json here =
      block("The survey, point by point.",
            {{"unit", ref("text", "Unit of the bare numbers.", "ft")}, {"points", points}}, {"points"});
  return either(
      "Stations (distance along the ground from the start) and elevations, or the name of a CSV file.",
      {ref("text", "Name of a file.", "main.csv"), here});
}

}  // namespace

Json pipelines() {
  Json line =
      block("A pipe from one place to another.",
            {{"from", ref("text", "Name of the place it starts at.", "upper box")},
             {"to", ref("text", "Name of the place it ends at.", "barn tank")},
             {"pipe", pipe_choice()},
             {"air", words("`open` if air can get into the pipe, else `sealed`.", {"open", "sealed"})},
             {"survey", survey()},
             {"length", ref("amount", "Length of the pipe, where only its ends matter.", "380 m")},
             {"from_elevation", ref("quantity", "Elevation of its start.", "4755.8 ft")},
             {"to_elevation", ref("quantity", "Elevation of its end.", "4619.2 ft")},
             {"survey_error", ref("amount", "How far surveyed elevations may be off.", "0.5 ft")},
             {"entrance_loss", number("K at its start; 0.5 from a box or tank.", 0)},
             {"exit_loss", number("K at its end; 1.0 into a box or tank or open air.", 0)},
             {"parts", Json{{"$ref", "#/definitions/parts"}}}},
            {"from", "to", "pipe"});
  const auto needs = [](const char* key) { return Json{{"required", Json::array({key})}}; };
  line["oneOf"] = Json::array({needs("survey"), needs("length")});
  line["dependencies"] = Json{{"from_elevation", {"length"}}, {"to_elevation", {"length"}}};
  return named("Pipelines", "Pipelines, by name.", line);
}

}  // namespace runnel::input::schema
