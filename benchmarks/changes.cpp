// What does it cost to solve a system again after a pipe, a level or an elevation has changed, compared with
// solving it from nothing? What does a whole answer with its proof cost, compared with the kernel alone? What
// does the kernel of a surveyed system cost, compared with the same network built by hand out of plain pipes;
// and compared with itself once crests, mouths and valves are taken out of it, which is another problem?
#include <algorithm>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <sstream>
#include <string>
#include <utility>
#include <vector>

#include "networks.h"
#include "runnel/input/read_model.h"
#include "runnel/steady/assemble.h"
#include "runnel/steady/datum.h"
#include "runnel/steady/kernel_solver.h"
#include "runnel/steady/newton.h"
#include "steady/nasty_system.h"
#include "support/resolved.h"
#include "timing.h"

namespace {

using namespace runnel;
using bench::median_seconds;
using steady::Kernel;
using steady::KernelSolver;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// One change and back again, so that every other solve has it.
class Change {
 public:
  explicit Change(const Kernel& kernel) : kernel_(kernel) {}
  virtual ~Change() = default;
  virtual const char* name() const = 0;
  virtual bool possible() = 0;
  virtual void make(KernelSolver& solver, bool there) = 0;

 protected:
  const Kernel& kernel_;
};

/// The first pipe of the first line a tenth wider.
struct WiderPipe final : Change {
  using Change::Change;
  const char* name() const override { return "pipe"; }
  bool possible() override {
    if (kernel_.terms.empty() || kernel_.links.front().terms == 0) return false;
    const auto& pipe = kernel_.terms[kernel_.links.front().term];
    wider_.assign(1, {losses::FrictionLaw{.law = pipe.law()}, 1.1 * pipe.bore_m(), 1.5e-6, 140.0, 1.31e-6});
    return true;
  }
  void make(KernelSolver& solver, bool there) override {
    solver.set_pipe(0, 0, there ? wider_.front() : kernel_.terms[kernel_.links.front().term]);
  }
  std::vector<losses::PipeFriction> wider_;
};

/// The first fixed level, or else lip, a decimetre higher.
struct HigherLevel final : Change {
  using Change::Change;
  const char* name() const override { return "level"; }
  bool possible() override {
    for (node_ = 0; at(node_) < kernel_.nodes.size(); ++node_)
      if (kernel_.nodes[at(node_)].fixed || kernel_.nodes[at(node_)].lip_m < steady::unbounded) return true;
    return false;
  }
  void make(KernelSolver& solver, bool there) override {
    const auto& node = kernel_.nodes[at(node_)];
    const double by_m = there ? 0.1 : 0.0;
    node.fixed ? solver.set_head(node_, node.head_m + by_m) : solver.set_lip(node_, node.lip_m + by_m);
  }
  int node_ = 0;
};

/// The first crest of the first line that has one, a decimetre higher.
struct HigherCrest final : Change {
  using Change::Change;
  const char* name() const override { return "elevation"; }
  bool possible() override {
    for (link_ = 0; at(link_) < kernel_.links.size(); ++link_) {
      const auto& link = kernel_.links[at(link_)];
      for (control_ = link.forward + 1; control_ < link.forward + link.forwards; ++control_)
        if (!kernel_.controls[control_].to_node && kernel_.controls[control_].station_m > 0.0) return true;
    }
    return false;
  }
  void make(KernelSolver& solver, bool there) override {
    steady::Control crest = kernel_.controls[control_];
    crest.sink_head_m += there ? 0.1 : 0.0;
    solver.set_control(link_, control_, crest, kernel_.lengths_m.data() + crest.lengths);
  }
  int link_ = 0;
  std::uint32_t control_ = 0;
};

struct Ratios {
  std::vector<double> all;
  double cold_s = 0.0, near_s = 0.0;
  void add(double cold, double near) { all.push_back(near / cold), cold_s += cold, near_s += near; }
};

void measure(const Kernel& kernel, Change&& change, Ratios& ratios) {
  KernelSolver solver(kernel);
  if (solver.solve().outcome != steady::Outcome::settled || !change.possible()) return;
  const int repeats = kernel.nodes.size() < 100 ? 20 : 1;
  bool there = false;
  const auto run = [&](auto&& solve) {
    return median_seconds(
        [&] {
          for (int i = 0; i < repeats; ++i) {
            change.make(solver, there = !there);
            solve();
          }
        },
        11, 101, 0.05);
  };
  const double cold = run([&] { solver.solve(); });
  ratios.add(cold / repeats, run([&] { solver.solve_near(); }) / repeats);
}

void print(const char* what, const char* change, Ratios& ratios) {
  if (ratios.all.empty()) return;
  std::sort(ratios.all.begin(), ratios.all.end());
  const std::size_t n = ratios.all.size();
  std::printf("%-34s %-10s %5zu systems  near / cold median %.2f, nine tenths below %.2f, together %.2f\n",
              what, change, n, ratios.all[n / 2], ratios.all[(n * 9) / 10], ratios.near_s / ratios.cold_s);
}

void compare(const char* what, const std::vector<Kernel>& kernels) {
  Ratios pipe, level, elevation;
  for (const Kernel& kernel : kernels) {
    measure(kernel, WiderPipe(kernel), pipe);
    measure(kernel, HigherLevel(kernel), level);
    measure(kernel, HigherCrest(kernel), elevation);
  }
  print(what, "pipe", pipe);
  print(what, "level", level);
  print(what, "elevation", elevation);
}

Kernel kernel_of(const network::System& system) {
  const steady::Assembly assembly = steady::assemble(system);
  return steady::above(assembly.kernel, steady::local_datum_m(assembly.kernel));
}

/// The same places and pipes, every line one full pipe of its whole length both ways.
Kernel by_hand(const Kernel& kernel) {
  Kernel plain = kernel;
  plain.mouths.clear();
  for (steady::Link& link : plain.links) {
    link.forwards = 1;
    link.backwards = link.backwards > 0 ? 1 : 0;
    link.forward_mouth = link.backward_mouth = -1;
  }
  return plain;
}

std::vector<network::System> models_on_disk() {
  std::vector<network::System> systems;
  std::vector<std::filesystem::path> folders;
  for (const auto& entry : std::filesystem::directory_iterator(RUNNEL_SOURCE_DIR "/models"))
    if (std::filesystem::exists(entry.path() / "model.yaml")) folders.push_back(entry.path());
  std::sort(folders.begin(), folders.end());
  for (const auto& folder : folders) {
    std::ifstream in(folder / "model.yaml");
    std::stringstream text;
    text << in.rdbuf();
    input::ReadOptions options;
    options.side_file = [&](const std::string& name) -> std::optional<std::string> {
      std::ifstream side(folder / name);
      if (!side) return std::nullopt;
      std::stringstream more;
      more << side.rdbuf();
      return more.str();
    };
    auto read = input::read_model(text.str(), folder.string(), options);
    if (!read.value) continue;
    auto system = network::resolve(std::move(*read.value));
    if (system) systems.push_back(std::move(*system.value));
  }
  return systems;
}

/// Time of a solve, and of one of its Newton steps.
struct Cost {
  double seconds = 0.0;
  std::size_t steps = 0;
  double per_step_us() const { return 1e6 * seconds / static_cast<double>(steps); }
  void add(const Kernel& kernel) {
    seconds += median_seconds([&] { steady::solve(kernel); }, 11, 101, 0.05);
    steps += steady::solve(kernel).history.size();
  }
};

void print(const char* what, const Cost& cost, const Cost& plain) {
  std::printf("%-34s kernel / plain pipes %.2f: steps %zu and %zu, a step %.2f us and %.2f us (%.2f)\n", what,
              cost.seconds / plain.seconds, cost.steps, plain.steps, cost.per_step_us(), plain.per_step_us(),
              cost.per_step_us() / plain.per_step_us());
}

/// A made-up network as a model: every line surveyed at several points, far enough below the grade line for
/// all of them to run full.
network::Model surveyed(const Kernel& kernel) {
  constexpr double below_m = 60.0;
  constexpr int reaches = 8;
  bench::Dice dice(3);
  network::Model model;
  model.site.water.kinematic_viscosity_m2s = 1.31e-6;
  model.friction.law = kernel.terms.front().law();
  const auto name = [](int v) { return "place " + std::to_string(v); };
  const auto elevation_m = [&](int v) {
    const steady::KernelNode& node = kernel.nodes[at(v)];
    return node.fixed ? node.head_m - 10.0 : -below_m;
  };
  for (int v = 0; at(v) < kernel.nodes.size(); ++v) {
    const steady::KernelNode& node = kernel.nodes[at(v)];
    if (node.fixed) {
      network::Tank tank;
      tank.name = name(v);
      tank.shape = network::UprightCylinder{Length::metres(2.0)};
      tank.floor = tank.inlet = Length::metres(elevation_m(v));
      tank.level = Length::metres(node.head_m);
      tank.lip = Length::metres(node.head_m + 1.0);
      model.tanks.push_back(tank);
    } else {
      network::Joint joint;
      joint.name = name(v);
      joint.elevation = Length::metres(elevation_m(v));
      joint.draw = Flow::from_si(-node.inflow_m3s);
      model.joints.push_back(joint);
    }
  }
  for (std::size_t k = 0; k < kernel.links.size(); ++k) {
    const steady::Link& link = kernel.links[k];
    network::Pipeline line;
    line.name = "line " + std::to_string(k);
    line.from = name(link.a);
    line.to = name(link.b);
    const double length_m = kernel.lengths_m[kernel.controls[link.forward].lengths];
    for (int i = 0; i <= reaches; ++i) {
      const double share = static_cast<double>(i) / reaches;
      const double off_m = i == 0 || i == reaches ? 0.0 : dice.real(-5.0, 0.0);
      line.survey.push_back(
          {Length::metres(length_m * share),
           Length::metres((1.0 - share) * elevation_m(link.a) + share * elevation_m(link.b) + off_m)});
    }
    line.entrance_loss = line.exit_loss = 0.0;
    pipes::Pipe pipe;
    pipe.name = "made up";
    pipe.bore = Length::metres(kernel.terms[link.term].bore_m());
    pipe.roughness = Length::metres(7e-6);
    pipe.hazen_c = 140.0;
    line.pipes.push_back({pipe, Length{}, {}, {}});
    model.pipelines.push_back(line);
  }
  return model;
}

/// The network of a surveyed system as one would build it by hand: draws that are always met, and pipes as
/// long as the lines.
Kernel built_by_hand(const Kernel& surveyed) {
  Kernel plain;
  plain.nodes = surveyed.nodes;
  for (steady::KernelNode& node : plain.nodes) {
    node.inflow_m3s -= std::exchange(node.draw_m3s, 0.0);
    node.draw_floor_m = -steady::unbounded;
  }
  for (const steady::Link& link : surveyed.links) {
    const steady::Control& ends = surveyed.controls[link.forward];
    plain.add_pipe(link.a, link.b, surveyed.terms[link.term], surveyed.lengths_m[ends.lengths], 0.0);
    plain.controls.back().quadratic_s2m5 = ends.quadratic_s2m5;
    steady::Control back = plain.controls.back();
    back.quadratic_s2m5 = surveyed.controls[link.backward].quadratic_s2m5;
    plain.links.back().backward = static_cast<std::uint32_t>(plain.controls.size());
    plain.links.back().smooth_m3s = link.smooth_m3s;
    plain.controls.push_back(back);
  }
  return plain;
}

void surveyed_and_by_hand(const char* what, int rows, int columns) {
  Cost cost, plain;
  double apart = 0.0, most = 0.0;
  std::size_t governed = 0;  // by a crest or a mouth
  for (const auto law : {bench::Law::hazen_williams, bench::Law::darcy_weisbach})
    for (const auto shape : {bench::Shape::tree, bench::Shape::branchy, bench::Shape::looped}) {
      const Kernel kernel = kernel_of(support::resolved(surveyed(bench::network(shape, rows, columns, law))));
      const Kernel hand = built_by_hand(kernel);
      const steady::KernelState one = steady::solve(kernel), other = steady::solve(hand);
      for (std::size_t k = 0; k < one.flow_m3s.size(); ++k) {
        apart = std::max(apart, std::abs(one.flow_m3s[k] - other.flow_m3s[k]));
        most = std::max(most, std::abs(one.flow_m3s[k]));
        const auto governing = static_cast<std::uint32_t>(one.control[k]);
        governed += governing != kernel.links[k].forward && governing != kernel.links[k].backward;
      }
      cost.add(kernel);
      plain.add(hand);
    }
  print(what, cost, plain);
  std::printf("%-34s flows apart by %.1e m3/s of %.1e, %zu lines governed by a crest or a mouth\n", "", apart,
              most, governed);
}

void whole_answers(const char* what, const std::vector<network::System>& systems) {
  double answer_s = 0.0, worst = 0.0;
  Cost cost, without;
  std::size_t counted = 0;
  for (const network::System& system : systems) {
    const Kernel kernel = kernel_of(system), plain = by_hand(kernel);
    if (steady::solve(kernel).outcome != steady::Outcome::settled ||
        steady::solve(plain).outcome != steady::Outcome::settled)
      continue;
    const double before_s = cost.seconds;
    cost.add(kernel);
    without.add(plain);
    const double answer = median_seconds([&] { steady::solve(system); }, 11, 101, 0.05);
    answer_s += answer, ++counted;
    worst = std::max(worst, answer / (cost.seconds - before_s));
  }
  std::printf("%-34s %zu systems  whole answer with proof / cold kernel %.1f (worst %.1f)\n", what, counted,
              answer_s / cost.seconds, worst);
  print("  beside itself without crests", cost, without);
}

}  // namespace

int main() {
  std::vector<Kernel> kernels;
  for (const auto law : {bench::Law::hazen_williams, bench::Law::darcy_weisbach})
    for (const auto shape : {bench::Shape::tree, bench::Shape::branchy, bench::Shape::looped})
      kernels.push_back(bench::network(shape, 5, 10, law));
  compare("plain networks of 50 places", kernels);
  kernels.clear();
  for (const auto shape : {bench::Shape::tree, bench::Shape::branchy, bench::Shape::looped})
    kernels.push_back(bench::network(shape, 25, 40, bench::Law::darcy_weisbach));
  compare("plain networks of 1,000 places", kernels);
  surveyed_and_by_hand("surveyed networks of 50 places", 5, 10);
  surveyed_and_by_hand("surveyed networks of 1,000 places", 25, 40);

  const std::vector<network::System> models = models_on_disk();
  std::vector<network::System> random;
  test::NastyKind kind;
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    kind.loops = static_cast<int>(seed % 2) * 2;
    random.push_back(support::resolved(test::NastySystem(seed, kind).system));
  }
  const auto both = [](const char* name, const std::vector<network::System>& systems) {
    std::vector<Kernel> of_systems;
    for (const network::System& system : systems) of_systems.push_back(kernel_of(system));
    compare(name, of_systems);
    whole_answers(name, systems);
  };
  both("models on disk", models);
  both("random systems", random);
}
