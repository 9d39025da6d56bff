// What a box says of its spring: the yield, how it was measured, how it varies between years, how it
// dwindles.
#include <charconv>
#include <chrono>
#include <numeric>
#include <string_view>
#include <system_error>

#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"

namespace runnel::input {

namespace {

using document::Node;

/// The mean of bucket tests: the volume over the mean time. (The mean of the single flows would favour the
/// quick ones.) Zero if the tests have no times; `validate` then reports it.
Flow mean_yield(const network::BucketTests& tests) {
  const double sum_s = std::accumulate(tests.times.begin(), tests.times.end(), 0.0,
                                       [](double sum, Duration t) { return sum + t.seconds(); });
  if (!(sum_s > 0.0)) return {};
  const double mean_s = sum_s / static_cast<double>(tests.times.size());
  return Flow::cubic_metres_per_second(tests.volume.cubic_metres() / mean_s);
}

std::optional<network::BucketTests> read_bucket_tests(Reader& reader, const Node& node, const Mark& key,
                                                      const std::string& of) {
  Fields fields(reader, node, key, "the bucket tests of " + of);
  network::BucketTests tests;
  const auto volume = fields.need_quantity<Volume>("volume", "volume: 5 gal");
  if (volume) tests.volume = *volume;
  const Node* times = fields.need("times", "times: [157 s, 161 s, 155 s]");
  bool good = volume && times;
  if (times) {
    const auto* items = list_of(reader, *times, fields.label("times"), "times: [157 s, 161 s, 155 s]");
    good = good && items;
    for (std::size_t i = 0; items && i < items->size(); ++i) {
      const auto time = read_quantity<Duration>(reader, *(*items)[i], "a time in " + fields.what());
      good = good && time;
      if (time) tests.times.push_back(*time);
    }
  }
  fields.close();
  if (!good) return std::nullopt;
  return tests;
}

/// `{at: 1.9 gal/min, date: 2026-05-02, halves_in: 90 days}`: a yield that falls until rain comes.
void read_falling_yield(Reader& reader, const Node& node, const Mark& key, const std::string& of,
                        network::Box& box) {
  Fields fields(reader, node, key, "the yield of " + of);
  box.yield = fields.need_quantity<Flow>("at", "at: 1.9 gal/min").value_or(Flow{});
  if (const Node* date = fields.find("date"))
    box.history.measured = read_date(reader, *date, fields.label("date"));
  box.history.halves_in = fields.find_quantity<Duration>("halves_in");
  fields.close();
}

void read_years(Reader& reader, const Node& node, const Mark& key, const std::string& of,
                network::SpringHistory& history) {
  each_named(reader, node, key, "yearly_yields",
             [&](const std::string& name, const Mark& mark, const Node& value) {
               const units::Parsed year = units::parse(name, units::Dimension::number);
               if (!year.ok() || year.si != static_cast<int>(year.si) || year.si < 1500 || year.si > 2500)
                 reader.error("not-a-year", mark,
                              document::quote(name) + " among the yearly yields of " + of + " is no year",
                              "write for example 2024: 1.2 gal/min");
               const auto least = read_quantity<Flow>(reader, value, "the least yield of a year at " + of);
               if (least && year.ok()) history.years.push_back({static_cast<int>(year.si), *least});
             });
}

/// Takes a whole number off the front of a text, with the `mark` that must follow it, or else up to the end;
/// none if the text is different.
template <class Number>
std::optional<Number> number_before(std::string_view& text, std::optional<char> mark) {
  Number number{};
  const char* end = text.data() + text.size();
  const auto [at, error] = std::from_chars(text.data(), end, number);
  if (error != std::errc() || (mark ? at == end || *at != *mark : at != end)) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(at - text.data()) + (mark ? 1 : 0));
  return number;
}

}  // namespace

std::optional<std::chrono::sys_days> read_date(Reader& reader, const Node& node, const std::string& what) {
  const auto text = read_text(reader, node, what);
  if (!text) return std::nullopt;
  std::string_view left = *text;
  const auto year = number_before<int>(left, '-');
  const auto month = year ? number_before<unsigned>(left, '-') : std::nullopt;
  const auto day = month ? number_before<unsigned>(left, std::nullopt) : std::nullopt;
  if (day) {
    const std::chrono::year_month_day date{std::chrono::year(*year), std::chrono::month(*month),
                                           std::chrono::day(*day)};
    if (date.ok() && *year >= 1 && *year <= 9999) return std::chrono::sys_days(date);
  }
  reader.error("not-a-date", node.mark, what + " is " + document::quote(*text) + ", which is no date",
               "write year, month and day: 2026-05-02");
  return std::nullopt;
}

void read_spring(Reader& reader, Fields& fields, network::Box& box) {
  const std::string& of = fields.what();
  fields.not_both("yield", "bucket_tests");
  const Node* yield = fields.find("yield");
  if (yield && yield->kind == Node::Kind::map)
    read_falling_yield(reader, *yield, fields.key_mark("yield"), of, box);
  else if (const auto flow = fields.find_quantity<Flow>("yield"))
    box.yield = *flow;
  if (const Node* tests = fields.find("bucket_tests")) {
    box.bucket_tests = read_bucket_tests(reader, *tests, fields.key_mark("bucket_tests"), of);
    if (box.bucket_tests) box.yield = mean_yield(*box.bucket_tests);
  }
  if (const Node* years = fields.find("yearly_yields"))
    read_years(reader, *years, fields.key_mark("yearly_yields"), of, box.history);
  if (const Node* spread = fields.find("yearly_spread")) {
    const auto parsed = read_parsed(reader, *spread, units::Dimension::ratio, fields.label("yearly_spread"));
    if (parsed) box.history.yearly_spread = parsed->si;
  }
}

}  // namespace runnel::input
