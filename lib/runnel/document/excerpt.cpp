#include <fmt/format.h>

#include <algorithm>

#include "runnel/document/lines.h"
#include "runnel/document/tree.h"
#include "runnel/document/utf8.h"

namespace runnel::document {

namespace {

constexpr const char* bold = "\x1b[1m";
constexpr const char* red = "\x1b[31m";
constexpr const char* blue = "\x1b[34m";
constexpr const char* plain = "\x1b[0m";
constexpr std::size_t longest_shown = 4096;  // characters of one line that are looked at

/// A character as it is shown, with its place in the line and its width on the screen.
struct Glyph {
  std::string text;
  std::size_t byte = 0;
  int width = 1;
};

/// A stretch of a line in glyphs, first to last (exclusive).
struct Window {
  std::size_t first = 0;
  std::size_t last = 0;
};

std::vector<Glyph> glyphs(std::string_view line, std::size_t from) {
  std::vector<Glyph> out;
  for (std::size_t at = from; at < line.size() && out.size() < longest_shown;) {
    const Character c = character_at(line, at);
    if (c.valid && c.code == U'\t') {
      out.push_back({" ", at, 1});
    } else if (!c.valid || is_control(c.code)) {
      out.push_back({"?", at, 1});
    } else {
      out.push_back({std::string(line.substr(at, c.bytes)), at, cells(c.code)});
    }
    at += c.bytes;
  }
  return out;
}

int width_of(const std::vector<Glyph>& line, std::size_t first, std::size_t last) {
  int sum = 0;
  for (std::size_t i = first; i < last && i < line.size(); ++i) sum += line[i].width;
  return sum;
}

/// The part of a long line to show: at most `room` cells, with the caret about a third from the left.
Window window(const std::vector<Glyph>& line, std::size_t caret, int room) {
  Window w{0, line.size()};
  if (width_of(line, 0, line.size()) <= room) return w;
  w.first = std::min(caret, line.size());
  while (w.first > 0 && width_of(line, w.first - 1, caret) <= room / 3) --w.first;
  w.last = w.first;
  int used = 0;
  while (w.last < line.size() && used + line[w.last].width <= room) used += line[w.last++].width;
  return w;
}

/// The source line and the line with the caret under it.
std::string source_lines(const Mark& mark, std::string_view text, bool colour, int width) {
  const std::string_view line = line_of(text, mark.line);
  const std::size_t caret_byte = mark.column > 0 ? static_cast<std::size_t>(mark.column - 1) : 0;
  // A very long line is looked at only around the caret.
  std::size_t from = caret_byte > longest_shown / 2 ? caret_byte - longest_shown / 2 : 0;
  while (from > 0 && from < line.size() && (static_cast<unsigned char>(line[from]) & 0xC0U) == 0x80U) --from;
  const std::vector<Glyph> shown = glyphs(line, from);
  std::size_t caret = 0;
  while (caret < shown.size() && shown[caret].byte < caret_byte) ++caret;
  const std::string number = std::to_string(mark.line);
  const int room = std::max(20, width - static_cast<int>(number.size()) - 13);
  const Window w = window(shown, caret, room);
  const bool cut_left = w.first > 0 || from > 0;
  std::string body = cut_left ? "... " : "";
  for (std::size_t i = w.first; i < w.last; ++i) body += shown[i].text;
  if (w.last < shown.size()) body += " ...";
  const auto length = static_cast<std::size_t>(std::max(1, mark.length));
  const int under = std::max(1, width_of(shown, caret, std::min(caret + length, w.last)));
  const auto pad = static_cast<std::size_t>(width_of(shown, w.first, caret)) + (cut_left ? 4U : 0U);
  const std::string carets = "^" + std::string(static_cast<std::size_t>(under - 1), '~');
  const std::string margin(number.size(), ' ');
  return fmt::format("  {}{} |{} {}\n  {}{} |{} {}{}{}{}\n", colour ? blue : "", number, colour ? plain : "",
                     body, colour ? blue : "", margin, colour ? plain : "", std::string(pad, ' '),
                     colour ? red : "", carets, colour ? plain : "");
}

std::string place(const Mark& mark) {
  if (!mark.known()) return mark.file;
  if (mark.column <= 0) return fmt::format("{}:{}", mark.file, mark.line);
  return fmt::format("{}:{}:{}", mark.file, mark.line, mark.column);
}

/// Control characters become `?`, doubled braces become single ones.
std::string harmless(std::string_view text) {
  std::string out;
  for (std::size_t at = 0; at < text.size();) {
    const Character c = character_at(text, at);
    const bool doubled = (c.code == U'{' || c.code == U'}') && text.substr(at + 1, 1) == text.substr(at, 1);
    if (!c.valid || is_control(c.code)) {
      out += '?';
    } else {
      out.append(text.substr(at, c.bytes));
    }
    at += doubled ? 2U : c.bytes;
  }
  return out;
}

const char* word_for(Severity severity) {
  switch (severity) {
    case Severity::note:
      return "note";
    case Severity::warning:
      return "warning";
    case Severity::error:
      break;
  }
  return "error";
}

}  // namespace

std::string excerpt(const Finding& finding, std::string_view text, bool colour, int width) {
  const std::string where = harmless(place(finding.mark));
  std::string out = fmt::format("{}{}{}{}: {}{}\n", colour ? bold : "", where, where.empty() ? "" : ": ",
                                word_for(finding.severity), harmless(finding.message), colour ? plain : "");
  if (finding.mark.known()) out += source_lines(finding.mark, text, colour, width);
  if (finding.other) {
    const std::string note = finding.other_note.empty() ? "see also here" : finding.other_note;
    out += fmt::format("{}: {}\n", harmless(place(*finding.other)), harmless(note));
    if (finding.other->known() && finding.other->file == finding.mark.file) {
      out += source_lines(*finding.other, text, colour, width);
    }
  }
  if (!finding.advice.empty()) out += fmt::format("  hint: {}\n", harmless(finding.advice));
  return out;
}

}  // namespace runnel::document
