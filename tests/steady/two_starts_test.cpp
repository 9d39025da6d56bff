// A network whose lines hold pockets of air has one state, wherever the search for it begins; and a pocket
// that holds nothing changes nothing. Theory: DEVELOPERS.md, "of one state of the line".
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/steady/kernel_solver.h"
#include "runnel/steady/newton.h"
#include "runnel/steady/pocket_law.h"
#include "steady/nasty_system.h"

using namespace runnel;
using steady::Kernel;
using steady::KernelSolver;
using steady::KernelState;
using steady::Outcome;

namespace {

/// The first crest of a course and the low point behind it; none if it has none.
std::optional<steady::ShutAir> first_leg(const steady::PocketCourse& course) {
  const auto z = [&](std::size_t i) { return course.passage.elevation_m(i); };
  for (std::size_t i = 1; i + 1 < course.points.size(); ++i) {
    if (!(z(i) > z(i - 1) && z(i) > z(i + 1))) continue;
    std::size_t low = i + 1;
    while (low + 1 < course.points.size() && z(low + 1) < z(low)) ++low;
    if (low + 1 == course.points.size()) return std::nullopt;  // nothing seals it
    return steady::ShutAir{.crest = static_cast<int>(i), .low = static_cast<int>(low)};
  }
  return std::nullopt;
}

/// Every line that has a crest followed by a low point with the air of that leg in it; `volume_m3`: so much
/// instead.
struct WithAir {
  steady::Assembly assembly;
  int pockets = 0;

  WithAir(const network::System& system, std::optional<double> volume_m3)
      : assembly(steady::assemble(system)) {
    for (std::size_t l = 0; l < system.lines().size(); ++l) {
      const network::Line& line = system.lines()[l];
      const bool valve = std::any_of(line.parts.begin(), line.parts.end(), [](const auto& part) {
        return part.kind == network::PartKind::reducing_valve;
      });
      if (valve || line.air == network::Air::sealed) continue;
      const network::Outlet* outlet = system.outlet(line.to);
      auto course = steady::course_of(assembly.plans[l], system.site().atmospheric_head_m(),
                                      outlet ? steady::opening_s2m5(*outlet) : 0.0);
      auto air = first_leg(course);
      if (!air) continue;
      air->volume_m3 = volume_m3;
      course.pockets = {*air};
      steady::put_column(assembly, l, true, std::make_shared<steady::PocketLaw>(course));
      ++pockets;
    }
  }
};

double greatest(const KernelState& state) {
  double most = 1e-4;  // continuity is settled to no less than 1e-13 m3/s
  for (const double flow : state.flow_m3s) most = std::max(most, std::abs(flow));
  return most;
}

/// Whether a pipeline creeps: at its mouth a floor asks for its velocity head, which is then less than the
/// solver can tell from none.
bool creeps(const steady::LinePlan& plan, double flow_m3s) {
  const steady::Vertex &first = plan.vertices.front(), &last = plan.vertices.back();
  constexpr double solver_m = 1e-9;
  return std::min(first.behind_s2m5, last.before_s2m5) * flow_m3s * flow_m3s < solver_m;
}

/// Of pipelines; what leaves by openings is what they bring.
double apart(const steady::Assembly& assembly, const KernelState& one, const KernelState& other) {
  double worst = 0.0;
  for (std::size_t l = 0; l < assembly.line_link.size(); ++l) {
    const auto k = static_cast<std::size_t>(assembly.line_link[l]);
    if (creeps(assembly.plans[l], one.flow_m3s[k]) && creeps(assembly.plans[l], other.flow_m3s[k])) continue;
    worst = std::max(worst, std::abs(one.flow_m3s[k] - other.flow_m3s[k]));
  }
  return worst;
}

}  // namespace

TEST_CASE("a network with pockets of air comes to the same flows from two starts") {
  int compared = 0, pockets = 0;
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    test::NastyKind kind;
    kind.loops = static_cast<int>(seed % 3);
    const network::System system = support::resolved(test::NastySystem(seed, kind).system);
    const WithAir with(system, std::nullopt);
    if (with.pockets == 0) continue;
    const KernelState cold = steady::solve(with.assembly.kernel);
    KernelSolver solver(with.assembly.kernel);
    const int box = with.assembly.nodes_of(network::PlaceKind::box)[0];
    solver.set_inflow(box, 5.0 * system.boxes()[0].yield.si() + 1e-4);  // far from where it will be
    if (cold.outcome != Outcome::settled || solver.solve().outcome != Outcome::settled) continue;
    solver.set_inflow(box, system.boxes()[0].yield.si());
    if (solver.solve_near().outcome != Outcome::settled || !solver.found_near()) continue;
    CAPTURE(seed);
    // Joints at atmospheric pressure divide their water by less than the 1e-9 m of the solver: 1e-6 of what
    // moves, and what only creeps is as good as none.
    CHECK(apart(with.assembly, cold, solver.state()) <= 1e-6 * greatest(cold));
    ++compared;
    pockets += with.pockets;
  }
  CAPTURE(compared, pockets);
  CHECK(compared >= 100);
  CHECK(pockets >= 200);
}

TEST_CASE("pockets that hold nothing change nothing") {
  int compared = 0;
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    const network::System system = support::resolved(test::NastySystem(seed, {8, 0, 6, false, false}).system);
    const WithAir with(system, 0.0);
    if (with.pockets == 0) continue;
    const KernelState plain = steady::solve(steady::assemble(system).kernel),
                      empty = steady::solve(with.assembly.kernel);
    if (plain.outcome != Outcome::settled || empty.outcome != Outcome::settled) continue;
    CAPTURE(seed);
    CHECK(apart(with.assembly, plain, empty) <= 1e-6 * greatest(plain));
    ++compared;
  }
  CHECK(compared >= 50);
}
