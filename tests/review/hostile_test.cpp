// Proposals that are written so that they look better than they are do not get a clean bill.
#include <catch2/catch.hpp>

#include "proposal_model.h"
#include "runnel/review/read_rules.h"
#include "runnel/review/review.h"

namespace {

using namespace runnel::review;

Review reviewed(const std::string& text) {
  auto answer = review(proposal::model(text), *find_rule_set("stock"));
  REQUIRE(answer);
  return std::move(*answer.value);
}

proposal::Figures sound() {
  std::mt19937 random(61);
  return proposal::sound(random);
}

bool told(const Review& review, const std::string& code) {
  for (const runnel::Finding& finding : review.told)
    if (finding.code == code) return true;
  return false;
}

/// A sound proposal whose pipe is written out; `as` is what stands in its block.
Review with_pipe(const std::string& name, const std::string& as) {
  auto figures = sound();
  figures.own_pipes = "pipes:\n  " + name + ": {" + as + "}\n";
  figures.pipe = name;
  return reviewed(proposal::text_of(figures));
}

const std::string real = "bore: 35.2 mm, roughness: 0.0015 mm, C: 150, rating: 10 bar, material: PE100";

}  // namespace

TEST_CASE("an honest pipe of one's own is no fault") {
  const Review answer = with_pipe("black coil", real);
  CHECK(answer.good);
}

TEST_CASE("a standard pipe is known whatever is said of how sure its figures are") {
  for (const char* certainty : {"", ", certainty: found", ", certainty: computed"}) {
    INFO(certainty);
    const Review wide =
        with_pipe("PE100 SDR17 40 mm plus", std::string("bore: 39 mm, roughness: 0.0015 mm, C: 150, "
                                                        "rating: 10 bar, material: PE100") +
                                                certainty);
    CHECK(told(wide, "standard-pipe-redefined"));
    CHECK_FALSE(wide.good);
  }
}

TEST_CASE("a standard pipe that is made stronger or smoother is not the standard one") {
  CHECK(told(with_pipe("PE100 SDR17 40 mm plus",
                       "bore: 35.2 mm, roughness: 0.0015 mm, C: 150, rating: 16 bar, material: PE100"),
             "standard-pipe-redefined"));
  CHECK(told(with_pipe("PE100 SDR17 40 mm plus",
                       "bore: 35.2 mm, roughness: 0.0001 mm, C: 150, rating: 10 bar, material: PE100"),
             "standard-pipe-redefined"));
  CHECK(told(with_pipe("PE100 SDR17 40 mm plus",
                       "bore: 35.2 mm, roughness: 0.0015 mm, C: 170, rating: 10 bar, material: PE100"),
             "standard-pipe-redefined"));
}

TEST_CASE("a pipe under a name of its own is held against itself") {
  // 40 mm less two walls of 2.4 mm is 35.2 mm; PE100 with that wall bears 16 MPa / (16.7 - 1), 10.2 bar.
  const std::string walls = "outside: 40 mm, wall: 2.4 mm, roughness: 0.0015 mm, C: 150, material: PE100, ";
  CHECK(with_pipe("black coil", walls + "rating: 10 bar").good);
  CHECK(told(with_pipe("black coil", walls + "rating: 16 bar"), "pipe-against-itself"));
  CHECK(told(
      with_pipe("black coil", "bore: 35 mm, roughness: 0.0015 mm, C: 150, rating: 40 bar, material: PE100"),
      "pipe-against-itself"));
  CHECK(told(with_pipe("glassy coil",
                       "bore: 35 mm, roughness: 0.0000001 mm, C: 150, rating: 10 bar, material: PE100"),
             "pipe-too-smooth"));
}

TEST_CASE("a pipe is what it is made of, however that is spelled") {
  const std::string thin = "outside: 40 mm, wall: 0.5 mm, roughness: 0.0015 mm, rating: 10 bar, material: ";
  for (const char* material :
       {"PE100", "PE 100", "pe-100", "HDPE", "polyethylene", "PE4710", "PVC", "PVC-U"}) {
    INFO(material);
    CHECK(told(with_pipe("thin coil", thin + material), "pipe-against-itself"));
  }
  const Review word =
      with_pipe("superflow", "bore: 39 mm, roughness: 0.0015 mm, rating: 60 bar, material: polymer X");
  CHECK(told(word, "pipe-on-its-word"));
}

TEST_CASE("a pipe without a rating leaves open whether the proposal holds") {
  const Review answer = with_pipe("black coil", "bore: 35.2 mm, roughness: 0.0015 mm, C: 150");
  CHECK_FALSE(answer.good);
  CHECK_FALSE(answer.fails);
  CHECK(answer.open == std::vector<std::string>{"rating-unknown"});
  CHECK(told(answer, "proposal-without-rating"));
}

TEST_CASE("one entry of a wet month is no season") {
  auto figures = sound();
  figures.season = false;
  const std::string text = proposal::text_of(figures);
  const std::string one = text + "log:\n  - {at: spring, date: 2026-03-02, yield: 0.6 L/s}\n";
  CHECK(told(reviewed(one), "proposal-without-season"));
  const Review both = reviewed(one + "  - {at: spring, date: 2025-09-02, yield: 0.6 L/s}\n");
  CHECK_FALSE(told(both, "proposal-without-season"));
  // Less than the model counts on: whatever month it was, that is the figure to go by.
  const Review dry = reviewed(text + "log:\n  - {at: spring, date: 2026-03-02, yield: 0.2 L/s}\n");
  CHECK_FALSE(told(dry, "proposal-without-season"));
}

TEST_CASE("a yield that rests on one bucket is told so") {
  std::string text = proposal::text_of(sound());
  const auto a = text.find("yield:"), b = text.find(", outlet", a);
  const auto with = [&](const std::string& times) {
    std::string other = text;
    return reviewed(other.replace(a, b - a, "bucket_tests: {volume: 20 L, times: [" + times + "]}"));
  };
  CHECK(told(with("50 s"), "too-few-buckets"));
  CHECK_FALSE(told(with("50 s, 51 s, 49 s"), "too-few-buckets"));
}

TEST_CASE("a formula chosen by the proposal is told where it does not hold") {
  const std::string text = proposal::text_of(sound());
  CHECK_FALSE(told(reviewed(text), "hazen-williams-range"));
  CHECK(told(reviewed(text + "friction: hazen-williams\n"), "hazen-williams-range"));
}

TEST_CASE("a claim under a setting that lays other pipe is of other works") {
  const std::string claims = "claims:\n  - {at: tank, flow: 0.2 L/s, setting: bigger}\n";
  const std::string text = proposal::text_of(sound());
  CHECK(told(reviewed(text + "settings:\n  bigger: {with: {pipelines: {main: {pipe: PE100 SDR17 63 mm}}}}\n" +
                      claims),
             "claim-of-other-works"));
  CHECK_FALSE(told(reviewed(text + "settings:\n  bigger: {yield: {spring: 0.5 L/s}}\n" + claims),
                   "claim-of-other-works"));
}

TEST_CASE("a greatest flow below what the spring is known to give is not believed") {
  std::string text = proposal::text_of(sound());
  text.insert(text.find("    base_soil:"), "    greatest_flow: 0.001 L/s\n");
  auto figures = sound();
  figures.overflow_bore = 0.01;
  std::string small = proposal::text_of(figures);
  small.insert(small.find("    base_soil:"), "    greatest_flow: 0.001 L/s\n");
  CHECK(reviewed(text).good);
  CHECK_FALSE(reviewed(small).good);
}

TEST_CASE("a proposal in which nobody needs anything is told so") {
  auto figures = sound();
  std::string text = proposal::text_of(figures);
  CHECK_FALSE(told(reviewed(text), "proposal-without-needs"));
  const auto cut = [&](const std::string& from, const std::string& to) {
    const auto a = text.find(from), b = text.find(to, a);
    text.erase(a, b - a);
  };
  cut("asks:", "log:");
  cut("\n    draws:", "\npipelines:");
  CHECK(told(reviewed(text), "proposal-without-needs"));
  CHECK_FALSE(reviewed(text).good);
  CHECK_FALSE(reviewed(text).fails);
}

TEST_CASE("a time to fill counts from the hour from which it takes longest") {
  // At 0.5 L/s the 4.8 m3 from 81 m to 81.8 m take 2.7 h. While the tap takes 15 m3 from 6 to 12 nothing is
  // gained: the tank sinks first and is full again only in the afternoon.
  const std::string text = R"(runnel: 1
boxes:
  spring: {yield: 0.5 L/s, outlet: 100 m, lip: 100.6 m}
tanks:
  tank: {shape: {box: {length: 3 m, width: 2 m}}, floor: 80 m, lip: 82 m, inlet: 82 m, level: 81 m,
         float_valve: {shuts_at: 81.8 m, opens_at: 81.4 m, loss: 6}}
outlets:
  tap: {elevation: 60 m, opening: 12 mm, loss: 2.5, draws: [{flow: 15000 L/day, hours: [6, 12]}]}
pipelines:
  up: {from: spring, to: tank, pipe: PE100 SDR11 50 mm, survey: {unit: m, points: [[0, 100], [120, 82]]}}
  down: {from: tank, to: tap, pipe: PE100 SDR11 40 mm, survey: {unit: m, points: [[0, 80.1], [100, 60]]}}
claims:
)";
  const auto claims = [&](const std::string& some) { return judge_claims(proposal::model(text + some)); };
  const auto late = claims("  - {at: tank, full_after: 2.7 hours}\n").at(0);
  CHECK(late.verdict == Verdict::fails);
  REQUIRE(late.ours);
  CHECK(late.ours->si > 8.0 * 3600.0);
  REQUIRE(late.reason);
  CHECK(late.reason->reason == ClaimReason::good_hour);
  CHECK(late.reason->si == Approx(9600.0).epsilon(0.01));
  // Drawn full it counts from the floor.
  std::string full = text;
  full.replace(full.find("level: 81 m"), 11, "level: 81.8 m");
  const auto from_floor = judge_claims(proposal::model(full + "  - {at: tank, full_after: 1 hour}\n")).at(0);
  CHECK(from_floor.verdict == Verdict::fails);
  REQUIRE(from_floor.ours);
  CHECK(from_floor.ours->si > 6.0 * 3600.0);
  // What a tap gets does not hang on whether a tank is full when somebody else says that it is.
  for (const char* flow : {"0.69", "0.75", "0.8", "0.9"}) {
    const auto both =
        claims("  - {at: tap, flow: " + std::string(flow) + " L/s}\n  - {at: tank, full_after: 2.7 hours}\n");
    CHECK(both.at(0).verdict == Verdict::holds);
  }
}

TEST_CASE("a claim that promises nothing, or what no setting gives, is no way round") {
  const std::string text = proposal::text_of(sound());
  const auto claims = [&](const std::string& claim) {
    return judge_claims(proposal::model(text + "claims:\n  - " + claim + "\n"));
  };
  CHECK(claims("{at: tank, flow: 0 L/s}").at(0).verdict == Verdict::holds);
  CHECK(claims("{at: tank, flow: 90 m3/day}").at(0).verdict == Verdict::fails);  // 1.04 L/s
  CHECK(claims("{at: tank, full_after: 1 min}").at(0).verdict == Verdict::fails);
  CHECK(claims("{at: tank, full_after: 60 days}").at(0).verdict == Verdict::holds);
  const auto model = proposal::model(
      text +
      "settings:\n  shut off: {shut: [V1]}\nclaims:\n  - {at: tank, flow: 0.2 L/s, setting: shut off}\n");
  CHECK(judge_claims(model).at(0).verdict == Verdict::fails);
}
