#include "runnel/report/layout.h"

#include <algorithm>
#include <sstream>

#include "runnel/report/harmless.h"

namespace runnel::report {
namespace {

std::string blanks(int n) { return std::string(static_cast<std::size_t>(std::max(0, n)), ' '); }

std::string without_trailing_blanks(std::string line) {
  line.erase(line.find_last_not_of(' ') + 1);
  return line;
}

}  // namespace

std::vector<int> Columns::widths() const {
  std::vector<int> widths(aligns_.size(), 0);
  for (const Row& row : rows_)
    if (!row.note)
      for (std::size_t i = 0; i < row.cells.size() && i < widths.size(); ++i)
        widths[i] = std::max(widths[i], display_width(row.cells[i]));
  return widths;
}

int Columns::width(int indent) const {
  int total = indent;
  for (int width : widths()) total += width > 0 ? width + column_gap : 0;
  return total - column_gap;
}

std::string Columns::text(int indent) const {
  const std::vector<int> widths = this->widths();
  std::string out;
  for (const auto& [row, note] : rows_) {
    std::string line = blanks(indent);
    if (note) {
      out += line + row[0] + "\n";
      continue;
    }
    for (std::size_t i = 0; i < row.size() && i < widths.size(); ++i) {
      const std::string fill = blanks(widths[i] - display_width(row[i]));
      line += (i > 0 && widths[i] > 0 ? blanks(column_gap) : "");
      line += aligns_[i] == Align::right ? fill + row[i] : row[i] + fill;
    }
    out += without_trailing_blanks(line) + "\n";
  }
  return out;
}

std::string paragraph(const std::string& text, int first, int rest, int width) {
  std::string out, line = blanks(first), word;
  int used = first;
  bool fresh = true;
  std::istringstream words(text);
  while (words >> word) {
    const int w = display_width(word);
    if (!fresh && used + 1 + w > width) {
      out += line + "\n";
      line = blanks(rest);
      used = rest;
      fresh = true;
    }
    if (!fresh) line += ' ';
    line += word;
    used += w + (fresh ? 0 : 1);
    fresh = false;
  }
  return out + without_trailing_blanks(line) + "\n";
}

}  // namespace runnel::report
