#include "runnel/input/schema_words.h"

namespace runnel::input::schema {

namespace {

// A number in any of its spellings, then somewhere a letter or a mark that a unit could be.
constexpr const char* number_start = "[0-9.¼½¾⅓⅔⅛⅜⅝⅞].*[A-Za-z'\"%°′″’”µμ]";
// Decimals, fractions, mixed numbers.
constexpr const char* number_text = "^\\s*[-+−]?\\s*[0-9.¼½¾⅓⅔⅛⅜⅝⅞][-0-9 ./eE+¼½¾⅓⅔⅛⅜⅝⅞⁄]*$";

}  // namespace

Json value(ValueKind kind, const std::string& meaning, const std::string& example,
           const std::string& left_out) {
  const KindRow& row = kind_row(kind);
  Json json{{"description", meaning}};
  if (!example.empty()) json["examples"] = Json::array({example});
  // Draft-07 ignores whatever is beside $ref, so it is wrapped.
  json["allOf"] = Json::array({Json{{"$ref", std::string("#/definitions/") + row.definition}}});
  json[kind_remark] = row.words;
  return unless(left_out, json);
}

Json block(const std::string& description, Members members, std::vector<std::string> required) {
  Json properties = Json::object();
  for (const auto& [name, value] : members) properties[name] = value;
  Json json{{"description", description}, {"type", "object"}, {"properties", properties}};
  if (!required.empty()) json["required"] = required;
  json["additionalProperties"] = false;
  return json;
}

Json named(const std::string& title, const std::string& description, Json value) {
  return Json{{"title", title},
              {"description", description},
              {"type", "object"},
              {"propertyNames", {{"minLength", 1}}},
              {"additionalProperties", std::move(value)}};
}

Json list(const std::string& description, Json item, int least) {
  Json json{{"description", description}, {"type", "array"}, {"items", std::move(item)}};
  if (least > 0) json["minItems"] = least;
  return json;
}

Json words(const std::string& meaning, std::vector<std::string> allowed) {
  std::string kinds;
  for (const std::string& word : allowed) kinds += (kinds.empty() ? "`" : " or `") + word + "`";
  return Json{
      {"description", meaning}, {written_remark, allowed.front()}, {kind_remark, kinds}, {"enum", allowed}};
}

Json number(const std::string& meaning, double least, const std::string& example,
            const std::string& left_out) {
  return unless(left_out, Json{{"description", meaning},
                               {"type", Json::array({"number", "string"})},
                               {"minimum", least},
                               {"pattern", number_text},
                               {kind_remark, "a number"},
                               {written_remark, example}});
}

Json either(const std::string& description, std::vector<Json> kinds) {
  return Json{{"description", description}, {"anyOf", std::move(kinds)}};
}

Json unless(const std::string& left_out, Json piece) {
  if (!left_out.empty()) piece[left_out_remark] = left_out;
  return piece;
}

Json shown(const std::string& written, Json piece) {
  piece[written_remark] = written;
  return piece;
}

Json definitions() {
  return Json{
      {"text",
       {{"description", "A text or a name."},
        {"type", Json::array({"string", "number", "boolean"})},
        {"pattern", "\\S"}}},
      {"quantity",
       {{"description", "A value with its unit."},
        {"type", "string"},
        {"pattern", std::string("^\\s*[-+−]?\\s*") + number_start}}},
      {"amount",
       {{"description", "A value with its unit, not below zero."},
        {"type", "string"},
        {"pattern", std::string("^\\s*\\+?\\s*") + number_start}}},
      {"opening",
       {{"description", "How far a valve is open: `shut`, `open`, or a share such as `40 %`."},
        {"type", Json::array({"string", "number"})},
        {"minimum", 0},
        {"maximum", 1},
        {"pattern", "^(shut|open|\\s*\\+?[0-9.¼½¾].*)$"},
        {"examples", Json::array({"shut", "open", "40 %"})}}},
  };
}

Json defined_as(const char* name, const char* meaning) {
  return Json{{"description", meaning},
              {"allOf", Json::array({Json{{"$ref", std::string("#/definitions/") + name}}})}};
}

}  // namespace runnel::input::schema
