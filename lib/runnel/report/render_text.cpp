#include "runnel/report/render_text.h"

#include <algorithm>
#include <set>

#include "runnel/report/harmless.h"
#include "runnel/report/layout.h"

namespace runnel::report {
namespace {

constexpr int least_width = 60;  // narrower, tables and prose fall apart
constexpr int indent = 2;        // for each level
constexpr int least_words = 24;  // in a column that is cut; fewer would say nothing

std::string prose_text(const Prose& prose, const TextOptions& options) {
  const Paint paint{options.colour};
  const int first = indent * prose.level;
  std::string text = harmless(prose.text);
  int hang = 0;
  switch (prose.manner) {
    case Manner::paragraph:
      break;
    case Manner::line:
      hang = indent;
      break;
    case Manner::entry:
      hang = 2 * indent;
      break;
    case Manner::item:
      hang = indent;
      text = "- " + text;
      break;
    case Manner::act:
      hang = indent + 1;
      text = std::to_string(prose.number) + ". " + text;
      break;
  }
  const std::string lead = harmless(prose.lead);
  std::string out = paragraph(lead + text, first, first + hang, options.width);
  const auto at = static_cast<std::size_t>(first);
  if (!lead.empty() && out.compare(at, lead.size(), lead) == 0)
    out.replace(at, lead.size(), paint.bold(lead));
  switch (prose.tone) {
    case Tone::good:
      return paint.good(out);
    case Tone::bad:
      return paint.bad(out);
    case Tone::plain:
      break;
  }
  return out;
}

std::string cell_text(const Cell& cell, const Column& column, const TextOptions& options) {
  if (const auto* words = std::get_if<std::string>(&cell)) return harmless(*words);
  const Figure figure = std::get<Figure>(cell);
  return column.kind ? units::show_number(figure, options.units) : units::show(figure, options.units);
}

std::string unit_text(const Column& column, const TextOptions& options) {
  return column.kind ? units::unit_name(*column.kind, options.units) : column.unit;
}

/// One table, being laid out.
class Layout {
 public:
  Layout(const Table& table, const TextOptions& options) : table_(table), options_(options) {
    for (const Table::Row& row : table.rows()) {
      std::vector<std::string> cells;
      for (std::size_t i = 0; i < row.cells.size(); ++i)
        cells.push_back(cell_text(row.cells[i], table.columns()[i], options));
      cells_.push_back(std::move(cells));
    }
    cut_to_room();
  }

  std::string text() const {
    std::set<std::size_t> below;
    Columns columns = laid(below);
    for (std::size_t i = table_.columns().size(); i-- > 0 && columns.width(margin()) > options_.width;) {
      if (table_.columns()[i].fit != Fit::below) continue;
      below.insert(i);
      columns = laid(below);
    }
    return columns.text(margin());
  }

 private:
  int margin() const { return indent * table_.level; }

  /// Columns that may be cut get the room that the others leave.
  void cut_to_room() {
    const auto& columns = table_.columns();
    for (std::size_t c = 0; c < columns.size(); ++c) {
      if (columns[c].fit != Fit::cut) continue;
      int room = options_.width - margin();
      for (std::size_t i = 0; i < columns.size(); ++i) {
        if (i == c) continue;
        int widest = 0;
        for (const auto& row : cells_)
          if (i < row.size()) widest = std::max(widest, display_width(row[i]));
        room -= widest + column_gap;
      }
      for (auto& row : cells_)
        if (c < row.size()) row[c] = cut(row[c], std::max(least_words, room));
    }
  }

  void head(Columns& out) const {
    std::vector<std::string> titles, units;
    for (const Column& column : table_.columns()) {
      titles.push_back(harmless(column.title));
      units.push_back(unit_text(column, options_));
    }
    const auto told = [](const std::string& text) { return !text.empty(); };
    if (std::any_of(titles.begin(), titles.end(), told)) out.row(titles);
    if (std::any_of(units.begin(), units.end(), told)) out.row(units);
  }

  Columns laid(const std::set<std::size_t>& below) const {
    std::vector<Align> aligns;
    for (const Column& column : table_.columns()) aligns.push_back(column.align);
    Columns out(aligns);
    head(out);
    for (std::size_t r = 0; r < cells_.size(); ++r) {
      if (const Table::Row& row = table_.rows()[r]; row.cells.empty()) {
        const std::string note = harmless(row.note);
        const std::string before(row.inset ? indent : 0, ' ');
        out.note(before + (row.cut ? cut(note, options_.width - margin() - indent) : note));
        continue;
      }
      add(r, below, out);
    }
    return out;
  }

  void add(std::size_t r, const std::set<std::size_t>& below, Columns& out) const {
    std::vector<std::string> cells = cells_[r], after;
    for (std::size_t i = 0; i < cells.size(); ++i) {
      if (below.count(i) && !cells[i].empty()) after.push_back(cells[i]);
      const bool above = table_.columns()[i].fit == Fit::above && display_width(cells[i]) > widest_name;
      if (above) out.note(cells[i]);
      if (above || below.count(i)) cells[i] = "";
    }
    out.row(std::move(cells));
    for (const std::string& text : after) out.note(std::string(indent, ' ') + text);
  }

  const Table& table_;
  const TextOptions& options_;
  std::vector<std::vector<std::string>> cells_;  ///< one list for each row; empty for a note across
};

std::string block_text(const Block& block, const TextOptions& options) {
  if (const auto* prose = std::get_if<Prose>(&block)) return prose_text(*prose, options);
  if (const auto* table = std::get_if<Table>(&block)) return Layout(*table, options).text();
  return chart_text(std::get<Chart>(block), options);
}

}  // namespace

std::string render_text(const Document& document, const TextOptions& wanted) {
  TextOptions options = wanted;
  options.width = std::max(least_width, options.width);
  const Paint paint{options.colour};
  std::string out;
  bool first = true;
  for (const Section& section : document.sections()) {
    if (!first) out += "\n";
    if (!section.title.empty()) out += paint.bold(harmless(section.title)) + "\n";
    for (const Block& block : section.blocks) out += block_text(block, options);
    first = false;
  }
  return out;
}

int lines_of(const Document& document, const TextOptions& options) {
  const std::string text = render_text(document, options);
  return static_cast<int>(std::count(text.begin(), text.end(), '\n'));
}

}  // namespace runnel::report
