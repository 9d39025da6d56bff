// Needs and claims: at places that exist, of quantities they can have.
#include <algorithm>

#include "runnel/network/complaints.h"
#include "runnel/network/place_state.h"

namespace runnel::network {

namespace {

class Wishes {
 public:
  Wishes(const NameIndex& index, Complaints& complaints) : index_(index), complaints_(complaints) {}

  std::optional<PlaceKind> place(const std::string& name, const Mark& mark) {
    if (const PlaceView* place = index_.place(name)) return place->kind;
    if (!name.empty())
      complaints_.error("no-such-place", mark, "at", "there is no place named " + quoted(name), {},
                        complaints_.suggest(name, index_.place_names()));
    return std::nullopt;
  }

  void pressure_at(PlaceKind kind, const std::string& name, Pressure pressure, const Mark& mark,
                   const char* member = "pressure") {
    if (open_water(kind))
      complaints_.error("no-pressure-there", mark, member,
                        "there is no pressure at " + quoted(name) + ": its water stands open to the air", {},
                        "ask for a flow there, or for a pressure at an outlet or a joint");
    complaints_.not_negative(mark, member, {Kind::pressure, pressure.pascals()},
                             "the pressure at " + quoted(name), pressure_bounds_pa);
  }

  void check(const Ask& ask) {
    const auto kind = place(ask.at, ask.mark);
    if (!kind || !complaints_.whole(ask.mark)) return;
    const std::string at = " asked for at " + quoted(ask.at);
    switch (ask.kind) {
      case AskKind::flow:
        complaints_.positive(ask.mark, "flow", {Kind::flow, ask.flow.cubic_metres_per_second()},
                             "the flow" + at, flow_bounds_m3s);
        if (const Box* box = index_.box(ask.at); box && box->yield > Flow{})
          complaints_.warning("ask-at-spring", ask.mark, "at",
                              "a flow is asked at " + quoted(ask.at) +
                                  ", the spring itself: that it leaves there does not say that it arrives",
                              {}, "ask at the tank, the tap or the joint where it is wanted");
        break;
      case AskKind::pressure:
        pressure_at(*kind, ask.at, ask.pressure, ask.mark);
        break;
      case AskKind::full_within:
        complaints_.positive(ask.mark, "full_within", {Kind::duration, ask.within.seconds()}, "the time" + at,
                             time_bounds_s);
        if (*kind != PlaceKind::tank)
          complaints_.error("not-a-tank", ask.mark, "full_within",
                            "only a tank can be full within a time, and " + quoted(ask.at) + " is none");
        break;
    }
  }

  void check(const Model& system, const VelocityAsk& ask) {
    std::vector<std::string> lines;
    for (const Pipeline& line : system.pipelines) lines.push_back(line.name);
    if (!ask.in.empty() && std::find(lines.begin(), lines.end(), ask.in) == lines.end())
      complaints_.error("no-such-pipeline", ask.mark, "in", "there is no pipeline named " + quoted(ask.in),
                        {}, complaints_.suggest(ask.in, lines));
    if (!complaints_.whole(ask.mark)) return;
    if (ask.at_most)
      complaints_.positive(ask.mark, "velocity_at_most", {Kind::velocity, ask.at_most->si()},
                           "the velocity asked at most", velocity_bounds_ms);
    if (ask.at_least)
      complaints_.positive(ask.mark, "velocity_at_least", {Kind::velocity, ask.at_least->si()},
                           "the velocity asked at least", velocity_bounds_ms);
    if (ask.at_most && ask.at_least && *ask.at_most < *ask.at_least)
      complaints_.error("velocities-crossed", ask.mark, "velocity_at_least",
                        "water cannot run at {0} at least and at {1} at most",
                        {{Kind::velocity, ask.at_least->si()}, {Kind::velocity, ask.at_most->si()}},
                        "let the lower figure be `velocity_at_least`");
  }

  void under(const Model& system, const Claim& claim) {
    std::vector<std::string> names{"normal"};
    for (const Setting& setting : system.settings) names.push_back(setting.name);
    if (claim.setting.empty() || std::find(names.begin(), names.end(), claim.setting) != names.end()) return;
    complaints_.error("unknown-setting", claim.mark, "setting",
                      "this model has no setting named " + quoted(claim.setting), {},
                      complaints_.suggest(claim.setting, names));
  }

  void check(const Claim& claim) {
    const auto kind = place(claim.at, claim.mark);
    if (!kind || !complaints_.whole(claim.mark)) return;
    if (claim.flow)
      complaints_.not_negative(claim.mark, "flow", {Kind::flow, claim.flow->cubic_metres_per_second()},
                               "the flow claimed at " + quoted(claim.at), flow_bounds_m3s);
    if (claim.pressure) pressure_at(*kind, claim.at, *claim.pressure, claim.mark);
    if (claim.static_pressure)
      pressure_at(*kind, claim.at, *claim.static_pressure, claim.mark, "static_pressure");
    if (!claim.full_after) return;
    complaints_.positive(claim.mark, "full_after", {Kind::duration, claim.full_after->seconds()},
                         "the time claimed at " + quoted(claim.at), time_bounds_s);
    if (*kind != PlaceKind::tank)
      complaints_.error("not-a-tank", claim.mark, "full_after",
                        "only a tank can be full after a time, and " + quoted(claim.at) + " is none");
  }

 private:
  const NameIndex& index_;
  Complaints& complaints_;
};

}  // namespace

void validate_asks(const Model& system, const NameIndex& index, Complaints& complaints) {
  Wishes wishes(index, complaints);
  for (const Ask& ask : system.asks) wishes.check(ask);
  for (const VelocityAsk& ask : system.velocity_asks) wishes.check(system, ask);
  for (const Claim& claim : system.claims) {
    wishes.under(system, claim);
    wishes.check(claim);
  }
}

}  // namespace runnel::network
