#include "runnel/units/folded.h"

#include <algorithm>

namespace runnel::units {

namespace {

struct Fold {
  std::string_view glyph;  // UTF-8
  std::string_view plain;
};

constexpr Fold folds[] = {
    {"\u00a0", " "},   {"\u2007", " "},  {"\u2009", " "},  {"\u202f", " "},                   // spaces
    {"\u2212", "-"},   {"\u2013", "-"},  {"\u2011", "-"},                                     // dashes
    {"\u2044", "/"},   {"\u2215", "/"},  {"\u2032", "'"},  {"\u2018", "'"}, {"\u2019", "'"},  // feet
    {"\u2033", "\""},  {"\u201c", "\""}, {"\u201d", "\""},                                    // inches
    {"\u00b0", "deg"}, {"\u00b2", "2"},  {"\u00b3", "3"},  {"\u00b5", "u"}, {"\u03bc", "u"},
};

constexpr Fold fractions[] = {
    {"\u00bd", "1/2"}, {"\u00bc", "1/4"}, {"\u00be", "3/4"}, {"\u2153", "1/3"}, {"\u2154", "2/3"},
    {"\u2155", "1/5"}, {"\u2156", "2/5"}, {"\u2157", "3/5"}, {"\u2158", "4/5"}, {"\u2159", "1/6"},
    {"\u215a", "5/6"}, {"\u215b", "1/8"}, {"\u215c", "3/8"}, {"\u215d", "5/8"}, {"\u215e", "7/8"},
};

bool continues(char c) { return (static_cast<unsigned char>(c) & 0xc0U) == 0x80U; }

template <std::size_t N>
const Fold* beginning(const Fold (&all)[N], std::string_view text) {
  const auto* found =
      std::find_if(all, all + N, [&](const Fold& f) { return text.substr(0, f.glyph.size()) == f.glyph; });
  return found == all + N ? nullptr : found;
}

}  // namespace

Folded::Folded(std::string_view text)
    : original_(text), original_size_(static_cast<int>(std::min<std::size_t>(text.size(), 1U << 30U))) {
  for (int at = 0; at < original_size_ && !too_long_;) at += fold_one(text, at);
}

void Folded::add(char letter, int origin) {
  if (size_ == longest) {
    too_long_ = true;
    return;
  }
  // Two apostrophes in a row are how some keyboards write the inch mark.
  if (letter == '\'' && size_ > 0 && letters_[static_cast<std::size_t>(size_ - 1)] == '\'') {
    letters_[static_cast<std::size_t>(size_ - 1)] = '"';
    return;
  }
  letters_[static_cast<std::size_t>(size_)] = letter;
  origin_[static_cast<std::size_t>(size_)] = origin;
  ++size_;
}

void Folded::add_all(std::string_view letters, int origin) {
  for (char letter : letters) add(letter, origin);
}

int Folded::fold_one(std::string_view text, int at) {
  const std::string_view rest = text.substr(static_cast<std::size_t>(at));
  const auto first = static_cast<unsigned char>(rest.front());
  if (first < 0x80U) {
    add(first == '\t' ? ' ' : (first < 0x20U || first == 0x7fU ? '?' : rest.front()), at);
    return 1;
  }
  if (const Fold* fold = beginning(folds, rest)) {
    add_all(fold->plain, at);
    return static_cast<int>(fold->glyph.size());
  }
  if (const Fold* fraction = beginning(fractions, rest)) {
    // Spaces keep the glyph apart from digits beside it: one-and-a-half, not eleven halves.
    if (size_ > 0 && digit(letters_[static_cast<std::size_t>(size_ - 1)])) add(' ', at);
    add_all(fraction->plain, at);
    add(' ', at);
    return static_cast<int>(fraction->glyph.size());
  }
  add('?', at);
  int bytes = 1;
  while (static_cast<std::size_t>(bytes) < rest.size() && continues(rest[static_cast<std::size_t>(bytes)]))
    ++bytes;
  return bytes;
}

int Folded::characters(int from, int to) const {
  const int start = origin(from), end = std::max(origin(to), start);
  const std::string_view span =
      original_.substr(static_cast<std::size_t>(start), static_cast<std::size_t>(end - start));
  return std::max(
      1, static_cast<int>(std::count_if(span.begin(), span.end(), [](char c) { return !continues(c); })));
}

}  // namespace runnel::units
