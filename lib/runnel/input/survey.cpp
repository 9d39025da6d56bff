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

/// The unit of the survey; an empty text if none is given, nullopt if it is no unit of length.
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

bool is_bare(const Node& node) {
  return node.kind == Node::Kind::scalar && units::parse(node.text, units::Dimension::number).ok();
}

/// `[0, 89,5]` with a decimal point, or how a point is written.
std::string example(const Node& point) {
  const auto digits = [](const std::string& text) {
    return !text.empty() && text.find_first_not_of("0123456789") == std::string::npos;
  };
  const auto& items = point.items;
  const bool comma =
      items.size() == 3 && digits(items[1]->text) && digits(items[2]->text) &&
      items[2]->mark.column == items[1]->mark.column + static_cast<int>(items[1]->text.size()) + 1;
  if (!comma) return "for example [120, 4741]";
  return "a decimal point: [" + items[0]->text + ", " + items[1]->text + "." + items[2]->text + "]";
}

/// Reads points until one has no unit, since the same would be reported for all the rest.
class Points {
 public:
  Points(Reader& reader, const std::string& unit, const std::string& of)
      : reader_(reader), unit_(unit), of_(of) {}

  bool read(const Node& point, std::vector<SurveyPoint>& points) {
    if (point.kind != Node::Kind::sequence || point.items.size() != 2) {
      reader_.error("bad-point", point.mark,
                    "a point of the survey of " + of_ + " must be a station and an elevation",
                    "write " + example(point));
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
    stopped_ = unit_.empty() && is_bare(node);
    return read_surveyed(reader_, node, unit_, std::string(what) + " in the survey of " + of_);
  }

  Reader& reader_;
  const std::string& unit_;
  const std::string& of_;
  bool stopped_ = false;
};

}  // namespace

std::optional<Length> read_surveyed(Reader& reader, const Node& node, const std::string& unit,
                                    const std::string& what) {
  if (!is_bare(node)) return read_quantity<Length>(reader, node, what);
  if (unit.empty()) {
    const auto of = what.find(" in the survey of ");
    reader.error("missing-unit", node.mark,
                 (of == std::string::npos ? what : what.substr(of + 4)) + " does not say in which unit it is",
                 "add `unit: ft` or `unit: m` above the points");
    return std::nullopt;
  }
  const auto parsed = units::parse(node.text + " " + unit, units::Dimension::length);
  if (parsed.ok()) return Length::from_si(parsed.si);
  reader.error("bad-number", node.mark, what + ": " + literal(parsed.error));
  return std::nullopt;
}

namespace {

network::Along read_along(Reader& reader, Fields& fields) {
  const auto text = fields.find_text("along");
  if (!text || *text == "level") return network::Along::level;
  if (*text == "pipe") return network::Along::pipe;
  const std::string near = reader.suggest(*text, {"level", "pipe"});
  reader.error("unknown-word", fields.mark("along"), fields.label("along") + " is " + document::quote(*text),
               near.empty() ? "write `pipe` if the stations were taped along the pipe, `level` if they are "
                              "distances on the map"
                            : near);
  return network::Along::level;
}

std::vector<SurveyPoint> read_points(Reader& reader, const Node& list, const std::string& unit,
                                     const std::string& of, const std::string& label) {
  std::vector<SurveyPoint> points;
  const auto* items = list_of(reader, list, label, points_example);
  Points reading(reader, unit, of);
  for (std::size_t i = 0; items && i < items->size(); ++i)
    if (!reading.read(*(*items)[i], points)) break;
  return points;
}

/// Exactly one of the three ways must be there; reports it otherwise.
bool one_way(Reader& reader, Fields& fields) {
  int ways = 0;
  for (const char* key : {"points", "legs", "level_book"}) ways += fields.has(key) ? 1 : 0;
  if (ways == 1 || !fields.usable()) return ways == 1;
  if (ways == 0)
    fields.need("points", points_example);
  else
    reader.error("said-twice", fields.owner(), fields.what() + " is written in two ways",
                 "keep one of points, legs and level_book");
  return false;
}

}  // namespace

Survey read_survey(Reader& reader, const Node& node, const std::string& of, Reader::Object& object,
                   std::optional<Length> start, std::optional<Length> survey_error) {
  if (node.kind == Node::Kind::scalar) return {read_file(reader, node, of, object), network::Along::level};
  Fields fields(reader, node, node.mark, "the survey of " + of);
  const auto unit = read_unit(reader, fields);
  Survey survey;
  const bool sound = one_way(reader, fields);
  const Node* points = fields.find("points");
  const Node* legs = fields.find("legs");
  const Node* book = fields.find("level_book");
  if (const auto from = fields.find_quantity<Length>("from")) start = from;
  if (legs)
    survey.along = network::Along::pipe;
  else
    survey.along = read_along(reader, fields);
  if (sound && unit && points)
    survey.points = read_points(reader, *points, *unit, of, fields.label("points"));
  if (sound && unit && legs && start)
    survey.points = read_legs(reader, *legs, of, *unit, *start, object);
  else if (sound && legs && !start)
    reader.error("missing-key", fields.owner(), fields.what() + " does not say at which elevation it begins",
                 "write where the first leg begins: from: 4755.8 ft");
  if (sound && unit && book)
    survey.points =
        read_level_book(reader, *book, fields.key_mark("level_book"), of, *unit, object, survey_error);
  fields.close();
  return survey;
}

}  // namespace runnel::input
