// What an overflow does when the line is shut: figures by the formulas, written out.
#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/verdict/flow_verdict.h"
#include "sample.h"
#include "support/rooms.h"

using namespace runnel;
using namespace runnel::verdict;

namespace {

const Finding* found(const FlowVerdict& verdict, const std::string& code) {
  for (const Finding& f : verdict.findings)
    if (f.code == code) return &f;
  return nullptr;
}

// The sample's box gets 1 L/s.
FlowVerdict judged(std::optional<losses::Overflow> overflow, std::optional<double> rim_m) {
  sample::Sample s = sample::make();
  s.state.boxes[0].inflow_m3s = 1e-3;
  s.system.boxes[0].overflow = std::move(overflow);
  if (rim_m) s.system.boxes[0].rim = Length::metres(*rim_m);
  return judge_flow(s.system, s.state);
}

// Q = 3.33 L h^1.5 in feet and seconds [weir-page], no pinched ends: the head for 1 L/s over 0.5 m.
double weir_head_m() {
  const double flow_cfs = 1e-3 / std::pow(0.3048, 3), length_ft = 0.5 / 0.3048;
  return 0.3048 * std::pow(flow_cfs / (3.33 * length_ft), 2.0 / 3.0);
}

}  // namespace

TEST_CASE("a weir's head is told, and judged against the wall") {
  const losses::Overflow weir = losses::WeirLip{0.5, 0};
  const double head_m = weir_head_m();
  const FlowVerdict open = judged(weir, std::nullopt);
  REQUIRE(found(open, "overflow-head"));
  CHECK(found(open, "overflow-head")->figures.front().si == Approx(head_m).epsilon(1e-9));
  CHECK(open.good());

  const FlowVerdict high = judged(weir, 50.0 + head_m * 1.01);
  CHECK(found(high, "overflow-head"));
  CHECK_FALSE(found(high, "overflow-overtops"));

  const FlowVerdict low = judged(weir, 50.0 + head_m * 0.99);
  REQUIRE(found(low, "overflow-overtops"));
  CHECK(found(low, "overflow-overtops")->severity == Severity::error);
  CHECK_FALSE(low.good());
}

TEST_CASE("a riser with one small hole never lets a spring out") {
  losses::DrilledRiser riser;
  riser.rows.push_back({0.0005, 0.001, 1});
  const FlowVerdict verdict = judged(riser, std::nullopt);
  CHECK(found(verdict, "overflow-too-small"));
  CHECK_FALSE(verdict.good());
}

TEST_CASE("where a box spills over a lip that nobody described, it is said to be taken as free") {
  const FlowVerdict undescribed = judged(std::nullopt, std::nullopt);
  REQUIRE(found(undescribed, "box-spills"));
  CHECK(found(undescribed, "box-spills")->message.find("taken as free") != std::string::npos);
  const FlowVerdict described = judged(losses::WeirLip{0.5, 0}, std::nullopt);
  CHECK(found(described, "box-spills")->message.find("taken as free") == std::string::npos);
}
