// What runs with the air of the start still in the lines, as JSON.
#include "runnel/report/json_air.h"

namespace runnel::report {
namespace {

Json running_air_json(const air::RunningAir& air) {
  return {{"station_m", number(air.held.crest_station_m, "station_m")},
          {"crest_elevation_m", number(air.held.crest_elevation_m, "crest_elevation_m")},
          {"interface_m", number(air.interface_m, "interface_m")},
          {"volume_m3", number(air.volume_m3, "volume_m3")},
          {"gauge_head_m", number(air.gauge_head_m, "gauge_head_m")},
          {"head_taken_m", number(air.head_taken_m, "head_taken_m")}};
}

Json pockets_json(const air::AirState& state, std::size_t line) {
  Json list = Json::array();
  for (const air::RunningAir& air : state.air)
    if (air.held.line == line) list.push_back(running_air_json(air));
  return list;
}

}  // namespace

Json at_first_json(const air::AtFirst& at_first, std::size_t line) {
  const air::AirRun& run = at_first.first().runs[line];
  Json json{
      {"flow_m3s", number(run.flow_m3s, "flow_m3s")},
      {"velocity_ms", number(run.velocity_ms, "velocity_ms")},
      {"flow_uncompressed_m3s", number(at_first.uncompressed.runs[line].flow_m3s, "flow_uncompressed_m3s")},
      {"pockets", pockets_json(at_first.first(), line)}};
  json["ends"] = Json::array();
  for (const air::LawEnd& end : at_first.laws) {
    const air::AirState& state = at_first.states[end.state];
    json["ends"].push_back({{"law", std::string(air::card(end.law).name)},
                            {"in_range", end.in_range},
                            {"flow_m3s", number(state.runs[line].flow_m3s, "flow_m3s")},
                            {"pockets_left", pockets_json(state, line).size()}});
  }
  const air::AirProof& proof = at_first.first().proof;
  json["checked"] = {{"continuity_m3s", number(proof.continuity_m3s, "continuity_m3s")},
                     {"energy_m", number(proof.energy_m, "energy_m")},
                     {"air_pressure_m", number(proof.boyle_m, "air_pressure_m")},
                     {"consistent", proof.consistent}};
  return json;
}

}  // namespace runnel::report
