#include "runnel/air/at_first.h"

#include <algorithm>
#include <map>
#include <set>

#include "runnel/air/air_states.h"
#include "runnel/air/branch_start.h"

namespace runnel::air {
namespace {

// Each branch costs a few solves of the whole system.
constexpr std::size_t most_branches = 100;

bool holds_air(const Way& way) {
  return way.start.verdict != StartVerdict::blocked &&
         std::any_of(way.start.pockets.begin(), way.start.pockets.end(),
                     [](const Pocket& p) { return !p.vented && p.volume_start_m3 > 0.0; });
}

}  // namespace

std::vector<std::size_t> AtFirst::ends() const {
  std::set<std::size_t> found, any;
  for (const LawEnd& end : laws) {
    any.insert(end.state);
    if (end.in_range) found.insert(end.state);
  }
  const auto& said = found.empty() ? any : found;
  return {said.begin(), said.end()};
}

bool AtFirst::proved() const {
  const auto right = [](const AirState& s) { return s.settled && s.proof.consistent; };
  return std::all_of(states.begin(), states.end(), right) && right(uncompressed) &&
         std::all_of(branches.begin(), branches.end(), [](const BranchStart& b) { return b.proved; });
}

std::optional<AtFirst> at_first(const network::System& system, const std::vector<Way>& ways) {
  if (std::none_of(ways.begin(), ways.end(), holds_air)) return std::nullopt;
  AirStates solver(system, held_air(system, ways));
  AtFirst result;
  result.not_followed = solver.not_followed();
  result.uncompressed = solver.solve({}, steady::Compression::none);
  std::map<Bodies, std::size_t> known;  // bodies gone -> index of the state
  const auto state_without = [&](const Bodies& gone) {
    const auto [at, fresh] = known.emplace(gone, result.states.size());
    if (fresh) result.states.push_back(solver.solve(gone, steady::Compression::isothermal));
    return at->second;
  };
  state_without({});
  for (const LawCard& card : clearing_laws())
    result.laws.push_back(
        {card.law, solver.in_range(card.law), state_without(solver.carried_off(card.law, {}))});
  result.branches = branch_starts(system, ways, solver, most_branches, result.branches_left_out);
  return result;
}

}  // namespace runnel::air
