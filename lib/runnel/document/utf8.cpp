#include "runnel/document/utf8.h"

#include <array>

namespace runnel::document {

namespace {

struct Range {
  char32_t first;
  char32_t last;
};

template <std::size_t N>
bool in(const std::array<Range, N>& ranges, char32_t code) {
  for (const Range& range : ranges) {
    if (code >= range.first && code <= range.last) return true;
  }
  return false;
}

constexpr std::array<Range, 6> controls{{{0x00, 0x1F},
                                         {0x7F, 0x9F},
                                         {0x202A, 0x202E},  // embeddings and overrides of direction
                                         {0x2066, 0x2069},  // isolates of direction
                                         {0xFEFF, 0xFEFF},  // a byte order mark that is not first
                                         {0xFFFE, 0xFFFF}}};
constexpr std::array<Range, 3> zero_cells{{{0x0300, 0x036F}, {0x200B, 0x200F}, {0xFE00, 0xFE0F}}};
constexpr std::array<Range, 8> two_cells{{{0x1100, 0x115F},
                                          {0x2E80, 0xA4CF},
                                          {0xAC00, 0xD7A3},
                                          {0xF900, 0xFAFF},
                                          {0xFE30, 0xFE6F},
                                          {0xFF01, 0xFF60},
                                          {0x1F300, 0x1FAFF},
                                          {0x20000, 0x3FFFD}}};

/// How many bytes a first byte announces, and the bits of the code it holds; 0 if it cannot be first.
std::size_t announced(unsigned char first, char32_t& bits) {
  if (first < 0x80) {
    bits = first;
    return 1;
  }
  if (first >= 0xC2 && first <= 0xDF) {
    bits = first & 0x1FU;
    return 2;
  }
  if (first >= 0xE0 && first <= 0xEF) {
    bits = first & 0x0FU;
    return 3;
  }
  if (first >= 0xF0 && first <= 0xF4) {
    bits = first & 0x07U;
    return 4;
  }
  return 0;
}

}  // namespace

Character character_at(std::string_view text, std::size_t at) {
  if (at >= text.size()) return {};
  const Character invalid{0xFFFD, 1, false};
  char32_t code = 0;
  const std::size_t bytes = announced(static_cast<unsigned char>(text[at]), code);
  if (bytes == 0 || at + bytes > text.size()) return invalid;
  for (std::size_t i = 1; i < bytes; ++i) {
    const auto next = static_cast<unsigned char>(text[at + i]);
    if ((next & 0xC0U) != 0x80U) return invalid;
    code = (code << 6U) | (next & 0x3FU);
  }
  const bool overlong = (bytes == 3 && code < 0x800) || (bytes == 4 && code < 0x10000);
  const bool surrogate = code >= 0xD800 && code <= 0xDFFF;
  if (overlong || surrogate || code > 0x10FFFF) return invalid;
  return {code, bytes, true};
}

bool is_control(char32_t code) { return in(controls, code); }

int cells(char32_t code) {
  if (in(zero_cells, code)) return 0;
  return in(two_cells, code) ? 2 : 1;
}

}  // namespace runnel::document
