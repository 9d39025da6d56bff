#include "runnel/report/json.h"
#include "runnel/report/json_parts.h"
#include "runnel/report/words.h"
#include "runnel/units/print.h"

namespace runnel::report {
namespace {

const char* key_of(Kind kind) {
  switch (kind) {
    case Kind::number:
      return "number";
    case Kind::percent:
      return "ratio";
    case Kind::length:
      return "length_m";
    case Kind::bore:
      return "bore_m";
    case Kind::elevation:
      return "elevation_m";
    case Kind::head:
      return "head_m";
    case Kind::pressure:
      return "pressure_pa";
    case Kind::flow:
      return "flow_m3s";
    case Kind::velocity:
      return "velocity_ms";
    case Kind::volume:
      return "volume_m3";
    case Kind::duration:
      return "duration_s";
    case Kind::temperature:
      return "temperature_c";
    case Kind::slope:
      return "slope";
  }
  return "number";
}

Json mark_json(const Mark& mark) {
  return {{"file", mark.file}, {"line", mark.line}, {"column", mark.column}, {"length", mark.length}};
}

}  // namespace

Json figure_json(Figure figure) { return {{key_of(figure.kind), number(figure.si, key_of(figure.kind))}}; }

Json where_json(const Where& where) {
  Json json = Json::object();
  if (!where.place.empty()) json["place"] = where.place;
  if (!where.pipeline.empty()) json["pipeline"] = where.pipeline;
  if (!where.part.empty()) json["part"] = where.part;
  if (where.station_m) json["station_m"] = number(*where.station_m, "station_m");
  return json;
}

Json findings_json(const std::vector<Finding>& findings) {
  Json list = Json::array();
  for (const Finding& f : findings) {
    Json json;
    json["code"] = f.code;
    json["severity"] = word(f.severity);
    if (f.mark.known()) json["at"] = mark_json(f.mark);
    if (f.other && f.other->known()) {
      json["other"] = mark_json(*f.other);
      json["other"]["note"] = f.other_note;
    }
    if (const Json where = where_json(f.where); !where.empty()) json["where"] = where;
    json["message"] = units::render(f.message, f.figures, units::UnitSystem::si);
    if (!f.advice.empty()) json["advice"] = units::render(f.advice, f.figures, units::UnitSystem::si);
    if (f.figure) json["figure"] = figure_json(*f.figure);
    if (f.limit) json["limit"] = figure_json(*f.limit);
    if (!f.source.empty()) json["source"] = f.source;
    list.push_back(std::move(json));
  }
  return list;
}

std::string dumped(const Json& json) {
  return json.dump(2, ' ', false, Json::error_handler_t::replace) + "\n";
}

std::string input_json(const std::vector<Finding>& findings) {
  Json json;
  json["runnel"] = version();
  json["outcome"] = "input";
  json["findings"] = findings_json(findings);
  return dumped(json);
}

}  // namespace runnel::report
