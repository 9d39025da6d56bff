#include "runnel/filling/state_teller.h"

#include "runnel/base/index.h"
#include "runnel/steady/static_heads.h"
#include "runnel/steady/written_state.h"

namespace runnel::filling {
namespace {

int control_of(const steady::Link& link, const Law& law) {
  switch (law.kind) {
    case Law::Kind::forward:
      return static_cast<int>(link.forward + law.control);
    case Law::Kind::backward:
      return static_cast<int>(link.backward + law.control);
    case Law::Kind::still:
    case Law::Kind::held:
      break;
  }
  return -1;
}

}  // namespace

StateTeller::StateTeller(const network::System& system, double datum_m)
    : system_(system),
      datum_m_(datum_m),
      assembly_(steady::assemble(system, {.for_filling = true})),
      floats_(float_groups(system)) {}

network::State StateTeller::tell(const Basins& basins, const Eigen::VectorXd& volume,
                                 const Instant& now) const {
  steady::KernelState solved;
  solved.outcome = steady::Outcome::settled;
  solved.head_m = now.head_m;
  for (double& head : solved.head_m) head += datum_m_;
  solved.flow_m3s = now.flow_m3s;
  solved.surplus_m3s = now.surplus_m3s;
  solved.hold = now.hold;
  for (std::size_t k = 0; k < now.law.size(); ++k)
    solved.control.push_back(control_of(assembly_.kernel.links[k], now.law[k]));
  // A box that stores water spills by its rim; it is written as one without storage, which spills at its lip.
  const std::size_t tanks = system_.tanks().size();
  for (std::size_t i = tanks; i < basins.size(); ++i)
    if (basins.stores()[i].rim == Rim::lip) {
      const int place = *system_.find_place(basins.stores()[i].name);
      const auto node = at(assembly_.nodes_of(network::PlaceKind::box)[at(system_.place(place).index)]);
      solved.hold[node] = steady::Hold::lip;
      solved.surplus_m3s[node] = basins.spill_m3s(i, now);
    }
  network::State state = steady::write_state(system_, assembly_, solved, false);
  for (std::size_t t = 0; t < tanks; ++t) {
    network::PlaceState& tank = state.tanks[t];
    const Storage& store = basins.stores()[t];
    tank.level_m = store.level_m(volume[static_cast<Eigen::Index>(t)]) + datum_m_;
    tank.float_shut = basins.floats_shut(t);
  }
  // The assembly has every float open, since they open and shut on the way.
  for (std::size_t g = 0; g < floats_.size(); ++g)
    if (basins.field().valve(g) == Valve::shut)
      for (const std::size_t line : floats_[g].lines)
        state.lines[line].condition = network::LineCondition::shut;
  for (const DrawnPlace& place : basins.drawn_places())
    if (place.kind == network::PlaceKind::joint) tell_joint(place, solved, state.joints[place.index]);
  return state;
}

void StateTeller::tell_joint(const DrawnPlace& place, const steady::KernelState& solved,
                             network::PlaceState& joint) const {
  const auto node = at(assembly_.nodes_of(network::PlaceKind::joint)[place.index]);
  const steady::Hold hold = solved.hold[node];
  joint.draw_asked_m3s = place.asked_m3s;
  joint.draw_given_m3s = hold == steady::Hold::draw_none    ? 0.0
                         : hold == steady::Hold::draw_short ? solved.surplus_m3s[node]
                                                            : place.asked_m3s;
}

}  // namespace runnel::filling
