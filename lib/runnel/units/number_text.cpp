#include "runnel/units/number_text.h"

#include <fmt/format.h>

#include <charconv>
#include <cstdlib>

#include "runnel/units/folded.h"

namespace runnel::units {

namespace {

/// One pass over the text. `peek` beyond the end gives a zero byte, so no bounds are needed elsewhere.
class Scan {
 public:
  Scan(std::string_view text, int at) : text_(text), at_(at) {}
  char peek(int ahead = 0) const {
    const auto i = static_cast<std::size_t>(at_) + static_cast<std::size_t>(ahead);
    return i < text_.size() ? text_[i] : '\0';
  }
  int at() const { return at_; }
  void skip(int n = 1) { at_ += n; }
  void skip_spaces() {
    while (peek() == ' ') skip();
  }
  std::string_view since(int from) const {
    return text_.substr(static_cast<std::size_t>(from), static_cast<std::size_t>(at_ - from));
  }
  /// The digits from here on; the scan moves past them.
  std::string_view digits() {
    const int from = at_;
    while (digit(peek())) skip();
    return since(from);
  }

 private:
  std::string_view text_;
  int at_;
};

NumberText failed(NumberText number, std::string error, std::string hint, int from, int to) {
  number.error = std::move(error);
  number.hint = std::move(hint);
  number.from = from;
  number.to = to;
  return number;
}

/// The digits of `1.25e3` and their power of ten; exact up to 19 digits.
struct Digits {
  unsigned long long digits = 0;
  int count = 0;
  int power = 0;

  void add(std::string_view more, bool behind_point) {
    for (char c : more) {
      if (behind_point) --power;
      if (digits == 0 && c == '0') continue;
      if (++count <= 19) digits = digits * 10 + static_cast<unsigned long long>(c - '0');
    }
  }
  bool exact() const { return count <= 19 && std::abs(power) <= 40; }
};

/// The exponent at the scan, if there is one: `e-4`. An `e` without digits is left for the unit.
int read_exponent(Scan& scan) {
  if (scan.peek() != 'e' && scan.peek() != 'E') return 0;
  const bool has_sign = scan.peek(1) == '-' || scan.peek(1) == '+';
  if (!digit(scan.peek(has_sign ? 2 : 1))) return 0;
  const bool negative = scan.peek(1) == '-';
  scan.skip(has_sign ? 2 : 1);
  int exponent = 0;
  for (char c : scan.digits())
    if (exponent < 100000) exponent = exponent * 10 + (c - '0');
  return negative ? -exponent : exponent;
}

NumberText read_decimal(Scan& scan, NumberText number) {
  const int start = scan.at();
  Digits digits;
  const std::string_view whole = scan.digits();
  digits.add(whole, false);
  number.whole = true;
  if (scan.peek() == '.') {
    number.whole = false;
    scan.skip();
    digits.add(scan.digits(), true);
  }
  const int before_exponent = scan.at();
  digits.power += read_exponent(scan);
  if (scan.at() != before_exponent) number.whole = false;
  number.end = scan.at();

  const std::string_view written = scan.since(start);
  if (whole.size() > 1 && whole.front() == '0')
    return failed(number, fmt::format("`{}` begins with a zero that does not count", written),
                  "leave the leading zeros out", start, scan.at());
  const auto [end, code] = std::from_chars(written.data(), written.data() + written.size(), number.plain);
  if (code == std::errc::result_out_of_range)
    return failed(number,
                  fmt::format("`{}` is too {}", written, digits.count + digits.power > 0 ? "large" : "small"),
                  "", start, scan.at());
  number.value = digits.exact() ? decimal(digits.digits, digits.power) : Wide{number.plain, 0.0};
  return number;
}

struct Fraction {
  double over = 0.0, under = 0.0;
  bool too_long = false;
  int from = 0;
};

/// `1/2` at the scan; the scan moves only if it is there.
bool read_fraction(Scan& scan, Fraction& fraction) {
  Scan ahead = scan;
  fraction.from = ahead.at();
  const std::string_view over = ahead.digits();
  if (over.empty() || ahead.peek() != '/' || !digit(ahead.peek(1))) return false;
  ahead.skip();
  const std::string_view under = ahead.digits();
  fraction.too_long = over.size() > 9 || under.size() > 9;
  std::from_chars(over.data(), over.data() + over.size(), fraction.over);
  std::from_chars(under.data(), under.data() + under.size(), fraction.under);
  scan = ahead;
  return true;
}

NumberText with_fraction(NumberText number, const Fraction& fraction, bool mixed, int end) {
  number.end = end;
  if (fraction.too_long)
    return failed(number, "the fraction has too many digits", "write it as a decimal", fraction.from, end);
  if (fraction.under == 0.0) return failed(number, "the fraction divides by zero", "", fraction.from, end);
  if (mixed && fraction.over >= fraction.under)
    return failed(number, "the fraction behind a whole number must be less than one",
                  "write `1-1/2`, not `1-3/2`", fraction.from, end);
  const Wide part = quotient({fraction.over, 0.0}, {fraction.under, 0.0});
  number.value = mixed ? sum(number.value, part) : part;
  number.plain = number.value.high;
  number.whole = false;
  return number;
}

/// What may not follow a number, and why.
NumberText refuse_tail(Scan scan, NumberText number, int start) {
  const int tail = scan.at();
  if (scan.peek() == ',' && digit(scan.peek(1)))
    return failed(number, "numbers are written without commas",
                  "a decimal point is `.`, as in `1.5`; thousands run on, as in `1500`", tail, tail + 1);
  const bool spaced = scan.peek() == ' ';
  scan.skip_spaces();
  const char next = scan.peek();
  const bool joins = next == '/' || next == '-';
  scan.skip(joins ? 1 : 0);
  const int mark = scan.at();
  scan.skip_spaces();
  if (!(joins || spaced) || !(digit(scan.peek()) || (scan.peek() == '.' && digit(scan.peek(1)))))
    return number;
  scan.digits();
  const std::string both = fmt::format("`{}`", scan.since(start));
  if (next == '/')
    return failed(number, both + " is not a fraction", "write a fraction as `3/4` or `1-1/2`", mark - 1,
                  scan.at());
  if (next == '-')
    return failed(number, both + " is not one number", "give one value; one and a half is `1-1/2` or `1.5`",
                  mark - 1, scan.at());
  return failed(number, both + " is two numbers", "give one value; thousands run on, as in `1500`", start,
                scan.at());
}

}  // namespace

Wide decimal(unsigned long long digits, int power) {
  // Both halves of 32 bits are exact doubles, and so is each product with 2^32.
  const Wide high = {static_cast<double>(digits >> 32U) * 4294967296.0, 0.0};
  const Wide low = {static_cast<double>(digits & 0xffffffffU), 0.0};
  return times_power_of_ten(sum(high, low), power);
}

NumberText read_number(std::string_view text, int at) {
  Scan scan(text, at);
  NumberText number;
  if (scan.peek() == '-' || scan.peek() == '+') {
    number.negative = scan.peek() == '-';
    scan.skip();
  }
  const int start = scan.at();
  if (!digit(scan.peek()) && !(scan.peek() == '.' && digit(scan.peek(1)))) {
    number.none = true;
    return failed(number, "a number is expected here", "", at, static_cast<int>(text.size()));
  }

  Fraction fraction;
  if (read_fraction(scan, fraction)) {
    number = with_fraction(number, fraction, false, scan.at());
  } else {
    number = read_decimal(scan, number);
    Scan ahead = scan;
    ahead.skip_spaces();
    if (ahead.peek() == '-') ahead.skip();
    ahead.skip_spaces();
    if (number.whole && number.error.empty() && ahead.at() > scan.at() && read_fraction(ahead, fraction)) {
      scan = ahead;
      number = with_fraction(number, fraction, true, scan.at());
    }
  }
  return number.error.empty() ? refuse_tail(scan, number, start) : number;
}

}  // namespace runnel::units
