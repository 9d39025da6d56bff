#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "runnel/air/crests.h"
#include "runnel/network/daily_needs.h"
#include "runnel/report/fill.h"
#include "runnel/report/harmless.h"
#include "runnel/report/text_parts.h"
#include "runnel/report/words.h"

namespace runnel::report {
namespace {

using filling::StorageHistory;

constexpr std::size_t most_tanks = 40, most_events = 24, most_charts = 4;

std::string or_dash(const std::optional<double>& value, Kind kind, const TextOptions& options) {
  return value ? shown(kind, *value, options) : "-";
}

double missing_m3(const StorageHistory& s) {
  double sum = 0.0;
  for (const auto& day : s.short_days) sum += day.missing_m3;
  return sum;
}

std::string volume(double m3, const TextOptions& options) {
  return m3 > 0.0 ? shown(Kind::volume, m3, options) : "-";
}

std::string tanks_text(const FillAnswer& answer, const TextOptions& options) {
  using enum Align;
  Columns rows({left, right, right, right, right, right, right});
  rows.row({"", "at first", "at the end", "full after", "drawn", "missing", "spilled"});
  std::size_t count = 0;
  for (const StorageHistory& s : answer.history.storages) {
    if (++count > most_tanks && !options.every_point) continue;
    const std::string full = s.kind == network::PlaceKind::box ? ""
                             : s.never_m                       ? "never"
                                         : or_dash(s.full_after_s, Kind::duration, options);
    rows.row({short_name(s.name), shown(Kind::elevation, s.start_level_m, options),
              shown(Kind::elevation, s.end_level_m, options), full, volume(s.drawn_m3, options),
              volume(missing_m3(s), options), volume(s.spilled_m3, options)});
  }
  if (count > most_tanks && !options.every_point)
    rows.note("... and " + std::to_string(count - most_tanks) + " more; -v shows all");
  return heading("Tanks", options) + rows.text(2);
}

/// What joints, taps and pipe ends give over the run, and where it is least.
std::string places_given(const FillAnswer& answer, const TextOptions& options) {
  using enum Align;
  Columns rows({left, right, right, right});
  rows.row({"", "drawn", "missing", "least"});
  std::size_t count = 0;
  for (const filling::PlaceHistory& place : answer.history.places) {
    if (place.kind == network::PlaceKind::box || place.series.empty()) continue;
    if (++count > most_tanks && !options.every_point) continue;
    const double missing = place.asked_m3 - place.given_m3;
    rows.row({short_name(place.name), volume(place.given_m3, options),
              volume(missing > 1e-9 * place.asked_m3 ? missing : 0.0, options),
              shown(Kind::flow, std::isfinite(place.least_m3s) ? place.least_m3s : 0.0, options)});
  }
  if (count == 0) return {};
  if (count > most_tanks && !options.every_point)
    rows.note("... and " + std::to_string(count - most_tanks) + " more; -v shows all");
  return heading("Taps and joints", options) + rows.text(2);
}

std::string event_text(const filling::Event& event, const TextOptions& options) {
  std::string text = event_words(event.what);
  if (!event.place.empty() && !event.pipeline.empty()) text += " (" + short_name(event.pipeline) + ")";
  if (event.station_m) text += " at " + shown(Kind::length, *event.station_m, options);
  if (event.what == filling::EventKind::draw_changes)
    text += " to " + shown(Kind::flow, event.figure, options);
  if (event.what == filling::EventKind::spilled_at_start)
    text += " (" + shown(Kind::volume, event.figure, options) + ")";
  return text;
}

std::string events_text(const FillAnswer& answer, const TextOptions& options) {
  if (answer.history.events.empty()) return {};
  Columns rows({Align::right, Align::left, Align::left});
  std::size_t count = 0, left_out = 0;
  for (const auto& event : answer.history.events) {
    if (++count > most_events && !options.every_point) {
      ++left_out;
      continue;
    }
    rows.row({shown(Kind::duration, event.time_s, options),
              short_name(event.place.empty() ? event.pipeline : event.place), event_text(event, options)});
  }
  if (left_out > 0)
    rows.note("... and " + std::to_string(left_out) +
              " more; -v shows all, --csv and --json the whole course");
  return heading("What happens when", options) + rows.text(2);
}

std::string charts_text(const FillAnswer& answer, const TextOptions& options) {
  std::string out;
  std::size_t drawn = 0;
  for (const StorageHistory& s : answer.history.storages) {
    if (s.kind != network::PlaceKind::tank || drawn >= most_charts) continue;
    const std::string chart = level_chart(answer, s, options);
    if (chart.empty()) continue;
    ++drawn;
    out += heading("Level of " + short_name(s.name), options) + chart;
  }
  return out;
}

std::string draws_at(const std::string& place, const std::vector<network::Draw>& draws,
                     const TextOptions& options) {
  std::string out;
  for (const network::Draw& draw : draws) {
    if (draw.head <= 0.0) continue;
    const network::DailyNeed* need = network::daily_need(draw.purpose);
    if (!need) continue;
    out += paragraph(
        fmt::format("{:g} {} at {}: {} a day each (published: {}), {} a day; {}.", draw.head,
                    harmless(draw.purpose), short_name(place), shown(Kind::volume, need->a_day.si(), options),
                    need->published, shown(Kind::volume, draw.flow.si() * 86400.0, options), need->source),
        2, 4, options.width);
  }
  return out;
}

std::string draws_text(const FillAnswer& answer, const TextOptions& options) {
  std::string out;
  for (const network::Tank& tank : answer.system.tanks()) out += draws_at(tank.name, tank.draws, options);
  for (const network::Outlet& tap : answer.system.outlets()) out += draws_at(tap.name, tap.draws, options);
  for (const network::Joint& joint : answer.system.joints())
    out += draws_at(joint.name, joint.draws, options);
  const auto& taps = answer.system.outlets();
  if (std::any_of(taps.begin(), taps.end(), [](const auto& tap) { return !tap.draws.empty(); }))
    out += paragraph("Whoever draws at a tap by the hour opens it so far that no more comes than is drawn.",
                     2, 4, options.width);
  return out;
}

/// The run begins with lines full of water; what to add if they are dry.
std::string dry_lines_text(const FillAnswer& answer, const TextOptions& options) {
  if (!answer.options.from_empty) return {};
  constexpr std::size_t most_ways = 30;
  std::string times;
  for (const air::Way& way : air::ways_of(answer.system, most_ways)) {
    const network::Box* box = answer.system.box(way.path.source);
    if (!box) continue;
    const auto first = verdict::arrival(answer.system, way, box->yield.si());
    if (first) times += (times.empty() ? "" : ", ") + first_water_words(*first, way.path.end, options);
  }
  if (times.empty()) return {};
  return paragraph("If the lines are dry too, their filling comes on top: " + times +
                       ", at the spring's whole yield below a full box.",
                   2, 4, options.width);
}

std::string basis(const FillAnswer& answer, const TextOptions& options) {
  const auto& history = answer.history;
  std::string out = heading("Worked out with", options);
  out += draws_text(answer, options);
  out += paragraph(
      fmt::format(
          "Flows of the steady solver at every instant, {}; volumes integrated by an L-stable method of "
          "order 5 "
          "[hairer-wanner1996] to {:g} of a tank a step: {} steps. The clock starts at {:g} o'clock.",
          answer.system.friction().law == losses::Law::hazen_williams ? "Hazen-Williams" : "Darcy-Weisbach",
          answer.options.tolerance, history.steps, answer.options.start_hour),
      2, 4, options.width);
  if (history.record.empty()) return out;
  out += heading("Checked", options);
  out += paragraph(fmt::format("Summed a second time, water in less water out is what is stored to {:.0e} of "
                               "what passed; flows agree "
                               "with the steady solver run afresh at {} instants to {:.0e} of the largest{}.",
                               history.proof.balance_share, history.proof.instants, history.proof.flow_share,
                               history.proof.consistent ? "" : " - NOT within the limits"),
                   2, 4, options.width);
  out += heading("Mind", options);
  out += paragraph(std::string(answer.springs_stopped ? "Springs give nothing all the time"
                                                      : "Springs give what the model says all the time") +
                       ", and the lines are full of water at the start. It is no better than the survey and "
                       "the bucket tests behind it.",
                   2, 4, options.width);
  return out + dry_lines_text(answer, options);
}

/// What every way of running it comes to.
std::string fill_settings(const verdict::FillAnswered& whole, const TextOptions& options) {
  std::string out = heading("Settings", options);
  for (const verdict::FillRun& run : whole.runs) {
    const verdict::Sentence& said = run.verdict.sentence;
    out += paragraph(way_of_running(run.setting) + ": " +
                         harmless(units::render(said.text(), said.figures(), options.units)),
                     2, 4, options.width);
  }
  return out;
}

}  // namespace

std::string fill_text(const FillAnswer& answer, const TextOptions& wanted) {
  TextOptions options = wanted;
  options.width = std::max(60, options.width);
  const Paint paint{options.colour};
  const verdict::Sentence& said = answer.whole ? answer.whole->sentence : answer.verdict.sentence;
  const std::string sentence =
      paragraph(harmless(units::render(said.text(), said.figures(), options.units)), 0, 0, options.width);
  std::string out = answer.verdict.good() ? paint.good(sentence) : paint.bad(sentence);
  std::string about = answer.system.name().empty() ? "This model" : harmless(answer.system.name());
  about += ", " + setting_words(answer.setting);
  about += ", over " + shown(Kind::duration, answer.history.duration_s, options) + ".";
  if (!answer.system.note().empty()) about += " " + harmless(answer.system.note());
  out += paragraph(about, 0, 0, options.width);
  if (answer.whole && answer.whole->runs.size() > 1) out += fill_settings(*answer.whole, options);
  if (answer.history.outcome == filling::FillOutcome::no_answer ||
      answer.history.outcome == filling::FillOutcome::gave_up ||
      (!answer.history.record.empty() && !answer.history.proof.consistent))
    return out + paragraph(answer.history.message + ".", 0, 0, options.width) +
           findings_text(answer.verdict.findings, options);
  if (!answer.history.storages.empty()) out += tanks_text(answer, options);
  out += places_given(answer, options);
  out += events_text(answer, options) + charts_text(answer, options);
  out += findings_text(answer.verdict.findings, options);
  if (!answer.history.storages.empty()) out += basis(answer, options);
  return out;
}

}  // namespace runnel::report
