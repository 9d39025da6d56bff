// What becomes of a system in the kernel: its places, one law a line, openings, float valves.
#include "runnel/steady/assemble.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/steady/capacity.h"
#include "runnel/steady/datum.h"
#include "runnel/steady/newton.h"
#include "steady/head_budget.h"
#include "steady/nasty_system.h"
#include "steady/small_systems.h"

using namespace runnel;
using network::PartKind;
using steady::Assembly;
using steady::Control;
using steady::Link;
using steady::unbounded;
using test::per_square;

namespace {

std::size_t at(int i) { return static_cast<std::size_t>(i); }

const Link& link_of(const Assembly& assembly, std::size_t line) {
  return assembly.kernel.links[at(assembly.line_link[line])];
}

/// A box, a tank 30 m lower with a float valve at 70.5 m, and what is drawn from the tank.
network::Model to_a_tank(double level_m, double draw_m3s) {
  network::Model m = small::empty();
  small::box(m, "spring", 1e-3, 100.0, 100.6);
  small::tank(m, "tank", 70.0, level_m);
  m.tanks[0].floor = Length::metres(69.0);
  m.tanks[0].float_valve = network::FloatValve{Length::metres(70.5), Length::metres(70.2), 6.0};
  if (draw_m3s > 0.0) {
    network::Draw draw;
    draw.flow = Flow::from_si(draw_m3s);
    m.tanks[0].draws = {draw};
  }
  small::line(m, "main", "spring", "tank", 0.03, {{0, 100}, {200, 70}});
  return m;
}

class Constant : public steady::ColumnLaw {
 public:
  steady::Need need(double, double) const override { return {7.0, 1.0, 0.0}; }
};

bool same(const Control& a, const Control& b) {
  return a.source_head_m == b.source_head_m && a.sink_head_m == b.sink_head_m &&
         a.quadratic_s2m5 == b.quadratic_s2m5 && a.from_node == b.from_node && a.to_node == b.to_node &&
         a.station_m == b.station_m && (a.mouth < 0) == (b.mouth < 0);
}

}  // namespace

TEST_CASE("every place that water can stand at is a node with what is known of it") {
  const network::Model m = small::village();
  const Assembly a = steady::assemble(m);
  REQUIRE(a.nodes_of(runnel::network::PlaceKind::box).size() == 1);
  const auto& box = a.kernel.nodes[at(a.nodes_of(runnel::network::PlaceKind::box)[0])];
  CHECK_FALSE(box.fixed);
  CHECK(box.inflow_m3s == 2e-3);
  CHECK(box.lip_m == 51.0);
  const auto& tank = a.kernel.nodes[at(a.nodes_of(runnel::network::PlaceKind::tank)[0])];
  CHECK(tank.fixed);
  CHECK(tank.head_m == 31.0);
  const auto& tee = a.kernel.nodes[at(a.nodes_of(runnel::network::PlaceKind::joint)[0])];
  CHECK(tee.draw_m3s == 1e-4);
  CHECK(tee.draw_floor_m == 30.0);
  CHECK(a.nodes_of(runnel::network::PlaceKind::outlet) ==
        std::vector<int>{-1, -1});  // one hangs on the tee, the other is the end of its line
  CHECK(a.kernel.nodes.size() == 3);
  // Three lines and then the tap on the tee; the trough is the end of the third line.
  CHECK(a.line_link == std::vector<int>{0, 1, 2});
  CHECK(a.outlet_link == std::vector<int>{3, 2});
  const Link& tap = a.kernel.links[3];
  CHECK(tap.a == a.nodes_of(runnel::network::PlaceKind::joint)[0]);
  CHECK(tap.b == -1);
  CHECK(a.kernel.controls[tap.forward].sink_head_m == 30.5);
  CHECK(a.kernel.controls[tap.forward].quadratic_s2m5 == Approx(per_square(3.0, 0.0095)).epsilon(1e-12));
}

TEST_CASE("the first control of a line is its whole length with all it loses from end to end") {
  network::Model m = small::empty();
  small::box(m, "spring", 1e-3, 100.0, 100.6);
  small::outlet(m, "end", 60.0, 0.012, 2.5);
  auto& line = small::line(m, "main", "spring", "end", 0.04, {{0, 100}, {100, 90}, {400, 60}});
  line.pipes.push_back({small::pipe(0.03), Length::metres(100.0), 0.0, {}});
  line.parts = {small::part(PartKind::fitting, "bends", 200.0, 3.0)};
  const Assembly a = steady::assemble(m);
  const Link& link = link_of(a, 0);
  const Control& ends = a.kernel.controls[link.forward];
  CHECK(ends.from_node);
  CHECK_FALSE(ends.to_node);
  CHECK(ends.sink_head_m == 60.0);
  CHECK(ends.station_m < 0.0);
  REQUIRE(link.terms == 2);
  CHECK(a.kernel.lengths_m[ends.lengths] == Approx(std::hypot(100.0, 10.0)).epsilon(1e-12));
  CHECK(a.kernel.lengths_m[ends.lengths + 1] == Approx(std::hypot(300.0, 30.0)).epsilon(1e-12));
  CHECK(ends.quadratic_s2m5 ==
        Approx(per_square(0.5, 0.04) + per_square(3.0, 0.03) + per_square(2.5, 0.012)).epsilon(1e-12));
  CHECK(link.backwards == 0);  // from the open air nothing comes back
  // The mouth in the box is the last of the way there, over the axis of the pipe.
  REQUIRE(link.forward_mouth == static_cast<int>(link.forward + link.forwards) - 1);
  CHECK(a.kernel.controls[at(link.forward_mouth)].sink_head_m == 100.0);
}

TEST_CASE("between two joints a line that air cannot stop is one pipe both ways") {
  network::Model m = small::loop(1e-3);
  const Assembly a = steady::assemble(m, {.floors = false});
  for (std::size_t l = 0; l < m.pipelines.size(); ++l) {
    const Link& link = link_of(a, l);
    CHECK(link.forwards == 1);
    CHECK(link.backwards == 1);
    const Control &there = a.kernel.controls[link.forward], &back = a.kernel.controls[link.backward];
    CHECK(a.kernel.lengths_m[there.lengths] == Approx(a.kernel.lengths_m[back.lengths]).epsilon(1e-15));
  }
  for (const auto& node : a.kernel.nodes) CHECK(node.draw_floor_m == -unbounded);  // draws are always met
}

TEST_CASE("floors that could never govern are left out, and leaving them out changes no flow") {
  long kept = 0, all = 0;
  for (std::uint64_t seed = 1; seed <= 120; ++seed) {
    test::NastyKind kind;
    kind.loops = 1;
    kind.most_crests = 12;
    const network::System system = support::resolved(test::NastySystem(seed, kind).system);
    const Assembly sparse = steady::assemble(system),
                   roomy = steady::assemble(system, {.room_for_changes = true});
    CAPTURE(seed);
    REQUIRE(sparse.kernel.links.size() == roomy.kernel.links.size());
    for (std::size_t k = 0; k < sparse.kernel.links.size(); ++k) {
      const Link &a = sparse.kernel.links[k], &b = roomy.kernel.links[k];
      REQUIRE(a.forwards <= b.forwards);
      kept += a.forwards + a.backwards, all += b.forwards + b.backwards;
      for (const bool forward : {true, false}) {
        const auto first = forward ? b.forward : b.backward;
        const auto count = forward ? b.forwards : b.backwards, used = forward ? a.forwards : a.backwards;
        // Idle ones stand behind those that count, and before the mouth, and never govern.
        const std::uint32_t mouth = b.mouth(forward) >= 0 ? 1 : 0;
        for (std::uint32_t i = used - (used > 0 ? mouth : 0); i + mouth < count; ++i)
          REQUIRE(roomy.kernel.controls[first + i].sink_head_m == -unbounded);
      }
      // Whatever stands at its ends, the link lets the same through.
      plain::Dice dice(seed * 1000 + k);
      for (int round = 0; round < 10; ++round) {
        const double high = dice.real(80.0, 110.0), low = dice.real(40.0, 100.0);
        for (const bool forward : {true, false}) {
          const double first = steady::carries(sparse.kernel, a, high, low, forward).flow_m3s;
          const double second = steady::carries(roomy.kernel, b, high, low, forward).flow_m3s;
          REQUIRE(first == Approx(second).epsilon(1e-12).margin(1e-18));
        }
      }
    }
  }
  CHECK(kept < all);
}

TEST_CASE("a floor is kept wherever some flow could be held by it") {
  // Random lines of one bore: the least flow over all points, each by itself, found by bisection.
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    plain::Dice dice(seed);
    std::vector<std::pair<double, double>> survey{{0.0, 100.0}};
    for (int i = dice.whole(1, 12); i > 0; --i)
      survey.emplace_back(survey.back().first + dice.real(1.0, 60.0),
                          survey.back().second + dice.real(-6.0, 4.0));
    network::Model m = small::empty();
    small::box(m, "spring", 1e-3, 100.0, 101.0);
    small::outlet(m, "end", survey.back().second);
    small::line(m, "main", "spring", "end", 0.03, survey);
    const Assembly a = steady::assemble(m);
    const auto& friction = a.plans[0].friction[0];
    const double level_m = dice.real(100.0, 140.0), vh = per_square(1.0, 0.03);
    double expected = unbounded, along = 0.0;
    for (std::size_t i = 0; i < survey.size(); ++i) {
      if (i > 0)
        along += std::hypot(survey[i].first - survey[i - 1].first, survey[i].second - survey[i - 1].second);
      double low = 0.0, high = 1.0;
      for (int k = 0; k < 200; ++k) {
        const double q = 0.5 * (low + high);
        const double asked =
            survey[i].second + (0.5 + 1.0) * vh * q * q + friction.per_metre(q).head_m * along;
        (asked <= level_m ? low : high) = q;
      }
      expected = std::min(expected, low);
    }
    CAPTURE(seed, level_m);
    // Well over a drowned mouth: no less than some ten bores of water stand over it, or the mouth may govern.
    if (level_m < 101.0) continue;
    const steady::Capacity got = steady::carries(a.kernel, link_of(a, 0), level_m, 0.0);
    if (got.control == link_of(a, 0).forward_mouth) continue;
    CHECK(got.flow_m3s == Approx(expected).epsilon(1e-10).margin(1e-12));
  }
}

TEST_CASE("a float valve is open below its level, passes the draws at it and is shut above") {
  const double area_loss = per_square(6.0, 0.03);
  const Assembly below = steady::assemble(to_a_tank(70.4, 2e-4));
  CHECK_FALSE(link_of(below, 0).shut);
  CHECK(link_of(below, 0).most_m3s == unbounded);
  CHECK(link_of(below, 0).backwards == 0);
  CHECK(below.kernel.controls[link_of(below, 0).forward].quadratic_s2m5 ==
        Approx(per_square(1.5, 0.03) + area_loss).epsilon(1e-12));  // its own loss besides entrance and exit
  const Assembly at_level = steady::assemble(to_a_tank(70.5, 2e-4));
  CHECK_FALSE(link_of(at_level, 0).shut);
  CHECK(link_of(at_level, 0).most_m3s == 2e-4);
  CHECK(link_of(steady::assemble(to_a_tank(70.5, 0.0)), 0).shut);
  CHECK(link_of(steady::assemble(to_a_tank(70.6, 2e-4)), 0).shut);
  // A run that follows levels decides by itself.
  const Assembly run = steady::assemble(to_a_tank(70.6, 2e-4), {.for_filling = true});
  CHECK_FALSE(link_of(run, 0).shut);
  CHECK(link_of(run, 0).most_m3s == unbounded);
}

TEST_CASE("a line into a tank ends no lower than the tank's floor where levels change") {
  network::Model m = to_a_tank(70.0, 0.0);
  m.tanks[0].floor = m.tanks[0].inlet = Length::metres(70.0);
  m.pipelines[0].survey.back().elevation = Length::metres(70.0 - 0.04);  // as a survey may err
  const network::System system = support::resolved(m);
  CHECK(steady::assemble(system).plans[0].course.points().back().elevation_m == Approx(69.96).epsilon(1e-12));
  CHECK(steady::assemble(system, {.for_filling = true}).plans[0].course.points().back().elevation_m == 70.0);
}

TEST_CASE("what is shut is shut: a valve on a line, a tap at its end, a tap on a joint") {
  const Assembly blocked = steady::assemble(small::blocked());
  CHECK_FALSE(link_of(blocked, 0).shut);
  CHECK(link_of(blocked, 1).shut);
  network::Model m = small::village();
  for (const bool shut : {false, true}) {
    for (auto& outlet : m.outlets) outlet.shut = shut;
    const Assembly a = steady::assemble(m);
    CHECK(a.kernel.links[at(a.outlet_link[0])].shut == shut);
    CHECK(a.kernel.links[at(a.outlet_link[1])].shut == shut);
  }
}

TEST_CASE("an outlet that no line leads to is a place without a way out") {
  network::Model m = small::village();
  small::outlet(m, "spare", 10.0);
  const Assembly a = steady::assemble(m);
  CHECK(a.outlet_link[2] == -1);
  REQUIRE(a.nodes_of(runnel::network::PlaceKind::outlet)[2] >= 0);
  for (const Link& link : a.kernel.links) {
    CHECK(link.a != a.nodes_of(runnel::network::PlaceKind::outlet)[2]);
    CHECK(link.b != a.nodes_of(runnel::network::PlaceKind::outlet)[2]);
  }
  CHECK(steady::solve(a.kernel).outcome == steady::Outcome::settled);
}

TEST_CASE("a line assembled alone has the law that it has among all others") {
  const network::System system = support::resolved(small::village());
  const Assembly whole = steady::assemble(system);
  for (std::size_t l = 0; l < system.lines().size(); ++l) {
    const Assembly alone = steady::assemble_line(system, static_cast<int>(l));
    REQUIRE(alone.kernel.links.size() == 1);
    CHECK(alone.kernel.nodes.size() == whole.kernel.nodes.size());
    const Link &a = alone.kernel.links[0], &b = link_of(whole, l);
    CHECK(a.a == b.a);
    CHECK(a.b == b.b);
    REQUIRE(a.forwards == b.forwards);
    REQUIRE(a.backwards == b.backwards);
    for (std::uint32_t i = 0; i < a.forwards; ++i)
      CHECK(same(alone.kernel.controls[a.forward + i], whole.kernel.controls[b.forward + i]));
    for (std::uint32_t i = 0; i < a.backwards; ++i)
      CHECK(same(alone.kernel.controls[a.backward + i], whole.kernel.controls[b.backward + i]));
  }
}

TEST_CASE("a law put in the place of a pipe's own takes the direction it is put to") {
  Assembly a = steady::assemble(small::village());
  const auto law = std::make_shared<Constant>();
  steady::put_column(a, 1, false, law);
  steady::put_column(a, 0, true, law);
  CHECK(link_of(a, 1).backward_column == 0);
  CHECK(link_of(a, 1).forward_column == -1);
  CHECK(link_of(a, 0).forward_column == 1);
  CHECK(link_of(a, 0).backward_column == -1);
  CHECK(a.kernel.columns.size() == 2);
  CHECK(a.kernel.columns[0] == law);
}

TEST_CASE("a law behind a reducing valve hangs on the control that the valve is") {
  network::Model m = small::village();
  auto second = small::part(PartKind::reducing_valve, "R2", 200.0, 5.0);
  second.set_pressure = Pressure::pascals(30e3);
  m.pipelines[2].parts.push_back(second);
  Assembly a = steady::assemble(m);
  steady::put_behind_valve(a, 2, 120.0, std::make_shared<Constant>());
  steady::put_behind_valve(a, 2, 200.0, std::make_shared<Constant>());
  const Link& link = link_of(a, 2);
  REQUIRE(link.behind_valves == 2);
  for (std::uint32_t i = 0; i < 2; ++i) {
    const steady::BehindValve& behind = a.kernel.behind_valves[link.behind_valve + i];
    const Control& control = a.kernel.controls[behind.control];
    CHECK(behind.column == static_cast<int>(i));
    CHECK(control.station_m == (i == 0 ? 120.0 : 200.0));
    CHECK_FALSE(control.from_node);
    const steady::LinePlan& plan = a.plans[2];
    for (std::size_t v = 0; v < plan.vertices.size(); ++v)
      if (plan.course.points()[v].station_m == control.station_m)
        CHECK(control.source_head_m == *plan.vertices[v].holds_m);
  }
}

TEST_CASE("a valve as good as shut is smoothed by no more than rounding") {
  // What smoothing takes off a loss m Q^2 is half of m s^2: with m of 1e9 and more it would show.
  network::Model m = to_a_tank(70.0, 0.0);
  m.pipelines[0].parts = {small::part(PartKind::fitting, "gate", 100.0, 1e7)};
  const Assembly a = steady::assemble(m);
  const Link& link = link_of(a, 0);
  const double most = a.kernel.controls[link.forward].quadratic_s2m5;
  CHECK(link.smooth_m3s > 0.0);
  CHECK(0.5 * most * link.smooth_m3s * link.smooth_m3s <= 1.0001e-11);
  const Link easy = link_of(steady::assemble(to_a_tank(70.0, 0.0)), 0);
  CHECK(easy.smooth_m3s > link.smooth_m3s);
}
