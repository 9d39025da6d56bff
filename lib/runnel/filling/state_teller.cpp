#include "runnel/filling/state_teller.h"

#include "runnel/steady/written_state.h"

namespace runnel::filling {
namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

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
    : system_(system), datum_m_(datum_m), assembly_(steady::assemble(system, {.for_filling = true})) {}

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
  // A box that stores spills at its rim, as one without store does at its lip.
  const std::size_t tanks = system_.tanks().size();
  for (std::size_t i = tanks; i < basins.size(); ++i)
    if (basins.stores()[i].rim == Rim::lip) {
      const int place = *system_.find_place(basins.stores()[i].name);
      const auto node = at(assembly_.box_node[at(system_.place(place).index)]);
      solved.hold[node] = steady::Hold::lip;
      solved.surplus_m3s[node] = basins.spill_m3s(i, now);
    }
  network::State state = steady::write_state(system_, assembly_, solved, false);
  for (std::size_t t = 0; t < tanks; ++t) {
    network::PlaceState& tank = state.tanks[t];
    const Storage& store = basins.stores()[t];
    tank.level_m = store.level_m(volume[static_cast<Eigen::Index>(t)]) + datum_m_;
    tank.float_shut = store.has_float && basins.valve(t) != Valve::open;
  }
  return state;
}

}  // namespace runnel::filling
