// Starting from empty: a row for each way from a source.
#include "runnel/report/harmless.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {
namespace {

using verdict::PathAir;

std::string start_text(const PathAir& way, const TextOptions& options) {
  const std::string spare = shown(Kind::head, way.start.margin_m, options);
  switch (way.start.verdict) {
    case air::StartVerdict::starts:
      return "starts, " + shown(Kind::head, way.start.uncompressed_margin_m, options) + " to spare";
    case air::StartVerdict::doubtful:
      return "doubtful, " + spare + " to spare if air gives way";
    case air::StartVerdict::blocked:
      break;
  }
  switch (way.start.reason) {
    case air::StartReason::crest_above_source:
      return "NO: the pipe lies above the source on the way";
    case air::StartReason::end_above_source:
      return "NO: it lies above the source";
    default:
      return "NO: trapped air asks for " + shown(Kind::head, -way.start.margin_m, options) + " more";
  }
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

std::string air_text(const FlowAnswer& answer, const TextOptions& options) {
  if (!answer.verdict.air || answer.verdict.air->paths.empty()) return "";
  Columns rows({Align::left, Align::left});
  constexpr std::size_t most_rows = 30;
  std::size_t count = 0;
  for (const PathAir& way : answer.verdict.air->paths) {
    if (++count > most_rows && !options.every_point) continue;
    rows.row({short_name(way.path.source) + " to " + short_name(way.path.end), start_text(way, options)});
    if (const std::string held = held_at(way, options); !held.empty())
      rows.note("  " + cut(held, options.width - 4));
  }
  if (count > most_rows && !options.every_point)
    rows.note("... and " + std::to_string(count - most_rows) + " more ways; -v shows all");
  return heading("Starting from empty", options) + rows.text(2);
}

}  // namespace runnel::report
