#include "runnel/units/parse.h"

#include <fmt/format.h>

#include <cmath>

#include "runnel/units/expected.h"
#include "runnel/units/folded.h"
#include "runnel/units/number_text.h"
#include "runnel/units/unit_names.h"

namespace runnel::units {

namespace {

bool letter(char c) { return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z'); }

/// Reads one text for one dimension. Positions count in the folded text until a result is returned.
class Reader {
 public:
  Reader(std::string_view text, Dimension wanted) : folded_(text), text_(folded_.text()), wanted_(wanted) {
    while (!text_.empty() && text_.back() == ' ') text_.remove_suffix(1);
  }

  Parsed read();

 private:
  char at(int i) const { return i < size() ? text_[static_cast<std::size_t>(i)] : '\0'; }
  int size() const { return static_cast<int>(text_.size()); }
  int behind_spaces(int i) const {
    while (at(i) == ' ') ++i;
    return i;
  }
  std::string_view between(int from, int to) const {
    return text_.substr(static_cast<std::size_t>(from), static_cast<std::size_t>(to - from));
  }

  Parsed fail(std::string error, std::string hint, int from, int to) const;
  Parsed fail(std::string error, int from, int to) const;
  Parsed refuse_number(const NumberText& number) const;
  Parsed answer(const NumberText& number, const Unit& unit) const;
  Parsed finite(double si) const;

  Parsed read_bare(const NumberText& number, int start) const;
  Parsed read_one_to(const NumberText& rise, int i) const;
  bool is_one_to(const NumberText& number) const;
  int end_of_unit_word(int i) const;
  int end_of_known_unit(int unit_at) const;
  bool is_compound(int unit_at) const;
  Parsed read_compound(const NumberText& first, int unit_at) const;
  Parsed refuse_unit(int unit_at) const;
  Parsed refuse_measure(const Unit& unit, int unit_at) const;

  Folded folded_;
  std::string_view text_;
  Dimension wanted_;
};

Parsed Reader::fail(std::string error, std::string hint, int from, int to) const {
  Parsed parsed;
  parsed.error = std::move(error);
  parsed.hint = std::move(hint);
  parsed.at = folded_.origin(from);
  parsed.length = folded_.characters(from, to);
  return parsed;
}

Parsed Reader::fail(std::string error, int from, int to) const {
  const Expected& e = expected(wanted_);
  return fail(std::move(error), fmt::format("write {}, for example {}", e.what, e.examples), from, to);
}

Parsed Reader::refuse_number(const NumberText& number) const {
  return number.hint.empty() ? fail(number.error, number.from, number.to)
                             : fail(number.error, number.hint, number.from, number.to);
}

Parsed Reader::finite(double si) const {
  if (!std::isfinite(si)) return fail(fmt::format("`{}` is too large", text_), 0, size());
  Parsed parsed;
  parsed.si = si;
  return parsed;
}

Parsed Reader::answer(const NumberText& number, const Unit& unit) const {
  const Wide value = number.negative ? Wide{-number.value.high, -number.value.low} : number.value;
  Parsed parsed = finite(unit.is_si() ? number.signed_plain() : unit.to_si(value).high);
  if (parsed.si == 0.0 && number.plain != 0.0 && unit.offset == 0.0 && parsed.ok())
    return fail(fmt::format("`{}` is too small", text_), 0, size());
  parsed.head_of_water = wanted_ == Dimension::pressure && unit.measure == Measure::length;
  return parsed;
}

Parsed Reader::read_bare(const NumberText& number, int start) const {
  if (accepts_bare(wanted_)) return finite(number.signed_plain());
  const std::string_view written = between(start, number.end);
  const Expected& e = expected(wanted_);
  const std::string without = fmt::format("`{}` has no unit, and {} is wanted", written, e.what);
  // A bucket is timed in seconds and a tank in days: any two examples would mislead somebody.
  if (wanted_ == Dimension::duration)
    return fail(without, fmt::format("say which: `{0} s`, `{0} min`, `{0} h` or `{0} days`", written), start,
                number.end);
  // Nobody writes a fraction of a foot or of a metre.
  if (wanted_ == Dimension::length && written.find('/') != std::string_view::npos)
    return fail(without, fmt::format("write `{} in`, if inches are meant", written), start, number.end);
  return fail(without, fmt::format("say which: `{0} {1}` or `{0} {2}`", written, e.us, e.si), start,
              number.end);
}

/// `1:50` and `1 in 50`.
bool Reader::is_one_to(const NumberText& number) const {
  if (wanted_ != Dimension::slope) return false;
  const int i = behind_spaces(number.end);
  return at(i) == ':' ||
         (at(i) == 'i' && at(i + 1) == 'n' && at(i + 2) == ' ' && digit(at(behind_spaces(i + 2))));
}

Parsed Reader::read_one_to(const NumberText& rise, int i) const {
  const int run_at = behind_spaces(i + (at(i) == ':' ? 1 : 2));
  const NumberText run = read_number(text_, run_at);
  if (!run.error.empty()) return refuse_number(run);
  if (run.end != size())
    return fail(fmt::format("`{}` is not understood", between(run.end, size())), run.end, size());
  if (!(run.plain > 0.0) || run.negative)
    return fail("a slope needs a run greater than zero", run_at, run.end);
  const double slope = quotient(rise.value, run.value).high;
  return finite(rise.negative ? -slope : slope);
}

/// A run of letters, or one mark for feet or inches.
int Reader::end_of_unit_word(int i) const {
  if (at(i) == '\'' || at(i) == '"') return i + 1;
  while (letter(at(i))) ++i;
  return i;
}

/// Feet and inches, or hours and minutes: a unit, and after it another number.
bool Reader::is_compound(int unit_at) const {
  const int word_end = end_of_unit_word(unit_at);
  const std::optional<Unit> unit = find_unit(between(unit_at, word_end));
  if (!unit || (unit->measure != Measure::length && unit->measure != Measure::duration)) return false;
  int i = behind_spaces(word_end);
  if (at(i) == '-' && unit->measure == Measure::length) i = behind_spaces(i + 1);
  return digit(at(i)) || (at(i) == '.' && digit(at(i + 1)));
}

/// True for 12' 6" and for 2 h 30 min: the second unit is one that counts parts of the first.
bool goes_behind(const Unit& small, const Unit& big) {
  if (small.measure != big.measure || !(small.factor().high < big.factor().high)) return false;
  return small.measure == Measure::duration || (big.factor().high == 0.3048 && small.factor().high == 0.0254);
}

Parsed Reader::read_compound(const NumberText& first, int unit_at) const {
  Wide total;
  NumberText number = first;
  std::optional<Unit> before;
  int number_at = behind_spaces(0);
  for (int i = unit_at;;) {
    const int word_end = end_of_unit_word(i);
    const std::optional<Unit> unit = find_unit(between(i, word_end));
    if (word_end == i)
      return fail(fmt::format("`{}` at the end has no unit", between(number_at, number.end)),
                  "write feet and inches as `12'-6\"`, times as `2 h 30 min`", number_at, number.end);
    if (!unit) return refuse_unit(i);
    if (before && !goes_behind(*unit, *before))
      return fail(fmt::format("`{}` mixes two units", text_),
                  "give one value with one unit; only `12'-6\"` and `2 h 30 min` may join two", number_at,
                  word_end);
    const Wide part = unit->to_si(number.value);
    if (before && !(part.high < before->factor().high))
      return fail(
          fmt::format("`{}` is a whole unit of the one before it, or more", between(number_at, word_end)),
          "carry it over: `6 ft 1 in`, not `5 ft 13 in`", number_at, word_end);
    total = sum(total, part);
    const int next = behind_spaces(word_end);
    if (next == size()) {
      if (!accepts(wanted_, unit->measure)) return refuse_measure(*unit, unit_at);
      Parsed parsed = finite(first.negative ? -total.high : total.high);
      parsed.head_of_water = wanted_ == Dimension::pressure;
      return parsed;
    }
    if (!number.whole)
      return fail(
          fmt::format("`{}` is not a whole number, yet parts follow it", between(number_at, number.end)),
          "write `12.5 ft` or `12'-6\"`", number_at, number.end);
    before = unit;
    number_at = at(next) == '-' && unit->measure == Measure::length ? behind_spaces(next + 1) : next;
    number = read_number(text_, number_at);
    // A sign in the middle has no meaning.
    if (number.none || at(number_at) == '-' || at(number_at) == '+') return refuse_unit(next);
    if (!number.error.empty()) return refuse_number(number);
    i = behind_spaces(number.end);
  }
}

Parsed Reader::refuse_measure(const Unit& unit, int unit_at) const {
  const std::string_view written = between(unit_at, size());
  if (wanted_ == Dimension::number)
    return fail(fmt::format("`{}` is a unit, and none belongs here", written), unit_at, size());
  if (wanted_ == Dimension::duration && written == "m")
    return fail("`m` is metres, and a duration is wanted", "minutes are `min`, for example `12 min`", unit_at,
                size());
  return fail(
      fmt::format("`{}` is {}, and {} is wanted", written, name_of(unit.measure), expected(wanted_).what),
      unit_at, size());
}

/// Where the longest unit that starts at `unit_at` ends; `unit_at` if there is none.
int Reader::end_of_known_unit(int unit_at) const {
  int end = size();
  while (end > unit_at && !find_unit(between(unit_at, end))) {
    do --end;
    while (end > unit_at && at(end) != ' ');
  }
  return end;
}

Parsed Reader::refuse_unit(int unit_at) const {
  const int unit_end = end_of_known_unit(unit_at);
  const int next = behind_spaces(unit_end);
  if (unit_end == unit_at)
    return fail(fmt::format("`{}` is not a unit known here", between(unit_at, size())), unit_at, size());
  if (find_unit(between(next, size())))
    return fail(fmt::format("`{}` is two units", between(unit_at, size())), "give one value with one unit",
                unit_at, size());
  if (digit(at(next)))
    return fail(fmt::format("`{}` is two values", text_), "give one value with one unit", next, size());
  const std::string error = fmt::format("`{}` behind the unit is not understood", between(next, size()));
  // People write a timed bucket like this: `20 L in 45 s`.
  if (wanted_ == Dimension::flow && between(next, size()).substr(0, 3) == "in " &&
      digit(at(behind_spaces(next + 3))))
    return fail(
        error,
        fmt::format("a bucket that was timed is written under `bucket_tests`: {{volume: {}, times: [{}]}}",
                    between(0, unit_end), between(behind_spaces(next + 3), size())),
        next, size());
  return fail(error, next, size());
}

Parsed Reader::read() {
  if (folded_.too_long())
    return fail(fmt::format("the text is too long for {}", expected(wanted_).what), 0, size());
  const int start = behind_spaces(0);
  if (start == size()) return fail("nothing is written here", 0, size());
  const NumberText number = read_number(text_, start);
  if (number.none)
    return fail(fmt::format("`{}` does not begin with a number", between(start, size())), start, size());
  if (!number.error.empty()) return refuse_number(number);
  const int unit_at = behind_spaces(number.end);
  if (unit_at == size()) return read_bare(number, start);
  if (is_one_to(number)) return read_one_to(number, unit_at);
  if (const std::optional<Unit> unit = find_unit(between(unit_at, size())))
    return accepts(wanted_, unit->measure) ? answer(number, *unit) : refuse_measure(*unit, unit_at);
  return is_compound(unit_at) ? read_compound(number, unit_at) : refuse_unit(unit_at);
}

}  // namespace

Parsed parse(std::string_view text, Dimension wanted) { return Reader(text, wanted).read(); }

}  // namespace runnel::units
