#include "runnel/input/schema.h"

#include "runnel/input/place_sections.h"

namespace runnel::input {

namespace schema {

Json language() {
  Json defined = definitions();
  defined["pipe"] = pipe();
  defined["parts"] = parts();
  defined["overflow"] = overflow();
  defined["draws"] = draws();
  defined["float_valve"] = float_valve();
  const Json one{{"description", "Version of this language."},
                 {kind_remark, "`1`"},
                 {written_remark, "1"},
                 {"enum", Json::array({1, "1"})}};
  Json model = block(
      "A gravity-fed water system: where water comes from, where it goes, and the pipe between. Every value "
      "carries its unit; all elevations share one datum.",
      {{"runnel", one},
       {"name",
        value(ValueKind::text, "What the system is called.", "Larkspur draw", "the name of the file")},
       {"note",
        value(ValueKind::text, "Anything worth saying about it.", "Levelled in May.", "nothing is said")},
       {"site", unless("sea level, water at 10 degC", site())},
       {"friction", unless("darcy-weisbach", friction())},
       {"pipes", unless("the catalogue alone",
                        either("Pipes of your own: by name, or in a file.",
                               {value(ValueKind::text, "Name of a file.", "own_pipes.yaml"),
                                named("Pipes", "Pipes by name.", Json{{"$ref", "#/definitions/pipe"}})}))}},
      {"runnel"});
  Json places = Json::array();
  for (const PlaceSection& section : place_sections) {
    model["properties"][section.key] = unless("none", section.schema());
    places.push_back(Json{{"required", Json::array({section.key})}});
  }
  model["properties"].update(block(
      "", {{"pipelines", unless("none", pipelines())},
           {"settings", unless("the system as drawn is the only one", settings())},
           {"asks", unless("nothing is needed", asks())},
           {"claims", unless("nothing is claimed", claims())},
           {"year", unless("what springs give and tanks need is the same all year", year())},
           {"collection", unless("the works at the spring are not judged", collection())},
           {"log", unless("no yields were written down", log())},
           {"ground", unless("cover and frost are not judged", ground())},
           {"prices", unless("the weight of the pipe stands in for its cost", prices())}})["properties"]);
  model["anyOf"] = places;
  Json head{{"$schema", "http://json-schema.org/draft-07/schema#"}, {"title", "runnel model"}};
  head.update(model);
  head["definitions"] = defined;
  return head;
}

namespace {

/// Moves what applies if a key is left out into its description, and removes the other remarks.
void settle(Json& piece) {
  if (piece.is_object()) {
    if (piece.contains(left_out_remark))
      piece["description"] = piece.value("description", std::string()) +
                             " Left out: " + piece[left_out_remark].get<std::string>() + ".";
    for (const char* remark : {kind_remark, left_out_remark, written_remark}) piece.erase(remark);
  }
  for (Json& inner : piece)
    if (inner.is_structured()) settle(inner);
}

}  // namespace

}  // namespace schema

std::string model_schema() {
  schema::Json language = schema::language();
  schema::settle(language);
  return language.dump(2) + "\n";
}

}  // namespace runnel::input
