#pragma once
// Columns, paragraphs and headings of a text answer.
#include <string>
#include <utility>
#include <vector>

#include "runnel/report/document.h"

namespace runnel::report {

/// Blanks between two columns.
inline constexpr int column_gap = 2;

/// Rows whose cells line up. The last left-aligned cell of a row is not padded.
class Columns {
 public:
  explicit Columns(std::vector<Align> aligns) : aligns_(std::move(aligns)) {}
  void row(std::vector<std::string> cells) { rows_.push_back({std::move(cells), false}); }
  /// A line across all columns, as it stands.
  void note(std::string text) { rows_.push_back({{std::move(text)}, true}); }
  bool empty() const { return rows_.empty(); }
  std::string text(int indent) const;
  /// Columns the widest row takes, notes left out.
  int width(int indent) const;

 private:
  std::vector<int> widths() const;
  std::vector<Align> aligns_;
  struct Row {
    std::vector<std::string> cells;
    bool note;
  };
  std::vector<Row> rows_;
};

/// A paragraph broken at blanks so that no line is longer than `width` columns, unless one word is.
/// The first line starts after `first` blanks, the others after `rest`; ends with a newline.
std::string paragraph(const std::string& text, int first, int rest, int width);

/// Terminal colours, or nothing at all when off.
struct Paint {
  bool on = false;
  std::string bold(const std::string& text) const { return wrap("\x1b[1m", text); }
  std::string good(const std::string& text) const { return wrap("\x1b[32m", text); }
  std::string bad(const std::string& text) const { return wrap("\x1b[31m", text); }
  std::string warn(const std::string& text) const { return wrap("\x1b[33m", text); }

 private:
  std::string wrap(const char* code, const std::string& text) const {
    return on ? code + text + "\x1b[0m" : text;
  }
};

}  // namespace runnel::report
