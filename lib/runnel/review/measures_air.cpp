// Air: does the line start, does the air leave, does the grade line pass the high points.
#include <algorithm>

#include "runnel/review/measure.h"

namespace runnel::review {

namespace {

/// From the margin if no pocket gave way, to the margin with the air compressed.
std::vector<Measured> start_margin(const Seen& seen) {
  std::vector<Measured> out;
  if (!seen.verdict.air) return out;
  for (const verdict::PathAir& way : seen.verdict.air->paths) {
    const auto& legs = way.path.legs;
    const Where where{way.path.end, legs.empty() ? "" : legs.front().line->name, "", std::nullopt};
    const air::StartUp& start = way.start;
    out.push_back(between(where, std::min(start.uncompressed_margin_m, start.margin_m), start.margin_m,
                          start.margin_m));
  }
  return out;
}

std::vector<Measured> crest_clearance(const Seen& seen) {
  std::vector<Measured> out;
  if (!seen.verdict.air) return out;
  for (const air::LineAir& line : seen.verdict.air->lines)
    for (const air::JudgedCrest& judged : line.crests)
      if (judged.crest.clearance_m)
        out.push_back(exactly({"", line.pipeline, "", judged.crest.station_m}, *judged.crest.clearance_m));
  return out;
}

/// From the strictest law in range to the mildest; a law that asks for nothing at that slope is met.
std::vector<Measured> current_over_clearing(const Seen& seen) {
  std::vector<Measured> out;
  if (!seen.verdict.air) return out;
  for (const air::LineAir& line : seen.verdict.air->lines)
    for (const air::JudgedCrest& judged : line.crests) {
      const air::Crest& crest = judged.crest;
      if (!crest.holds_air || crest.vented) continue;
      const Where where{"", line.pipeline, "", crest.station_m};
      if (!crest.hardest || !(crest.hardest->sweep.most_ms > 0.0)) {
        out.push_back(exactly(where, 0.0));
        continue;
      }
      const air::ReachSweep& leg = *crest.hardest;
      const double least_ms = std::max(leg.sweep.least_ms, 1e-3 * leg.sweep.most_ms);
      const double safe = leg.velocity_ms / leg.sweep.most_ms;
      out.push_back(between(where, safe, safe, leg.velocity_ms / least_ms));
    }
  return out;
}

}  // namespace

std::vector<Measure> air_measures() {
  return {
      {"water to spare at the start", Kind::head,
       "how much higher the water stands than a way that is empty needs", start_margin},
      {"clearance at high points", Kind::head, "grade line above the pipe while it runs", crest_clearance},
      {"current over what carries air down", Kind::percent,
       "below each high point that holds air and has no valve", current_over_clearing},
  };
}

}  // namespace runnel::review
