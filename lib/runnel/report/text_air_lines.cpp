// Where air can lodge in the lines, and whether the current carries it off.
#include <algorithm>
#include <array>
#include <string>
#include <vector>

#include "runnel/report/harmless.h"
#include "runnel/report/text_parts.h"
#include "runnel/verdict/air_words.h"

namespace runnel::report {
namespace {

using air::Risk;
using air::Swept;

constexpr std::size_t most_rows = 30;

std::string risk_word(Risk risk) {
  return risk == Risk::high ? "HIGH" : risk == Risk::moderate ? "moderate" : "low";
}

std::string stretch_words(double from_m, double to_m, const TextOptions& options) {
  return shown(Kind::length, from_m, options) + " to " + shown(Kind::length, to_m, options);
}

std::string swept_words(const air::ReachSweep& reach, const TextOptions& options) {
  if (!reach.runs_full) return "part-full: air stays over the water";
  const std::string range = shown(Kind::velocity, reach.sweep.least_ms, options) + " to " +
                            shown(Kind::velocity, reach.sweep.most_ms, options);
  const std::string at = shown(Kind::velocity, reach.velocity_ms, options);
  switch (reach.sweep.swept) {
    case Swept::by_all:
      return at + " carries air down; laws ask " + range;
    case Swept::by_some:
      return at + " may carry air down; laws ask " + range;
    case Swept::by_none:
      return at + " leaves air; laws ask " + range;
  }
  return "";
}

/// Rows gathered for one table, no more than wanted.
class Rows {
 public:
  explicit Rows(const TextOptions& options) : options_(options) {}

  void add(const std::string& line, const std::string& where, const std::string& what) {
    if (++count_ > most_rows && !options_.every_point) return;
    rows_.push_back({short_name(line), where, what});
    name_ = std::max(name_, rows_.back()[0].size());
    where_ = std::max(where_, where.size());
  }
  void mark_screening() { screening_ = true; }

  std::string text() const {
    if (rows_.empty()) return "";
    Columns columns({Align::left, Align::left, Align::left});
    // What is left of the width for the words; never so little that they say nothing.
    const int room = std::max(24, options_.width - static_cast<int>(name_ + where_) - 6);
    for (const auto& r : rows_) columns.row({r[0], r[1], cut(r[2], room)});
    if (count_ > rows_.size())
      columns.note("... and " + std::to_string(count_ - rows_.size()) + " more; -v shows all");
    std::string out = heading("Air in the lines", options_) + columns.text(2);
    if (screening_)
      out += paragraph("The laws come from pipes of " + shown(Kind::bore, air::screening_bore_m, options_) +
                           " and more; in narrower ones they are a hint only.",
                       2, 2, options_.width);
    return out;
  }

 private:
  const TextOptions& options_;
  std::vector<std::array<std::string, 3>> rows_;
  std::size_t count_ = 0, name_ = 0, where_ = 0;
  bool screening_ = false;
};

void add_line(const air::LineAir& line, Rows& rows, const TextOptions& options) {
  for (const air::JudgedCrest& c : line.crests)
    rows.add(line.pipeline, shown(Kind::length, c.crest.station_m, options),
             risk_word(c.crest.graded.risk) + ": " + std::string(verdict::words(c.crest.graded.reason)));
  for (const air::RiskPoint& p : line.stretches)
    if (p.risk != Risk::low && !p.crest_inside)
      rows.add(line.pipeline, stretch_words(p.from_m, p.to_m, options),
               risk_word(p.risk) + ": " + std::string(verdict::words(p.reason)));
  for (const air::ReachSweep& r : line.descents)
    if (r.below_crest) {
      rows.add(line.pipeline, stretch_words(r.from_m, r.to_m, options), swept_words(r, options));
      if (r.runs_full && r.sweep.screening) rows.mark_screening();
    }
  for (const air::Jump& j : line.jumps)
    if (j.fills_pipe)
      rows.add(line.pipeline, shown(Kind::length, j.station_m, options),
               "hydraulic jump: from here down the pipe runs full");
}

}  // namespace

std::string air_lines_text(const FlowAnswer& answer, const TextOptions& options) {
  if (!answer.verdict.air) return "";
  Rows rows(options);
  for (const air::LineAir& line : answer.verdict.air->lines) add_line(line, rows, options);
  return rows.text();
}

}  // namespace runnel::report
