// How many samples of what is not known are solved a second, on a tree of 50 places with free taps. Asked:
// 0.3 million full solves a second and core with vectors of four, 0.5 million with vectors of eight; and the
// same answers as one by one.
#include <cmath>
#include <cstdio>

#include "networks.h"
#include "runnel/sizing/sampler.h"
#include "runnel/steady/kernel_solver.h"
#include "timing.h"

namespace {

namespace sizing = runnel::sizing;
using runnel::losses::Law;
using sizing::together;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// A spring, 50 places, a tap at every end and at every third place between; the same as a kernel.
struct Bench {
  sizing::LaneTree tree;
  sizing::LaneInputs written;
  runnel::steady::Kernel kernel;
};

Bench make(Law law, bench::Dice& dice) {
  Bench out;
  out.tree.law.law = law;
  out.tree.viscosity_m2s = 1.31e-6;
  const int places = 50;
  out.tree.places = places;
  out.tree.fixed.assign(places, false);
  out.tree.fixed[0] = true;
  out.tree.draw_m3s.assign(places, 0.0);
  out.kernel.nodes.resize(places);
  out.kernel.nodes[0] = {.fixed = true, .head_m = 0.0};
  std::vector<double> height_m{0.0};
  std::vector<int> leaves(places, 0), from(places, 0);
  const auto each = [](std::vector<double>& all, double value) { all.insert(all.end(), together, value); };
  for (int p = 1; p < places; ++p) {
    from[at(p)] = static_cast<int>(dice.below(at(std::min(p, 8)))) + std::max(0, p - 8);
    ++leaves[at(from[at(p)])];
  }
  const auto has_tap = [&](int p) { return leaves[at(p)] == 0 || p % 3 == 0; };
  std::vector<double> taps(places, 0.0);
  for (int p = places - 1; p > 0; --p) taps[at(from[at(p)])] += taps[at(p)] += has_tap(p) ? 1.0 : 0.0;
  each(out.written.head_m, 0.0);
  for (int p = 1; p < places; ++p) {
    const int above = from[at(p)];
    height_m.push_back(height_m[at(above)] - dice.real(5, 10));
    // About a metre a second at 0.3 L/s a tap.
    const double bore_m = std::sqrt(3e-4 * taps[at(p)] * 4.0 / 3.14) * dice.real(0.95, 1.2);
    const double length_m = dice.real(60, 180), rough = law == Law::darcy_weisbach ? 7e-6 : 150.0;
    out.tree.bore_m.push_back(bore_m);
    out.tree.branches.push_back({above, p, p - 1, 0.0, 0.0, 0.0});
    each(out.written.bore_m, bore_m), each(out.written.length_m, length_m), each(out.written.rough, rough);
    each(out.written.head_m, 0.0);
    out.kernel.add_pipe(above, p, {out.tree.law, bore_m, rough, rough, out.tree.viscosity_m2s}, length_m,
                        0.0);
  }
  out.tree.lines = places - 1;
  for (int p = 1; p < places; ++p) {
    if (!has_tap(p)) continue;
    const double end_m = height_m[at(p)] - 1.0;
    const int link = out.kernel.add_opening(p, end_m, 0.008, 3.0, out.tree.viscosity_m2s);
    const auto& opening = out.kernel.controls[out.kernel.links[static_cast<std::size_t>(link)].forward];
    out.tree.branches.push_back({p, static_cast<int>(out.tree.places), -1, 0.0, opening.quadratic_s2m5, 0.0});
    ++out.tree.places;
    out.tree.fixed.push_back(true);
    out.tree.draw_m3s.push_back(0.0);
    each(out.written.head_m, end_m);
  }
  return out;
}

/// Bores off by 3 %, pipe new to aged, ends 0.3 m up or down.
sizing::LaneInputs drawn(const sizing::LaneInputs& written, Law law, bench::Dice& dice) {
  sizing::LaneInputs in = written;
  for (double& bore : in.bore_m) bore *= dice.real(0.97, 1.03);
  for (double& rough : in.rough)
    rough = law == Law::darcy_weisbach ? dice.real(7e-6, 1e-4) : dice.real(130, 150);
  for (std::size_t i = together; i < in.head_m.size(); ++i) in.head_m[i] += dice.real(-0.3, 0.3);
  return in;
}

void measure(Law law, const char* name) {
  bench::Dice dice(7);
  Bench made = make(law, dice);
  runnel::steady::KernelSolver solver(made.kernel, {.polish = false});
  const auto& state = solver.solve();
  if (state.outcome != runnel::steady::Outcome::settled) return void(std::printf("not settled\n"));
  for (std::size_t b = 0; b < made.tree.branches.size(); ++b)
    made.tree.branches[b].start_m3s = state.flow_m3s[b];
  // Starts from the middle of what may be: half aged.
  sizing::LaneInputs middle = made.written;
  for (double& rough : middle.rough) rough = law == Law::darcy_weisbach ? 4e-5 : 140.0;
  sizing::LaneFlows from;
  sizing::solve(made.tree, middle, from);
  for (std::size_t b = 0; b < made.tree.branches.size(); ++b)
    made.tree.branches[b].start_m3s = from.flow_m3s[b * together];
  std::vector<sizing::LaneInputs> blocks;
  for (int i = 0; i < 64; ++i) blocks.push_back(drawn(made.written, law, dice));
  double worst = 0.0;
  sizing::LaneFlows flows;
  double one_seconds = 0.0;
  for (int i = 0; i < 16; ++i) {  // one by one
    const auto& in = blocks[static_cast<std::size_t>(i)];
    sizing::solve(made.tree, in, flows);
    for (std::size_t lane = 0; lane < together; ++lane) {
      for (std::size_t l = 0; l < made.tree.lines; ++l) {
        const std::size_t k = l * together + lane;
        solver.set_pipe(static_cast<int>(l), 0,
                        {made.tree.law, in.bore_m[k], in.rough[k], in.rough[k], made.tree.viscosity_m2s});
      }
      for (std::size_t b = made.tree.lines; b < made.tree.branches.size(); ++b) {
        const auto& link = solver.kernel().links[b];
        auto control = solver.kernel().controls[link.forward];
        control.sink_head_m =
            in.head_m[static_cast<std::size_t>(made.tree.branches[b].below) * together + lane];
        const double no_length = 0.0;
        solver.set_control(static_cast<int>(b), link.forward, control, &no_length);
      }
      const double start = bench::processor_seconds();
      const auto& alone = solver.solve_near();
      one_seconds += bench::processor_seconds() - start;
      for (std::size_t b = 0; b < made.tree.branches.size(); ++b)
        worst = std::max(worst, std::fabs(flows.flow_m3s[b * together + lane] / alone.flow_m3s[b] - 1.0));
    }
  }
  std::printf("%-16s farthest from one by one: %.1e of the flow; one by one %.3f million a second\n", name,
              worst, 16.0 * together / one_seconds * 1e-6);
  const std::pair<sizing::Width, const char*> widths[] = {
      {sizing::Width::two, "two"}, {sizing::Width::four, "four"}, {sizing::Width::eight, "eight"}};
  for (const auto& [width, words] : widths) {
    double best = 0.0;
    int steps = 0;
    for (int round = 0; round < 7; ++round) {
      const double start = bench::processor_seconds();
      bool any = true;
      for (int again = 0; again < 40; ++again)
        for (const auto& in : blocks) any = any && sizing::solve(made.tree, in, flows, width);
      if (!any) break;
      steps = flows.steps;
      best = std::max(best, 40.0 * 64.0 * together / (bench::processor_seconds() - start));
    }
    if (best > 0.0)
      std::printf("  vectors of %-6s %.3f million a second (%d steps)\n", words, 1e-6 * best, steps);
  }
}

}  // namespace

int main() {
  std::printf("Full solves of a tree of 50 places, a second and core\n");
  measure(Law::darcy_weisbach, "Darcy-Weisbach");
  measure(Law::hazen_williams, "Hazen-Williams");
  return 0;
}
