#include "runnel/input/schema.h"

#include "runnel/input/schema_words.h"

namespace runnel::input {

std::string model_schema() {
  using namespace schema;  // NOLINT(google-build-using-namespace): its words, in this one function
  Json defined = definitions();
  defined["pipe"] = pipe();
  defined["parts"] = parts();
  Json model = block(
      "A gravity-fed water system: where water comes from, where it goes, and the pipe between. Every value "
      "carries its unit; all elevations share one datum.",
      {{"runnel", Json{{"description", "Version of this language."}, {"enum", Json::array({1, "1"})}}},
       {"name", ref("text", "What the system is called.", "Larkspur draw")},
       {"note", ref("text", "Anything worth saying about it.")},
       {"site", site()},
       {"friction", friction()},
       {"pipes", either("Pipes of your own: by name, or in a file.",
                        {ref("text", "Name of a file.", "own_pipes.yaml"),
                         named("Pipes", "Pipes by name.", Json{{"$ref", "#/definitions/pipe"}})})},
       {"boxes", boxes()},
       {"tanks", tanks()},
       {"outlets", outlets()},
       {"joints", joints()},
       {"pipelines", pipelines()},
       {"settings", settings()},
       {"asks", asks()},
       {"claims", claims()},
       {"year", year()}},
      {"runnel"});
  Json places = Json::array();
  for (const char* key : {"boxes", "tanks", "outlets", "joints"})
    places.push_back(Json{{"required", Json::array({key})}});
  model["anyOf"] = places;
  Json head{{"$schema", "http://json-schema.org/draft-07/schema#"}, {"title", "runnel model"}};
  head.update(model);
  head["definitions"] = defined;
  return head.dump(2) + "\n";
}

}  // namespace runnel::input
