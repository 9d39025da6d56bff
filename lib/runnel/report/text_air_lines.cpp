// Where air can lodge in the lines, and whether the current carries it off.
#include <string>
#include <vector>

#include "runnel/report/text_parts.h"
#include "runnel/verdict/air_words.h"

namespace runnel::report {
namespace {

using air::Risk;
using air::Swept;

constexpr std::size_t most_crests = 30;

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
    if (++count_ > most_crests && !options_.every_point) return;
    table_.row({short_name(line), where, what});
  }
  void mark_screening() { screening_ = true; }

  Document section() const {
    if (table_.empty()) return {};
    Table table = table_;
    if (count_ > table.rows().size())
      table.note("... and " + std::to_string(count_ - table.rows().size()) + " more; -v shows all");
    Document out;
    out.section("Air in the lines").add(table);
    if (screening_)
      out.paragraph("The laws come from pipes of " + shown(Kind::bore, air::screening_bore_m, options_) +
                        " and more; in narrower ones they are a hint only.",
                    1);
    return out;
  }

 private:
  const TextOptions& options_;
  Table table_{{{}, {}, {.fit = Fit::cut}}};
  std::size_t count_ = 0;
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

Document air_lines_section(const FlowAnswer& answer, const TextOptions& options) {
  if (!answer.verdict.air) return {};
  Rows rows(options);
  for (const air::LineAir& line : answer.verdict.air->lines) add_line(line, rows, options);
  return rows.section();
}

}  // namespace runnel::report
