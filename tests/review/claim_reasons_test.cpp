// Claims made up in one wrong way each are traced back to it; arbitrary ones are not.
#include "runnel/review/claim_reasons.h"

#include <catch2/catch.hpp>
#include <random>

#include "proposal_model.h"
#include "runnel/review/claims.h"

namespace {

using namespace runnel::review;
using runnel::network::System;

/// A spring, a tee, two taps, a tank with drawn water, a high point that governs, and a wet season. Invented.
System village(std::mt19937& random) {
  const auto of = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  const double top = of(100.0, 400.0), crest = top - of(2.5, 4.0), tee = top - of(24.0, 30.0);
  const auto n = [](double v) { return std::to_string(v); };
  const std::string text =
      "runnel: 1\nsite: {water: " + n(of(4.0, 8.0)) + " degC}\nboxes:\n  spring: {yield: " + n(of(0.9, 1.2)) +
      " L/s, outlet: " + n(top) + " m, lip: " + n(top + 0.5) +
      " m}\ntanks:\n  tank:\n    shape: {upright_cylinder: "
      "{diameter: " +
      n(of(3.0, 4.0)) + " m}}\n    floor: " + n(tee - 12.0) + " m\n    lip: " + n(tee + 1.0) +
      " m\n    inlet: " + n(tee - 12.0) + " m\n    draws: [{flow: " + n(of(0.05, 0.1)) +
      " L/s}]\noutlets:\n  tap: {elevation: " + n(tee - 6.0) +
      " m, opening: 8 mm, loss: 2}\n  other tap: {elevation: " + n(tee - 3.0) +
      " m, opening: 10 mm, loss: 2}\njoints:\n  tee: {elevation: " + n(tee) +
      " m}\npipelines:\n  main: {from: spring, to: tee, pipe: PE100 SDR11 40 mm, survey: {unit: m, points: "
      "[[0, " +
      n(top) + "], [" + n(of(250.0, 300.0)) + ", " + n(crest) + "], [450, " + n(tee) +
      "]]}}\n  to tank: {from: tee, to: tank, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, " +
      n(tee) + "], [90, " + n(tee - 12.0) +
      "]]}}\n  to tap: {from: tee, to: tap, pipe: PE100 SDR11 25 mm, survey: {unit: m, "
      "points: [[0, " +
      n(tee) + "], [60, " + n(tee - 6.0) +
      "]]}}\n  to other tap: {from: tee, to: other tap, pipe: PE100 SDR11 25 mm, survey: {unit: m, points: "
      "[[0, " +
      n(tee) + "], [50, " + n(tee - 3.0) +
      "]]}}\nlog:\n  - {at: spring, date: 2026-03-01, yield: " + n(of(2.0, 2.5)) + " L/s}\n";
  return proposal::read(text);
}

struct MadeUp {
  ClaimReason reason;
  ClaimedFigure what;
};

// Ways of reckoning that tell on the village, and the figure they are told by.
const MadeUp on_village[] = {
    {ClaimReason::crest_passed_over, {ClaimKind::flow, "tank"}},
    {ClaimReason::nominal_for_bore, {ClaimKind::flow, "tank"}},
    {ClaimReason::smooth_hazen, {ClaimKind::flow, "tank"}},
    {ClaimReason::first_flow_held, {ClaimKind::full_after, "tank"}},
    {ClaimReason::running_for_static, {ClaimKind::static_pressure, "tap"}},
    {ClaimReason::static_for_running, {ClaimKind::pressure, "tap"}},
    {ClaimReason::peak_left_out, {ClaimKind::flow, "tap"}},
};

}  // namespace

TEST_CASE("fifty claims made up in a wrong way are traced back to it") {
  std::mt19937 random(5);
  int made = 0;
  // Another way of reckoning may by chance come to the same figure: such a claim has two reasons, and either
  // is a right answer.
  const auto trace = [&](const System& system, const MadeUp& one) {
    const auto ours = reckoned(system.model(), one.what);
    const auto claimed = reckoned_so(one.reason, system, one.what);
    if (!claimed || (ours && std::fabs(*claimed - *ours) < 0.05 * std::fabs(*ours))) return;
    INFO(one.what.at << " " << static_cast<int>(one.reason) << " claimed " << *claimed);
    const auto found = find_reason(system, one.what, *claimed, ours);
    REQUIRE(found);
    CHECK((found->reason == one.reason || found->si == Approx(*claimed).epsilon(1e-6)));
    ++made;
  };
  for (int i = 0; i < 8; ++i) {
    const System system = village(random);
    for (const MadeUp& one : on_village) trace(system, one);
  }
  for (int i = 0; i < 10; ++i) {
    const System system = proposal::read(proposal::text_of([&] {
      auto figures = proposal::sound(random);
      figures.yield = 0.1, figures.dry_yield = 0.2;
      return figures;
    }()));
    trace(system, {ClaimReason::endless_spring, {ClaimKind::flow, "tank"}});
    trace(system, {ClaimReason::wet_season, {ClaimKind::flow, "tank"}});
  }
  CHECK(made >= 50);
}

TEST_CASE("each way of reckoning tells on some system and is named by itself") {
  std::mt19937 random(6);
  std::map<ClaimReason, int> named;
  for (int i = 0; i < 4; ++i) {
    const System system = village(random);
    for (const MadeUp& one : on_village)
      if (const auto claimed = reckoned_so(one.reason, system, one.what)) {
        const auto found = find_reason(system, one.what, *claimed, reckoned(system.model(), one.what));
        if (found && found->reason == one.reason) ++named[one.reason];
      }
  }
  for (const MadeUp& one : on_village) {
    INFO(reason_words(one.reason));
    CHECK(named[one.reason] > 0);
  }
}

TEST_CASE("the air that stays in a line is a reason") {
  std::mt19937 random(7);
  // Little head, so that the water is too slow to carry the air down.
  auto figures = proposal::sound(random);
  figures.air_valve = false;
  figures.yield = figures.dry_yield = 3.0;
  figures.low = figures.top - 6.0;
  figures.crest = figures.top - 1.0;
  figures.end = figures.top - 2.0;
  figures.dip = 1.0;
  const System plain = proposal::read(proposal::text_of(figures));
  const auto without_air = reckoned(plain.model(), {ClaimKind::flow, "tank"});
  REQUIRE(without_air);
  figures.claimed = *without_air * 1000.0;
  const auto claims = judge_claims(proposal::model(proposal::text_of(figures)));
  REQUIRE(claims.size() == 1);
  REQUIRE(claims[0].ours);
  CHECK(claims[0].ours->si < 0.9 * *without_air);
  CHECK(claims[0].verdict == Verdict::fails);
  REQUIRE(claims[0].reason);
  CHECK(claims[0].reason->reason == ClaimReason::air_forgotten);
}

TEST_CASE("for twenty arbitrary claims no reason is found") {
  std::mt19937 random(8);
  int none = 0;
  for (int i = 0; i < 20; ++i) {
    const System system = village(random);
    const ClaimedFigure what{ClaimKind::flow, i % 2 == 0 ? "tank" : "tap"};
    const auto ours = reckoned(system.model(), what);
    REQUIRE(ours);
    const double claimed = *ours * std::uniform_real_distribution<double>(7.0, 9.0)(random);
    CHECK_FALSE(find_reason(system, what, claimed, ours));
    ++none;
  }
  CHECK(none == 20);
}

TEST_CASE("for arbitrary claims near what comes no reason is made up either") {
  // From a fifth more than comes to three times as much, where ways of reckoning come out too: a reason may
  // be named only where one of them gives the claimed figure.
  std::mt19937 random(18);
  int none = 0;
  for (int i = 0; i < 20; ++i) {
    const System system = village(random);
    const ClaimedFigure what{ClaimKind::flow, i % 2 == 0 ? "tank" : "tap"};
    const auto ours = reckoned(system.model(), what);
    REQUIRE(ours);
    const double claimed = *ours * std::uniform_real_distribution<double>(1.2, 3.0)(random);
    const auto found = find_reason(system, what, claimed, ours);
    if (found) CHECK(*reckoned_so(found->reason, system, what) == Approx(claimed).epsilon(reason_tolerance));
    none += !found;
  }
  CHECK(none >= 18);
}

TEST_CASE("a claim that promises no more than comes holds") {
  std::mt19937 random(9);
  auto figures = proposal::sound(random);
  figures.claimed = figures.yield;
  const auto claims = judge_claims(proposal::model(proposal::text_of(figures)));
  REQUIRE(claims.size() == 1);
  CHECK(claims[0].verdict == Verdict::holds);
  CHECK_FALSE(claims[0].reason);
}
