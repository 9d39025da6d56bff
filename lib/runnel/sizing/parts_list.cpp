#include "runnel/sizing/parts_list.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "runnel/network/course.h"

namespace runnel::sizing {
namespace {

std::optional<double> last_station_m(const network::Pipeline& line) {
  if (line.survey.empty()) return std::nullopt;
  return line.survey.back().station.metres();
}

struct Piece {
  double length_m;
  bool coil;
};

/// How pipe is sold: PE to 63 mm in coils of 25 to 150 m, here 100 m, other pipe in sticks of 3 to 6 m, here
/// 6 m [pipe-trade].
Piece piece_of(const pipes::Pipe& pipe) {
  const bool soft = pipe.material.rfind("PE", 0) == 0 || pipe.material.rfind("HDPE", 0) == 0;
  const double outside_m = std::max(pipe.outside.metres(), pipe.bore.metres());
  return soft && outside_m <= 0.0635 ? Piece{100.0, true} : Piece{6.0, false};
}

PartItem item_of(const PriceList& prices, const std::string& part, const std::string& name,
                 const std::string& line, std::optional<double> station_m, int count) {
  PartItem item{part, name, line, station_m, count, prices.each(part)};
  if (item.cost) item.cost = *item.cost * count;
  return item;
}

/// Slope length of each pipe of a line, one after the other.
std::vector<std::pair<const pipes::Pipe*, double>> lengths_of(const network::Pipeline& line) {
  std::vector<std::pair<const pipes::Pipe*, double>> lengths;
  for (const auto& laid : line.pipes) lengths.push_back({&laid.pipe, 0.0});
  const network::Course course(line.survey, line.parts, line.pipes, line.along);
  for (const auto& point : course.points())
    lengths[static_cast<std::size_t>(point.pipe)].second += point.length_m;
  return lengths;
}

void add_pipes(const network::Model& model, const PriceList& prices, PartsList& list) {
  std::map<std::string, std::pair<const pipes::Pipe*, double>> by_name;
  for (const auto& line : model.pipelines)
    for (const auto& [pipe, length_m] : lengths_of(line)) {
      auto& entry = by_name[pipe->name];
      entry.first = pipe;
      entry.second += length_m;
      list.trench_m += length_m;
    }
  for (const auto& [name, entry] : by_name) {
    const auto& [pipe, length_m] = entry;
    const Piece piece = piece_of(*pipe);
    PipeItem item{name, length_m, piece.length_m, piece.coil, 0, 0.0, {}};
    // Rounding in the survey is no reason to buy another coil.
    item.pieces = static_cast<int>(std::ceil(length_m / piece.length_m - 1e-6));
    item.waste_m = std::max(0.0, item.pieces * piece.length_m - length_m);
    if (!prices.by_weight())
      if (const auto per_m = prices.per_metre(*pipe)) item.cost = *per_m * item.pieces * piece.length_m;
    list.pipes.push_back(std::move(item));
  }
}

void add_parts(const network::Model& model, const PriceList& prices, PartsList& list) {
  for (const auto& line : model.pipelines) {
    std::vector<PartItem> items;
    for (const auto& part : line.parts)
      items.push_back(item_of(prices, part.type, part.name, line.name, part.at.metres(), part.count));
    for (std::size_t p = 1; p < line.pipes.size(); ++p) {
      const auto &before = line.pipes[p - 1].pipe, &after = line.pipes[p].pipe;
      if (before.name != after.name)
        items.push_back(item_of(prices, "reducer", before.name + " to " + after.name, line.name,
                                line.pipes[p].from.metres(), 1));
    }
    const auto* tank = model.tank(line.to);
    if (line.float_valve || (tank && tank->float_valve))
      items.push_back(item_of(prices, "float_valve", line.to, line.name, last_station_m(line), 1));
    std::stable_sort(items.begin(), items.end(),
                     [](const auto& a, const auto& b) { return a.station_m < b.station_m; });
    for (PartItem& item : items) list.parts.push_back(std::move(item));
  }
}

/// Adds couplings between coils or sticks of one pipe, wherever a line is longer than one of them.
void add_couplings(const network::Model& model, const PriceList& prices, PartsList& list) {
  std::map<std::string, int> by_pipe;
  for (const auto& line : model.pipelines)
    for (const auto& [pipe, length_m] : lengths_of(line))
      by_pipe[pipe->name] +=
          std::max(0, static_cast<int>(std::ceil(length_m / piece_of(*pipe).length_m - 1e-6)) - 1);
  for (const auto& [pipe, count] : by_pipe)
    if (count > 0) list.parts.push_back(item_of(prices, "coupling", pipe, "", {}, count));
}

void add_throttles(const network::Model& model, const PriceList& prices, PartsList& list) {
  for (const Throttle& throttle : list.throttles) {
    const auto ends = [&](const auto& line) { return line.to == throttle.outlet; };
    const auto line = std::find_if(model.pipelines.begin(), model.pipelines.end(), ends);
    const bool on_line = line != model.pipelines.end();
    list.parts.push_back(item_of(prices, "throttle", throttle.outlet, on_line ? line->name : "",
                                 on_line ? last_station_m(*line) : std::nullopt, 1));
  }
}

}  // namespace

PartsList parts_list(const network::Model& model, const PriceList& prices,
                     const std::vector<Throttle>& throttles, const std::optional<Trench>& trench) {
  PartsList list;
  add_pipes(model, prices, list);
  add_parts(model, prices, list);
  add_couplings(model, prices, list);
  list.throttles = throttles;
  add_throttles(model, prices, list);
  if (trench) list.trench_m3 = list.trench_m * trench->width.metres() * trench->depth.metres();
  const auto add = [&](const std::optional<double>& cost) {
    if (cost) list.cost = list.cost.value_or(0.0) + *cost;
    list.all_priced = list.all_priced && cost;
  };
  for (const PipeItem& item : list.pipes) add(item.cost);
  for (const PartItem& item : list.parts) add(item.cost);
  return list;
}

}  // namespace runnel::sizing
