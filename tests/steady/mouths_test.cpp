// A hardly covered mouth in a box holds the flow back (losses/mouth.h), end to end through the solver and its
// proof.
#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/losses/mouth.h"
#include "runnel/steady/kernel_solver.h"
#include "runnel/steady/newton.h"
#include "runnel/steady/solver.h"
#include "runnel/steady/written_state.h"
#include "steady/random_line.h"
#include "support/resolved.h"

using namespace runnel;
using losses::MouthEdge;

namespace {

/// A box, a stub of the slope asked for, and behind it a fall that asks for nothing.
network::Model culvert(MouthEdge edge, double bore_m, double slope, double yield_m3s,
                       double lip_over_axis_m) {
  network::Model model;
  model.site.water.kinematic_viscosity_m2s = 1.3e-6;
  network::Box box;
  box.name = "box";
  box.yield = Flow::from_si(yield_m3s);
  box.outlet = Length::metres(100.0);
  box.lip = Length::metres(100.0 + lip_over_axis_m);
  model.boxes = {box};
  network::Outlet end;
  end.name = "end";
  end.elevation = Length::metres(80.0);
  model.outlets = {end};
  network::Pipeline line;
  line.name = "main";
  line.from = "box";
  line.to = "end";
  constexpr double stub_m = 0.05;
  const auto point = [](double station_m, double elevation_m) {
    return network::SurveyPoint{Length::metres(station_m), Length::metres(elevation_m)};
  };
  line.survey = {point(0.0, 100.0), point(stub_m * std::sqrt(1.0 - slope * slope), 100.0 - slope * stub_m),
                 point(20.0, 80.0)};
  pipes::Pipe pipe;
  pipe.bore = Length::metres(bore_m);
  pipe.roughness = Length::metres(1.5e-6);
  line.pipes = {{pipe, Length{}, {}, {}}};
  line.entrance_loss = 0.5;
  line.exit_loss = 1.0;
  line.mouth = edge;
  model.pipelines = {line};
  return model;
}

struct Row {
  MouthEdge edge;
  double bore_mm, flow_ls, slope, over_invert_mm;
};
// Worked by hand from [hds-5], constants of its table 9 and Ku 1.811, with critical depths from g A^3 = Q^2
// T.
const Row rows[] = {{MouthEdge::square_in_wall, 26.0, 0.15, 0.02, 27.746},
                    {MouthEdge::thin_projecting, 26.0, 0.15, 0.02, 30.177},
                    {MouthEdge::groove_in_wall, 40.8, 0.40, 0.05, 36.072},
                    {MouthEdge::mitred, 51.4, 0.80, 0.10, 57.793},
                    {MouthEdge::bevel_45, 90.0, 3.00, 0.01, 84.184},
                    {MouthEdge::square_in_wall, 40.8, 0.55, 0.01, 50.390},
                    {MouthEdge::square_in_wall, 32.6, 0.40, 0.05, 51.004},
                    {MouthEdge::square_in_wall, 51.4, 2.00, 0.01, 155.449},
                    {MouthEdge::thin_projecting, 73.6, 4.00, 0.03, 198.961},
                    {MouthEdge::square_in_wall, 110.0, 14.0, 0.0, 356.986}};

/// The same without the mouth's control.
steady::Assembly mouthless(steady::Assembly assembly) {
  for (steady::Link& link : assembly.kernel.links) {
    link.forwards -= link.forward_mouth >= 0 ? 1 : 0;
    link.backwards -= link.backward_mouth >= 0 ? 1 : 0;
    link.forward_mouth = link.backward_mouth = -1;
  }
  return assembly;
}

}  // namespace

TEST_CASE("ten mouths of pipes stand the water as high as their inlet control asks") {
  for (const Row& row : rows) {
    CAPTURE(row.bore_mm, row.flow_ls);
    const double bore_m = 1e-3 * row.bore_mm, over_axis_m = 1e-3 * row.over_invert_mm - 0.5 * bore_m;
    SECTION("of the yield that comes") {
      const auto state = steady::solve(culvert(row.edge, bore_m, row.slope, 1e-3 * row.flow_ls, 3.0));
      REQUIRE(state.outcome == steady::Outcome::settled);
      CHECK(state.proof.consistent);
      REQUIRE(state.lines[0].mouth_needs_m);
      CHECK(std::abs(*state.lines[0].mouth_needs_m - over_axis_m) < 1e-6);  // rows have three decimals of mm
    }
    SECTION("and let in what the lip allows") {
      const auto state = steady::solve(culvert(row.edge, bore_m, row.slope, 1.0, over_axis_m));
      REQUIRE(state.outcome == steady::Outcome::settled);
      CHECK(state.proof.consistent);
      CHECK(1e3 * state.outlets[0].flow_m3s == Approx(row.flow_ls).epsilon(1e-4));
      REQUIRE(state.lines[0].capacity_m3s);
      CHECK(*state.lines[0].capacity_m3s == Approx(state.outlets[0].flow_m3s));
    }
  }
}

TEST_CASE("levels over a mouth let in what was worked out from them") {
  // As above, square edge, slope 0.01: level over the invert [mm] and flow [L/s].
  const double worked[][3] = {
      {26.0, 26.0, 0.13643}, {26.0, 39.0, 0.21652}, {51.4, 51.4, 0.74968}, {51.4, 102.8, 1.50445}};
  for (const auto& [bore_mm, level_mm, flow_ls] : worked) {
    const double bore_m = 1e-3 * bore_mm;
    const auto state =
        steady::solve(culvert(MouthEdge::square_in_wall, bore_m, 0.01, 1.0, 1e-3 * level_mm - 0.5 * bore_m));
    CHECK(1e3 * state.outlets[0].flow_m3s == Approx(flow_ls).epsilon(4e-5));
  }
}

TEST_CASE("a mouth half a metre under water changes nothing for a line that its length governs") {
  for (const double bore_mm : {16.0, 26.0, 32.6, 40.8, 51.4}) {
    network::Model model = culvert(MouthEdge::square_in_wall, 1e-3 * bore_mm, 0.02, 1.0, 0.5);
    model.pipelines[0].survey = {{Length::metres(0.0), Length::metres(100.0)},
                                 {Length::metres(400.0), Length::metres(80.0)}};
    const auto assembly = steady::assemble(model);
    const double with = steady::solve(assembly.kernel).flow_m3s[0],
                 without = steady::solve(mouthless(assembly).kernel).flow_m3s[0];
    CHECK(with == Approx(without).epsilon(1e-9));
  }
}

TEST_CASE("a mouth only ever takes from a line, and nothing where it does not govern") {
  int governs = 0;
  for (std::uint64_t seed = 1; seed <= 400; ++seed) {
    CAPTURE(seed);
    const network::System system = support::resolved(test::RandomLine(seed).system);
    const auto state = steady::solve(system);
    REQUIRE(state.outcome == steady::Outcome::settled);
    CHECK(state.proof.consistent);
    const double without = steady::solve(mouthless(steady::assemble(system)).kernel).flow_m3s[0];
    const double limit = 1e-8 * without + 1e-11;  // solver's 1e-9 m, in lines with a centimetre of room
    CHECK(state.lines[0].flow_m3s <= without + limit);
    if (state.lines[0].mouth_needs_m)
      ++governs;
    else
      CHECK(state.lines[0].flow_m3s >= without - limit);
  }
  CHECK(governs > 20);
}

TEST_CASE("the checker refuses an answer that passes over a mouth") {
  const network::System system =
      support::resolved(culvert(MouthEdge::square_in_wall, 0.0408, 0.01, 1.0, 0.05));
  const auto blind = mouthless(steady::assemble(system));
  const auto solved = steady::solve(blind.kernel);
  REQUIRE(solved.outcome == steady::Outcome::settled);
  CHECK_FALSE(steady::write_proved(system, blind, solved).proof.consistent);
  CHECK(steady::solve(system).proof.consistent);
}

TEST_CASE("the mouth of a changed pipe is another one") {
  network::Model model = culvert(MouthEdge::square_in_wall, 0.0408, 0.01, 1.0, 0.05);
  steady::Solver solver(support::resolved(model));
  solver.solve();
  pipes::Pipe& pipe = model.pipelines[0].pipes[0].pipe;
  pipe.bore = Length::metres(0.0514);
  REQUIRE(solver.lay(0, 0, pipe));
  CHECK(solver.solve().line_m3s[0] == Approx(steady::solve(model).lines[0].flow_m3s).epsilon(1e-9));
}
