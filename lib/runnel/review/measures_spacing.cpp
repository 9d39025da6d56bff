// How far apart the parts of a line stand, and what stands beside what.
#include <algorithm>
#include <cmath>

#include "runnel/review/measure.h"

namespace runnel::review {

namespace {

using network::FittedPart;
using network::Line;
using network::PartKind;

/// The longest stretch of each line between parts of one kind, its ends counted as such.
std::vector<Measured> longest_between(const Seen& seen, PartKind kind) {
  std::vector<Measured> out;
  for (const Line& line : seen.system.lines()) {
    std::vector<double> at{line.survey.front().station.metres()};
    for (const FittedPart& part : line.parts)
      if (part.kind == kind) at.push_back(part.at.metres());
    at.push_back(line.survey.back().station.metres());
    std::sort(at.begin(), at.end());
    std::size_t worst = 1;
    for (std::size_t i = 2; i < at.size(); ++i)
      if (at[i] - at[i - 1] > at[worst] - at[worst - 1]) worst = i;
    out.push_back(exactly({"", line.name, "", at[worst - 1]}, at[worst] - at[worst - 1]));
  }
  return out;
}

std::vector<Measured> between_valves(const Seen& seen) { return longest_between(seen, PartKind::valve); }
std::vector<Measured> between_unions(const Seen& seen) { return longest_between(seen, PartKind::union_); }

/// Unions on the stretch between the valves on either side of a station.
int unions_beside(const Line& line, double at_m) {
  double from = line.survey.front().station.metres(), to = line.survey.back().station.metres();
  for (const FittedPart& part : line.parts) {
    if (part.kind != PartKind::valve) continue;
    if (part.at.metres() < at_m) from = std::max(from, part.at.metres());
    if (part.at.metres() > at_m) to = std::min(to, part.at.metres());
  }
  return static_cast<int>(std::count_if(line.parts.begin(), line.parts.end(), [&](const FittedPart& part) {
    return part.kind == PartKind::union_ && part.at.metres() >= from && part.at.metres() <= to;
  }));
}

bool is_filter(const FittedPart& part) {
  return part.type.find("strainer") != std::string::npos || part.type.find("filter") != std::string::npos ||
         part.name.find("strainer") != std::string::npos || part.name.find("filter") != std::string::npos;
}

/// Float valves, filters and reducing valves come out for cleaning sooner or later.
std::vector<Measured> unions_at_serviced(const Seen& seen) {
  std::vector<Measured> out;
  for (const Line& line : seen.system.lines()) {
    for (const FittedPart& part : line.parts)
      if (part.kind == PartKind::reducing_valve || is_filter(part))
        out.push_back(
            exactly({"", line.name, part.name, part.at.metres()}, unions_beside(line, part.at.metres())));
    const network::Tank* tank = seen.system.tank(line.to);
    const double end_m = line.survey.back().station.metres();
    if (tank && line.float_valve)
      out.push_back(
          exactly({"", line.name, "float valve of " + tank->name, end_m}, unions_beside(line, end_m)));
  }
  return out;
}

/// Whether an air valve stands within a survey step of each high point that holds air.
std::vector<Measured> valves_at_high_points(const Seen& seen) {
  std::vector<Measured> out;
  if (!seen.verdict.air) return out;
  for (const air::LineAir& line : seen.verdict.air->lines)
    for (const air::JudgedCrest& judged : line.crests)
      if (judged.crest.holds_air || judged.crest.vented)
        out.push_back(
            exactly({"", line.pipeline, "", judged.crest.station_m}, judged.crest.vented ? 1.0 : 0.0));
  return out;
}

}  // namespace

std::vector<Measure> spacing_measures() {
  return {
      {"longest way between valves", Kind::length, "of each line, its ends counted as valves",
       between_valves},
      {"longest way between unions", Kind::length, "of each line, its ends counted as unions",
       between_unions},
      {"unions beside what is taken out", Kind::number,
       "between the valves on either side of a float valve, filter or reducing valve", unions_at_serviced},
      {"air valves at a high point", Kind::number, "at each high point that holds air, or would",
       valves_at_high_points},
  };
}

}  // namespace runnel::review
