// Every rule of the sets that come with the library holds on some model and fails on another. Models are
// invented, and none is a whole proposal: each shows a few rules.
#include <catch2/catch.hpp>
#include <functional>
#include <map>
#include <set>

#include "proposal_model.h"
#include "runnel/review/read_rules.h"
#include "runnel/review/review.h"

namespace {

using namespace runnel::review;

std::string n(double v) { return std::to_string(v); }

/// A spring box with works, and a pipe that leads away from it.
std::string works(const std::string& collection, const std::string& box = "",
                  const std::string& pipe = "63 mm") {
  return "runnel: 1\nboxes:\n  spring: {yield: 0.5 L/s, outlet: 10 m, lip: 10.5 m, floor: 9.5 m, plan: "
         "{length: 2 "
         "m, width: 1 m}" +
         box +
         "}\noutlets:\n  tap: {elevation: 0 m}\npipelines:\n  main: {from: spring, to: tap, pipe: PE100 "
         "SDR17 " +
         pipe + ", survey: {unit: m, points: [[0, 10], [90, 0]]}}\ncollection:\n  spring:\n" + collection;
}

std::string sieves(double d10, double d15, double d50, double d85, double d100, double fines = 0.0) {
  return "{sieves: [[0.075 mm, " + n(fines) + " %], [" + n(d10) + " mm, 10 %], [" + n(d15) + " mm, 15 %], [" +
         n(d50) + " mm, 50 %], [" + n(d85) + " mm, 85 %], [" + n(d100) + " mm, 100 %]]";
}

const std::string sand = sieves(0.2, 0.25, 0.7, 1.5, 3.0, 5.0) + "}";

/// Filters and cloth, good and bad, by one of the editions.
std::string filter(const std::string& edition, const std::string& layers, const std::string& hole = "5 mm") {
  return works("    filter_rules: " + edition + "\n    base_soil: " + sand + "\n    layers: [" + layers +
               "]\n    drilled_pipe: {bore: 97 mm, length: 2 m, holes_per_metre: 80, hole: " + hole +
               ", head: 0.2 m}\n");
}

const std::string good_stone = sieves(1.6, 2, 4, 8, 12) + ", name: stone}";
const std::string bad_stone = sieves(0.2, 0.3, 40, 200, 300, 9.0) + ", name: rubble}";
const std::string coarse_stone = sieves(60, 80, 120, 200, 300) + ", name: boulders}";

std::string distances(double metres) {
  std::string all;
  for (const std::string& word : runnel::network::distance_words())
    all += (all.empty() ? "" : ", ") + word + ": " + n(metres) + " m";
  return works("    distances: {" + all + "}\n");
}

std::string wall(double spring, double behind, double front, double top, double ground, double depth) {
  const auto at = [](const char* key, double v) { return std::string(key) + ": " + n(v) + " m, "; };
  return works("    wall: {" + at("spring", spring) + at("water_behind", behind) +
               at("water_in_front", front) + at("top", top) + at("highest_ground", ground) +
               at("depth_behind", depth) + at("depth_in_front", depth) +
               "width: 0.3 m, ground: medium gravel}\n");
}

/// A box on a hill, a line straight down, a tap.
std::string tap(double head_m, const std::string& pipe, const std::string& opening = "8 mm",
                const std::string& pipes = "", const std::string& end = "parts: [{ball_valve: V, at: 2 m}]") {
  return "runnel: 1\n" + pipes + "boxes:\n  spring: {yield: 3 L/s, outlet: " + n(head_m - 0.3) +
         " m, lip: " + n(head_m) + " m}\noutlets:\n  tap: {elevation: 0 m, opening: " + opening +
         ", loss: 2}\npipelines:\n  main: {from: spring, " + "to: tap, pipe: " + pipe +
         ", survey: {unit: m, points: [[0, " + n(head_m - 0.3) + "], [60, " + n(head_m / 2) +
         "], [120, 0]]}, " + end + "}\n";
}

/// A line over what the points say, from 100 m to a tap at their end.
std::string over(const std::string& points, double end_m, const std::string& pipe,
                 const std::string& opening) {
  return "runnel: 1\nboxes:\n  spring: {yield: 4 L/s, outlet: 100 m, lip: 101 m}\noutlets:\n  tap: "
         "{elevation: " +
         n(end_m) + " m, opening: " + opening +
         ", loss: 2}\npipelines:\n  main: {from: spring, to: tap, pipe: " + pipe +
         ", survey: {unit: m, points: [[0, 100], " + points + "]}}\n";
}

/// A tank for a herd below a spring; `tank` and `line` are more about each.
std::string herd(double head, const std::string& shape, const std::string& tank, const std::string& line = "",
                 const std::string& more = "") {
  return "runnel: 1\nboxes:\n  spring: {yield: 0.5 L/s, outlet: 100 m, lip: 100.5 m}\ntanks:\n  tank: "
         "{shape: " +
         shape + ", floor: 80 m, lip: 80.5 m, " + tank + ", draws: [{for: beef cattle, head: " + n(head) +
         "}]}\npipelines:\n  main: {from: spring, to: tank, pipe: PE100 SDR17 40 mm, survey: {unit: m, "
         "points: [[0, " +
         "100], [90, 81]]}" + line + "}\n" + more;
}

/// A tank fed from below beside a lower tap.
std::string drowned(const std::string& parts) {
  return "runnel: 1\nboxes:\n  spring: {yield: 0.5 L/s, outlet: 100 m, lip: 100.5 m}\ntanks:\n  tank: "
         "{shape: "
         "{upright_cylinder: {diameter: 2 m}}, floor: 60 m, lip: 63 m, inlet: 60.2 m}\noutlets:\n  tap: "
         "{elevation: 50 "
         "m, opening: 8 mm, loss: 2}\njoints:\n  tee: {elevation: 70 m}\npipelines:\n  main: {from: spring, "
         "to: tee, "
         "pipe: PE100 SDR17 40 mm, survey: {unit: m, points: [[0, 100], [90, 70]]}}\n  to tank: {from: tee, "
         "to: tank, "
         "pipe: PE100 SDR17 40 mm, survey: {unit: m, points: [[0, 70], [40, 60.2]]}" +
         parts +
         "}\n  to tap: {from: tee, to: tap, pipe: PE100 SDR11 25 mm, survey: {unit: m, points: [[0, 70], "
         "[60, 50]]}}\n";
}

/// A sealed line over a bank, `over` metres above the water of its source.
std::string siphon(double over) {
  return "runnel: 1\nboxes:\n  spring: {yield: 5 L/s, outlet: 99 m, lip: 100 m}\noutlets:\n  tap: "
         "{elevation: 60 m, "
         "opening: 4 mm, loss: 2}\npipelines:\n  main: {from: spring, to: tap, pipe: PE100 SDR17 40 mm, air: "
         "sealed, "
         "survey: {unit: m, points: [[0, 99], [20, " +
         n(100.0 + over) + "], [90, 60]]}}\n";
}

std::string proposal_with(const std::function<void(proposal::Figures&)>& change) {
  std::mt19937 random(71);
  auto figures = proposal::sound(random);
  change(figures);
  return proposal::text_of(figures);
}

std::vector<std::string> texts() {
  const std::string box = "{box: {length: 6 m, width: 2 m}}", bowl = "{upright_cylinder: {diameter: 0.6 m}}";
  const std::string cloth = "{name: cloth, cloth_opening: ";
  std::vector<std::string> all = {
      filter("nrcs 2017", good_stone),
      filter("nrcs 2017", bad_stone, "300 mm"),
      filter("river manual", good_stone),
      filter("river manual", coarse_stone),
      distances(300.0),
      distances(1.0),
      wall(10.4, 10.3, 10.2, 11.0, 10.5, 3.0),
      wall(10.0, 11.0, 9.0, 10.0, 10.5, 0.1),
      works("    greatest_flow: 2 L/s\n    overflow_screened: yes\n    vent: 50 mm\n    water_depth: 1 m\n   "
            " strainer: "
            "0.001 mm\n    riser: [{at: 10.05 m, hole: 30 mm, count: 20}]\n    drilled_pipe: {bore: 97 mm, "
            "length: 9 m, "
            "holes_per_metre: 900, hole: 8 mm, head: 0.3 m}\n    base_soil: " +
                sand + "\n",
            ", rim: 11 m, overflow: {standpipe: {bore: 150 mm}}", "110 mm"),
      works("    greatest_flow: 20 L/s\n    overflow_screened: no\n    vent: 2 mm\n    water_depth: 1 m\n    "
            "strainer: 2 "
            "mm\n    riser: [{at: 10.4 m, hole: 3 mm, count: 2}]\n    drilled_pipe: {bore: 97 mm, length: "
            "0.2 m, "
            "holes_per_metre: 20, hole: 3 mm, head: 0.1 m}\n    base_soil: " +
                sand + "\n",
            ", rim: 10.6 m, overflow: {standpipe: {bore: 30 mm}}"),
      tap(60, "PE100 SDR17 40 mm"),
      tap(140, "PE100 SDR17 40 mm"),
      tap(140, "PE100 SDR17 40 mm", "2 mm"),
      tap(60, "own", "8 mm",
          "pipes:\n  own: {bore: 35 mm, roughness: 0.0015 mm, rating: 4 bar, material: PE100}\n"),
      tap(40, "PE100 SDR17 40 mm", "20 mm"),
      tap(100, "PE100 SDR17 40 mm", "25 mm"),
      tap(3, "PE100 SDR11 20 mm", "3 mm"),
      over("[60, 50], [120, 60], [180, 20], [200, 25]", 25, "PE100 SDR17 32 mm", "25 mm"),
      over("[60, 50], [120, 60], [180, 20], [200, 25]", 25, "PE100 SDR17 50 mm", "4 mm"),
      over("[40, 95], [60, 97], [120, 60]", 60, "PE100 SDR17 40 mm", "8 mm"),
      herd(40, box, "inlet: 80.6 m, rim: 80.8 m, overflow: {standpipe: {bore: 100 mm}}"),
      herd(900, bowl, "inlet: 80.3 m, rim: 80.6 m, overflow: {standpipe: {bore: 8 mm}}"),
      herd(40, box, "inlet: 80.9 m, rim: 80.8 m, float_valve: {shuts_at: 80.4 m, loss: 6}",
           ", parts: [{ball_valve: V, at: 2 m}, {union: U, at: 80 m}]",
           "asks: [{at: tank, full_within: 10 days}]\n"),
      herd(40, box, "inlet: 80.9 m, level: 80 m, float_valve: {shuts_at: 80.4 m, loss: 6}", "",
           "asks: [{at: tank, full_within: 5 min}]\n"),
      drowned(""),
      drowned(", parts: [{check_valve: C, at: 1 m}]"),
      siphon(2.0),
      siphon(8.5),
      proposal_with([](proposal::Figures& f) { f.air_valve = false, f.pipe = "PE100 SDR17 63 mm"; }),
      proposal_with([](proposal::Figures& f) { f.washout = false; }),
      proposal_with([](proposal::Figures& f) { f.cover = 0.3; }),
      proposal_with([](proposal::Figures& f) { f.dry_yield = 0.002; }),
      proposal_with([](proposal::Figures& f) { f.valve = false, f.ask = 2.0; }),
      proposal_with([](proposal::Figures& f) { f.reach = 900.0, f.pipe = "PE100 SDR17 110 mm"; }),
      proposal_with([](proposal::Figures& f) { f.yield = f.dry_yield = 0.01, f.reach = 30.0; }),
  };
  for (const char* layer : {"0.3 mm, cloth_permittivity: 0.6, thickness: 20 mm",
                            "3 mm, cloth_permittivity: 0.01, "
                            "thickness: 2 mm"})
    all.push_back(filter("nrcs 2017", cloth + layer + "}"));
  std::string far = proposal_with([](proposal::Figures&) {});
  far.replace(far.find("survey_error: 0.1 m"), 19, "survey_error: 9 m");
  all.push_back(far);
  std::string long_line = herd(40, box, "inlet: 80.6 m");
  const std::string way = "[[0, 100], [90, 81]]";
  long_line.replace(long_line.find(way), way.size(), "[[0, 100], [4000, 81]]");
  all.push_back(long_line);
  return all;
}

}  // namespace

TEST_CASE("every rule holds on some model and fails on another") {
  std::map<std::string, std::set<Verdict>> seen;
  for (const std::string& text : texts())
    for (const RuleSet& set : standard_rule_sets()) {
      INFO(text);
      const auto answer = review(proposal::model(text), set);
      REQUIRE(answer);
      for (const Ruling& ruling : all_rulings(*answer.value)) seen[ruling.rule].insert(ruling.verdict);
    }
  for (const RuleSet& set : standard_rule_sets())
    for (const Rule& rule : set.rules) {
      INFO(set.name << ": " << rule.id);
      CHECK(seen[rule.id].count(Verdict::holds) == 1);
      CHECK(seen[rule.id].count(Verdict::fails) == 1);
    }
}
