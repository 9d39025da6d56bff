#pragma once
// The text as typed, brought to plain ASCII: no-break spaces, typographic quotes and dashes, fraction
// glyphs, superscripts and the degree sign become what the parser reads. Every character remembers
// where it came from, so that an error points into the text the person wrote.
#include <array>
#include <string_view>

namespace runnel::units {

/// Of ASCII: the locale does not decide what a digit is.
inline bool digit(char c) { return c >= '0' && c <= '9'; }

class Folded {
 public:
  /// Anything longer is not a quantity.
  static constexpr int longest = 80;

  explicit Folded(std::string_view text);

  bool too_long() const { return too_long_; }
  std::string_view text() const { return {letters_.data(), static_cast<std::size_t>(size_)}; }
  /// Offset in the original text of folded character `i`; its end for i = size.
  int origin(int i) const { return i < size_ ? origin_[static_cast<std::size_t>(i)] : original_size_; }
  /// How many characters (not bytes) of the original folded [from, to) covers; at least 1.
  int characters(int from, int to) const;

 private:
  void add(char letter, int origin);
  void add_all(std::string_view letters, int origin);
  /// Folds the character at `at`, returns how many bytes it took.
  int fold_one(std::string_view text, int at);

  // One fraction glyph may grow to five letters past the limit before the check stops it.
  std::array<char, longest + 8> letters_{};
  std::array<int, longest + 8> origin_{};
  std::string_view original_;
  int size_ = 0;
  int original_size_ = 0;
  bool too_long_ = false;
};

}  // namespace runnel::units
