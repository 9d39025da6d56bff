#pragma once
// What an answer says, before it becomes text or a page: sections of prose, tables and charts. Its texts are
// raw; the renderer makes them harmless, lays tables out and shows figures in the reader's units.
#include <optional>
#include <string>
#include <utility>
#include <variant>
#include <vector>

#include "runnel/base/figure.h"

namespace runnel::report {

enum class Tone { plain, good, bad };

/// How a piece of prose is set in its section.
enum class Manner {
  paragraph,
  line,   ///< one of several that belong together, each begun at the margin
  entry,  ///< an entry of a long list, beginning with the word that is looked up
  item,   ///< an item of a list
  act,    ///< something to do, numbered
};

struct Prose {
  Manner manner = Manner::paragraph;
  std::string text;
  int level = 0;     ///< 0 at the margin, 1 below a title, 2 below an item
  int number = 0;    ///< number of an act
  std::string lead;  ///< words before the text, made to stand out
  Tone tone = Tone::plain;
};

enum class Align { left, right };

/// What happens to a cell for which there is no room.
enum class Fit {
  as_it_is,
  above,  ///< a long name is put on a line of its own above its row
  below,  ///< where the table is too wide, all cells of the column go below their rows
  cut,    ///< the end is left out
};

struct Column {
  std::string title;
  Align align = Align::left;
  std::optional<Kind> kind = {};  ///< kind of its figures; their unit is shown once, below the title
  std::string unit = {};          ///< the unit of figures that come as text
  Fit fit = Fit::as_it_is;
};

/// A figure is shown with its unit, unless its column shows the unit already.
using Cell = std::variant<std::string, Figure>;

inline bool is_blank(const Cell& cell) {
  const auto* words = std::get_if<std::string>(&cell);
  return words && words->empty();
}

/// The figure, or the word that stands for its absence.
inline Cell figure_or(std::optional<double> si, Kind kind, const char* otherwise) {
  if (!si) return otherwise;
  return Figure{kind, *si};
}

/// Rows whose cells line up, and notes that run across all columns.
class Table {
 public:
  struct Row {
    std::vector<Cell> cells;  ///< empty: the row is a `note` across all columns
    std::string note;
    bool inset = false;  ///< the note belongs to the row above it
    bool cut = false;    ///< its end may be left out
  };

  explicit Table(std::vector<Column> columns) : columns_(std::move(columns)) {}
  void row(std::vector<Cell> cells) { rows_.push_back({std::move(cells), {}, false, false}); }
  void note(std::string text) { rows_.push_back({{}, std::move(text), false, false}); }
  void detail(std::string text) { rows_.push_back({{}, std::move(text), true, true}); }
  bool empty() const { return rows_.empty(); }
  const std::vector<Column>& columns() const { return columns_; }
  const std::vector<Row>& rows() const { return rows_; }
  int level = 1;

 private:
  std::vector<Column> columns_;
  std::vector<Row> rows_;
};

/// A level over time, and bands that show when something runs.
struct Chart {
  struct Point {
    double time_s, value;
  };
  struct Mark {
    double value;
    std::string words;
  };
  struct Switch {
    double time_s;
    bool runs;
  };
  struct Band {
    std::string title, name;
    std::vector<Switch> switches;  ///< each holds until the next
  };
  Kind kind = Kind::elevation;
  double low = 0.0, high = 0.0, duration_s = 0.0;
  int rows = 13;              ///< how high it is drawn; at least 5, one more than a multiple of 4 or of 3
  std::vector<Point> course;  ///< straight from point to point
  std::vector<Mark> marks;
  std::vector<Band> bands;
};

using Block = std::variant<Prose, Table, Chart>;

struct Section {
  std::string title;  ///< may be empty: the section is only set apart from what is above
  std::vector<Block> blocks;
};

/// The first section has no title and may be empty. It stands on top; where a document is appended to
/// another, it continues the section above.
class Document {
 public:
  Document() : sections_(1) {}

  Document& section(std::string title = {});
  Document& statement(std::string text, bool good);
  Document& paragraph(std::string text, int level = 0);
  Document& line(std::string text, int level = 1);
  Document& entry(std::string text);
  Document& item(std::string text, int level = 1);
  Document& act(int number, std::string text);
  Document& add(Block block);
  Document& append(Document other);

  bool empty() const { return sections_.size() == 1 && sections_.front().blocks.empty(); }
  const std::vector<Section>& sections() const { return sections_; }
  friend Document operator+(Document above, Document below) { return above.append(std::move(below)); }
  /// Null if no section has that title.
  const Section* find(const std::string& title) const;

 private:
  std::vector<Section> sections_;
};

}  // namespace runnel::report
