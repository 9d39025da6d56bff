#include "runnel/losses/law_table.h"
#include "runnel/network/place_state.h"
#include "runnel/report/json.h"
#include "runnel/report/json_air.h"
#include "runnel/report/json_parts.h"
#include "runnel/report/proof_words.h"
#include "runnel/report/words.h"
#include "runnel/units/print.h"
#include "runnel/verdict/velocity_asks.h"

namespace runnel::report {
namespace {

using network::PlaceKind;

Json friction_json(const losses::FrictionLaw& law) {
  Json json{{"law", word(law.law)}};
  if (losses::law_row(law.law).has_constants) {
    json["k"] = number(law.k, "k");
    json["n"] = number(law.n, "n");
    json["m"] = number(law.m, "m");
  }
  return json;
}

Json site_json(const network::Site& site) {
  Json json;
  json["altitude_m"] = number(site.altitude.metres(), "altitude_m");
  json["air_pressure_pa"] = number(site.air_pressure_pa, "air_pressure_pa");
  json["water_temperature_c"] = number(site.water.temperature_c, "water_temperature_c");
  json["density_kgm3"] = number(site.water.density_kgm3, "density_kgm3");
  json["kinematic_viscosity_m2s"] = number(site.water.kinematic_viscosity_m2s, "kinematic_viscosity_m2s");
  json["vapour_pressure_pa"] = number(site.water.vapour_pressure_pa, "vapour_pressure_pa");
  return json;
}

void box_json(const steady::PlaceState& p, Json& json) {
  json["level_m"] = number(p.level_m, "level_m");
  if (p.top_part_full) json["top_of_line"] = "part-full";
  json["spill_m3s"] = number(p.spill_m3s, "spill_m3s");
  json["inflow_m3s"] = number(p.inflow_m3s, "inflow_m3s");
}

void tank_json(const steady::PlaceState& p, Json& json) {
  json["level_m"] = number(p.level_m, "level_m");
  json["inflow_m3s"] = number(p.inflow_m3s, "inflow_m3s");
  if (p.float_shut) json["float_valve"] = "shut";
}

void heads_json(const steady::PlaceState& p, Json& json) {
  json["grade_m"] = number(p.grade_m, "grade_m");
  json["pressure_head_m"] = number(p.pressure_head_m, "pressure_head_m");
  json["static_head_m"] = number(p.static_head_m, "static_head_m");
}

Json place_json(const steady::PlaceState& p) {
  Json json{{"kind", word(p.kind)}};
  switch (p.kind) {
    case PlaceKind::box:
      box_json(p, json);
      break;
    case PlaceKind::tank:
      tank_json(p, json);
      break;
    case PlaceKind::outlet:
      json["flow_m3s"] = number(p.flow_m3s, "flow_m3s");
      heads_json(p, json);
      break;
    case PlaceKind::joint:
      heads_json(p, json);
      if (p.draw_asked_m3s > 0.0) {
        json["draw_asked_m3s"] = number(p.draw_asked_m3s, "draw_asked_m3s");
        json["draw_given_m3s"] = number(p.draw_given_m3s, "draw_given_m3s");
      }
      break;
  }
  if (p.dry) json["dry"] = true;
  return json;
}

/// How long a store holds out, and what a place gets when the stores are empty.
void lasting_json(const filling::Lasting& lasting, const steady::PlaceState& p, std::size_t index,
                  Json& json) {
  if (const filling::DrawnStore* store = lasting.store(p.name)) {
    json["store_m3"] = number(store->store_m3, "store_m3");
    json["holds_out_s"] = number(store->holds_out_s, "holds_out_s");
    json["lasting_level_m"] = number(store->lasting_m, "lasting_level_m");
  }
  const steady::PlaceState* then = network::in_other_state(lasting.state, p, index);
  if (!then || lasting.state.outcome != steady::Outcome::settled) return;
  if (then->kind != PlaceKind::joint || then->draw_asked_m3s > 0.0)
    json["lasting_m3s"] = number(network::gets_m3s(*then), "lasting_m3s");
}

Json point_json(const steady::LinePoint& p) {
  return {{"station_m", number(p.station_m, "station_m")},
          {"elevation_m", number(p.elevation_m, "elevation_m")},
          {"grade_m", number(p.grade_m, "grade_m")},
          {"pressure_head_m", number(p.pressure_head_m, "pressure_head_m")},
          {"static_head_m", number(p.static_head_m, "static_head_m")}};
}

Json reach_json(const steady::Reach& r, const network::Line* line) {
  Json json{{"from_m", number(r.from_m, "from_m")},
            {"to_m", number(r.to_m, "to_m")},
            {"state", word(r.state)},
            {"velocity_ms", number(r.velocity_ms, "velocity_ms")},
            {"loss_m", number(r.loss_m, "loss_m")}};
  if (r.lost_in_air_m != 0.0) json["lost_in_air_m"] = number(r.lost_in_air_m, "lost_in_air_m");
  if (r.refill_station_m) json["refill_station_m"] = number(*r.refill_station_m, "refill_station_m");
  if (r.normal_depth_m) json["normal_depth_m"] = number(*r.normal_depth_m, "normal_depth_m");
  if (r.part_full_velocity_ms)
    json["part_full_velocity_ms"] = number(*r.part_full_velocity_ms, "part_full_velocity_ms");
  if (r.froude) json["froude"] = number(*r.froude, "froude");
  if (r.near_full) json["near_full"] = true;
  const auto index = static_cast<std::size_t>(r.pipe);
  if (line && r.pipe >= 0 && index < line->pipes.size()) json["pipe"] = line->pipes[index].pipe.name;
  return json;
}

Json line_json(const network::System& system, const steady::LineState& state, const network::Line* line) {
  Json json;
  if (line) {
    json["from"] = system.place_name(line->from);
    json["to"] = system.place_name(line->to);
  }
  json["flow_m3s"] = number(state.flow_m3s, "flow_m3s");
  json["state"] = word(state.condition);
  json["governed_by_station_m"] = number(state.governed_by_station_m, "governed_by_station_m");
  json["capacity_m3s"] = number(state.capacity_m3s, "capacity_m3s");
  if (state.mouth_needs_m) json["mouth_needs_m"] = number(state.mouth_needs_m, "mouth_needs_m");
  if (state.check_valve_shut) json["check_valve"] = "shut";
  if (state.reducing_valve_active) json["reducing_valve"] = "holding";
  json["points"] = Json::array();
  for (const steady::LinePoint& p : state.points) json["points"].push_back(point_json(p));
  json["reaches"] = Json::array();
  for (const steady::Reach& r : state.reaches) json["reaches"].push_back(reach_json(r, line));
  return json;
}

// States keep the system's order; only states made by hand need the look-up by name.
const network::Line* drawn_as(const network::System& system, const steady::LineState& line, std::size_t i) {
  if (i < system.lines().size() && system.lines()[i].name == line.name) return &system.lines()[i];
  return system.line(line.name);
}

// Names are unique already; looking each up again would make large systems quadratic.
void append(Json& object, const std::string& key, Json value) {
  object.get_ref<Json::object_t&>().push_back({key, std::move(value)});
}

/// The bound whose lifting gains most.
Json reason_json(const verdict::Reason& reason) {
  Json json{{"bound", word(reason.bound)}};
  if (!reason.place.empty()) json["place"] = reason.place;
  if (!reason.line.empty()) {
    json["pipeline"] = reason.line;
    json["from_m"] = number(reason.from_m, "from_m");
    json["to_m"] = number(reason.to_m, "to_m");
  }
  if (!reason.part.empty()) json["part"] = reason.part;
  if (!reason.pipe.empty()) json["pipe"] = reason.pipe;
  if (reason.dug_m > 0.0) json["dug_m"] = number(reason.dug_m, "dug_m");
  if (reason.bound == verdict::Bound::spring) json["times"] = reason.times;
  json["with"] = figure_json(reason.with);
  json["cures"] = reason.cures;
  if (!reason.leaves_short.empty()) json["leaves_short"] = reason.leaves_short;
  return json;
}

Json ask_json(const verdict::AskResult& r) {
  Json json{{"at", r.ask.at}, {"asked", figure_json(r.asked)}};
  json["got"] = r.got ? figure_json(*r.got) : Json(nullptr);
  json["met"] = r.judged ? Json(r.met) : Json(nullptr);
  if (r.cut_off) json["cut_off"] = true;
  if (!r.judged)
    json["not_judged"] = r.why_not_judged;
  else if (r.got)
    json["margin"] = figure_json({r.asked.kind, r.margin_si()});
  if (r.could) json["opened_wide"] = figure_json(*r.could);
  if (r.range) json["range"] = {{"bad", figure_json(r.range->bad)}, {"good", figure_json(r.range->good)}};
  if (!r.only_if.empty()) json["only_if"] = r.only_if;
  if (r.reason) json["reason"] = reason_json(*r.reason);
  if (r.met_until_s) json["met_until_s"] = number(*r.met_until_s, "met_until_s");
  if (r.low_water)
    json["at_low_water"] = {{"tank", r.low_water->tank},
                            {"level_m", number(r.low_water->level_m, "level_m")},
                            {"float_open", r.low_water->kind == verdict::LowWaterKind::float_open}};
  if (r.air) {
    if (r.ask.kind == network::AskKind::flow)
      json["at_first_m3s"] = number(r.air->at_first ? r.air->at_first->si : 0.0, "at_first_m3s");
    json["without_air"] = r.air->without ? figure_json(*r.air->without) : Json(nullptr);
    json["held_by_air"] = r.held_by_air();
  }
  return json;
}

Json verdict_json(const verdict::FlowVerdict& v, const verdict::Sentence& said) {
  Json json{{"good", v.good()}};
  json["ruling"] = word(v.ruling);
  json["sentence"] = units::render(said.text(), said.figures(), units::UnitSystem::si);
  json["asks"] = Json::array();
  for (const verdict::AskResult& r : v.asks) json["asks"].push_back(ask_json(r));
  return json;
}

Json velocities_json(const std::vector<verdict::VelocityResult>& results) {
  Json list = Json::array();
  for (const verdict::VelocityResult& r : results)
    list.push_back({{"in", r.line},
                    {"from_m", number(r.station_m, "from_m")},
                    {r.at_most ? "at_most_ms" : "at_least_ms", number(r.asked_ms, "at_most_ms")},
                    {"velocity_ms", number(r.got_ms, "velocity_ms")},
                    {"met", r.met}});
  return list;
}

/// What each setting comes to, with the leading one marked.
Json settings_json(const verdict::Answer& whole) {
  Json list = Json::array();
  for (const verdict::Run& run : whole.runs) {
    const verdict::Sentence& said = run.verdict.sentence;
    list.push_back({{"setting", run.setting},
                    {"good", run.verdict.good()},
                    {"ruling", word(run.verdict.ruling)},
                    {"sentence", units::render(said.text(), said.figures(), units::UnitSystem::si)},
                    {"leads", &run == &whole.leading()}});
  }
  return list;
}

Json checked_json(const steady::Proof& proof) {
  Json json{{"continuity_m3s", number(proof.continuity_m3s, "continuity_m3s")},
            {"energy_m", number(proof.energy_m, "energy_m")},
            {"one_way_m", number(proof.one_way_m, "one_way_m")},
            {"consistent", proof.consistent}};
  json["what"] = proof_words(proof);
  return json;
}

std::string_view why_word(verdict::PrimeLoss why) {
  switch (why) {
    case verdict::PrimeLoss::mouth:
      return "mouth";
    case verdict::PrimeLoss::low_mouth:
      return "mouth at low water";
    case verdict::PrimeLoss::low_column:
      return "column breaks at low water";
    case verdict::PrimeLoss::open_branch:
      return "open branch";
    case verdict::PrimeLoss::air_valve:
      return "air valve";
    case verdict::PrimeLoss::column_breaks:
      return "column breaks";
  }
  return "";
}

/// Siphons that lose their water: why, where, and what runs with it and without.
Json siphons_json(const FlowAnswer& answer) {
  Json list = Json::array();
  const verdict::AfterSiphons& after = *answer.verdict.after_siphons;
  for (const verdict::BrokenSiphon& siphon : after.broken) {
    const auto line = static_cast<std::size_t>(siphon.line);
    Json json{{"pipeline", answer.system.lines()[line].name},
              {"why", why_word(siphon.why)},
              {"station_m", number(siphon.station_m, "station_m")},
              {"primed_m3s", number(answer.state.lines[line].flow_m3s, "primed_m3s")},
              {"open_m3s", number(after.state.lines[line].flow_m3s, "open_m3s")}};
    if (!siphon.by.empty()) json["by"] = siphon.by;
    list.push_back(std::move(json));
  }
  return list;
}

}  // namespace

std::string flow_json(const FlowAnswer& answer) {
  Json json;
  json["runnel"] = version();
  json["model"] = answer.system.name();
  json["setting"] = answer.setting;
  json["outcome"] = word(answer.state.outcome);
  json["verdict"] =
      verdict_json(answer.verdict, answer.whole ? answer.whole->sentence : answer.verdict.sentence);
  if (answer.whole) json["settings"] = settings_json(*answer.whole);
  json["friction"] = friction_json(answer.system.friction());
  json["site"] = site_json(answer.system.site());
  // A solution that did not settle or did not pass its check is no answer, so its numbers are left out.
  if (verdict::has_figures(answer.verdict.ruling)) {
    if (!answer.system.model().velocity_asks.empty())
      json["velocities"] = velocities_json(verdict::judge_velocities(answer.system, answer.state));
    Json places_json = Json::object(), lines = Json::object();
    std::map<std::string, Json> air;
    if (answer.verdict.air) air = air_by_line(answer.system, *answer.verdict.air);
    for (const auto* places : network::kinds_of(answer.state))
      for (std::size_t i = 0; i < places->size(); ++i) {
        const steady::PlaceState& p = (*places)[i];
        Json place = place_json(p);
        if (answer.verdict.lasting) lasting_json(*answer.verdict.lasting, p, i, place);
        append(places_json, p.name, std::move(place));
      }
    for (std::size_t i = 0; i < answer.state.lines.size(); ++i) {
      const steady::LineState& line = answer.state.lines[i];
      Json run = line_json(answer.system, line, drawn_as(answer.system, line, i));
      if (const auto at = air.find(line.name); at != air.end()) run["air"] = at->second;
      append(lines, line.name, std::move(run));
    }
    json["places"] = std::move(places_json);
    json["pipelines"] = std::move(lines);
    if (answer.verdict.air) {
      json["starts"] = starts_json(*answer.verdict.air);
      json["crests"] = crests_json(*answer.verdict.air);
    }
    if (answer.verdict.after_siphons) json["siphons"] = siphons_json(answer);
    json["checked"] = checked_json(answer.state.proof);
  }
  json["findings"] = findings_json(answer.verdict.findings);
  return dumped(json);
}

std::string answer_json(const verdict::Answer& answer) {
  const verdict::Run& run = answer.leading();
  return flow_json({run.system, run.state, run.verdict, run.setting, &answer});
}

}  // namespace runnel::report
