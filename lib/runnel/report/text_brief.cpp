// The short answer: one screen for a person who has to act on it.
#include <algorithm>
#include <cmath>

#include "runnel/losses/law_table.h"
#include "runnel/network/no_flow.h"
#include "runnel/report/brief.h"
#include "runnel/report/render_text.h"
#include "runnel/report/text_parts.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/ruling.h"

namespace runnel::report {

namespace {

/// What each setting comes to, one line each.
Document other_settings(const verdict::Answer& whole, int most_lines, const TextOptions& options) {
  Document out;
  const bool turns = whole.by_turns();
  out.section(turns ? "Settings and hours" : "Settings");
  std::vector<std::string> outcomes;
  for (const verdict::Run& run : whole.runs)
    outcomes.push_back(outcome_words(run.setting, run.verdict.sentence, options));
  if (const std::size_t left = list_outcomes(outcomes, most_lines, options, out); left > 0)
    out.paragraph(more_of(left) +
                      std::string(turns ? "; -v shows all." : "; -v shows all, and `--setting` one of them."),
                  1);
  return out;
}

constexpr std::size_t most_ranges = 4;
constexpr double worth_a_range = 0.01;  // nobody who reads a gauge notices less

/// "Range: tap 4 0.18 to 0.24 L/s ...", where it was worked out.
Document range_words(const FlowAnswer& answer, const TextOptions& options) {
  std::string text;
  std::size_t count = 0;
  for (const verdict::AskResult& r : answer.verdict.asks) {
    if (!r.range) continue;
    // In a system with branches, one branch may gain at the bad corner what others lose.
    const auto [low, high] = std::minmax(r.range->bad.si, r.range->good.si);
    if (!(high - low > worth_a_range * high)) continue;
    if (++count > most_ranges) continue;
    text += (text.empty() ? "" : "; ") + r.ask.at + " " + shown(r.asked.kind, low, options) + " to " +
            shown(r.asked.kind, high, options);
  }
  if (text.empty()) return {};
  if (count > most_ranges) text += "; " + std::to_string(count - most_ranges) + " more with -v";
  return Document().line(
      "Range, for old or new pipe, least or greatest bores and the spring as well as it is known: " + text +
          ".",
      0);
}

/// Whether a need there says that nothing comes in the end.
bool nothing_comes_to(const FlowAnswer& answer, const std::string& place) {
  const auto& asks = answer.verdict.asks;
  return std::any_of(asks.begin(), asks.end(), [&](const verdict::AskResult& r) {
    return r.ask.at == place && r.judged && r.asked.kind == Kind::flow &&
           !(r.got && r.got->si > network::no_flow_m3s);
  });
}

/// When the first water comes, on the way that takes longest.
Document first_water_words(const FlowAnswer& answer, const TextOptions& options) {
  if (!answer.verdict.air) return {};
  const verdict::PathAir* slowest = nullptr;
  for (const verdict::PathAir& way : answer.verdict.air->paths)
    if (way.first_water && !nothing_comes_to(answer, way.path.end) &&
        (!slowest || way.first_water->at_end().full_bore_s > slowest->first_water->at_end().full_bore_s))
      slowest = &way;
  if (!slowest) return {};
  return Document().line("First water at " + slowest->path.end +
                             first_water_time(*slowest->first_water, options) +
                             ", into an empty line that gets all the spring gives.",
                         0);
}

/// In which state what runs in one line of pipe is not what the answer says that comes; empty if it is.
std::string while_words(const FlowAnswer& answer, const std::string& end) {
  if (answer.verdict.after_siphons) return " as long as it stays a siphon";
  if (!answer.verdict.air) return "";
  return verdict::air_flow_at(answer.system, answer.state, *answer.verdict.air, end) ? " once its air is gone"
                                                                                     : "";
}

/// What one line of pipe could carry, where the spring gives less.
Document capacity_words(const FlowAnswer& answer, const TextOptions& options) {
  if (!one_line(answer.system)) return {};
  const steady::LineState& run = answer.state.lines.front();
  if (!run.capacity_m3s || !(std::abs(run.flow_m3s) < *run.capacity_m3s * (1.0 - 1e-6))) return {};
  if (!answer.system.box(answer.system.lines().front().from)) return {};
  return Document().line("The pipe could carry " + shown(Kind::flow, *run.capacity_m3s, options) + "; " +
                             shown(Kind::flow, std::abs(run.flow_m3s), options) + " run in it" +
                             while_words(answer, answer.system.place_name(answer.system.lines().front().to)) +
                             ".",
                         0);
}

/// A note where only one level of a float valve is known.
std::string float_words(const verdict::FlowVerdict& verdict) {
  const bool taken = std::any_of(verdict.findings.begin(), verdict.findings.end(),
                                 [](const Finding& f) { return f.code == "float-opening-taken"; });
  return taken ? ", floats open where they shut" : "";
}

/// How deep the outlet of the box was taken to lie, where nobody says so.
std::string cover_words(const verdict::FlowVerdict& verdict, const TextOptions& options) {
  for (const Finding& f : verdict.findings)
    if (f.code == "cover-taken")
      return ", the outlet of the box " + shown(Kind::length, f.figures.front().si, options) + " under water";
  return "";
}

/// How far people open taps, where the model says what they draw.
std::string tap_words(const network::System& system) {
  return system.some_tap_held() ? ", taps with draws opened no further than is wanted there" : "";
}

Document assumed_section(const FlowAnswer& answer, const TextOptions& options) {
  return Document().section().paragraph(
      "Assumed: water at " + shown(Kind::temperature, answer.system.site().water.temperature_c, options) +
      ", friction by " + losses::law_row(answer.system.friction().law).name + float_words(answer.verdict) +
      cover_words(answer.verdict, options) + tap_words(answer.system) +
      ", heights as given. Both balances were worked out again by separate code and close. Not "
      "looked at: frost, soil, water quality. -v shows every point, source and check.");
}

}  // namespace

Document answer_document(const verdict::Answer& whole, const TextOptions& options) {
  const verdict::Run& run = whole.leading();
  const FlowAnswer answer{run.system, run.state, run.verdict, run.setting, &whole};
  if (options.every_point) return flow_document(answer, options);
  Document head;
  head.statement(rendered(whole.sentence, options), whole.good());
  if (!verdict::has_figures(run.verdict.ruling))
    return head + findings_sections(run.verdict.findings, options);
  const auto lines = [&](const Document& part) { return lines_of(part, options); };
  const int most = one_line(run.system) ? most_brief_one : most_brief_all;
  const Document tail =
      capacity_words(answer, options) + range_words(answer, options) + first_water_words(answer, options);
  const Document assumed = assumed_section(answer, options);
  Document settings;
  if (whole.runs.size() > 1) settings = other_settings(whole, 8, options);
  const Document sizes = sizes_section(answer, options);
  int left = most - lines(head) - lines(tail) - 1 - lines(assumed) - lines(settings) - lines(sizes);
  const int rows = brief_rows(answer);
  // Acts come first, then the table, then what to watch; each leaves the others a little room.
  const Document acts = acts_section(answer, std::max(4, left - std::min(rows, left / 2) - 3), options);
  left -= lines(acts);
  const Document table = brief_table(answer, std::max(6, left - (sizes.empty() ? 3 : 0)), options);
  left -= lines(table);
  Document out = head + acts + sizes + table + settings;
  if (!tail.empty()) out.section().append(tail);
  if (left >= 2) {
    const Document wrong = wrong_section(answer, left, options);
    left -= lines(wrong);
    out.append(wrong);
  }
  if (left >= 3) out.append(watch_section(run.verdict.findings, left, options));
  return out.append(assumed);
}

std::string answer_text(const verdict::Answer& whole, const TextOptions& options) {
  return render_text(answer_document(whole, options), options);
}

}  // namespace runnel::report
