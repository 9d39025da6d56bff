// How much faster is steady::solve than a general-purpose solver, how far is it from the cost of one sparse
// factorisation, and how does it grow? See README.md. Arguments: the largest number of places to measure.
#include <cstdio>
#include <cstdlib>
#include <map>

#include "floor.h"
#include "general.h"
#include "networks.h"
#include "runnel/steady/newton.h"
#include "timing.h"

namespace {

using namespace bench;
using runnel::steady::KernelState;

struct Size {
  int rows, columns;
};
constexpr Size sizes[] = {{5, 10}, {25, 40}, {100, 100}, {250, 400}};

/// The state after our first step: the solution with every law replaced by a straight line. A gift to the
/// other solver, not counted in its time.
Start linear_start(const Kernel& kernel) {
  const KernelState first = runnel::steady::solve(kernel, {.max_iterations = 2});
  return {first.head_m, first.flow_m3s};
}

Start plain_start(const Kernel& kernel) {
  Start start;
  double highest = 0.0;
  for (const auto& node : kernel.nodes) highest = std::max(highest, node.fixed ? node.head_m : 0.0);
  for (const auto& node : kernel.nodes) start.head_m.push_back(node.fixed ? node.head_m : highest);
  for (const auto& link : kernel.links) start.flow_m3s.push_back(link.start_m3s);  // 0.3 m/s
  return start;
}

struct Best {
  double seconds = 1e300;
  long steps = 0;
  const char* way = "none settled";
};

/// The fastest way in which the other solver settles.
Best general_seconds(const Kernel& kernel, bool large, Shape shape) {
  const Start linear = linear_start(kernel), plain = plain_start(kernel);
  struct Try {
    GeneralWay way;
    const Start* start;
    const char* name;
  };
  std::vector<Try> tries = {{{.heads_only = true, .line_search = true}, &linear, "heads, line search"},
                            {{.ordering = 1}, &linear, "full, COLAMD"}};
  // With 100,000 places and loops a try takes up to a minute: there the first that settles is taken.
  const bool slow = large && shape != Shape::tree;
  if (!slow) {
    tries.push_back({{}, &linear, "full"});
    tries.push_back({{}, &plain, "full, from 0.3 m/s"});
    tries.push_back({{.ordering = 1}, &plain, "full, COLAMD, from 0.3 m/s"});
    tries.push_back({{.heads_only = true}, &linear, "heads"});
  }
  Best best;
  for (const Try& t : tries) {
    long steps = 0;
    const auto run = [&] { steps = General(kernel, t.way, *t.start).solve(); };
    const double once = median_seconds(run, 1, 1);
    if (steps < 0 || once > 2.0 * best.seconds) continue;
    const double seconds = large ? once : median_seconds(run, 3, 101, 0.3);
    if (seconds < best.seconds) best = {seconds, steps, t.name};
    if (slow) break;
  }
  return best;
}

}  // namespace

int main(int argc, char** argv) {
  const int largest = argc > 1 ? std::atoi(argv[1]) : 100000;
  const bool alone = argc > 2;  // ours only
  std::printf(
      "law             shape   places  steps      ours ms        F ms  ours/F   KINSOL ms  KINSOL/ours  "
      "(form of F; way of KINSOL)\n");
  for (const Law law : {Law::hazen_williams, Law::darcy_weisbach})
    for (const Shape shape : {Shape::tree, Shape::branchy, Shape::looped}) {
      std::map<int, double> ours_s;
      for (const auto& [rows, columns] : sizes) {
        const int places = rows * columns;
        if (places > largest) continue;
        const Kernel kernel = network(shape, rows, columns, law);
        KernelState state;
        const double ours = median_seconds([&] { state = runnel::steady::solve(kernel, {.polish = false}); }, 5);
        ours_s[places] = ours;
        const bool settled = state.outcome == runnel::steady::Outcome::settled;
        std::printf("%-15s %-8s %6d  %4zu%s  %11.4f",
                    law == Law::hazen_williams ? "Hazen-Williams" : "Darcy-Weisbach",
                    shape_names[static_cast<int>(shape)], places, state.history.size(), settled ? " " : "!",
                    1e3 * ours);
        if (alone) {
          std::printf("\n");
          continue;
        }
        const Floor f = floor_seconds(kernel, state.flow_m3s);
        const Best best = general_seconds(kernel, places > 50000, shape);
        std::printf(" %11.4f  %6.1f", 1e3 * f.seconds, ours / f.seconds);
        if (best.steps > 0)
          std::printf("  %10.3f  %11.1f", 1e3 * best.seconds, best.seconds / ours);
        else
          std::printf("  %10s  %11s", "-", "-");
        std::printf("  (%s; %s, %ld steps)\n", f.form, best.way, best.steps);
        std::fflush(stdout);
      }
      if (ours_s.contains(100000))
        std::printf("  growth exponent from 1,000 to 100,000 places: %.2f\n",
                    std::log10(ours_s[100000] / ours_s[1000]) / 2.0);
    }
}
