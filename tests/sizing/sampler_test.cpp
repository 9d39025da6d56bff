#include "runnel/sizing/sampler.h"

#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "steady/small_systems.h"

using namespace runnel;
using network::Model;
using sizing::together;
using Use = sizing::Sampler::Use;

namespace {

void ask(Model& model, const std::string& at, double flow_m3s) {
  network::Ask ask;
  ask.at = at;
  ask.flow = Flow::from_si(flow_m3s);
  model.asks.push_back(ask);
}

/// Everything on it is unknown: levels, walls, roughness, and the spring.
Model random_tree(std::mt19937& chance, int joints, losses::Law law, double spring_m3s = 6e-3) {
  std::uniform_real_distribution<double> share(0.0, 1.0);
  Model model = small::empty();
  model.friction.law = law;
  small::box(model, "spring", spring_m3s, 100.0, 100.6);
  model.boxes[0].bucket_tests = network::BucketTests{Volume::from_si(0.05), {}};
  for (const double rate : {0.97, 1.0, 1.03})
    model.boxes[0].bucket_tests->times.push_back(Duration::from_si(0.05 / (rate * spring_m3s)));
  std::vector<std::pair<std::string, double>> places{{"spring", 100.0}};
  for (int j = 0; j < joints; ++j) {
    const auto [from, from_m] = places[static_cast<std::size_t>(share(chance) * double(places.size()))];
    const std::string name = "joint " + std::to_string(j);
    const double run_m = 60.0 + 120.0 * share(chance), to_m = from_m - 4.0 - 6.0 * share(chance);
    small::joint(model, name, to_m, j % 3 == 0 ? 2e-5 : 0.0);
    const double middle_m = 0.5 * (from_m + to_m) - 2.0 * share(chance);
    auto& line = small::line(model, "to " + name, from, name, 0.0326 + 0.02 * share(chance),
                             {{0.0, from_m}, {0.4 * run_m, middle_m}, {run_m, to_m}});
    line.survey_error = Length::metres(0.3);
    auto& pipe = line.pipes[0].pipe;
    pipe.outside = Length::metres(pipe.bore.metres() + 0.006);
    pipe.wall = Length::millimetres(3.0);
    pipe.bore_convention = pipes::BoreConvention::outside_less_two_minimum_walls;
    pipe.material = "PE100";
    if (j % 2 == 0) line.parts.push_back(small::part(network::PartKind::fitting, "elbow", 0.3 * run_m, 1.5));
    places.emplace_back(name, to_m);
  }
  for (int j = 0; j < joints; j += 2) {
    const auto [on, on_m] = places[static_cast<std::size_t>(j) + 1];
    const std::string name = "tap " + std::to_string(j);
    small::outlet(model, name, on_m - 1.0, 0.008, 3.0, on);
    ask(model, name, 5e-5 + 5e-5 * share(chance));
  }
  return model;
}

/// Every sample of a block beside the same sample computed on a model of its own.
int compare(const Model& model, std::uint64_t blocks) {
  const auto unknowns = sizing::unknowns_of(model);
  const sizing::Sampler of_margins(model, unknowns, 5, Use::margins),
      of_flows(model, unknowns, 5, Use::flows);
  CHECK(of_margins.margins_in_lanes());
  CHECK(of_flows.flows_in_lanes());
  int alone = 0;
  for (std::uint64_t block = 0; block < blocks; ++block) {
    sizing::SampleBlock out;
    of_margins.run_margins(block, out);
    of_flows.run_flows(block, out);
    alone += out.one_by_one;
    for (std::size_t lane = 0; lane < together; ++lane) {
      const Model one = sizing::sampled(model, unknowns, 5, block * together + lane);
      const auto margins = sizing::margins_m(one), flows = sizing::flows_m3s(one);
      for (std::size_t p = 0; p < margins.size(); ++p) {
        INFO("block " << block << " lane " << lane << " place " << p);
        // A nanometre, and a part in 10^9.
        CHECK(out.margin_m[p * together + lane] == Approx(margins[p]).margin(1e-9).epsilon(1e-9));
        CHECK(out.flow_m3s[p * together + lane] == Approx(flows[p]).epsilon(1e-9));
      }
    }
  }
  return alone;
}

}  // namespace

TEST_CASE("samples solved together are those solved one by one") {
  std::mt19937 chance(31);
  int alone = 0, all = 0;
  for (int trial = 0; trial < 6; ++trial) {
    INFO("trial " << trial);
    const auto law = trial % 2 == 0 ? losses::Law::darcy_weisbach : losses::Law::hazen_williams;
    alone += compare(random_tree(chance, 4 + 2 * trial, law), 3);
    all += 3 * static_cast<int>(together);
  }
  CHECK(alone < all / 2);
}

TEST_CASE("samples in which a spring runs low are those solved one by one") {
  std::mt19937 chance(32);
  // Hardly what the taps take, so that some samples spill and others do not.
  Model model = random_tree(chance, 5, losses::Law::darcy_weisbach, 1e-3);
  const auto flows = sizing::flows_m3s(model);
  double taken = 0.0;
  for (const double flow : flows) taken += flow;
  for (const auto& joint : model.joints) taken += joint.draw.si();
  model.boxes[0].yield = Flow::from_si(1.001 * taken);
  const auto unknowns = sizing::unknowns_of(model);
  const sizing::Sampler sampler(model, unknowns, 9, Use::flows);
  for (std::uint64_t block = 0; block < 4; ++block) {
    sizing::SampleBlock out;
    sampler.run_flows(block, out);
    for (std::size_t lane = 0; lane < together; ++lane) {
      const auto one = sizing::flows_m3s(sizing::sampled(model, unknowns, 9, block * together + lane));
      for (std::size_t p = 0; p < one.size(); ++p)
        CHECK(out.flow_m3s[p * together + lane] == Approx(one[p]).epsilon(1e-9));
    }
  }
}

TEST_CASE("every width of vector gives the same figures") {
  sizing::LaneTree tree;
  tree.viscosity_m2s = 1.3e-6;
  tree.places = 4;
  tree.lines = 2;
  tree.fixed = {true, false, true, true};
  tree.draw_m3s = {0.0, 3e-5, 0.0, 0.0};
  tree.bore_m = {0.0326, 0.0262};
  tree.branches = {{0, 1, 0, 2e4, 0.0, 4e-4}, {1, 2, 1, 0.0, 5e6, 2e-4}, {1, 3, -1, 0.0, 2e8, 2e-4}};
  std::mt19937 chance(3);
  std::uniform_real_distribution<double> share(0.9, 1.1);
  sizing::LaneInputs in;
  for (std::size_t lane = 0; lane < together; ++lane) in.head_m.push_back(0.0);
  in.head_m.resize(4 * together, 0.0);
  for (std::size_t lane = 0; lane < together; ++lane) {
    in.head_m[2 * together + lane] = -20.0 * share(chance);
    in.head_m[3 * together + lane] = -15.0 * share(chance);
  }
  for (const double bore : tree.bore_m)
    for (std::size_t lane = 0; lane < together; ++lane) {
      in.bore_m.push_back(bore * share(chance));
      in.length_m.push_back(200.0 * share(chance));
      in.rough.push_back(1e-5 * share(chance));
    }
  sizing::LaneFlows first;
  REQUIRE(sizing::solve(tree, in, first, sizing::Width::two));
  for (const bool settled : first.settled) CHECK(settled);
  for (const auto width : {sizing::Width::four, sizing::Width::eight, sizing::Width::best}) {
    sizing::LaneFlows other;
    if (!sizing::solve(tree, in, other, width)) continue;
    // Wide forms may round a product and a sum at once.
    for (std::size_t i = 0; i < first.flow_m3s.size(); ++i)
      CHECK(other.flow_m3s[i] == Approx(first.flow_m3s[i]).epsilon(1e-12));
  }
  SECTION("what comes to a place leaves it, and heads fall by what is lost") {
    for (std::size_t lane = 0; lane < together; ++lane) {
      const auto flow = [&](std::size_t b) { return first.flow_m3s[b * together + lane]; };
      CHECK(flow(0) == Approx(flow(1) + flow(2) + 3e-5).epsilon(1e-12));
      const losses::PipeFriction friction(tree.law, in.bore_m[together + lane], in.rough[together + lane],
                                          150.0, tree.viscosity_m2s);
      CHECK(
          first.head_m[together + lane] - in.head_m[2 * together + lane] ==
          Approx(friction.per_metre(flow(1)).head_m * in.length_m[together + lane] + 5e6 * flow(1) * flow(1))
              .epsilon(1e-11));
    }
  }
  SECTION("a sample is what it is whatever lies beside it") {
    sizing::LaneInputs others = in;
    for (auto* all : {&others.bore_m, &others.length_m, &others.rough})
      for (std::size_t i = 0; i < all->size(); ++i)
        if (i % together != 2) (*all)[i] *= 1.3;
    sizing::LaneFlows beside, before;
    for (const double scale : {1.0, 1e3}) {  // turbulent, and laminar
      others.bore_m[0] = in.bore_m[0] * scale;
      REQUIRE(sizing::solve(tree, in, before));
      REQUIRE(sizing::solve(tree, others, beside));
      for (std::size_t b = 0; b < tree.branches.size(); ++b)
        CHECK(beside.flow_m3s[b * together + 2] == before.flow_m3s[b * together + 2]);
    }
  }
}

TEST_CASE("the high point that binds is named") {
  Model model = small::empty();
  small::box(model, "spring", 1e-3, 100.0, 100.5);
  small::outlet(model, "end", 80.0);
  auto& line = small::line(model, "line", "spring", "end", 0.0262,
                           {{0.0, 100.0}, {120.0, 90.0}, {200.0, 97.5}, {300.0, 80.0}});
  line.survey_error = Length::metres(1.0);
  ask(model, "end", 3e-4);
  const sizing::Sampler sampler(model, sizing::unknowns_of(model), 1, Use::margins);
  sizing::SampleBlock out;
  sampler.run_margins(0, out);
  CHECK(out.binding[0] == sizing::Binding{0, 200.0});
}
