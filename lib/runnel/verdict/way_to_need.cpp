#include "runnel/verdict/way_to_need.h"

#include <algorithm>
#include <deque>

namespace runnel::verdict {
namespace {

using network::System;

/// Whether a line brings water there, or is drawn to: a box may have a spring of its own as well.
bool fed(const System& system, const steady::State& state, int place) {
  const std::vector<int>& lines = system.lines_at(place);
  return std::any_of(lines.begin(), lines.end(), [&](int l) {
    const auto index = static_cast<std::size_t>(l);
    return system.lines()[index].to == place || state.lines[index].flow_m3s < 0.0;
  });
}

}  // namespace

Way way_to(const System& system, const steady::State& state, const std::vector<int>& wanted) {
  Way way;
  std::set<int> seen_lines;
  std::deque<int> open(wanted.begin(), wanted.end());
  for (int place : wanted) way.places.insert(place);
  while (!open.empty()) {
    const int place = open.front();
    open.pop_front();
    std::vector<int> next;
    if (system.kind(place) == network::PlaceKind::outlet && system.hangs_on(system.place(place).index) >= 0)
      next.push_back(system.hangs_on(system.place(place).index));
    for (const int l : system.lines_at(place)) {
      const network::Line& line = system.lines()[static_cast<std::size_t>(l)];
      if (seen_lines.insert(l).second) way.lines.push_back(l);
      next.push_back(line.from == place ? line.to : line.from);
    }
    for (const int other : next) {
      if (!way.places.insert(other).second) continue;
      const network::Box* box = system.box(other);
      const bool spring = box && box->yield.si() > 0.0 && !fed(system, state, other);
      const bool ends = system.tank(other) || system.outlet(other) || spring;
      if (!ends) open.push_back(other);
    }
  }
  return way;
}

}  // namespace runnel::verdict
