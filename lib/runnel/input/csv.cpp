#include "runnel/input/csv.h"

#include <algorithm>

#include "runnel/document/quote.h"
#include "runnel/input/values.h"
#include "runnel/units/unit_names.h"

namespace runnel::input {

namespace {

constexpr std::size_t most_rows = 200'000;  // a point every metre of 200 km

struct Cell {
  std::string text;
  Mark mark;
};

std::string_view trim(std::string_view text, int& column) {
  while (!text.empty() && (text.front() == ' ' || text.front() == '"')) text.remove_prefix(1), ++column;
  while (!text.empty() && (text.back() == ' ' || text.back() == '"' || text.back() == '\r'))
    text.remove_suffix(1);
  return text;
}

std::vector<Cell> cells_of(std::string_view line, char separator, const std::string& file, int number) {
  std::vector<Cell> cells;
  for (std::size_t start = 0; start <= line.size();) {
    const std::size_t end = std::min(line.find(separator, start), line.size());
    int column = static_cast<int>(start) + 1;
    const std::string_view text = trim(line.substr(start, end - start), column);
    cells.push_back({std::string(text), {file, number, column, std::max(1, static_cast<int>(text.size()))}});
    start = end + 1;
  }
  return cells;
}

char separator_of(std::string_view header) {
  for (const char c : {';', '\t'})
    if (header.find(c) != std::string_view::npos) return c;
  return ',';
}

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out)
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  return out;
}

/// One column: where it is and what unit its numbers are in.
struct Column {
  std::size_t index = 0;
  std::string unit;
};

std::optional<Column> find_column(Reader& reader, const std::vector<Cell>& header, const std::string& name) {
  for (std::size_t i = 0; i < header.size(); ++i) {
    const std::string cell = lower(header[i].text);
    if (cell.compare(0, name.size(), name) != 0) continue;
    std::string unit = header[i].text.substr(name.size());
    unit.erase(std::remove_if(unit.begin(), unit.end(),
                              [](char c) {
                                return c == '(' || c == ')' || c == '[' || c == ']' || c == ' ' || c == '_';
                              }),
               unit.end());
    const auto known = units::find_unit(unit);
    if (known && known->measure == units::Measure::length) return Column{i, unit};
    reader.error(unit.empty() ? "missing-unit" : "unknown-unit", header[i].mark,
                 "the column " + document::quote(name) +
                     (unit.empty() ? std::string(" has no unit")
                                   : " has the unit " + document::quote(unit) + ", which is no length"),
                 "write the unit behind the name: " + name + " (ft)");
    return std::nullopt;
  }
  reader.error("csv-header", header.front().mark,
               "the first line of the survey names no column " + document::quote(name),
               "the first line must read for example: station (ft), elevation (ft)");
  return std::nullopt;
}

std::optional<Length> read_cell(Reader& reader, const std::vector<Cell>& cells, const Column& column) {
  const Cell& cell = cells[column.index];
  const units::Parsed number = units::parse(cell.text, units::Dimension::number);
  if (number.ok()) {
    const units::Parsed parsed = units::parse(cell.text + " " + column.unit, units::Dimension::length);
    if (parsed.ok()) return Length::from_si(parsed.si);
  }
  reader.error("bad-number", cell.mark, document::quote(cell.text) + " is not a number",
               literal(number.hint));
  return std::nullopt;
}

class Rows {
 public:
  Rows(Reader& reader, const std::string& file) : reader_(reader), file_(file) {}

  /// False to stop.
  bool line(std::string_view text, int number) {
    if (!text.empty() && text.back() == '\r') text.remove_suffix(1);
    if (text.find_first_not_of(" \t,;") == std::string_view::npos || text.front() == '#') return true;
    if (!header_read_) return header(text, number);
    const auto cells = cells_of(text, separator_, file_, number);
    if (cells.size() <= std::max(station_.index, elevation_.index)) {
      reader_.error("csv-row", cells.front().mark, "this line has too few columns",
                    "every line needs a station and an elevation");
      return true;
    }
    const auto station = read_cell(reader_, cells, station_);
    const auto elevation = read_cell(reader_, cells, elevation_);
    if (station && elevation)
      points.push_back({{*station, *elevation}, cells[station_.index].mark, cells[elevation_.index].mark});
    if (points.size() <= most_rows) return true;
    reader_.error("csv-row", cells.front().mark, "the survey has more lines than can be read");
    return false;
  }

  std::vector<CsvPoint> points;

 private:
  bool header(std::string_view text, int number) {
    header_read_ = true;
    separator_ = separator_of(text);
    const auto cells = cells_of(text, separator_, file_, number);
    const auto station = find_column(reader_, cells, "station");
    if (!station) return false;
    const auto elevation = find_column(reader_, cells, "elevation");
    if (!elevation) return false;
    station_ = *station;
    elevation_ = *elevation;
    return true;
  }

  Reader& reader_;
  const std::string& file_;
  bool header_read_ = false;
  char separator_ = ',';
  Column station_, elevation_;
};

}  // namespace

std::vector<CsvPoint> read_csv(Reader& reader, std::string_view text, const std::string& file) {
  constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
  if (text.substr(0, byte_order_mark.size()) == byte_order_mark) text.remove_prefix(byte_order_mark.size());
  Rows rows(reader, file);
  int number = 0;
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    if (!rows.line(text.substr(0, end), ++number)) break;
    text.remove_prefix(std::min(end + 1, text.size()));
  }
  if (number == 0) reader.error("csv-header", {file, 1, 1, 1}, "the survey file is empty");
  return std::move(rows.points);
}

}  // namespace runnel::input
