#include "runnel/report/harmless.h"

#include <fmt/format.h>

#include "runnel/document/utf8.h"

namespace runnel::report {
namespace {

using document::Character;
using document::character_at;

/// More than what a model file must not contain, since nothing at all is known of a command line.
bool steers(char32_t c) {
  return c < 0x20 || (c >= 0x7f && c < 0xa0) || (c >= 0x200b && c <= 0x200f) ||
         (c >= 0x2028 && c <= 0x202e) || (c >= 0x2060 && c <= 0x206f) || c == 0xfeff ||
         (c >= 0xfff9 && c <= 0xfffb) || (c >= 0xe0000 && c <= 0xe007f);
}

}  // namespace

std::string harmless(std::string_view text) {
  std::string out;
  for (std::size_t i = 0; i < text.size();) {
    const Character p = character_at(text, i);
    if (!p.valid)
      out += "\xef\xbf\xbd";
    else if (!steers(p.code))
      out += text.substr(i, p.bytes);
    else if (p.code < 0x80)
      out += fmt::format("\\x{:02x}", static_cast<unsigned>(p.code));
    else
      out += fmt::format("\\u{{{:x}}}", static_cast<unsigned>(p.code));
    i += p.bytes;
  }
  return out;
}

int display_width(std::string_view text) {
  int width = 0;
  for (std::size_t i = 0; i < text.size();) {
    const Character p = character_at(text, i);
    width += document::cells(p.code);
    i += p.bytes;
  }
  return width;
}

std::string cut(const std::string& text, int width) {
  if (display_width(text) <= width) return text;
  std::string out;
  int used = 0;
  for (std::size_t i = 0; i < text.size();) {
    const Character p = character_at(text, i);
    used += document::cells(p.code);
    if (used > width - 3) break;
    out += text.substr(i, p.bytes);
    i += p.bytes;
  }
  return out + "...";
}

}  // namespace runnel::report
