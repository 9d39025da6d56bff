#include "runnel/network/flow_state.h"

#include "runnel/network/place_state.h"

namespace runnel::network {
namespace {

const PlaceState* find(const std::vector<PlaceState>& places, const std::string& name) {
  for (const PlaceState& place : places)
    if (place.name == name) return &place;
  return nullptr;
}

}  // namespace

State::State() = default;
State::State(const State&) = default;
State::State(State&&) noexcept = default;
State& State::operator=(const State&) = default;
State& State::operator=(State&&) noexcept = default;
State::~State() = default;

const PlaceState* State::place(const std::string& name) const {
  for (const auto* kind : kinds_of(*this))
    if (const PlaceState* found = find(*kind, name)) return found;
  return nullptr;
}

const LineState* State::line(const std::string& name) const {
  for (const LineState& line : lines)
    if (line.name == name) return &line;
  return nullptr;
}

}  // namespace runnel::network
