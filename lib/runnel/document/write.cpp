#include "runnel/document/write.h"

#include <algorithm>

namespace runnel::document {
namespace {

constexpr std::size_t widest_line = 100;  // longer blocks take several lines

/// Whether a text needs no quotes. Inside brackets it may hold no bracket, comma or colon.
bool stands_bare(const std::string& text, bool in_brackets) {
  if (text.empty() || text == "~" || text.front() == ' ' || text.back() == ' ' || text.back() == ':')
    return false;
  for (const char* word : {"null", "Null", "NULL"})
    if (text == word) return false;
  if (std::string("?:,[]{}#&*!|>'\"%@`=").find(text.front()) != std::string::npos) return false;
  if (text.front() == '-' && (text.size() == 1 || text[1] == ' ' || text[1] == '-')) return false;
  if (text.compare(0, 3, "...") == 0) return false;
  if (text.find(": ") != std::string::npos || text.find(" #") != std::string::npos) return false;
  if (in_brackets && text.find_first_of(",[]{}:") != std::string::npos) return false;
  return std::none_of(text.begin(), text.end(),
                      [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7f; });
}

std::string in_quotes(const std::string& text) {
  constexpr char digits[] = "0123456789abcdef";
  std::string out = "\"";
  for (const char c : text) {
    const auto code = static_cast<unsigned char>(c);
    if (c == '"' || c == '\\') {
      out += '\\';
      out += c;
    } else if (c == '\n') {
      out += "\\n";
    } else if (code < 0x20 || code == 0x7f) {
      out += std::string("\\x") + digits[code >> 4] + digits[code & 15];
    } else {
      out += c;
    }
  }
  return out + "\"";
}

std::string word(const std::string& text, bool quoted, bool in_brackets) {
  return !quoted && stands_bare(text, in_brackets) ? text : in_quotes(text);
}

/// A node on one line.
std::string inline_text(const Node& node) {
  std::string out;
  switch (node.kind) {
    case Node::Kind::missing:
      return "~";
    case Node::Kind::scalar:
      return word(node.text, node.quoted, true);
    case Node::Kind::sequence:
      for (const auto& item : node.items) out += (out.empty() ? "" : ", ") + inline_text(*item);
      return "[" + out + "]";
    case Node::Kind::map:
      break;
  }
  for (const Entry& entry : node.entries)
    out += (out.empty() ? "" : ", ") + word(entry.key, false, true) + ": " + inline_text(*entry.value);
  return "{" + out + "}";
}

/// How many levels are nested.
int depth(const Node& node) {
  int deepest = 0;
  for (const auto& item : node.items) deepest = std::max(deepest, depth(*item));
  for (const Entry& entry : node.entries) deepest = std::max(deepest, depth(*entry.value));
  return node.kind == Node::Kind::scalar || node.kind == Node::Kind::missing ? 0 : deepest + 1;
}

class Writer {
 public:
  void members(const Node& map, std::size_t indent) {
    for (const Entry& entry : map.entries) {
      text_ += std::string(indent, ' ') + word(entry.key, false, false) + ":";
      value(*entry.value, indent);
    }
  }

  std::string take() { return std::move(text_); }

 private:
  /// Writes what follows a colon or a dash.
  void value(const Node& node, std::size_t indent) {
    const bool single = node.kind == Node::Kind::scalar || node.kind == Node::Kind::missing;
    if (node.kind == Node::Kind::scalar) text_ += " " + word(node.text, node.quoted, false);
    if (single) return void(text_ += "\n");
    const bool empty = node.items.empty() && node.entries.empty();
    if (empty || (indent > 0 && depth(node) <= 2)) {
      const std::string line = inline_text(node);
      if (empty || indent + line.size() < widest_line) return void(text_ += " " + line + "\n");
    }
    text_ += "\n";
    if (node.kind == Node::Kind::map) return members(node, indent + 2);
    for (const auto& item : node.items) {
      text_ += std::string(indent + 2, ' ') + "-";
      item->kind == Node::Kind::scalar ? value(*item, indent + 2)
                                       : void(text_ += " " + inline_text(*item) + "\n");
    }
  }

  std::string text_;
};

}  // namespace

std::string written(const Node& root) {
  Writer writer;
  writer.members(root, 0);
  return writer.take();
}

}  // namespace runnel::document
