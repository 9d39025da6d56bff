#include "runnel/network/tee_loss.h"

#include <algorithm>

#include "runnel/losses/fittings.h"

namespace runnel::network {
namespace {

const Line& line_of(const System& system, int line) { return system.lines()[static_cast<std::size_t>(line)]; }

/// The only line that comes to the place, or the only one that leaves it; -1 if neither is alone.
int carries_all(const System& system, int place) {
  int comes = -1, leaves = -1, coming = 0, leaving = 0;
  for (const int l : system.lines_at(place)) {
    if (line_of(system, l).to == place) comes = l, ++coming;
    if (line_of(system, l).from == place) leaves = l, ++leaving;
  }
  return coming == 1 ? comes : leaving == 1 ? leaves : -1;
}

}  // namespace

double tee_loss(const System& system, int place, int line) {
  const Joint* joint = system.joint(place);
  if (!joint || joint->straight.empty()) return 0.0;
  const int whole = carries_all(system, place);
  const Line& own = line_of(system, line);
  if (line == whole || (whole < 0 && own.to == place)) return 0.0;
  const auto straight = [&](int l) {
    return std::find(joint->straight.begin(), joint->straight.end(), line_of(system, l).name) !=
           joint->straight.end();
  };
  const bool runs_on = straight(line) && (whole < 0 || straight(whole));
  const pipes::Pipe& pipe = (own.from == place ? own.pipes.front() : own.pipes.back()).pipe;
  return losses::published_loss(runs_on ? "tee_run" : "tee_branch", pipe.bore.metres(), 1.0)->k;
}

}  // namespace runnel::network
