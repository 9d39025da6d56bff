// The works at a spring, from the text of a model to the published figures.
#include "runnel/review/works_review.h"

#include <catch2/catch.hpp>

#include "proposal_model.h"
#include "runnel/review/maintenance.h"
#include "runnel/review/read_rules.h"
#include "runnel/review/works_facts.h"

namespace {

using namespace runnel::review;

const std::string place =
    "runnel: 1\nboxes:\n  spring: {yield: 0.5 L/s, outlet: 10 m, lip: 10.5 m, floor: 9.5 m, plan: {length: 2 "
    "m, width: "
    "1 m}}\noutlets:\n  tap: {elevation: 0 m}\npipelines:\n  main: {from: spring, to: tap, pipe: PE100 SDR17 "
    "40 mm, "
    "length: 100 m}\n";

/// `box` is more about the box.
WorksReview works_of(const std::string& text, const std::string& box = "") {
  std::string all_text = place + text;
  all_text.insert(all_text.find("plan: {"), box);
  const auto all = review_works(proposal::read(all_text), *find_rule_set("stock"));
  REQUIRE(all.size() == 1);
  return all[0];
}

const Ruling& ruling(const WorksReview& works, const std::string& rule, const std::string& part = "") {
  for (const Ruling& one : works.rulings)
    if (one.rule == rule && (part.empty() || one.where.part == part)) return one;
  throw std::runtime_error("no ruling " + rule);
}

/// What is said, its figures aside.
bool says(const std::vector<Fact>& facts, const std::string& words) {
  for (const Fact& fact : facts)
    if (fact.said.text().find(words) != std::string::npos) return true;
  return false;
}

// Three points that give D15, D50 and D85.
std::string sieves(const std::string& d15, const std::string& d50, const std::string& d85) {
  return "[[" + d15 + " mm, 15 %], [" + d50 + " mm, 50 %], [" + d85 + " mm, 85 %]]";
}

}  // namespace

// [fhwa-river-manual], pp. 6.61-6.63 and 6.70: ratios 16, 16 (15.79 unrounded) and 4, all satisfied.
TEST_CASE("the first published filter gives its ratios and holds") {
  const auto works =
      works_of("collection:\n  spring:\n    filter_rules: river manual\n    base_soil: {sieves: " +
               sieves("0.38", "0.75", "1.50") +
               "}\n    layers: [{name: gravel, sieves: " + sieves("6", "12", "24") + "}]\n");
  CHECK(ruling(works, "filter-uniformity").figure->si == Approx(16.0));
  CHECK(ruling(works, "filter-not-too-coarse").figure->si == Approx(6.0 / 0.38));
  CHECK(ruling(works, "filter-retention").figure->si == Approx(4.0));
  for (const char* rule : {"filter-uniformity", "filter-not-too-coarse", "filter-retention"})
    CHECK(ruling(works, rule).verdict == Verdict::holds);
}

// The same, after Anderson et al. 1968: 100/0.17 = 588 (printed 600) and 100/1.5 = 66.7 (printed 67), both
// fail.
TEST_CASE("the second published filter fails as printed, and a layer between mends it") {
  const std::string soil =
      "collection:\n  spring:\n    filter_rules: river manual\n    base_soil: {sieves: " +
      sieves("0.17", "0.5", "1.5") + "}\n    layers:\n";
  const std::string rock = "      - {name: rock, sieves: " + sieves("100", "200", "400") + "}\n";
  const auto bare = works_of(soil + rock);
  CHECK(ruling(bare, "filter-not-too-coarse").figure->si == Approx(588.0).epsilon(1e-3));
  CHECK(ruling(bare, "filter-retention").figure->si == Approx(66.7).epsilon(1e-3));
  CHECK(ruling(bare, "filter-not-too-coarse").verdict == Verdict::fails);
  CHECK(ruling(bare, "filter-retention").verdict == Verdict::fails);
  // Within the printed bounds: D15 from 2.5 to 6.8 mm, D50 from 5 to 20 mm, D85 over 20 mm.
  const auto mended =
      works_of(soil + "      - {name: filter, sieves: " + sieves("4", "12", "25") + "}\n" + rock);
  for (const char* part : {"filter", "rock"})
    for (const char* rule : {"filter-uniformity", "filter-not-too-coarse", "filter-retention"}) {
      INFO(part << " " << rule);
      CHECK(ruling(mended, rule, part).verdict == Verdict::holds);
    }
}

TEST_CASE("a hole is held against the stone before it") {
  const auto with_hole = [](const std::string& hole) {
    return works_of("collection:\n  spring:\n    base_soil: {sieves: " + sieves("0.38", "0.75", "1.50") +
                    "}\n    layers: [{sieves: " + sieves("2", "4", "6") +
                    "}]\n    drilled_pipe: {bore: 97 mm, length: 2 m, holes_per_metre: 40, hole: " + hole +
                    "}\n");
  };
  // D85 over the hole at least 1.0 to 1.2 [corps-shore]: 6 mm stone holds at 5 mm, fails above 6 mm.
  CHECK(ruling(with_hole("5 mm"), "filter-pipe-opening").verdict == Verdict::holds);
  CHECK(ruling(with_hole("5.5 mm"), "filter-pipe-opening").verdict == Verdict::undecided);
  CHECK(ruling(with_hole("7 mm"), "filter-pipe-opening").verdict == Verdict::fails);
}

TEST_CASE("stone, bleach and the mean of the buckets are worked out") {
  const auto works =
      works_of("collection:\n  spring:\n    greatest_flow: 1 L/s\n    layers: [{name: pea stone, sieves: " +
               sieves("2", "4", "6") + ", length: 2 m, width: 1 m, thickness: 0.5 m}]\n    bleach: 5.25 %\n");
  REQUIRE(says(works.facts, "of stone"));
  for (const Fact& fact : works.facts) {
    if (fact.said.text().find("of stone") != std::string::npos) {
      CHECK(fact.said.figures()[0].si == Approx(1.0));  // 2 x 1 x 0.5 m3
      CHECK(fact.said.figures()[1].si == Approx(1.5));  // at 1500 kg a cubic metre
    }
    // 50 mg/L in 2 m3 (2 x 1 x 1 m): 2 x 0.952 L of 5.25 % [oregon-health], by mg/L x litres / (10 x
    // percent).
    if (fact.said.text().find("of bleach") != std::string::npos && fact.said.figures()[2].si == Approx(50.0))
      CHECK(fact.said.figures()[0].si == Approx(2.0 * 0.952).epsilon(1e-3));
  }
}

// Hazen's k = C D10^2 for C from 40 to 150 in cm and s, D10 0.2 mm: 1.6e-4 to 6e-4 m/s; Darcy's k i A with i
// 0.05 and 0.5 m by 10 m.
TEST_CASE("what the face gives by the soil alone is a range") {
  const auto works = works_of(
      "collection:\n  spring:\n    base_soil: {sieves: [[0.2 mm, 10 %], [1 mm, 60 %]]}\n    seepage: {width: "
      "10 m, "
      "height: 0.5 m, slope: 5 %}\n");
  REQUIRE(says(works.facts, "the face gives"));
  for (const Fact& fact : works.facts)
    if (fact.said.text().find("the face gives") != std::string::npos) {
      CHECK(fact.said.figures()[0].si == Approx(1.6e-4 * 0.05 * 5.0));
      CHECK(fact.said.figures()[1].si == Approx(6e-4 * 0.05 * 5.0));
    }
}

TEST_CASE("an overflow that is too small or not there is told") {
  const auto with = [](const std::string& box, const std::string& more = "") {
    return works_of("collection:\n  spring: {greatest_flow: 3 L/s" + more + "}\n", box);
  };
  const auto standpipe = [](const std::string& bore) {
    return "rim: 10.6 m, overflow: {standpipe: {bore: " + bore + "}}, ";
  };
  CHECK(ruling(with(""), "overflow-capacity").missing == "the overflow of spring");
  CHECK(ruling(with("overflow: {standpipe: {bore: 110 mm}}, "), "overflow-capacity").missing ==
        "the rim of spring");
  CHECK(ruling(with(standpipe("20 mm")), "overflow-capacity").verdict == Verdict::fails);
  CHECK(ruling(with(standpipe("110 mm")), "overflow-capacity").verdict == Verdict::holds);
  CHECK(ruling(with(""), "overflow-screened").verdict == Verdict::cannot_be_judged);
  CHECK(ruling(with("", ", overflow_screened: no"), "overflow-screened").verdict == Verdict::fails);
}

TEST_CASE("a spring is called falling only when its log shows it") {
  const auto facts = [](const std::string& entries) {
    return log_facts(proposal::read(place + "log:\n" + entries));
  };
  CHECK(says(facts("  - {at: spring, date: 2022-08-30, yield: 0.50 L/s}\n  - {at: spring, date: 2023-08-30, "
                   "yield: 0.44 L/s}\n"
                   "  - {at: spring, date: 2024-08-30, yield: 0.38 L/s}\n  - {at: spring, date: 2025-08-30, "
                   "yield: 0.33 L/s}\n"),
             "is falling"));
  CHECK(says(facts("  - {at: spring, date: 2022-08-30, yield: 0.50 L/s}\n  - {at: spring, date: 2023-08-30, "
                   "yield: 0.36 L/s}\n"
                   "  - {at: spring, date: 2024-08-30, yield: 0.52 L/s}\n  - {at: spring, date: 2025-08-30, "
                   "yield: 0.47 L/s}\n"),
             "shows no trend"));
  CHECK(says(facts("  - {at: spring, date: 2025-08-30, yield: 0.47 L/s}\n"), "too few"));
  CHECK(says(facts("  - {at: spring, date: 2025-03-01, yield: 0.8 L/s}\n  - {at: spring, date: 2025-05-01, "
                   "yield: 0.7 L/s}\n"
                   "  - {at: spring, date: 2025-07-01, yield: 0.6 L/s}\n"),
             "season and trend cannot be told apart"));
}

TEST_CASE("a log that runs from wet to dry seasons does not show a falling spring") {
  const auto facts = [](const std::string& entries) {
    return log_facts(proposal::read(place + "log:\n" + entries));
  };
  // Wet in two springs, dry in two later autumns: the line through them falls, no season does.
  std::string entries;
  for (const char* entry : {"2023-03-01, yield: 0.80", "2023-04-01, yield: 0.79", "2024-03-01, yield: 0.80",
                            "2024-04-01, yield: 0.81", "2024-09-01, yield: 0.43", "2024-10-01, yield: 0.42",
                            "2025-09-01, yield: 0.44", "2025-10-01, yield: 0.43"})
    entries += std::string("  - {at: spring, date: ") + entry + " L/s}\n";
  const auto seasons = facts(entries);
  CHECK_FALSE(says(seasons, "is falling"));
  CHECK(says(seasons, "season and trend cannot be told apart"));
  const auto short_log = facts(
      "  - {at: spring, date: 2025-03-01, yield: 0.8 L/s}\n  - {at: spring, date: 2025-05-01, yield: 0.7 "
      "L/s}\n  - {at: spring, date: 2025-07-01, yield: 0.6 L/s}\n");
  CHECK_FALSE(says(short_log, "is falling"));
}

TEST_CASE("how fast a spring changes is told from one entry to the next") {
  const auto facts =
      log_facts(proposal::read(
          place + "log:\n  - {at: spring, date: 2025-01-01, yield: 0.8 L/s}\n  - {at: spring, date: "
                  "2025-04-11, yield: 0.5 L/s}\n"));
  REQUIRE(says(facts, "from 2025-01-01 to 2025-04-11"));
  for (const Fact& fact : facts)
    if (fact.said.text().find("from 2025") != std::string::npos)
      CHECK(fact.said.figures()[0].si == Approx(-0.3e-3 / 100.0 * 30.44));  // 100 days
}

TEST_CASE("a set of rules says how much of a printed limit may be taken up, and by what weight") {
  const std::string text =
      "collection:\n  spring:\n    filter_rules: river manual\n    base_soil: {sieves: " +
      sieves("0.38", "0.75", "1.50") + "}\n    layers: [{name: gravel, sieves: " + sieves("6", "12", "24") +
      "}]\n";
  const auto by = [&](const std::string& rules) {
    const auto own = with_own_rules(*find_rule_set("stock"), "rules:\n" + rules, "own.yaml");
    REQUIRE(own);
    return review_works(proposal::read(place + text), *own.value).at(0);
  };
  // D15 of the gravel over D85 of the soil is 4, printed limit 5.
  const auto stricter = by("  filter-retention: {at_most: 70 %}\n");
  CHECK(ruling(stricter, "filter-retention").verdict == Verdict::fails);
  CHECK(ruling(stricter, "filter-retention").limit->si == Approx(3.5));
  CHECK(ruling(stricter, "filter-retention").changed == "tightened");
  const auto without = by("  filter-retention: {leave_out: the maker vouches for it}\n");
  for (const Ruling& one : without.rulings) CHECK(one.rule != "filter-retention");
}

TEST_CASE("works are told what the greatest flow does to outlet and overflow") {
  const auto works = works_of("collection:\n  spring: {greatest_flow: 3 L/s}\n",
                              "rim: 10.6 m, overflow: {standpipe: {bore: 110 mm}}, ");
  CHECK(says(works.facts, "over its lip"));
  REQUIRE(says(works.facts, "the outlet of"));
  for (const Fact& fact : works.facts)
    if (fact.said.text().find("the outlet of") != std::string::npos)
      CHECK(fact.said.figures()[0].si + fact.said.figures()[1].si == Approx(3e-3).epsilon(1e-6));
}

TEST_CASE("distances are judged where they are given") {
  const auto with = [](const std::string& distances) {
    return works_of("collection:\n  spring: {distances: {" + distances + "}}\n");
  };
  CHECK(ruling(with("latrine: 29 m"), "distance-latrine").verdict == Verdict::fails);
  CHECK(ruling(with("latrine: 30 m"), "distance-latrine").verdict == Verdict::holds);
  CHECK(fails(ruling(with("latrine: 3 m"), "distance-latrine")));  // a fault, not a caution
  CHECK(ruling(with("clear ground uphill: 200 ft"), "clear-uphill").verdict == Verdict::holds);
  CHECK_FALSE(fails(ruling(with("stock: 1 m"), "distance-stock")));  // a caution
}

TEST_CASE("the upkeep names the model's own parts") {
  const auto tasks = maintenance_of(proposal::read(proposal::text_of(proposal::Figures{})));
  const auto named = [&](const std::string& words) {
    for (const Task& task : tasks)
      if (task.what.find(words) != std::string::npos) return !task.source.empty();
    return false;
  };
  CHECK(named("Open W1"));
  CHECK(named("A1 let air pass"));
  CHECK(named("Shut and open V1"));
  CHECK(named("disinfect tank"));
  CHECK_FALSE(named("float of"));  // it has none
}
