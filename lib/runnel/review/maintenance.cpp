#include "runnel/review/maintenance.h"

#include <algorithm>

#include "runnel/network/floats.h"

namespace runnel::review {

namespace {

using network::PartKind;
using network::System;

constexpr const char* trade = "common practice, no source";
constexpr const char* upkeep = "[spring-upkeep; found]";

/// "W1, W2 and W3"; empty for none.
std::string joined(const std::vector<std::string>& names) {
  std::string text;
  for (std::size_t i = 0; i < names.size(); ++i)
    text += (i == 0 ? "" : i + 1 == names.size() ? " and " : ", ") + names[i];
  return text;
}

std::vector<std::string> parts_of(const System& system, PartKind kind) {
  std::vector<std::string> names;
  for (const network::Line& line : system.lines())
    for (const network::FittedPart& part : line.parts)
      if (part.kind == kind) names.push_back(part.name.empty() ? part.type + " on " + line.name : part.name);
  return names;
}

std::vector<std::string> strainers_of(const System& system) {
  std::vector<std::string> names;
  for (const network::Line& line : system.lines())
    for (const network::FittedPart& part : line.parts)
      if (part.type.find("strainer") != std::string::npos || part.type.find("filter") != std::string::npos)
        names.push_back((part.name.empty() ? part.type : part.name) + " on " + line.name);
  for (const network::Collection& works : system.model().collections)
    if (works.strainer > Length{}) names.push_back("the strainer of " + works.box);
  return names;
}

class Sheet {
 public:
  /// `before` the names `after`; nothing where there are none.
  void add(Often often, const std::string& before, const std::vector<std::string>& names,
           const std::string& after, const char* source) {
    if (!names.empty()) tasks_.push_back({often, before + joined(names) + after, source});
  }
  std::vector<Task> take() {
    std::stable_sort(tasks_.begin(), tasks_.end(),
                     [](const Task& a, const Task& b) { return a.often < b.often; });
    return std::move(tasks_);
  }

 private:
  std::vector<Task> tasks_;
};

}  // namespace

std::vector<Task> maintenance_of(const System& system) {
  std::vector<std::string> springs, boxes, tanks, floats;
  for (const network::Box& box : system.boxes()) (box.yield > Flow{} ? springs : boxes).push_back(box.name);
  for (const network::Tank& tank : system.tanks()) {
    if (!tank.held) tanks.push_back(tank.name);
    if (!network::floats_of(system.model(), tank).empty()) floats.push_back(tank.name);
  }
  std::vector<std::string> basins = springs;
  basins.insert(basins.end(), boxes.begin(), boxes.end());
  Sheet sheet;
  sheet.add(Often::each_week, "Clean round ", springs, "; look at overflow, fence and ditch.", upkeep);
  sheet.add(Often::after_each_flood, "Look at the water of ", springs,
            ": if it is cloudy, find where surface water gets in.", upkeep);
  sheet.add(Often::each_month, "Time a bucket at ", springs, " and write it into `log:`.",
            "[meuli-wehrli; secondary]");
  sheet.add(Often::each_month, "Clean ", strainers_of(system), ".", trade);
  sheet.add(Often::each_month, "Work the float of ", floats, ": it must shut tight and open again.", trade);
  sheet.add(Often::twice_a_year, "Open ", parts_of(system, PartKind::washout), " until the water runs clear.",
            trade);
  sheet.add(Often::twice_a_year, "Shut and open ", parts_of(system, PartKind::valve),
            ", so that they do not seize.", trade);
  sheet.add(Often::twice_a_year, "See that ", parts_of(system, PartKind::air_valve),
            " let air pass and do not drip.", trade);
  sheet.add(Often::each_year, "Empty, wash out and disinfect ", basins, "; look at vent and screens.",
            upkeep);
  sheet.add(Often::each_year, "Empty, wash out and disinfect ", tanks, "; look at overflow and inlet.",
            upkeep);
  sheet.add(Often::each_year, "See that ", parts_of(system, PartKind::check_valve), " hold.", trade);
  sheet.add(Often::each_year, "Read the pressure behind ", parts_of(system, PartKind::reducing_valve), ".",
            trade);
  sheet.add(Often::each_year, "Have the water of ", springs,
            " tested for bacteria, and after any work on it.", "[meuli-wehrli; secondary]");
  sheet.add(Often::dry_season, "Time five buckets at ", springs, ": that yield is the one to count on.",
            "[nzdl-handbook; found]");
  return sheet.take();
}

}  // namespace runnel::review
