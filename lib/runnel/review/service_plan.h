#pragma once
// How each part that wears is taken out: which valves to shut, who is without water meanwhile, who is still
// served past it, and what drains where.
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/network/system.h"

namespace runnel::review {

enum class ServedKind { union_, valve, tank, box };

/// A place that gets water while the part is out.
struct StillServed {
  std::string place;
  double flow_m3s = 0.0, as_drawn_m3s = 0.0;
};

struct ServiceItem {
  ServedKind kind = ServedKind::union_;
  std::string name;
  Where where;
  bool possible = false;
  std::string fed_by;               ///< not possible: the water that no valve holds back
  std::vector<std::string> shut;    ///< valves, in the order of the model
  std::vector<std::string> opened;  ///< valves that are shut as drawn and lead water round it
  bool solved = false;              ///< false: who gets water meanwhile could not be worked out
  std::vector<std::string> without;
  std::vector<StillServed> served;  ///< those that get water as drawn, and still do
  double drains_m3 = 0.0;           ///< of the pipes between the valves, as far as they lie above the exit
  std::string drains_to;            ///< a washout or a tap; empty: it runs out at the part itself
};

struct ServicePlan {
  std::vector<ServiceItem> items;  ///< boxes, tanks, then valves and unions line by line
  std::vector<Finding> findings;
  std::size_t left_out = 0;  ///< of systems with very many parts only the first are planned
};

ServicePlan plan_service(const network::System& system);

}  // namespace runnel::review
