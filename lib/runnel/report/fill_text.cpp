#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "runnel/air/crests.h"
#include "runnel/losses/law_table.h"
#include "runnel/network/daily_needs.h"
#include "runnel/report/brief.h"
#include "runnel/report/fill.h"
#include "runnel/report/fill_brief.h"
#include "runnel/report/fill_end.h"
#include "runnel/report/render_text.h"
#include "runnel/report/text_parts.h"
#include "runnel/report/words.h"

namespace runnel::report {
namespace {

using filling::StorageHistory;

Document tanks_section(const FillAnswer& answer) {
  std::vector<const StorageHistory*> all;
  for (const StorageHistory& s : answer.history.storages) all.push_back(&s);
  return Document().section("Tanks").add(tanks_table(all));
}

/// What joints, taps and pipe ends give over the run, and where it is least.
Document places_given(const FillAnswer& answer) {
  std::vector<const filling::PlaceHistory*> all;
  for (const filling::PlaceHistory& place : answer.history.places)
    if (gives_water(place)) all.push_back(&place);
  if (all.empty()) return {};
  return Document().section("Taps and joints").add(taps_table(answer, all));
}

Document events_section(const FillAnswer& answer, const TextOptions& options) {
  if (answer.history.events.empty()) return {};
  Table rows({{"", Align::right}, {}, {}});
  for (const auto& event : answer.history.events)
    rows.row({Figure{Kind::duration, event.time_s},
              short_name(event.place.empty() ? event.pipeline : event.place),
              event_text(event, true, options)});
  return Document().section("What happens when").add(rows);
}

Document charts(const FillAnswer& answer) {
  Document out;
  for (const StorageHistory& s : answer.history.storages)
    if (const std::optional<Chart> chart = level_chart(answer, s))
      out.section("Level of " + short_name(s.name)).add(*chart);
  return out;
}

}  // namespace

std::string event_text(const filling::Event& event, bool figure, const TextOptions& options) {
  std::string text = event_words(event.what);
  if (!event.place.empty() && !event.pipeline.empty()) text += " (" + short_name(event.pipeline) + ")";
  if (event.station_m) text += " at " + shown(Kind::length, *event.station_m, options);
  if (event.what == filling::EventKind::draw_changes && figure)
    text += " to " + shown(Kind::flow, event.figure, options);
  if (event.what == filling::EventKind::spilled_at_start)
    text += " (" + shown(Kind::volume, event.figure, options) + ")";
  return text;
}

namespace {

Document draws_at(const std::string& place, const std::vector<network::Draw>& draws,
                  const TextOptions& options) {
  Document out;
  for (const network::Draw& draw : draws) {
    if (draw.head <= 0.0) continue;
    const network::DailyNeed* need = network::daily_need(draw.purpose);
    if (!need) continue;
    out.line(fmt::format("{:g} {} at {}: {} a day each (published: {}), {} a day; {}.", draw.head,
                         draw.purpose, short_name(place), shown(Kind::volume, need->a_day.si(), options),
                         need->published, shown(Kind::volume, draw.flow.si() * 86400.0, options),
                         need->source));
  }
  return out;
}

Document draws_told(const FillAnswer& answer, const TextOptions& options) {
  Document out;
  for (const network::Tank& tank : answer.system.tanks())
    out.append(draws_at(tank.name, tank.draws, options));
  for (const network::Outlet& tap : answer.system.outlets())
    out.append(draws_at(tap.name, tap.draws, options));
  for (const network::Joint& joint : answer.system.joints())
    out.append(draws_at(joint.name, joint.draws, options));
  const auto& taps = answer.system.outlets();
  if (std::any_of(taps.begin(), taps.end(), [](const auto& tap) { return !tap.draws.empty(); }))
    out.line("Whoever draws at a tap by the hour opens it so far that no more comes than is drawn.");
  return out;
}

}  // namespace

/// The run begins with lines full of water; this says how much time to add if they are dry.
Document dry_lines(const FillAnswer& answer, const TextOptions& options) {
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
  return Document().line("If the lines are dry too, their filling comes on top: " + times +
                         ", at the spring's whole yield below a full box.");
}

namespace {

Document basis(const FillAnswer& answer, const TextOptions& options) {
  const auto& history = answer.history;
  Document out;
  out.section("Worked out with");
  out.append(draws_told(answer, options));
  out.line(fmt::format(
      "Flows of the steady solver at every instant, {}; volumes integrated by an L-stable method of "
      "order 5 "
      "[hairer-wanner1996] to {:g} of a tank a step: {} steps. The clock starts at {:g} o'clock.",
      losses::law_row(answer.system.friction().law).name, answer.options.tolerance, history.steps,
      answer.options.start_hour));
  if (history.record.empty()) return out;
  out.section("Checked");
  out.line(
      fmt::format("Summed a second time, water in less water out is what is stored to {:.0e} of "
                  "what passed; flows agree "
                  "with the steady solver run afresh at {} instants to {:.0e} of the largest{}.",
                  history.proof.balance_share, history.proof.instants, history.proof.flow_share,
                  history.proof.consistent ? "" : " - NOT within the limits"));
  out.section("Mind");
  out.line(std::string(answer.springs_stopped ? "Springs give nothing all the time"
                                              : "Springs give what the model says all the time") +
           ", and the lines are full of water at the start. It is no better than the survey and "
           "the bucket tests behind it.");
  return out.append(dry_lines(answer, options));
}

/// What each setting comes to.
Document fill_settings(const verdict::FillAnswered& whole, const TextOptions& options) {
  Document out;
  out.section("Settings");
  for (const verdict::FillRun& run : whole.runs)
    out.line(outcome_words(run.setting, run.verdict.sentence, options));
  return out;
}

}  // namespace

Document fill_document(const FillAnswer& answer, const TextOptions& options) {
  const bool figures = answer.history.outcome != filling::FillOutcome::no_answer &&
                       answer.history.outcome != filling::FillOutcome::gave_up &&
                       (answer.history.record.empty() || answer.history.proof.consistent);
  if (figures && !options.every_point) return brief_fill_document(answer, options);
  Document out;
  const verdict::Sentence& said = answer.whole ? answer.whole->sentence : answer.verdict.sentence;
  out.statement(rendered(said, options), answer.verdict.good());
  std::string about = about_words(answer.system.name(), answer.setting);
  if (answer.history.duration_s > 0.0)
    about += ", over " + shown(Kind::duration, answer.history.duration_s, options);
  about += ".";
  if (!answer.system.note().empty()) about += " " + answer.system.note();
  out.paragraph(about);
  if (answer.whole && answer.whole->runs.size() > 1) out.append(fill_settings(*answer.whole, options));
  if (!figures) {
    if (const std::string end = fill_end_words(answer.history); !end.empty())
      out.paragraph(first_sentence(end));
    return out.append(findings_sections(answer.verdict.findings, options));
  }
  const bool stores = !answer.history.storages.empty();
  if (stores) out.append(tanks_section(answer));
  out.append(places_given(answer));
  out.append(events_section(answer, options));
  out.append(charts(answer));
  out.append(findings_sections(answer.verdict.findings, options));
  if (stores) out.append(basis(answer, options));
  return out;
}

std::string fill_text(const FillAnswer& answer, const TextOptions& options) {
  return render_text(fill_document(answer, options), options);
}

}  // namespace runnel::report
