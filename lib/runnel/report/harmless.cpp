#include "runnel/report/harmless.h"

#include <fmt/format.h>

#include <cstdint>

namespace runnel::report {
namespace {

struct Point {
  std::uint32_t code = 0;
  std::size_t bytes = 1;
  bool valid = false;
};

// One code point of UTF-8, strictly: no overlong forms, no surrogates, nothing above U+10FFFF.
Point decode(std::string_view text, std::size_t at) {
  const auto byte = [&](std::size_t i) {
    return static_cast<std::uint32_t>(static_cast<unsigned char>(text[i]));
  };
  const std::uint32_t first = byte(at);
  if (first < 0x80) return {first, 1, true};
  const std::size_t length = first >= 0xf0 ? 4 : first >= 0xe0 ? 3 : 2;
  if (first < 0xc2 || first > 0xf4 || at + length > text.size()) return {};
  std::uint32_t code = first & (0xffu >> (length + 1));
  for (std::size_t i = 1; i < length; ++i) {
    if ((byte(at + i) & 0xc0u) != 0x80u) return {};
    code = code << 6 | (byte(at + i) & 0x3fu);
  }
  constexpr std::uint32_t least[] = {0, 0, 0x80, 0x800, 0x10000};
  if (code < least[length] || code > 0x10ffff || (code >= 0xd800 && code <= 0xdfff)) return {};
  return {code, length, true};
}

bool steers(std::uint32_t c) {
  return c < 0x20 || (c >= 0x7f && c < 0xa0) || (c >= 0x200b && c <= 0x200f) ||
         (c >= 0x2028 && c <= 0x202e) || (c >= 0x2060 && c <= 0x206f) || c == 0xfeff ||
         (c >= 0xfff9 && c <= 0xfffb) || (c >= 0xe0000 && c <= 0xe007f);
}

// The blocks that terminals draw two columns wide (Unicode Standard Annex 11, from memory).
bool wide(std::uint32_t c) {
  return (c >= 0x1100 && c <= 0x115f) || (c >= 0x2e80 && c <= 0xa4cf) || (c >= 0xac00 && c <= 0xd7a3) ||
         (c >= 0xf900 && c <= 0xfaff) || (c >= 0xfe30 && c <= 0xfe6f) || (c >= 0xff00 && c <= 0xff60) ||
         (c >= 0x1f300 && c <= 0x1faff) || (c >= 0x20000 && c <= 0x3fffd);
}

}  // namespace

std::string harmless(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const Point p = decode(text, i);
    if (!p.valid)
      out += "\xef\xbf\xbd";
    else if (!steers(p.code))
      out += text.substr(i, p.bytes);
    else if (p.code < 0x80)
      out += fmt::format("\\x{:02x}", p.code);
    else
      out += fmt::format("\\u{{{:x}}}", p.code);
    i += p.bytes;
  }
  return out;
}

int display_width(std::string_view text) {
  int width = 0;
  for (std::size_t i = 0; i < text.size();) {
    const Point p = decode(text, i);
    width += wide(p.code) ? 2 : 1;
    i += p.bytes;
  }
  return width;
}

std::string cut(const std::string& text, int width) {
  if (display_width(text) <= width) return text;
  std::string out;
  int used = 0;
  for (std::size_t i = 0; i < text.size();) {
    const Point p = decode(text, i);
    used += wide(p.code) ? 2 : 1;
    if (used > width - 3) break;
    out += text.substr(i, p.bytes);
    i += p.bytes;
  }
  return out + "...";
}

}  // namespace runnel::report
