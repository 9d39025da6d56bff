// A kept solver: changed in place it answers what a fresh one does, from cold and from the last answer, and
// it allocates nothing after its first answer.
#include "runnel/steady/kernel_solver.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <cstdlib>
#include <new>

#include "runnel/steady/assemble.h"
#include "runnel/steady/newton.h"
#include "steady/allocations.h"
#include "steady/nasty_system.h"
#include "steady/plain_network.h"

using namespace runnel;
using steady::Kernel;
using steady::KernelSolver;
using steady::KernelState;
using test::allocations;

long runnel::test::allocations = 0;

// Every allocation of this program is counted; the others of its tests do not mind. Not inlined: compilers
// would take the pair for mismatched.
[[gnu::noinline]] void* operator new(std::size_t size) {
  ++runnel::test::allocations;
  if (void* memory = std::malloc(size > 0 ? size : 1)) return memory;
  throw std::bad_alloc();
}
[[gnu::noinline]] void operator delete(void* memory) noexcept { std::free(memory); }
[[gnu::noinline]] void operator delete(void* memory, std::size_t) noexcept { std::free(memory); }

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

double greatest_flow(const KernelState& state) {
  double most = 1e-9;
  for (double q : state.flow_m3s) most = std::max(most, std::abs(q));
  return most;
}

/// Both are settled to 1e-9 m; polished they lie closer.
void check_same(const KernelState& found, const KernelState& fresh) {
  REQUIRE(found.outcome == fresh.outcome);
  if (fresh.outcome != steady::Outcome::settled) return;
  const double most = greatest_flow(fresh);
  double worst = 0.0;
  for (std::size_t k = 0; k < fresh.flow_m3s.size(); ++k)
    worst = std::max(worst, std::abs(found.flow_m3s[k] - fresh.flow_m3s[k]) / most);
  CHECK(worst <= 1e-8);
}

/// Changes one thing or another, the same in the solver and in a kernel of one's own.
void change(KernelSolver& solver, Kernel& kernel, plain::Dice& dice) {
  const int node = dice.whole(0, static_cast<int>(kernel.nodes.size()) - 1);
  const int link = dice.whole(0, static_cast<int>(kernel.links.size()) - 1);
  steady::KernelNode& place = kernel.nodes[at(node)];
  steady::Link& line = kernel.links[at(link)];
  switch (dice.whole(0, 4)) {
    case 0:
      if (!place.fixed) break;
      place.head_m += dice.real(-0.5, 0.5);
      solver.set_head(node, place.head_m);
      break;
    case 1:
      place.inflow_m3s *= dice.real(0.8, 1.2);
      solver.set_inflow(node, place.inflow_m3s);
      break;
    case 2: {
      if (line.terms == 0) break;
      const losses::PipeFriction pipe(losses::FrictionLaw{.law = kernel.terms[line.term].law()},
                                      dice.real(0.015, 0.08), 1.5e-5, 140.0, 1.3e-6);
      kernel.terms[line.term] = pipe;
      solver.set_pipe(link, 0, pipe);
      break;
    }
    case 3:
      line.shut = !line.shut;
      solver.set_shut(link, line.shut);
      break;
    default:
      for (std::uint32_t c = line.forward; c < line.forward + line.forwards; ++c) {
        steady::Control& control = kernel.controls[c];
        if (!control.to_node) control.sink_head_m += 0.01;
        control.quadratic_s2m5 *= 1.1;
        kernel.lengths_m[control.lengths] *= 1.02;
        const std::vector<double> lengths(kernel.lengths_m.begin() + control.lengths,
                                          kernel.lengths_m.begin() + control.lengths + line.terms);
        solver.set_control(link, c, control, lengths.data());
      }
  }
}

}  // namespace

TEST_CASE("a kernel changed in place is solved as a fresh one is, from cold and from the last answer") {
  test::NastyKind kind;
  kind.most_places = 8;
  kind.loops = 1;
  long near = 0, asked = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    CAPTURE(seed);
    Kernel kernel = steady::assemble(test::NastySystem(seed, kind).system).kernel;
    KernelSolver solver(kernel);
    check_same(solver.solve(), steady::solve(kernel));
    plain::Dice dice(seed);
    for (int round = 0; round < 12; ++round) {
      change(solver, kernel, dice);
      const KernelState& found = round % 3 == 2 ? solver.solve() : solver.solve_near();
      near += solver.found_near();
      asked += round % 3 != 2;
      check_same(found, steady::solve(kernel));
    }
  }
  CHECK(2 * near >= asked);  // the shorter way must be taken, or the test tests nothing
}

TEST_CASE("nothing is allocated after the first answer") {
  for (const bool loops : {false, true}) {
    test::NastyKind kind;
    kind.loops = loops ? 3 : 0;
    for (std::uint64_t seed = 1; seed <= 40; ++seed) {
      CAPTURE(loops, seed);
      KernelSolver solver(steady::assemble(test::NastySystem(seed, kind).system).kernel);
      solver.solve();
      const double inflow = solver.kernel().nodes[0].inflow_m3s;
      const losses::PipeFriction pipe(losses::FrictionLaw{.law = solver.kernel().terms[0].law()}, 0.04,
                                      1.5e-6, 140.0, 1.3e-6);
      const long before = allocations;
      solver.set_inflow(0, 1.1 * inflow);
      solver.solve_near();
      solver.set_shut(0, true);
      solver.solve_near();
      solver.set_shut(0, false);
      solver.set_pipe(0, 0, pipe);
      solver.solve_near();
      solver.solve();
      CHECK(allocations == before);
    }
  }
}

TEST_CASE("nothing is allocated on plain networks with loops either") {
  int counted = 0;
  for (std::uint64_t seed = 1; seed <= 40; ++seed) {
    CAPTURE(seed);
    const plain::Network net = plain::random_network(seed, 10, 60);
    KernelSolver solver(plain::kernel(net));
    solver.solve();
    const long before = allocations;
    solver.set_head(0, 85.0);
    solver.solve_near();
    solver.set_shut(0, true);
    solver.solve_near();
    solver.solve();
    if (solver.state().outcome != steady::Outcome::settled) continue;  // cut off from its source: seed 29
    CHECK(allocations == before);
    ++counted;
  }
  CHECK(counted >= 30);
}

TEST_CASE("a level that rises a little is followed in three looks at the laws") {
  // By the factors kept from the last answer and along the bends of the laws: the second look finds an error
  // of the third order, the third that it is settled.
  std::size_t looks = 0;
  int counted = 0;
  for (std::uint64_t seed = 1; seed <= 60; ++seed) {
    Kernel kernel = plain::kernel(plain::random_network(seed, 10, 60));
    KernelSolver solver(kernel);
    const auto fixed = std::find_if(kernel.nodes.begin(), kernel.nodes.end(),
                                    [](const steady::KernelNode& node) { return node.fixed; });
    if (solver.solve().outcome != steady::Outcome::settled || fixed == kernel.nodes.end()) continue;
    fixed->head_m += 0.01;
    solver.set_head(static_cast<int>(fixed - kernel.nodes.begin()), fixed->head_m);
    check_same(solver.solve_near(), steady::solve(kernel));
    looks += solver.state().history.size();
    ++counted;
  }
  CHECK(counted >= 40);
  CHECK(static_cast<double>(looks) / counted <= 3.5);
}

TEST_CASE("flows do not depend on the height that heads are counted from") {
  test::NastyKind kind;
  kind.loops = 2;
  for (std::uint64_t seed = 1; seed <= 300; ++seed) {
    const Kernel kernel = steady::assemble(test::NastySystem(seed, kind).system).kernel;
    const KernelState here = steady::solve(kernel);
    for (const double by_m : {-1000.0, 100.0, 4000.0}) {
      CAPTURE(seed, by_m);
      // Heads rounded to 2^-30 m, so that the shift itself is exact.
      Kernel grid = kernel, moved = kernel;
      const auto round = [](double m) { return std::nearbyint(m * 0x1p30) * 0x1p-30; };
      const auto set = [&](double& in_grid, double& in_moved) {
        if (!std::isfinite(in_grid)) return;
        in_grid = round(in_grid);
        in_moved = in_grid + by_m;
      };
      for (std::size_t v = 0; v < kernel.nodes.size(); ++v) {
        set(grid.nodes[v].head_m, moved.nodes[v].head_m);
        set(grid.nodes[v].lip_m, moved.nodes[v].lip_m);
        set(grid.nodes[v].draw_floor_m, moved.nodes[v].draw_floor_m);
      }
      for (std::size_t c = 0; c < kernel.controls.size(); ++c) {
        set(grid.controls[c].source_head_m, moved.controls[c].source_head_m);
        set(grid.controls[c].sink_head_m, moved.controls[c].sink_head_m);
      }
      const KernelState low = steady::solve(grid), high = steady::solve(moved);
      REQUIRE(low.outcome == high.outcome);
      REQUIRE(low.outcome == here.outcome);
      double worst = 0.0;
      for (std::size_t k = 0; k < low.flow_m3s.size(); ++k)
        worst = std::max(worst, std::abs(low.flow_m3s[k] - high.flow_m3s[k]));
      CHECK(worst <=
            std::max(1e-9 * greatest_flow(low), 1e-13));  // continuity is settled to no less than this
    }
  }
}

namespace {

/// Made up: a tenth of the sink's height is carried by the air in the line, the loss goes by the square.
struct MadeUp final : steady::ColumnLaw {
  steady::Need need(double q, double sink_m) const override {
    return {20.0 + 0.9 * (sink_m - 20.0) + 3.0 + 1e3 * q + 1e7 * q * q, 1e3 + 2e7 * q, 0.9};
  }
};

/// A source with its head fixed, a line under the made-up law to a place, and a plain pipe from there to a
/// tank.
Kernel with_column(double source_m, double tank_m) {
  Kernel kernel;
  kernel.nodes = {{.fixed = true, .head_m = source_m}, {}, {.fixed = true, .head_m = tank_m}};
  const losses::PipeFriction pipe({}, 0.03, 1.5e-6, 140.0, 1.3e-6);
  kernel.add_pipe(0, 1, pipe, 100.0, 0.0);
  kernel.add_pipe(1, 2, pipe, 100.0, 0.0);
  kernel.columns.push_back(std::make_shared<MadeUp>());
  kernel.links[0].forward_column = 0;
  kernel.links[0].backwards = 0;
  return kernel;
}

}  // namespace

TEST_CASE("a law of source, sink and flow takes the place of a line's own") {
  const Kernel kernel = with_column(50.0, 30.0);
  const KernelState found = steady::solve(kernel);
  REQUIRE(found.outcome == steady::Outcome::settled);
  const double q = found.flow_m3s[0];
  CHECK(q > 1e-4);
  CHECK(found.flow_m3s[1] == Approx(q).epsilon(1e-12));
  CHECK(MadeUp().need(q, found.head_m[1]).head_m == Approx(50.0).epsilon(1e-10));
  CHECK(found.control[0] == static_cast<int>(kernel.links[0].forward));

  SECTION("its slopes are what Newton's method is told") {
    const auto step = steady::linearise(kernel, kernel.links[0], q, 50.0, found.head_m[1]);
    CHECK(step.alpha == Approx(1.0 / (1e3 + 2e7 * q)));
    CHECK(step.beta == Approx(0.9 * step.alpha));
  }
  SECTION("a source too low to start it leaves it still") {
    const KernelState still = steady::solve(with_column(31.9, 30.0));  // the law asks for 32
    REQUIRE(still.outcome == steady::Outcome::settled);
    CHECK(still.flow_m3s[0] == 0.0);
    CHECK(still.control[0] == -1);
  }
  SECTION("a crest may govern instead") {
    Kernel crest = kernel;
    steady::Control over = crest.controls[crest.links[0].forward];
    over.to_node = false;
    over.sink_head_m = 49.9;
    crest.links[0].forward = static_cast<std::uint32_t>(crest.controls.size());
    crest.controls.push_back(kernel.controls[kernel.links[0].forward]);
    crest.controls.push_back(over);
    crest.links[0].forwards = 2;
    const KernelState less = steady::solve(crest);
    REQUIRE(less.outcome == steady::Outcome::settled);
    CHECK(less.flow_m3s[0] < q);
    CHECK(less.control[0] == static_cast<int>(crest.links[0].forward) + 1);
  }
}

namespace {

/// Breaks the rule that a law rises with its flow: flat everywhere, at rest only, or no number at all.
struct Broken final : steady::ColumnLaw {
  explicit Broken(int how) : how_(how) {}
  steady::Need need(double q, double sink_m) const override {
    if (how_ == 0) return {sink_m + 3.0, 0.0, 1.0};
    if (how_ == 1) return {sink_m + 3.0 + 1e7 * q * q, 2e7 * q, 1.0};
    return {std::nan(""), 1e3, 1.0};
  }
  int how_;
};

}  // namespace

TEST_CASE("a law that does not rise with its flow never makes heads that are no numbers") {
  for (const int how : {0, 1, 2}) {
    CAPTURE(how);
    Kernel kernel = with_column(50.0, 30.0);
    kernel.columns.front() = std::make_shared<Broken>(how);
    const KernelState found = steady::solve(kernel);
    if (how == 1) CHECK(found.outcome == steady::Outcome::settled);
    if (how == 2) CHECK(found.outcome != steady::Outcome::settled);
    if (found.outcome != steady::Outcome::settled) continue;
    for (const double head_m : found.head_m) CHECK(std::isfinite(head_m));
    for (const double flow_m3s : found.flow_m3s) CHECK(std::isfinite(flow_m3s));
  }
}

TEST_CASE("an idle control never governs") {
  Kernel kernel = with_column(50.0, 30.0);
  kernel.links[0].forward_column = -1;
  const double alone = steady::solve(kernel).flow_m3s[0];
  const steady::Control ends = kernel.controls[kernel.links[0].forward];
  kernel.links[0].forward = static_cast<std::uint32_t>(kernel.controls.size());
  kernel.controls.push_back(ends);
  for (int i = 0; i < 5; ++i) kernel.controls.push_back(KernelSolver::idle(ends));
  kernel.links[0].forwards = 6;
  const KernelState found = steady::solve(kernel);
  REQUIRE(found.outcome == steady::Outcome::settled);
  CHECK(found.flow_m3s[0] == Approx(alone).epsilon(1e-12));
}
