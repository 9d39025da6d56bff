#include "runnel/document/text_check.h"

#include <fmt/format.h>

#include <algorithm>

#include "runnel/document/limits.h"
#include "runnel/document/utf8.h"

namespace runnel::document {

namespace {

constexpr std::size_t most_slips = 20;  // more would not be read

/// Nobody writes a line that opens so many more brackets than it closes. The parser would keep each of them
/// in memory, some 230 bytes apiece, before it complains (measured).
constexpr int most_open_brackets = 100;

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

/// Walks over one text, counting lines and columns.
class Inspector {
 public:
  Inspector(std::string_view text, const std::string& file) : text_(text), file_(file) {}

  std::vector<Finding> run() {
    while (at_ < text_.size() && findings_.size() < most_slips) {
      const Character c = character_at(text_, at_);
      if (!c.valid) {
        bad_byte();
        break;
      }
      look_at(c);
      step(c);
      if (open_brackets_ > most_open_brackets) break;
    }
    return std::move(findings_);
  }

 private:
  void look_at(const Character& c) {
    if (c.code == U'%' && at_ == line_start_) directive();
    if (c.code == U'\n') return;
    if (c.code == U'[' || c.code == U'{') bracket();
    if (c.code == U']' || c.code == U'}') open_brackets_ = std::max(0, open_brackets_ - 1);
    if (c.code == U'\t') {
      if (in_indent_) tab();
      return;
    }
    if (c.code == U'\r' && at_ + 1 < text_.size() && text_[at_ + 1] == '\n') return;
    if (is_control(c.code)) control(c.code);
  }

  void step(const Character& c) {
    at_ += c.bytes;
    if (c.code == U'\n') {
      ++line_;
      line_start_ = at_;
      in_indent_ = true;
      open_brackets_ = 0;
    } else if (c.code != U' ') {
      in_indent_ = false;
    }
  }

  void add(const char* code, std::string message, std::string advice) {
    Finding f;
    f.code = code;
    f.message = std::move(message);
    f.advice = std::move(advice);
    f.mark = {file_, line_, static_cast<int>(at_ - line_start_) + 1, 1};
    findings_.push_back(std::move(f));
  }

  void bad_byte() {
    const auto byte = static_cast<unsigned>(static_cast<unsigned char>(text_[at_]));
    add("file-not-utf8", fmt::format("the byte 0x{:02X} here is not UTF-8 text", byte),
        "save the file as UTF-8 text; a degree sign or an accent typed in an older encoding is the usual "
        "cause");
  }

  void control(char32_t code) {
    if (code == U'\r') {
      add("file-control-character", "a carriage return stands here without a line feed",
          "save the file with Unix or Windows line ends");
      return;
    }
    add("file-control-character",
        fmt::format("an invisible control character (U+{:04X}) stands here", static_cast<unsigned>(code)),
        "delete it; text copied from another program may carry such characters");
  }

  void bracket() {
    if (++open_brackets_ <= most_open_brackets) return;
    add("yaml-too-deep", "more than a hundred brackets are opened on this line and not closed",
        "a model needs fewer than ten levels; look for brackets that are never closed");
  }

  /// The parser takes a line that starts with % for an instruction to itself, and drops it without a word.
  void directive() {
    if (line_ == 1 && text_.substr(0, 6) == "%YAML ") return;
    add("yaml-directive", "a line cannot start with %", "put the name in quotes, or delete the line");
  }

  /// A tab before the first word of a line. Blank lines and comments do no harm.
  void tab() {
    const std::size_t word = text_.find_first_not_of(" \t", at_);
    const bool harmless =
        word == std::string_view::npos || text_[word] == '\n' || text_[word] == '\r' || text_[word] == '#';
    if (harmless) return;
    add("file-tab-indent", "this line is indented with a tab",
        "indent with spaces only; two for each level is the custom");
  }

  std::string_view text_;
  const std::string& file_;
  std::size_t at_ = 0;
  std::size_t line_start_ = 0;
  int line_ = 1;
  bool in_indent_ = true;
  int open_brackets_ = 0;
  std::vector<Finding> findings_;
};

std::string_view without_mark(std::string_view text) {
  if (text.substr(0, byte_order_mark.size()) == byte_order_mark) text.remove_prefix(byte_order_mark.size());
  return text;
}

}  // namespace

std::vector<Finding> check_text(std::string_view text, const std::string& file) {
  if (text.size() > largest_text_bytes) {
    Finding f;
    f.code = "file-too-large";
    f.message = fmt::format("the file holds {} bytes; at most {} are read", text.size(), largest_text_bytes);
    f.advice = "keep long surveys in CSV or GPX files and name those in the model";
    f.mark.file = file;
    return {f};
  }
  return Inspector(without_mark(text), file).run();
}

std::string normalised(std::string_view text) {
  text = without_mark(text);
  std::string out;
  out.reserve(text.size());
  for (std::size_t i = 0; i < text.size(); ++i) {
    if (text[i] == '\r' && i + 1 < text.size() && text[i + 1] == '\n') continue;
    out += text[i];
  }
  return out;
}

}  // namespace runnel::document
