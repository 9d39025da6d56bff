#pragma once
// Three networks of the literature as choices of pipe (tests/data/networks/README.md).
#include "runnel/sizing/loop_choice.h"
#include "runnel/units/quantity.h"
#include "support/csv.h"

namespace support {

struct PublishedNetwork {
  std::string name, runs, run_id, length, demand, fixed, least, bore, cost;
  double length_m, flow_m3s, head_m;  ///< their units
  bool beside;                        ///< new pipes lie beside old ones
};

inline PublishedNetwork two_loop() {
  return {"two_loop",
          "runs",
          "run_id",
          "length_m",
          "demand_m3_per_h",
          "fixed_head_m",
          "min_pressure_head_m",
          "diameter_in",
          "unit_cost_per_m",
          1.0,
          1.0 / 3600.0,
          1.0,
          false};
}
/// Costs rounded as the literature is usually computed: `unit_cost_usd_per_m_3dec_published` or
/// `..._2dec_...`.
inline PublishedNetwork hanoi(const std::string& cost) {
  return {"hanoi",
          "runs",
          "run_id",
          "length_m",
          "demand_m3_per_h",
          "fixed_head_m",
          "min_pressure_head_m",
          "diameter_in",
          cost,
          1.0,
          1.0 / 3600.0,
          1.0,
          false};
}
inline PublishedNetwork new_york() {
  constexpr double foot = runnel::units::foot_m;
  return {"new_york",
          "tunnels",
          "tunnel_id",
          "length_ft",
          "demand_ft3_per_s",
          "fixed_head_ft",
          "min_head_ft",
          "parallel_diameter_in",
          "unit_cost_usd_per_ft_table",
          foot,
          foot * foot * foot,
          foot,
          true};
}

inline runnel::losses::FrictionLaw constants(double k, double n, double m) {
  runnel::losses::FrictionLaw law;
  law.law = runnel::losses::Law::hazen_williams;
  law.k = k;
  law.n = n;
  law.m = m;
  return law;
}

inline runnel::sizing::LoopChoice choice_of(const PublishedNetwork& net,
                                            const runnel::losses::FrictionLaw& law) {
  const auto number = [](const std::string& text) { return std::stod(text); };
  runnel::sizing::LoopChoice choice;
  for (const csv::Row& row : csv::read("networks/" + net.name + "_junctions.csv")) {
    runnel::steady::KernelNode node;
    node.fixed = row.at("kind") == "source";
    const double ground = row.count("ground_elev_m") ? number(row.at("ground_elev_m")) : 0.0;
    if (node.fixed)
      node.head_m = number(row.at(net.fixed)) * net.head_m;
    else
      node.inflow_m3s = -number(row.at(net.demand)) * net.flow_m3s;
    choice.there.nodes.push_back(node);
    choice.least_head_m.push_back(node.fixed ? 0.0 : (ground + number(row.at(net.least))) * net.head_m);
  }
  const auto sizes = csv::read("networks/" + net.name + "_catalogue.csv");
  for (const csv::Row& row : csv::read("networks/" + net.name + "_" + net.runs + ".csv")) {
    runnel::sizing::LoopRun run;
    run.a = std::stoi(row.at("from_node")) - 1;
    run.b = std::stoi(row.at("to_node")) - 1;
    run.length_m = number(row.at(net.length)) * net.length_m;
    const double hazen_c = number(row.at("hw_C"));
    const auto pipe = [&](double bore_in) {
      return runnel::losses::PipeFriction(law, bore_in * runnel::units::inch_m, 0.0, hazen_c, 1e-6);
    };
    if (net.beside)
      choice.there.add_pipe(run.a, run.b, pipe(number(row.at("existing_diameter_in"))), run.length_m, 0.0);
    for (const csv::Row& size : sizes) {
      runnel::sizing::LoopOption option;
      const double bore_in = number(size.at(net.bore));
      option.cost = number(size.at(net.cost)) * number(row.at(net.length));
      if (bore_in > 0.0) option.pipe = pipe(bore_in);
      run.options.push_back(option);
    }
    choice.runs.push_back(run);
  }
  return choice;
}

}  // namespace support
