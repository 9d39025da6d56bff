#include <fmt/format.h>

#include <algorithm>

#include "runnel/report/csv.h"
#include "runnel/report/json_parts.h"
#include "runnel/report/size.h"

namespace runnel::report {
namespace {

using sizing::SizeOutcome;

const char* word_of(SizeOutcome outcome) {
  switch (outcome) {
    case SizeOutcome::chosen:
      return "chosen";
    case SizeOutcome::out_of_reach:
      return "out of reach";
    case SizeOutcome::none_does:
      break;
  }
  return "none does";
}

Json lines_json(const sizing::SizeAnswer& answer, Json& choice) {
  Json lines = Json::object();
  for (const auto& line : answer.lines) {
    choice[line.line] = Json::array({line.pipe});
    lines[line.line] = {{"length_m", number(line.length_m, "length_m")},
                        {"design_flow_m3s", number(line.flow_m3s, "design_flow_m3s")},
                        {"cost_per_m", number(line.per_metre, "cost_per_m")},
                        {"cost", number(line.cost, "cost")}};
  }
  return lines;
}

Json throttles_json(const std::vector<sizing::Throttle>& throttles) {
  Json json = Json::object();
  for (const auto& throttle : throttles)
    json[throttle.outlet] = {{"loss", number(throttle.loss, "loss")},
                             {"opening_m", number(throttle.opening_m, "opening_m")},
                             {"orifice_m", number(throttle.orifice_m, "orifice_m")}};
  return json;
}

/// The hole in the plate of a throttle; null for any other part.
Json hole_m(const sizing::PartsList& list, const sizing::PartItem& item) {
  for (const auto& throttle : list.throttles)
    if (item.part == "throttle" && item.name == throttle.outlet) return number(throttle.orifice_m, "hole_m");
  return nullptr;
}

Json parts_json(const sizing::PartsList& list) {
  Json pipes = Json::array(), parts = Json::array();
  for (const auto& item : list.pipes)
    pipes.push_back({{"pipe", item.pipe},
                     {"length_m", number(item.length_m, "length_m")},
                     {"pieces", item.pieces},
                     {"piece", item.coils ? "coil" : "stick"},
                     {"piece_m", number(item.piece_m, "piece_m")},
                     {"waste_m", number(item.waste_m, "waste_m")},
                     {"cost", number(item.cost, "cost")}});
  for (const auto& item : list.parts)
    parts.push_back({{"part", item.part},
                     {"name", item.name},
                     {"hole_m", hole_m(list, item)},
                     {"count", item.count},
                     {"pipeline", item.line},
                     {"station_m", number(item.station_m, "station_m")},
                     {"cost", number(item.cost, "cost")}});
  return {{"pipes", pipes},
          {"parts", parts},
          {"trench_m", number(list.trench_m, "trench_m")},
          {"trench_m3", number(list.trench_m3, "trench_m3")},
          {"cost", number(list.cost, "cost")},
          {"all_priced", list.all_priced}};
}

Json sureness_json(const sizing::Sureness& sure, const network::Model& model) {
  Json places = Json::object(), next = Json::array();
  for (const auto& place : sure.places) {
    if (!place.sampled()) {
      places[place.chance.place] = {{"sampled", false}};
      continue;
    }
    places[place.chance.place] = {{"chance", number(place.chance.chance, "chance")},
                                  {"standard_error", number(place.chance.error, "standard_error")},
                                  {"margin_m", number(place.chance.margin_m, "margin_m")},
                                  {"spread_m", number(place.chance.spread_m, "spread_m")},
                                  {"bad_corner_m", number(place.bad_margin_m, "bad_corner_m")},
                                  {"good_corner_m", number(place.good_margin_m, "good_corner_m")},
                                  {"certain_within_what_was_stated", place.certain()},
                                  {"flow_low_m3s", number(place.low_m3s, "flow_low_m3s")},
                                  {"flow_high_m3s", number(place.high_m3s, "flow_high_m3s")}};
  }
  constexpr const char* kinds[] = {"survey", "bore", "roughness", "yield"};
  for (const auto& measurement : sure.next) {
    const auto& unknown = measurement.influence.unknown;
    const bool box = unknown.kind == sizing::Unknown::Kind::yield;
    Json one{{"what", kinds[static_cast<int>(unknown.kind)]},
             {box ? "box" : "pipeline",
              box ? model.boxes[unknown.index].name : model.pipelines[unknown.index].name},
             {"share", number(measurement.influence.share, "share")}};
    if (measurement.point.line >= 0) one["station_m"] = number(measurement.point.station_m, "station_m");
    next.push_back(std::move(one));
  }
  return {{"samples", sure.samples},
          {"seed", sure.seed},
          {"places", places},
          {"measure_next", next},
          {"time_is_not_sampled", sure.full_within},
          {"velocity_is_not_sampled", sure.velocity}};
}

}  // namespace

std::string size_json(const SizeReport& report) {
  const auto& answer = report.answer;
  Json choice = Json::object();
  const Json lines = lines_json(answer, choice);
  const bool chosen = answer.outcome == SizeOutcome::chosen;
  Json json{{"runnel", RUNNEL_VERSION}, {"model", report.model.name}, {"outcome", word_of(answer.outcome)}};
  json["choice"] = chosen ? choice : Json(nullptr);
  json["cost"] = chosen ? number(answer.cost, "cost") : Json(nullptr);
  json["cost_is"] = answer.by_weight ? "weight of the pipe in kg" : "price";
  json["proved"] = answer.proved;
  json["bound"] = number(answer.bound, "bound");
  json["gap"] =
      chosen ? number((answer.cost - answer.bound) / std::max(answer.cost, 1e-300), "gap") : Json(nullptr);
  json["stopped"] = answer.stopped;
  json["tried"] = answer.tried;
  json["passed_over"] = answer.passed_over;
  json["solved"] = answer.solved;
  json["cheaper_ones_fail"] = answer.failed;
  json["without_price"] = answer.tree.unpriced;
  const auto& says = answer.trial.sentence;
  json["flow_says"] =
      says.empty() ? Json(nullptr) : Json(units::render(says.text(), says.figures(), units::UnitSystem::si));
  const auto& condition = answer.trial.condition;
  json["condition"] = condition.empty()
                          ? Json(nullptr)
                          : Json(units::render(condition.text(), condition.figures(), units::UnitSystem::si));
  if (chosen) {
    json["pipelines"] = lines;
    json["throttles"] = throttles_json(answer.trial.throttles);
  }
  if (report.split) {
    Json pieces = Json::array();
    for (const auto& piece : report.split->pieces)
      pieces.push_back({{"pipeline", piece.line},
                        {"pipe", piece.pipe},
                        {"from_m", number(piece.from_m, "from_m")},
                        {"length_m", number(piece.length_m, "length_m")},
                        {"cost", number(piece.cost, "cost")}});
    json["split"] = {{"cost", number(report.split->cost, "cost")},
                     {"bound", number(report.split->bound, "bound")},
                     {"pieces", pieces},
                     {"throttles", throttles_json(report.split->trial.throttles)}};
  }
  if (report.sureness) json["sureness"] = sureness_json(*report.sureness, report.model);
  json["shortfalls"] = Json::object();
  for (const auto& shortfall : answer.shortfalls)
    json["shortfalls"][shortfall.place] = {
        {"short_m", number(shortfall.short_m, "short_m")},
        {"by_a_crest", shortfall.crest},
        {"flow_instead_m3s", number(shortfall.flow_m3s, "flow_instead_m3s")},
        {"with_second_line_m", number(shortfall.second_line_m, "second")}};
  json["findings"] = findings_json(answer.remarks);
  json["frontier"] = Json::array();
  for (const auto& row : report.frontier)
    json["frontier"].push_back({{"flow_m3s", number(row.flow_m3s, "flow_m3s")},
                                {"share", number(row.share, "share")},
                                {"cost", number(row.cost, "cost")},
                                {"does", row.fails.empty()},
                                {"fails", row.fails},
                                {"fails_at", row.fails_at},
                                {"present", row.present},
                                {"chosen", row.chosen}});
  if (report.parts) json["parts"] = parts_json(*report.parts);
  return dumped(json);
}

namespace {

/// A throttle is bought by the hole of its plate.
std::string part_words(const sizing::PartsList& list, const sizing::PartItem& item) {
  for (const auto& throttle : list.throttles)
    if (item.part == "throttle" && item.name == throttle.outlet)
      return fmt::format("throttle with a hole of {:.2f} mm", 1e3 * throttle.orifice_m);
  return item.part;
}

}  // namespace

std::string parts_csv(const sizing::PartsList& list) {
  std::string text = "what,name,pipeline,station_m,count,length_m,waste_m,cost\n";
  const auto cost_of = [](const std::optional<double>& cost) {
    return cost ? fmt::format("{:.2f}", *cost) : "";
  };
  for (const auto& item : list.pipes)
    text += fmt::format("{},{} of {} m,,,{},{:.2f},{:.2f},{}\n", csv_cell(item.pipe),
                        item.coils ? "coil" : "stick", item.piece_m, item.pieces, item.length_m, item.waste_m,
                        cost_of(item.cost));
  for (const auto& item : list.parts)
    text += fmt::format("{},{},{},{},{},,,{}\n", csv_cell(part_words(list, item)), csv_cell(item.name),
                        csv_cell(item.line), item.station_m ? fmt::format("{:.2f}", *item.station_m) : "",
                        item.count, cost_of(item.cost));
  const std::string dug = list.trench_m3 ? fmt::format("{:.2f} m3 to dig", *list.trench_m3) : "";
  text += fmt::format("trench,{},,,1,{:.2f},,\n", dug, list.trench_m);
  return text + fmt::format("together,{},,,,,,{}\n", list.all_priced ? "" : "without what has no price",
                            cost_of(list.cost));
}

}  // namespace runnel::report
