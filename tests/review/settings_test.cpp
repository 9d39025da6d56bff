// Every way of running a proposal is held against the rules and against its claims.
#include <catch2/catch.hpp>

#include "proposal_model.h"
#include "runnel/review/against.h"
#include "runnel/review/over_settings.h"
#include "runnel/review/read_rules.h"
#include "runnel/review/review.h"

namespace {

using namespace runnel::review;

/// A sound proposal whose spring gives more than is asked as drawn, and less in a dry season.
std::string two_seasons(const std::string& claims = "", double dry_ls = 0.1) {
  std::mt19937 random(51);
  auto figures = proposal::sound(random);
  figures.yield = 0.4, figures.ask = 0.25;
  return proposal::text_of(figures) + "settings:\n  wet season: {yield: {spring: 0.6 L/s}}\n  dry season: " +
         "{yield: {spring: " + std::to_string(dry_ls) + " L/s}}\n" +
         (claims.empty() ? "" : "claims:\n" + claims);
}

Review reviewed(const std::string& text, const ReviewOptions& options = {}) {
  auto answer = review(proposal::model(text), *find_rule_set("stock"), options);
  REQUIRE(answer);
  return std::move(*answer.value);
}

const SettingOutcome& outcome(const Review& review, const std::string& setting) {
  for (const SettingOutcome& one : review.settings)
    if (one.setting == setting) return one;
  throw std::runtime_error("not run: " + setting);
}

Ruling plain(double figure, double limit, const std::string& place, double station = -1.0) {
  Rule rule;
  rule.id = "rule";
  rule.limit = {runnel::Kind::number, limit};
  runnel::Where where{place};
  if (station >= 0.0) where.station_m = station;
  return rule_on(rule, runnel::Kind::number, exactly(where, figure));
}

}  // namespace

TEST_CASE("a rule that fails under one setting alone fails the review, and the setting is named") {
  const Review answer = reviewed(two_seasons());
  CHECK_FALSE(answer.good);
  CHECK(outcome(answer, "normal").good());
  CHECK(outcome(answer, "wet season").good());
  CHECK(outcome(answer, "dry season").failing == std::vector<std::string>{"needs-met"});
  const Ruling* need = worst_of_rule(answer.rulings, "needs-met");
  REQUIRE(need != nullptr);
  CHECK(need->verdict == Verdict::fails);
  CHECK(need->setting == "dry season");
  CHECK(need->figure->si == Approx(0.1 / 0.25).epsilon(1e-5));
}

TEST_CASE("a rule that no setting makes worse keeps the figure of the system as drawn") {
  const Review answer = reviewed(two_seasons());
  for (const Ruling& ruling : answer.rulings)
    if (ruling.rule == "cover" || ruling.rule == "storage" || ruling.rule == "washouts") {
      INFO(ruling.rule);
      CHECK(ruling.setting == "");
    }
  const Ruling* velocity = worst_of_rule(answer.rulings, "fastest-water");
  REQUIRE(velocity != nullptr);
  CHECK(velocity->setting == "wet season");  // more water runs faster
}

TEST_CASE("one setting alone is reviewed when it is named") {
  const Review wet = reviewed(two_seasons(), {"wet season"});
  CHECK(wet.good);
  CHECK(wet.settings.size() == 1);
  CHECK_FALSE(reviewed(two_seasons(), {"dry season"}).good);
  CHECK_FALSE(review(proposal::model(two_seasons()), *find_rule_set("stock"), {"no such season"}));
}

TEST_CASE("what a setting shuts off is due nothing under it") {
  std::string text = two_seasons("", 0.3);
  text.insert(text.find("  dry season:"), "  service: {shut: [V1]}\n");
  const Review answer = reviewed(text);
  CHECK(outcome(answer, "service").failing == std::vector<std::string>{});
  CHECK(answer.good);
}

TEST_CASE("of the same place the worse ruling stays, with its setting, and other places are added") {
  RuleSet rules;
  rules.rules.resize(1);
  rules.rules[0].id = "rule";
  const auto merged =
      worse_of_each(rules, {plain(3, 5, "a"), plain(4, 5, "b"), plain(1, 5, "line", 10)},
                    {plain(4, 5, "a"), plain(2, 5, "b"), plain(6, 5, "c"), plain(2, 5, "line", 30)}, "dry");
  REQUIRE(merged.size() == 4);
  CHECK(merged[0].figure->si == 4.0);
  CHECK(merged[0].setting == "dry");
  CHECK(merged[1].figure->si == 4.0);
  CHECK(merged[1].setting == "");
  CHECK(merged[2].setting == "dry");  // the worst point of the line moved along it
  CHECK(*merged[2].where.station_m == 30.0);
  CHECK(merged[3].where.place == "c");
  CHECK(merged[3].verdict == Verdict::fails);
}

TEST_CASE("a claim is compared under the setting that it names, and the hardest setting is told") {
  const auto claims = judge_claims(proposal::model(two_seasons(
      "  - {at: tank, flow: 0.4 L/s}\n  - {at: tank, flow: 0.1 L/s, setting: dry season}\n  - {at: "
      "tank, flow: 0.4 L/s, setting: dry season}\n")));
  REQUIRE(claims.size() == 3);
  CHECK(claims[0].setting == "normal");
  CHECK(claims[0].verdict == Verdict::holds);
  REQUIRE(claims[0].worst);
  CHECK(claims[0].worst->setting == "dry season");
  CHECK(claims[0].worst->broken);
  CHECK(claims[0].worst->ours->si == Approx(0.1e-3).epsilon(1e-5));
  CHECK(claims[1].setting == "dry season");
  CHECK(claims[1].verdict == Verdict::holds);
  CHECK_FALSE(claims[1].worst);  // its own setting is the hardest
  CHECK(claims[2].verdict == Verdict::fails);
  CHECK(claims[2].ours->si == Approx(0.1e-3).epsilon(1e-5));
}

TEST_CASE("a claim at a tap that is drawn from by turns is compared in its hours") {
  const auto by_turns = [](const std::string& claimed) {
    return judge_claims(proposal::model(R"(runnel: 1
boxes:
  spring: {yield: 0.35 L/s, outlet: 199.5 m, lip: 200 m}
joints:
  tee: {elevation: 170 m}
outlets:
  upper: {elevation: 168 m, opening: 10 mm, loss: 5, draws: [{flow: 0.15 L/s, hours: [6, 18]}]}
  lower: {elevation: 160 m, opening: 10 mm, loss: 5, draws: [{flow: 0.15 L/s, hours: [18, 6]}]}
pipelines:
  trunk: {from: spring, to: tee, pipe: PE100 SDR11 50 mm, survey: {unit: m, points: [[0, 199.5], [300, 170]]}}
  to upper: {from: tee, to: upper, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 170], [40, 168]]}}
  to lower: {from: tee, to: lower, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 170], [80, 160]]}}
claims:
  - {at: upper, flow: )" + claimed + R"( L/s}
  - {at: lower, flow: )" + claimed + R"( L/s}
)"));
  };
  // Of a claim of less than is drawn there, what is drawn is needed.
  for (const JudgedClaim& claim : by_turns("0.29")) CHECK(claim.verdict == Verdict::holds);
  for (const JudgedClaim& claim : by_turns("0.3")) {
    CHECK(claim.verdict == Verdict::holds);
    CHECK_FALSE(claim.worst);  // its other turn shuts the tap
  }
  for (const JudgedClaim& claim : by_turns("0.5")) {
    CHECK(claim.verdict == Verdict::fails);
    REQUIRE(claim.ours);
    CHECK(claim.ours->si > 0.2e-3);
  }
}

TEST_CASE("of two claims at one tap each is judged by itself") {
  const auto claims = judge_claims(proposal::model(R"(runnel: 1
boxes:
  spring: {yield: 0.05 L/s, outlet: 89.5 m, lip: 90 m}
tanks:
  store: {shape: {upright_cylinder: {diameter: 2 m}}, floor: 70 m, lip: 72 m, inlet: 71.9 m, level: 71.8 m,
          float_valve: {shuts_at: 71.8 m, opens_at: 71.5 m, loss: 6}}
outlets:
  tap: {elevation: 50 m, opening: 12 mm, loss: 8, draws: [{flow: 0.005 L/s, hours: [6, 9]}]}
pipelines:
  feed: {from: spring, to: store, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 89.5], [200, 71.9]]}}
  out: {from: store, to: tap, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 70.2], [200, 50]]}}
claims:
  - {at: tap, flow: 0.5 L/s}
  - {at: tap, flow: 0.9 L/s}
)"));
  REQUIRE(claims.size() == 2);
  CHECK(claims[0].verdict == Verdict::holds);  // the full tank gives it for the three hours of the draw
  CHECK(claims[1].verdict == Verdict::fails);
}

TEST_CASE("with one setting named, claims of other settings are left out") {
  const auto model = proposal::model(
      two_seasons("  - {at: tank, flow: 0.4 L/s}\n  - {at: tank, flow: 0.55 L/s, setting: wet "
                  "season}\n"));
  const auto dry = judge_claims(model, "dry season");
  REQUIRE(dry.size() == 1);
  CHECK(dry[0].setting == "dry season");
  CHECK(dry[0].verdict == Verdict::fails);
  const auto wet = judge_claims(model, "wet season");
  REQUIRE(wet.size() == 2);
  CHECK(wet[0].verdict == Verdict::holds);
  CHECK(wet[1].verdict == Verdict::holds);
}

TEST_CASE("a claim of the wet season does not hold as drawn, and it is found that it is of the wet season") {
  const auto claims = judge_claims(proposal::model(two_seasons("  - {at: tank, flow: 0.6 L/s}\n")));
  REQUIRE(claims.size() == 1);
  CHECK(claims[0].verdict == Verdict::fails);
}

TEST_CASE("two proposals are set beside one another under every setting of either") {
  const auto a = proposal::model(two_seasons()), b = proposal::model(two_seasons("", 0.3));
  const Review first = *review(a, *find_rule_set("stock")).value,
               second = *review(b, *find_rule_set("stock")).value;
  const Comparison beside = compare({a, first}, {b, second});
  CHECK_FALSE(first.good);
  CHECK(second.good);
  REQUIRE(beside.settings.size() == 3);
  CHECK(beside.settings[0].setting == "normal");
  CHECK(beside.settings[2].setting == "dry season");
  CHECK_FALSE(beside.settings[2].first->good());
  CHECK(beside.settings[2].second->good());
  bool found = false;
  for (const PlaceBeside& place : beside.places)
    if (place.setting == "dry season" && place.place == "tank") {
      found = true;
      CHECK(*place.first_m3s == Approx(0.1e-3).epsilon(1e-5));
      CHECK(*place.second_m3s == Approx(0.3e-3).epsilon(1e-5));
    }
  CHECK(found);
  REQUIRE(beside.rules.size() == 1);
  CHECK(beside.rules[0].rule == "needs-met");
  CHECK(beside.rules[0].first->setting == "dry season");
}

TEST_CASE("a claim that hangs on a few centimetres of a box or a tee cannot be judged") {
  const std::string claimed =
      "runnel: 1\nboxes:\n  spring: {yield: 0.5 L/s, outlet: 120 m, lip: 121 m}\n"
      "outlets:\n  X: {elevation: 80 m}\n  Y: {elevation: 80 m}\n"
      "pipelines:\n"
      "  a: {from: spring, to: X, pipe: PE100 SDR11 40 mm, survey: {unit: m, points: [[0, 120], [60, 103], "
      "[150, "
      "80]]}}\n"
      "  b: {from: spring, to: Y, pipe: PE100 SDR11 40 mm, survey: {unit: m, points: [[0, 120], [60, 103], "
      "[150, "
      "80]]}}\n"
      "claims:\n  - {at: X, flow: 0.25 L/s}\n  - {at: Y, flow: 0.3 L/s}\n";
  const Review answer = reviewed(claimed);
  REQUIRE(answer.claims.size() == 2);
  CHECK(answer.claims[0].verdict == Verdict::cannot_be_judged);
  CHECK(answer.claims[0].missing == "a few centimetres decide how the water divides at spring");
  CHECK(answer.claims[1].verdict == Verdict::fails);  // more than its share, however it divides
}
