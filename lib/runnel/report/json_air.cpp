// Starting from empty.
#include "runnel/report/json_air.h"

#include <map>

namespace runnel::report {
namespace {

using verdict::AirAnswer;
using verdict::PathAir;

const char* json_word(air::StartReason reason) {
  switch (reason) {
    case air::StartReason::none:
      return "none";
    case air::StartReason::compression_needed:
      return "compression-needed";
    case air::StartReason::air:
      return "air";
    case air::StartReason::crest_above_source:
      return "crest-above-source";
    case air::StartReason::end_above_source:
      return "end-above-source";
  }
  return "";
}

Json pocket_json(const PathAir& way, const air::Pocket& p) {
  return {{"pipeline", verdict::line_of(way.profile, p.crest)},
          {"station_m", number(verdict::station_of(way.profile, p.crest), "station_m")},
          {"crest_elevation_m", number(p.crest_elevation_m, "crest_elevation_m")},
          {"low_elevation_m", number(p.low_elevation_m, "low_elevation_m")},
          {"vented", p.vented},
          {"gauge_head_m", number(p.gauge_head_m, "gauge_head_m")},
          {"interface_m", number(p.interface_m, "interface_m")}};
}

/// Why there is no time, or what the time assumes.
std::string first_water_note(const PathAir& way) {
  if (way.start.verdict == air::StartVerdict::blocked) return "none: it does not start";
  if (way.nothing_comes) return "none: nothing comes out there";
  if (!way.first_water) return "none: no yield is known above it";
  return "all that the spring yields goes this way into a dry line below a full box, or what the wet part of "
         "the line can carry to the front where that is less; first_water_s: the whole bore up to there is "
         "filled; first_water_soonest_s: only the water "
         "left standing behind the front is, or no sooner than water runs that far";
}

/// The first water at the end of pipeline number `line` of the way.
void add_first_water(const PathAir& way, std::size_t line, Json& json) {
  const bool known = way.first_water && line < way.first_water->ends.size();
  const air::FirstWater* at = known ? &way.first_water->ends[line] : nullptr;
  json["first_water_s"] = at ? number(at->full_bore_s, "first_water_s") : Json(nullptr);
  json["first_water_soonest_s"] = at ? number(at->earliest_s, "first_water_soonest_s") : Json(nullptr);
  if (at) {
    json["first_water_bore_m3"] = number(at->full_bore_volume_m3, "first_water_bore_m3");
    json["first_water_rate_m3s"] = number(way.first_water->rate_m3s, "first_water_rate_m3s");
    json["first_water_line_limits"] = way.first_water->line_limits;
  }
  json["first_water_note"] = first_water_note(way);
}

Json start_json(const PathAir& way) {
  Json json{{"starts", way.start.verdict != air::StartVerdict::blocked},
            {"verdict", start_word(way.start.verdict)},
            {"reason", json_word(way.start.reason)},
            {"harder_filling", way.start.under_water ? "outlet-under-water" : "dry"},
            {"source_level_m", number(way.path.source_level_m, "source_level_m")},
            {"needed_level_m", number(way.start.required_level_m, "needed_level_m")},
            {"needed_uncompressed_m", number(way.start.uncompressed_level_m, "needed_uncompressed_m")}};
  json["pockets"] = Json::array();
  for (const air::Pocket& p : way.start.pockets) json["pockets"].push_back(pocket_json(way, p));
  return json;
}

Json remedies_json(const PathAir& way) {
  Json json = Json::object();
  if (way.best_vent)
    json["best_vent"] = {
        {"pipeline", verdict::line_of(way.profile, way.best_vent->crest)},
        {"station_m", number(verdict::station_of(way.profile, way.best_vent->crest), "station_m")},
        {"gain_m", number(way.best_vent->gain_m, "gain_m")}};
  if (way.vents) {
    json["vents"] = Json::array();
    for (int crest : way.vents->crests)
      json["vents"].push_back({{"pipeline", verdict::line_of(way.profile, crest)},
                               {"station_m", number(verdict::station_of(way.profile, crest), "station_m")}});
  }
  if (way.dig)
    json["dig"] = {{"pipeline", verdict::line_of(way.profile, way.dig->crest)},
                   {"station_m", number(verdict::station_of(way.profile, way.dig->crest), "station_m")},
                   {"depth_m", number(way.dig->depth_m, "depth_m")}};
  return json;
}

}  // namespace

const char* start_word(air::StartVerdict verdict) {
  switch (verdict) {
    case air::StartVerdict::starts:
      return "starts";
    case air::StartVerdict::doubtful:
      return "doubtful";
    case air::StartVerdict::blocked:
      return "blocked";
  }
  return "";
}

namespace {

const char* json_word(verdict::OpeningOrder order) {
  switch (order) {
    case verdict::OpeningOrder::any:
      return "any";
    case verdict::OpeningOrder::branch_first:
      return "branch-first";
    case verdict::OpeningOrder::perhaps_branch_first:
      return "perhaps-branch-first";
    case verdict::OpeningOrder::none:
      return "none";
  }
  return "";
}

/// The branches of one way, each started while the rest runs.
Json branches_json(const AirAnswer& answer, std::size_t path) {
  Json list = Json::array();
  for (const verdict::BranchAnswer& branch : answer.branches) {
    if (branch.path != path) continue;
    list.push_back({{"pipeline", branch.pipeline},
                    {"tee", branch.tee},
                    {"needed_level_m", number(branch.needed_m, "needed_level_m")},
                    {"level_running_m", number(branch.running_m, "level_running_m")},
                    {"starts", branch.order == verdict::OpeningOrder::any},
                    {"order", json_word(branch.order)}});
    if (branch.order != verdict::OpeningOrder::any)
      list.back()["opened_first_m3s"] = number(branch.opened_first_m3s, "opened_first_m3s");
  }
  return list;
}

}  // namespace

Json starts_json(const AirAnswer& answer) {
  Json list = Json::array();
  for (const PathAir& way : answer.paths) {
    Json json{{"from", way.path.source}, {"to", way.path.end}};
    json["pipelines"] = way.profile.pipelines;
    json.update(start_json(way));
    add_first_water(way, way.profile.pipelines.size() - 1, json);
    if (const Json remedies = remedies_json(way); !remedies.empty()) json["remedies"] = remedies;
    if (Json branches = branches_json(answer, list.size()); !branches.empty())
      json["against_running"] = std::move(branches);
    list.push_back(std::move(json));
  }
  return list;
}

std::map<std::string, Json> air_by_line(const network::System& system, const AirAnswer& answer) {
  struct Held {
    const PathAir* way = nullptr;
    std::size_t line = 0;  // its place on that way
  };
  std::map<std::string, Held> worst;
  for (const PathAir& way : answer.paths)
    for (std::size_t i = 0; i < way.profile.pipelines.size(); ++i) {
      Held& held = worst[way.profile.pipelines[i]];
      if (!held.way || way.start.margin_m < held.way->start.margin_m) held = {&way, i};
    }
  std::map<std::string, Json> lines;
  for (const auto& [line, held] : worst) {
    lines[line] = start_json(*held.way);
    add_first_water(*held.way, held.line, lines[line]);
  }
  for (const air::LineAir& line : answer.lines) lines[line.pipeline].update(line_air_json(line));
  if (answer.at_first)
    for (std::size_t l = 0; l < system.lines().size(); ++l)
      lines[system.lines()[l].name]["at_first"] = at_first_json(*answer.at_first, l);
  return lines;
}

}  // namespace runnel::report
