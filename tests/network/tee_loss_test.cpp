// What a tee costs the lines that meet in it. K = n fT with n 20 along the run and 60 into the branch
// [crane-tp410; from memory]; fT 0.019 in 2 in pipe of 52.5 mm.
#include "runnel/network/tee_loss.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/losses/friction.h"
#include "runnel/network/working_copy.h"
#include "support/resolved.h"

using namespace runnel;
using network::Model;

namespace {

constexpr double bore_m = 0.0525, run_k = 20 * 0.019, branch_k = 60 * 0.019;

network::Pipeline line(const std::string& name, const std::string& from, const std::string& to, double from_m,
                       double to_m, double length_m) {
  network::Pipeline l;
  l.name = name;
  l.from = from;
  l.to = to;
  pipes::Pipe pipe;
  pipe.bore = Length::metres(bore_m);
  pipe.roughness = Length::metres(4.5e-5);
  l.pipes = {{pipe, Length{}, {}, {}}};
  l.survey = {{Length{}, Length::metres(from_m)},
              {Length::metres(std::sqrt(length_m * length_m - (to_m - from_m) * (to_m - from_m))),
               Length::metres(to_m)}};
  l.entrance_loss = from == "box" ? 0.5 : 0.0;
  l.exit_loss = to == "tee" ? 0.0 : 1.0;
  return l;
}

/// A box, 100 m of main, and behind the tee 5 m straight on and 5 m turned off, both uphill.
Model teed(std::vector<std::string> straight) {
  Model model;
  network::Box box;
  box.name = "box";
  box.yield = Flow::from_si(0.05);
  box.outlet = Length::metres(20.0);
  box.lip = Length::metres(21.0);
  model.boxes = {box};
  network::Joint tee;
  tee.name = "tee";
  tee.elevation = Length::metres(8.0);
  tee.straight = std::move(straight);
  model.joints = {tee};
  for (const char* name : {"on", "off"}) {
    network::Outlet end;
    end.name = name;
    end.elevation = Length::metres(10.0);
    model.outlets.push_back(end);
  }
  model.pipelines = {line("main", "box", "tee", 20, 8, 100), line("straight line", "tee", "on", 8, 10, 5),
                     line("branch", "tee", "off", 8, 10, 5)};
  return model;
}

double k_at_tee(const network::System& system, int l) {
  return network::tee_loss(system, *system.find_place("tee"), l);
}

}  // namespace

TEST_CASE("a tee costs nothing until somebody says how its lines lie") {
  const network::System plain = support::resolved(teed({}));
  for (int l = 0; l < 3; ++l) CHECK(k_at_tee(plain, l) == 0.0);
  const network::System counted = support::resolved(teed({"main", "straight line"}));
  CHECK(k_at_tee(counted, 0) == 0.0);
  CHECK(k_at_tee(counted, 1) == Approx(run_k).epsilon(1e-3));  // printed factors have three digits
  CHECK(k_at_tee(counted, 2) == Approx(branch_k).epsilon(1e-3));
  CHECK(counted.lines()[2].entrance_loss == k_at_tee(counted, 2));
}

TEST_CASE("water that comes by the branch turns both ways, and two waters that meet pay where they come") {
  const network::System turned = support::resolved(teed({"straight line", "branch"}));
  CHECK(k_at_tee(turned, 0) == 0.0);
  CHECK(k_at_tee(turned, 1) == Approx(branch_k).epsilon(1e-3));
  CHECK(k_at_tee(turned, 2) == Approx(branch_k).epsilon(1e-3));
  Model meeting = teed({"main", "straight line"});
  network::Box other = meeting.boxes[0];
  other.name = "other box";
  meeting.boxes.push_back(other);
  meeting.outlets.pop_back();
  network::Pipeline& branch = meeting.pipelines[2];
  branch.from = "other box";
  branch.to = "tee";
  branch.survey.front().elevation = Length::metres(20.0);
  branch.survey.back().elevation = Length::metres(8.0);
  branch.exit_loss = 0.0;
  const network::System two = support::resolved(meeting);
  CHECK(k_at_tee(two, 0) == Approx(run_k).epsilon(1e-3));
  CHECK(k_at_tee(two, 1) == 0.0);
  CHECK(k_at_tee(two, 2) == Approx(branch_k).epsilon(1e-3));
  CHECK(two.lines()[2].exit_loss == k_at_tee(two, 2));
}

TEST_CASE("the flows of a tee close the energies worked by hand") {
  const Model model = teed({"main", "straight line"});
  const steady::State state = steady::solve(model);
  REQUIRE(state.outcome == steady::Outcome::settled);
  CHECK(state.proof.consistent);
  const double main = state.line("main")->flow_m3s, on = state.line("straight line")->flow_m3s,
               off = state.line("branch")->flow_m3s;
  const losses::PipeFriction pipe({}, bore_m, 4.5e-5, 0.0, model.site.water.kinematic_viscosity_m2s);
  const auto lost_m = [&](double flow_m3s, double length_m, double k) {
    const double velocity_ms = flow_m3s / (0.25 * 3.14159265358979323846 * bore_m * bore_m);
    return length_m * pipe.per_metre(flow_m3s).head_m + k * velocity_ms * velocity_ms / (2.0 * 9.80665);
  };
  const double tee_m = *state.place("tee")->grade_m;
  // The level in the box, less the way in and the main, is the energy at the tee; each end is 10 m high.
  CHECK(21.0 - lost_m(main, 100.0, 0.5) == Approx(tee_m).margin(1e-8));
  CHECK(10.0 + lost_m(on, 5.0, 1.0 + run_k) == Approx(tee_m).epsilon(1e-4));
  CHECK(10.0 + lost_m(off, 5.0, 1.0 + branch_k) == Approx(tee_m).epsilon(1e-4));
  CHECK(on + off == Approx(main).epsilon(1e-9));
  // Without the tee's own cost both ends are alike and get more together.
  const steady::State plain = steady::solve(teed({}));
  CHECK(plain.line("branch")->flow_m3s == Approx(plain.line("straight line")->flow_m3s).epsilon(1e-9));
  CHECK(plain.line("main")->flow_m3s > 1.001 * main);
  CHECK(off < 0.95 * on);
}

TEST_CASE("another pipe laid in a working copy pays the tee on its own bore") {
  network::WorkingCopy copy(support::resolved(teed({"main", "straight line"})));
  pipes::Pipe thin = copy.system().lines()[2].pipes[0].pipe;
  thin.bore = Length::metres(0.0209);
  REQUIRE(copy.lay(2, 0, thin));
  Model model = teed({"main", "straight line"});
  model.pipelines[2].pipes[0].pipe = thin;
  CHECK(copy.system().lines()[2].entrance_loss == support::resolved(model).lines()[2].entrance_loss);
  CHECK(copy.system().lines()[2].entrance_loss > 1.2 * branch_k);
}
