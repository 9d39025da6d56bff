// `level_book:` of a survey: the readings through a level, in the order of the walk. A backsight to a point
// of known elevation gives the height of the line of sight; a foresight from there gives the elevation of the
// next point. Where a row has both, the level was moved in between.
#include <cmath>

#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"

namespace runnel::input {

namespace {

using document::Node;
using network::SurveyPoint;

struct Sighted {
  SurveyPoint point;
  int set_up = 0;  ///< how many set-ups of the level its elevation depends on
  bool on_line = false;
  Mark station_mark, elevation_mark;
};

class Book {
 public:
  Book(Reader& reader, std::string of, std::string unit, Length bench)
      : reader_(reader), of_(std::move(of)), unit_(std::move(unit)), here_(bench) {}

  bool read(const Node& node) {
    Fields row(reader_, node, node.mark, "a row of " + of_);
    if (!row.usable()) return false;
    const auto station = length(row, "at"), fore = length(row, "fore"), back = length(row, "back");
    row.close();
    if (!row.has("fore") && !row.has("back")) {
      reader_.error("empty-row", node.mark, row.what() + " has neither a backsight nor a foresight",
                    "write for example {{at: 120, fore: 1.46}}");
      return false;
    }
    if (row.has("fore")) {
      if (!sight_ || !fore) return no_sight(node, row.has("fore") && !sight_);
      here_ = *sight_ - *fore;
    }
    if (station) rows_.push_back({{*station, here_}, set_ups_, true, row.mark("at"), node.mark});
    if (row.has("back")) {
      if (!back) return false;
      sight_ = here_ + *back;
      ++set_ups_;
    }
    return true;
  }

  Length last() const { return here_; }
  int set_ups() const { return set_ups_; }
  std::vector<Sighted>& rows() { return rows_; }

 private:
  std::optional<Length> length(Fields& row, const char* key) {
    const Node* node = row.find(key);
    return node ? read_surveyed(reader_, *node, unit_, row.label(key)) : std::nullopt;
  }
  bool no_sight(const Node& node, bool say) {
    if (say)
      reader_.error("no-backsight", node.mark, "a foresight in " + of_ + " comes before any backsight",
                    "the first row is a backsight to the bench mark: {{back: 1.52}}");
    return false;
  }

  Reader& reader_;
  std::string of_, unit_;
  Length here_;
  std::optional<Length> sight_;  ///< elevation of the line of sight
  int set_ups_ = 0;
  std::vector<Sighted> rows_;
};

/// The closing error is spread evenly over the set-ups: common practice, no source.
/// Elevations that are said to be off by as much need no warning: the answer is held against that.
void close_book(Reader& reader, const Fields& fields, Book& book, Length known,
                std::optional<Length> survey_error) {
  const double miss_m = (book.last() - known).metres();
  const int set_ups = std::max(1, book.set_ups());
  for (Sighted& row : book.rows())
    row.point.elevation = row.point.elevation - Length::metres(miss_m * row.set_up / set_ups);
  // A builder's level and a rod held by hand err by about a centimetre per set-up, up or down: common
  // practice, no source.
  const double usual_m = 0.01 * std::sqrt(static_cast<double>(set_ups));
  if (std::abs(miss_m) <= std::max(usual_m, survey_error.value_or(Length{}).metres())) return;
  Finding& finding =
      reader.warning("level-book-does-not-close", fields.mark("closes_on"),
                     fields.what() +
                         " ends {0} from where it should; with {1} set-ups of the level about {2} "
                         "is usual",
                     "level the line again, or say how far elevations may be off: survey_error");
  finding.figures = {
      {Kind::bore, std::abs(miss_m)}, {Kind::number, static_cast<double>(set_ups)}, {Kind::bore, usual_m}};
}

}  // namespace

std::vector<SurveyPoint> read_level_book(Reader& reader, const Node& node, const Mark& key,
                                         const std::string& of, const std::string& unit,
                                         Reader::Object& object, std::optional<Length> survey_error) {
  constexpr const char* example = "rows: [{back: 1.52}, {at: 0, fore: 1.20}, {at: 20, fore: 2.36}]";
  Fields fields(reader, node, key, "the level book of " + of);
  const auto bench = fields.need_quantity<Length>("bench", "bench: 4760.00 ft");
  const auto closes_on = fields.find_quantity<Length>("closes_on");
  const Node* rows = fields.need("rows", example);
  std::vector<SurveyPoint> points;
  if (rows && bench) {
    const auto* items = list_of(reader, *rows, fields.label("rows"), example);
    Book book(reader, fields.what(), unit, *bench);
    bool sound = items != nullptr;
    for (std::size_t i = 0; items && sound && i < items->size(); ++i) sound = book.read(*(*items)[i]);
    if (sound && closes_on) close_book(reader, fields, book, *closes_on, survey_error);
    for (const Sighted& row : book.rows()) {
      const std::string member = "survey.points." + std::to_string(points.size());
      object.place(member + ".0", row.station_mark);
      object.place(member + ".1", row.elevation_mark);
      points.push_back(row.point);
    }
  }
  fields.close();
  return points;
}

}  // namespace runnel::input
