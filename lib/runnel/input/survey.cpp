// `survey:`: points in the model, or the name of a file.
#include "runnel/document/quote.h"
#include "runnel/input/csv.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"
#include "runnel/units/unit_names.h"

namespace runnel::input {

namespace {

using document::Node;
using network::SurveyPoint;

constexpr const char* points_example = "points: [[0, 4755.8], [120, 4741]]";

bool ends_with(const std::string& text, std::string_view end) {
  return text.size() >= end.size() && text.compare(text.size() - end.size(), end.size(), end) == 0;
}

std::vector<SurveyPoint> read_file(Reader& reader, const Node& node, const std::string& of,
                                   Reader::Object& line) {
  const std::string& name = node.text;
  if (ends_with(name, ".gpx") || ends_with(name, ".GPX")) {
    reader.error("survey-is-gpx", node.mark,
                 "the survey of " + of + " is a GPX track, which needs a look first",
                 "`runnel survey` turns it into points to put here");
    return {};
  }
  const auto text = reader.side_file(name);
  if (!text) {
    reader.error("no-such-file", node.mark, "the survey file " + document::quote(name) + " cannot be read",
                 "a file name counts from the folder of the model");
    return {};
  }
  std::vector<SurveyPoint> points;
  for (const CsvPoint& row : read_csv(reader, *text, name)) {
    const std::string member = "survey.points." + std::to_string(points.size());
    line.place(member + ".0", row.station_mark);
    line.place(member + ".1", row.elevation_mark);
    points.push_back(row.point);
  }
  return points;
}

/// The unit of the survey; empty if none is given, nothing if it is none.
std::optional<std::string> read_unit(Reader& reader, Fields& fields) {
  if (!fields.has("unit")) {
    fields.find("unit");
    return "";
  }
  const auto text = fields.find_text("unit");
  if (!text) return std::nullopt;
  reader.note_elevation(*text, fields.mark("unit"));
  const auto unit = units::find_unit(*text);
  if (unit && unit->measure == units::Measure::length) return text;
  const std::string near = reader.suggest(*text, {"ft", "m", "in", "mm", "cm", "km", "feet", "metres"});
  reader.error(unit ? "wrong-unit" : "unknown-unit", fields.mark("unit"),
               fields.label("unit") + " is " + document::quote(*text) + ", which is no unit of length",
               near.empty() ? "write `unit: ft` or `unit: m`" : near);
  return std::nullopt;
}

/// Reads points until one has no unit: the same would be said of all the rest.
class Points {
 public:
  Points(Reader& reader, const std::string& unit, const std::string& of)
      : reader_(reader), unit_(unit), of_(of) {}

  bool read(const Node& point, std::vector<SurveyPoint>& points) {
    if (point.kind != Node::Kind::sequence || point.items.size() != 2) {
      reader_.error("bad-point", point.mark,
                    "a point of the survey of " + of_ + " must be a station and an elevation",
                    "write for example [120, 4741]");
      return true;
    }
    const auto station = number(*point.items[0], "a station");
    if (stopped_) return false;
    const auto elevation = number(*point.items[1], "an elevation");
    if (station && elevation) points.push_back({*station, *elevation});
    return !stopped_;
  }

 private:
  std::optional<Length> number(const Node& node, const char* what) {
    const bool bare =
        node.kind == Node::Kind::scalar && units::parse(node.text, units::Dimension::number).ok();
    if (bare && unit_.empty()) {
      stopped_ = true;
      reader_.error("missing-unit", node.mark, "the survey of " + of_ + " does not say in which unit it is",
                    "add `unit: ft` or `unit: m` above the points");
      return std::nullopt;
    }
    if (!bare) return read_quantity<Length>(reader_, node, std::string(what) + " in the survey of " + of_);
    const auto parsed = units::parse(node.text + " " + unit_, units::Dimension::length);
    if (parsed.ok()) return Length::from_si(parsed.si);
    reader_.error("bad-number", node.mark,
                  std::string(what) + " in the survey of " + of_ + ": " + literal(parsed.error));
    return std::nullopt;
  }

  Reader& reader_;
  const std::string& unit_;
  const std::string& of_;
  bool stopped_ = false;
};

}  // namespace

std::vector<SurveyPoint> read_survey(Reader& reader, const Node& node, const std::string& of,
                                     Reader::Object& object) {
  if (node.kind == Node::Kind::scalar) return read_file(reader, node, of, object);
  Fields fields(reader, node, node.mark, "the survey of " + of);
  const auto unit = read_unit(reader, fields);
  const Node* list = fields.need("points", points_example);
  std::vector<SurveyPoint> points;
  if (list && unit) {
    const auto* items = list_of(reader, *list, fields.label("points"), points_example);
    Points reading(reader, *unit, of);
    for (std::size_t i = 0; items && i < items->size(); ++i)
      if (!reading.read(*(*items)[i], points)) break;
  }
  fields.close();
  return points;
}

}  // namespace runnel::input
