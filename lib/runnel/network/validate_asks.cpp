// Asks and claims: of places that are there, of things they can have.
#include <algorithm>
#include <unordered_map>

#include "runnel/network/complaints.h"

namespace runnel::network {

namespace {

using Kinds = std::unordered_map<std::string, PlaceKind>;

Kinds kinds_of(const Model& system) {
  Kinds kinds;
  for (const Box& b : system.boxes) kinds.emplace(b.name, PlaceKind::box);
  for (const Tank& t : system.tanks) kinds.emplace(t.name, PlaceKind::tank);
  for (const Outlet& o : system.outlets) kinds.emplace(o.name, PlaceKind::outlet);
  for (const Joint& j : system.joints) kinds.emplace(j.name, PlaceKind::joint);
  return kinds;
}

class Wishes {
 public:
  Wishes(const Model& system, Complaints& complaints) : complaints_(complaints), kinds_(kinds_of(system)) {
    for (const auto& [name, kind] : kinds_) names_.push_back(name);
    std::sort(names_.begin(), names_.end());  // so that hints do not depend on the hash
  }

  std::optional<PlaceKind> place(const std::string& name, const Mark& mark) {
    const auto at = kinds_.find(name);
    if (at != kinds_.end()) return at->second;
    if (!name.empty())
      complaints_.error("no-such-place", mark, "at", "there is no place named " + quoted(name), {},
                        complaints_.suggest(name, names_));
    return std::nullopt;
  }

  void pressure_at(PlaceKind kind, const std::string& name, Pressure pressure, const Mark& mark) {
    if (kind == PlaceKind::box || kind == PlaceKind::tank)
      complaints_.error("no-pressure-there", mark, "pressure",
                        "there is no pressure at " + quoted(name) + ": its water stands open to the air", {},
                        "ask for a flow there, or for a pressure at an outlet or a joint");
    complaints_.not_negative(mark, "pressure", {Kind::pressure, pressure.pascals()},
                             "the pressure at " + quoted(name));
  }

  void check(const Ask& ask) {
    const auto kind = place(ask.at, ask.mark);
    if (!kind || !complaints_.whole(ask.mark)) return;
    const std::string at = " asked for at " + quoted(ask.at);
    switch (ask.kind) {
      case AskKind::flow:
        complaints_.positive(ask.mark, "flow", {Kind::flow, ask.flow.cubic_metres_per_second()},
                             "the flow" + at);
        break;
      case AskKind::pressure:
        pressure_at(*kind, ask.at, ask.pressure, ask.mark);
        break;
      case AskKind::full_within:
        complaints_.positive(ask.mark, "full_within", {Kind::duration, ask.within.seconds()},
                             "the time" + at);
        if (*kind != PlaceKind::tank)
          complaints_.error("not-a-tank", ask.mark, "full_within",
                            "only a tank can be full within a time, and " + quoted(ask.at) + " is none");
        break;
    }
  }

  void check(const Claim& claim) {
    const auto kind = place(claim.at, claim.mark);
    if (!kind || !complaints_.whole(claim.mark)) return;
    if (claim.flow)
      complaints_.not_negative(claim.mark, "flow", {Kind::flow, claim.flow->cubic_metres_per_second()},
                               "the flow claimed at " + quoted(claim.at));
    if (claim.pressure) pressure_at(*kind, claim.at, *claim.pressure, claim.mark);
  }

 private:
  Complaints& complaints_;
  Kinds kinds_;
  std::vector<std::string> names_;
};

}  // namespace

void validate_asks(const Model& system, Complaints& complaints) {
  Wishes wishes(system, complaints);
  for (const Ask& ask : system.asks) wishes.check(ask);
  for (const Claim& claim : system.claims) wishes.check(claim);
}

}  // namespace runnel::network
