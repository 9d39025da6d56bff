#include <fmt/format.h>

#include "runnel/report/fill.h"
#include "runnel/report/fill_end.h"
#include "runnel/report/json_parts.h"
#include "runnel/report/words.h"
#include "runnel/units/print.h"

namespace runnel::report {
namespace {

using filling::StorageHistory;

const char* outcome_word(filling::FillOutcome outcome) {
  switch (outcome) {
    case filling::FillOutcome::done:
      return "done";
    case filling::FillOutcome::stopped:
      return "stopped";
    case filling::FillOutcome::no_answer:
      return "no answer";
    case filling::FillOutcome::gave_up:
      return "gave up";
  }
  return "";
}

const char* rest_word(filling::RestKind rest) {
  switch (rest) {
    case filling::RestKind::no:
      return "no";
    case filling::RestKind::rest:
      return "rest";
    case filling::RestKind::daily:
      return "daily";
  }
  return "";
}

Json event_json(const filling::Event& event) {
  Json json{{"t_s", number(event.time_s, "t_s")}, {"what", event_words(event.what)}};
  if (!event.pipeline.empty()) json["pipeline"] = event.pipeline;
  if (event.station_m) json["station_m"] = number(*event.station_m, "station_m");
  if (event.what == filling::EventKind::draw_changes) json["draw_m3s"] = number(event.figure, "draw_m3s");
  if (event.what == filling::EventKind::spilled_at_start)
    json["spilled_m3"] = number(event.figure, "spilled_m3");
  return json;
}

Json storage_json(const FillAnswer& answer, const StorageHistory& s) {
  Json json{{"full_after_s", number(s.full_after_s, "full_after_s")},
            {"never", number(s.never_m, "never")},
            {"emptied_at_s", number(s.emptied_at_s, "emptied_at_s")},
            {"first_spill_s", number(s.first_spill_s, "first_spill_s")},
            {"start_level_m", number(s.start_level_m, "start_level_m")},
            {"end_level_m", number(s.end_level_m, "end_level_m")},
            {"capacity_m3", number(s.capacity_m3, "capacity_m3")},
            {"start_m3", number(s.start_m3, "start_m3")},
            {"end_m3", number(s.end_m3, "end_m3")},
            {"inflow_m3", number(s.inflow_m3, "inflow_m3")},
            {"drawn_m3", number(s.drawn_m3, "drawn_m3")},
            {"asked_m3", number(s.asked_m3, "asked_m3")},
            {"spilled_m3", number(s.spilled_m3, "spilled_m3")}};
  json["short_days"] = Json::array();
  for (const auto& day : s.short_days)
    json["short_days"].push_back({{"day", day.day}, {"missing_m3", number(day.missing_m3, "missing_m3")}});
  json["events"] = Json::array();
  for (const auto& event : answer.history.events)
    if (event.place == s.name) json["events"].push_back(event_json(event));
  json["series"] = Json::array();
  for (const auto& row : s.series)
    json["series"].push_back(
        Json::array({number(row.time_s, "t_s"), number(row.level_m, "level_m"),
                     number(row.inflow_m3s, "inflow_m3s"), number(row.spill_m3s, "spill_m3s")}));
  return json;
}

Json checked_json(const filling::FillProof& proof) {
  return {{"balance_share", number(proof.balance_share, "balance_share")},
          {"flow_m3s", number(proof.flow_m3s, "flow_m3s")},
          {"instants", proof.instants},
          {"bounded", proof.bounded},
          {"consistent", proof.consistent}};
}

Json ask_json(const FillAnswer& answer, std::size_t i) {
  const verdict::AskResult& r = answer.verdict.asks[i];
  Json json{{"at", r.ask.at}, {"asked", figure_json(r.asked)}};
  json["got"] = r.got ? figure_json(*r.got) : Json(nullptr);
  json["met"] = r.judged ? Json(r.met) : Json(nullptr);
  if (!r.judged) json["not_judged"] = r.why_not_judged;
  if (r.judged && r.ask.kind != network::AskKind::full_within)
    json["least_at_s"] = number(answer.verdict.least_at_s[i], "least_at_s");
  return json;
}

Json fill_settings_json(const verdict::FillAnswered& whole) {
  Json all = Json::array();
  for (const verdict::FillRun& run : whole.runs) {
    const verdict::Sentence& said = run.verdict.sentence;
    all.push_back({{"setting", run.setting},
                   {"ruling", word(run.verdict.ruling)},
                   {"answer", units::render(said.text(), said.figures(), units::UnitSystem::si)}});
  }
  return all;
}

/// Joints that draw, open outlets, and boxes that store nothing and may spill.
Json place_json(const filling::PlaceHistory& place) {
  const bool any = !place.series.empty();
  Json json{{"given_m3", number(place.given_m3, "given_m3")},
            {"least_m3s",
             any && std::isfinite(place.least_m3s) ? number(place.least_m3s, "least_m3s") : Json(nullptr)}};
  if (place.kind == network::PlaceKind::joint || place.by_the_hour) {
    json["asked_m3"] = number(place.asked_m3, "asked_m3");
    json["short_from_s"] = number(place.short_from_s, "short_from_s");
  }
  json["series"] = Json::array();
  for (const filling::PlaceRow& row : place.series)
    json["series"].push_back(Json::array(
        {number(row.time_s, "t_s"), number(row.flow_m3s, "flow_m3s"), number(row.total_m3, "total_m3")}));
  return json;
}

}  // namespace

std::string fill_json(const FillAnswer& answer) {
  const auto& history = answer.history;
  const verdict::Sentence& said = answer.whole ? answer.whole->sentence : answer.verdict.sentence;
  Json json;
  json["runnel"] = version();
  json["model"] = answer.system.name();
  json["setting"] = answer.setting;
  if (answer.springs_stopped) json["springs_stopped"] = true;
  json["outcome"] = outcome_word(history.outcome);
  json["answer"] = units::render(said.text(), said.figures(), units::UnitSystem::si);
  json["ruling"] = word(answer.verdict.ruling);
  json["good"] = answer.verdict.good();
  if (answer.whole) json["settings"] = fill_settings_json(*answer.whole);
  if (const std::string end = fill_end_words(history); !end.empty()) json["message"] = end;
  json["duration_s"] = number(history.duration_s, "duration_s");
  json["rest"] = rest_word(history.rest);
  json["tanks"] = Json::object();
  json["boxes"] = Json::object();
  for (const StorageHistory& s : history.storages)
    json[s.kind == network::PlaceKind::tank ? "tanks" : "boxes"][s.name] = storage_json(answer, s);
  json["places"] = Json::object();
  for (const filling::PlaceHistory& place : history.places) json["places"][place.name] = place_json(place);
  json["asks"] = Json::array();
  for (std::size_t i = 0; i < answer.verdict.asks.size(); ++i) json["asks"].push_back(ask_json(answer, i));
  json["events"] = Json::array();
  for (const auto& event : history.events)
    if (!history.storage(event.place)) {
      Json one = event_json(event);
      if (!event.place.empty()) one["place"] = event.place;
      json["events"].push_back(std::move(one));
    }
  json["water_m3"] = {{"springs", number(history.spring_m3, "springs")},
                      {"boxes_spilled", number(history.box_spill_m3, "boxes_spilled")},
                      {"outlets", number(history.outlets_m3, "outlets")},
                      {"joint_draws", number(history.joint_draws_m3, "joint_draws")}};
  json["checked"] = checked_json(history.proof);
  json["findings"] = findings_json(answer.verdict.findings);
  return dumped(json);
}

}  // namespace runnel::report
