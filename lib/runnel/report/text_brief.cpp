// The short answer: one screen for a person who has to act on it.
#include <algorithm>
#include <cmath>

#include "runnel/report/brief.h"
#include "runnel/report/harmless.h"
#include "runnel/report/text_parts.h"
#include "runnel/verdict/ruling.h"

namespace runnel::report {

std::string rendered(const verdict::Sentence& s, const TextOptions& options) {
  return harmless(units::render(s.text(), s.figures(), options.units));
}

namespace {

/// What every other way of running it comes to, one line each.
std::string other_settings(const verdict::Answer& whole, int most_lines, const TextOptions& options) {
  std::string out = heading("Settings", options);
  std::size_t shown_runs = 0;
  for (const verdict::Run& run : whole.runs) {
    const std::string line = paragraph(
        way_of_running(run.setting) + ": " + rendered(run.verdict.sentence, options), 2, 4, options.width);
    if (shown_runs > 0 && lines_in(out + line) >= most_lines) break;
    out += line;
    ++shown_runs;
  }
  if (shown_runs < whole.runs.size())
    out += paragraph(whole.runs.size() - shown_runs == 1 ? "One more setting; `--setting` shows it."
                                                         : std::to_string(whole.runs.size() - shown_runs) +
                                                               " more settings; `--setting` shows each.",
                     2, 2, options.width);
  return out;
}

constexpr std::size_t most_ranges = 4;
constexpr double worth_a_range = 0.01;  // less is no news to anybody who reads a gauge

/// "Range: tap 4 0.18 to 0.24 L/s ...", where it was worked out.
std::string range_text(const FlowAnswer& answer, const TextOptions& options) {
  std::string text;
  std::size_t count = 0;
  for (const verdict::AskResult& r : answer.verdict.asks) {
    if (!r.range) continue;
    // In a system with branches one may gain at the bad corner what others lose.
    const auto [low, high] = std::minmax(r.range->bad.si, r.range->good.si);
    if (!(high - low > worth_a_range * high)) continue;
    if (++count > most_ranges) continue;
    text += (text.empty() ? "" : "; ") + harmless(r.ask.at) + " " + shown(r.asked.kind, low, options) +
            " to " + shown(r.asked.kind, high, options);
  }
  if (text.empty()) return "";
  if (count > most_ranges) text += "; " + std::to_string(count - most_ranges) + " more with -v";
  return paragraph(
      "Range, for old or new pipe, least or greatest bores and the spring as well as it is known: " + text +
          ".",
      0, 2, options.width);
}

/// When the first water comes: the way that takes longest.
std::string first_water_text(const FlowAnswer& answer, const TextOptions& options) {
  if (!answer.verdict.air) return "";
  const verdict::PathAir* slowest = nullptr;
  for (const verdict::PathAir& way : answer.verdict.air->paths)
    if (way.first_water &&
        (!slowest || way.first_water->at_end().full_bore_s > slowest->first_water->at_end().full_bore_s))
      slowest = &way;
  if (!slowest) return "";
  return paragraph("First water at " + harmless(slowest->path.end) +
                       first_water_time(*slowest->first_water, options) +
                       ", into an empty line that gets all the spring gives.",
                   0, 2, options.width);
}

/// What one line of pipe could carry, where the spring gives less.
std::string capacity_words(const FlowAnswer& answer, const TextOptions& options) {
  if (!one_line(answer.system)) return "";
  const steady::LineState& run = answer.state.lines.front();
  if (!run.capacity_m3s || !(std::abs(run.flow_m3s) < *run.capacity_m3s * (1.0 - 1e-6))) return "";
  if (!answer.system.box(answer.system.lines().front().from)) return "";
  return paragraph("The pipe could carry " + shown(Kind::flow, *run.capacity_m3s, options) + "; " +
                       shown(Kind::flow, std::abs(run.flow_m3s), options) + " run in it.",
                   0, 2, options.width);
}

/// Float valves of which only one level is known.
std::string float_words(const verdict::FlowVerdict& verdict) {
  const bool taken = std::any_of(verdict.findings.begin(), verdict.findings.end(),
                                 [](const Finding& f) { return f.code == "float-opening-taken"; });
  return taken ? ", floats open where they shut" : "";
}

std::string assumed_text(const FlowAnswer& answer, const TextOptions& options) {
  const bool hazen = answer.system.friction().law == losses::Law::hazen_williams;
  return "\n" +
         paragraph(
             "Assumed: water at " +
                 shown(Kind::temperature, answer.system.site().water.temperature_c, options) +
                 ", friction by " + (hazen ? "Hazen-Williams" : "Darcy-Weisbach") +
                 float_words(answer.verdict) +
                 ", heights as given. Both balances were worked out again by separate code and close. Not "
                 "looked at: frost, soil, water quality. -v shows every point, source and check.",
             0, 0, options.width);
}

}  // namespace

std::string answer_text(const verdict::Answer& whole, const TextOptions& wanted) {
  const verdict::Run& run = whole.leading();
  const FlowAnswer answer{run.system, run.state, run.verdict, run.setting, &whole};
  if (wanted.every_point) return flow_text(answer, wanted);
  TextOptions options = wanted;
  options.width = std::max(60, options.width);
  const Paint paint{options.colour};
  const std::string sentence = paragraph(rendered(whole.sentence, options), 0, 0, options.width);
  const std::string head = whole.good() ? paint.good(sentence) : paint.bad(sentence);
  if (!verdict::has_figures(run.verdict.ruling)) return head + findings_text(run.verdict.findings, options);
  const int most = one_line(run.system) ? most_brief_one : most_brief_all;
  const std::string tail =
      capacity_words(answer, options) + range_text(answer, options) + first_water_text(answer, options);
  const std::string assumed = assumed_text(answer, options);
  std::string settings;
  if (whole.runs.size() > 1) settings = other_settings(whole, 8, options);
  const std::string sizes = sizes_text(answer, options);
  int left =
      most - lines_in(head) - lines_in(tail) - 1 - lines_in(assumed) - lines_in(settings) - lines_in(sizes);
  const int rows = brief_rows(answer);
  // Acts come first, then the table, then what to watch; each leaves the others a little room.
  const std::string acts = acts_text(answer, std::max(4, left - std::min(rows, left / 2) - 3), options);
  left -= lines_in(acts);
  const std::string table = brief_table(answer, std::max(6, left - (sizes.empty() ? 3 : 0)), options);
  left -= lines_in(table);
  const std::string watch = left >= 3 ? watch_text(answer, left, options) : "";
  return head + acts + sizes + table + settings + (tail.empty() ? "" : "\n" + tail) + watch + assumed;
}

}  // namespace runnel::report
