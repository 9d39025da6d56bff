#include "runnel/document/quote.h"

#include "runnel/document/utf8.h"

namespace runnel::document {

std::string quote(std::string_view text) {
  constexpr int longest = 60;  // a message is one sentence; a longer name would drown it
  std::string out = "\"";
  int written = 0;
  for (std::size_t at = 0; at < text.size();) {
    if (written == longest) {
      out += "...";
      break;
    }
    const Character c = character_at(text, at);
    if (!c.valid || is_control(c.code)) {
      out += '?';
    } else {
      out.append(text, at, c.bytes);
      if (c.code == U'{' || c.code == U'}') out += text[at];
    }
    at += c.bytes;
    ++written;
  }
  return out + '"';
}

}  // namespace runnel::document
