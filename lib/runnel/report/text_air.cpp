// Starting from empty: a row for each way from a source.
#include <algorithm>

#include "runnel/report/harmless.h"
#include "runnel/report/text_parts.h"
#include "runnel/verdict/air_flow.h"

namespace runnel::report {
namespace {

using verdict::PathAir;

/// A note where the outlet is under water, which makes starting harder than filling a dry line.
std::string under_water(const PathAir& way) { return way.start.under_water ? ", outlet under water" : ""; }

std::string start_text(const PathAir& way, const TextOptions& options) {
  const std::string spare = shown(Kind::head, way.start.margin_m, options);
  switch (way.start.verdict) {
    case air::StartVerdict::starts:
      return "starts, " + shown(Kind::head, way.start.uncompressed_margin_m, options) + " to spare" +
             under_water(way);
    case air::StartVerdict::doubtful:
      return "doubtful, " + spare + " to spare if air gives way" + under_water(way);
    case air::StartVerdict::blocked:
      break;
  }
  switch (way.start.reason) {
    case air::StartReason::crest_above_source:
      return "NO: the pipe lies above the source on the way";
    case air::StartReason::end_above_source:
      return "NO: it lies above the source";
    default:
      return "NO: trapped air needs " + shown(Kind::head, -way.start.margin_m, options) + " more" +
             under_water(way);
  }
}

constexpr std::size_t most_rows = 30;

/// What the times of first water assume; empty if there are none.
Document first_water_note(const std::vector<PathAir>& ways) {
  if (std::none_of(ways.begin(), ways.end(), [](const PathAir& w) { return w.first_water.has_value(); }))
    return {};
  return Document().paragraph(
      "First water: the spring's whole yield goes that one way into a dry line below a full box; where the "
      "wet part of the line carries less than that to its front, the front moves at that.",
      1);
}

std::string held_at(const PathAir& way, const TextOptions& options) {
  std::string text;
  std::size_t count = 0;
  for (const air::Pocket& p : way.start.pockets) {
    if (p.vented) continue;
    if (++count > 3) continue;
    text += (text.empty() ? "air at " : ", ") +
            shown(Kind::length, verdict::station_of(way.profile, p.crest), options) + " of " +
            short_name(verdict::line_of(way.profile, p.crest));
  }
  return count > 3 ? text + ", +" + std::to_string(count - 3) : text;
}

}  // namespace

std::string first_water_time(const verdict::Arrival& arrival, const TextOptions& options) {
  const air::FirstWater& at = arrival.at_end();
  const std::string latest = shown(Kind::duration, at.full_bore_s, options);
  const std::string soonest = shown(Kind::duration, at.earliest_s.value_or(0.0), options);
  if (soonest == latest) return " after " + latest;
  // On a line that falls all the way, a trickle may run ahead at once.
  constexpr double worth_telling = 0.01;
  if (at.earliest_s.value_or(0.0) < worth_telling * at.full_bore_s) return " within " + latest;
  return " after " + soonest + " to " + latest;
}

std::string first_water_words(const verdict::Arrival& arrival, const std::string& end,
                              const TextOptions& options) {
  return "first water at " + short_name(end) + first_water_time(arrival, options);
}

namespace {

/// "at first 0.28 L/s, in the end 0.28 to 0.43 L/s, without air 0.43 L/s".
std::string with_air_words(const verdict::AirFlow& flow, const TextOptions& options) {
  const std::string least = shown(Kind::flow, flow.least_m3s, options);
  const std::string most = shown(Kind::flow, flow.most_m3s, options);
  std::string words = "at first " + shown(Kind::flow, flow.at_first_m3s, options) + ", in the end " + least;
  if (most != least) words += " to " + most;
  return words + ", without air " + shown(Kind::flow, flow.without_m3s, options);
}

/// "against the rest: needs 51.2 m at tee, has 49.8 m; open branch first".
std::string branch_words(const verdict::BranchAnswer& branch, const TextOptions& options) {
  std::string words = "at " + short_name(branch.tee) + " its air needs water at " +
                      shown(Kind::elevation, branch.needed_m, options) + ", the rest running leaves ";
  words += branch.running_m ? shown(Kind::elevation, *branch.running_m, options) : "none";
  switch (branch.order) {
    case verdict::OpeningOrder::any:
      break;
    case verdict::OpeningOrder::branch_first:
      return words + ": open " + short_name(branch.pipeline) + " first";
    case verdict::OpeningOrder::perhaps_branch_first:
      return words + ": opened first it may start";
    case verdict::OpeningOrder::none:
      return words + ": NO, in no order";
  }
  return words;
}

}  // namespace

Document air_section(const FlowAnswer& answer, const TextOptions& options) {
  if (!answer.verdict.air || answer.verdict.air->paths.empty()) return {};
  Table rows({{}, {}});
  std::size_t count = 0;
  for (const PathAir& way : answer.verdict.air->paths) {
    if (++count > most_rows && !options.every_point) continue;
    rows.row({short_name(way.path.source) + " to " + short_name(way.path.end), start_text(way, options)});
    if (way.first_water)
      rows.detail(first_water_words(*way.first_water, way.path.end, options) +
                  (way.first_water->line_limits ? " at up to " : " at ") +
                  shown(Kind::flow, way.first_water->rate_m3s, options));
    if (const auto flow =
            verdict::air_flow_at(answer.system, answer.state, *answer.verdict.air, way.path.end))
      rows.detail(with_air_words(*flow, options));
    for (const verdict::BranchAnswer& branch : answer.verdict.air->branches)
      if (branch.path + 1 == count) rows.detail(branch_words(branch, options));
    if (const std::string held = held_at(way, options); !held.empty()) rows.detail(held);
  }
  if (count > most_rows && !options.every_point)
    rows.note("... and " + std::to_string(count - most_rows) + " more ways; -v shows all");
  return Document().section("Starting from empty").add(rows) + first_water_note(answer.verdict.air->paths);
}

}  // namespace runnel::report
