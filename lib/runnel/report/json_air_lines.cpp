// Crests with what was tried, and the air of each line, as JSON.
#include "runnel/report/json_air.h"
#include "runnel/verdict/air_words.h"

namespace runnel::report {
namespace {

const char* json_word(air::Risk risk) {
  return risk == air::Risk::high ? "high" : risk == air::Risk::moderate ? "moderate" : "low";
}

const char* json_word(air::Swept swept) {
  return swept == air::Swept::by_all ? "all" : swept == air::Swept::by_some ? "some" : "none";
}

const char* json_word(air::RiskKind kind) {
  switch (kind) {
    case air::RiskKind::near_grade:
      return "near-grade";
    case air::RiskKind::part_full:
      return "part-full";
    case air::RiskKind::sub_atmospheric:
      return "sub-atmospheric";
    case air::RiskKind::uncertain_grade:
      return "uncertain-grade";
  }
  return "";
}

const char* json_word(air::DigGoal goal) {
  switch (goal) {
    case air::DigGoal::water_starts:
      return "water-starts";
    case air::DigGoal::asks_met:
      return "asks-met";
    case air::DigGoal::grade_line_clear:
      return "grade-line-clear";
  }
  return "";
}

Json sweep_json(const air::SweepResult& sweep, double velocity_ms) {
  Json json{{"velocity_ms", number(velocity_ms, "velocity_ms")},
            {"least_clearing_ms", number(sweep.least_ms, "least_clearing_ms")},
            {"most_clearing_ms", number(sweep.most_ms, "most_clearing_ms")},
            {"swept_by", json_word(sweep.swept)},
            {"screening_only", sweep.screening}};
  json["laws"] = Json::array();
  for (const air::LawVelocity& law : sweep.laws)
    json["laws"].push_back({{"law", std::string(air::card(law.law).name)},
                            {"velocity_ms", number(law.velocity_ms, "velocity_ms")},
                            {"in_range", law.in_range}});
  return json;
}

Json running_json(const air::Running& running) {
  return {{"flow_m3s", number(running.flow_m3s, "flow_m3s")},
          {"clearance_m", number(running.clearance_m, "clearance_m")},
          {"missing_m3s", number(running.missing_m3s, "missing_m3s")}};
}

Json vent_json(const air::CrestRemedies& remedies) {
  const air::TriedVent& vent = *remedies.vent;
  Json json{{"gain_m", number(vent.gain_m, "gain_m")},
            {"gain_uncompressed_m", number(vent.uncompressed_gain_m, "gain_uncompressed_m")},
            {"gains_most", remedies.vent_gains_most},
            {"start", start_word(vent.start_after.verdict)}};
  json.update(running_json(vent.after));
  return json;
}

Json dig_json(const air::TriedDig& dig) {
  Json json{{"goal", json_word(dig.goal)},
            {"depth_m", number(dig.depth_m, "depth_m")},
            {"from_m", number(dig.trench.from_m, "from_m")},
            {"to_m", number(dig.trench.to_m, "to_m")},
            {"start", start_word(dig.start_after.verdict)}};
  json.update(running_json(dig.after));
  return json;
}

Json tried_json(const air::CrestRemedies& remedies) {
  Json json{{"before", running_json(remedies.before)}};
  if (remedies.vent) json["air_valve"] = vent_json(remedies);
  json["trenches"] = Json::array();
  for (const air::TriedDig& dig : remedies.digs) json["trenches"].push_back(dig_json(dig));
  if (const auto& bore = remedies.bore) {
    json["narrower_pipe"] = {{"pipe", bore->pipe.name},
                             {"from_m", number(bore->stretch.from_m, "from_m")},
                             {"to_m", number(bore->stretch.to_m, "to_m")}};
    json["narrower_pipe"].update(sweep_json(bore->sweep, bore->velocity_ms));
    json["narrower_pipe"].update(running_json(bore->after));
  }
  return json;
}

Json crest_json(const air::JudgedCrest& judged) {
  const air::Crest& crest = judged.crest;
  Json json{{"pipeline", crest.pipeline},
            {"station_m", number(crest.station_m, "station_m")},
            {"elevation_m", number(crest.elevation_m, "elevation_m")},
            {"risk", json_word(crest.graded.risk)},
            {"reason", std::string(verdict::words(crest.graded.reason))},
            {"vented", crest.vented},
            {"clearance_m", number(crest.clearance_m, "clearance_m")},
            {"wanted_clearance_m", number(crest.wanted_clearance_m, "wanted_clearance_m")}};
  if (crest.hardest)
    json["clearing_velocity_ms"] = {number(crest.hardest->sweep.least_ms, "clearing_velocity_ms"),
                                    number(crest.hardest->sweep.most_ms, "clearing_velocity_ms")};
  if (judged.remedies) json["tried"] = tried_json(*judged.remedies);
  return json;
}

Json stretch_json(const air::RiskPoint& point) {
  return {{"kind", json_word(point.kind)},
          {"from_m", number(point.from_m, "from_m")},
          {"to_m", number(point.to_m, "to_m")},
          {"worst_m", number(point.worst_m, "worst_m")},
          {"clearance_m", number(point.clearance_m, "clearance_m")},
          {"limit_m", number(point.limit_m, "limit_m")},
          {"level_rise_m", number(point.level_rise_m, "level_rise_m")},
          {"risk", json_word(point.risk)},
          {"reason", std::string(verdict::words(point.reason))}};
}

Json descent_json(const air::ReachSweep& reach) {
  Json json{{"from_m", number(reach.from_m, "from_m")}, {"to_m", number(reach.to_m, "to_m")},
            {"fall_m", number(reach.fall_m, "fall_m")}, {"below_crest", reach.below_crest},
            {"near_grade", reach.near_grade},           {"runs_full", reach.runs_full}};
  json.update(sweep_json(reach.sweep, reach.velocity_ms));
  return json;
}

Json jump_json(const air::Jump& jump) {
  return {{"station_m", number(jump.station_m, "station_m")},
          {"froude", number(jump.froude, "froude")},
          {"depth_m", number(jump.depth_m, "depth_m")},
          {"fills_pipe", jump.fills_pipe},
          {"air_share", number(jump.air_share, "air_share")}};
}

Json washout_json(const air::WashoutAdvice& washout) {
  return {{"station_m", number(washout.station_m, "station_m")},
          {"elevation_m", number(washout.elevation_m, "elevation_m")},
          {"drains_length_m", number(washout.drains_length_m, "drains_length_m")},
          {"drains_m3", number(washout.drains_m3, "drains_m3")}};
}

template <class Things, class Writer>
Json list(const Things& things, Writer&& writer) {
  Json all = Json::array();
  for (const auto& thing : things) all.push_back(writer(thing));
  return all;
}

}  // namespace

Json crests_json(const verdict::AirAnswer& answer) {
  Json all = Json::array();
  for (const air::LineAir& line : answer.lines)
    for (const air::JudgedCrest& crest : line.crests) all.push_back(crest_json(crest));
  return all;
}

Json line_air_json(const air::LineAir& line) {
  Json json{{"wanted_clearance_m", number(line.wanted_clearance_m, "wanted_clearance_m")},
            {"wanted_clearance_stated", line.clearance_stated}};
  json["crests_m"] =
      list(line.crests, [](const air::JudgedCrest& c) { return number(c.crest.station_m, "crests_m"); });
  json["stretches"] = list(line.stretches, stretch_json);
  json["descents"] = list(line.descents, descent_json);
  json["jumps"] = list(line.jumps, jump_json);
  json["washouts_missing"] = list(line.washouts, washout_json);
  return json;
}

}  // namespace runnel::report
