#include "runnel/works/sanitary.h"

#include <catch2/catch.hpp>

#include "runnel/base/bibliography.h"

using namespace runnel;
using namespace runnel::works;

TEST_CASE("distances are judged against every figure in print") {
  const auto uphill = judge_distance(Keeps::clear_uphill, Length::feet(150));
  REQUIRE(uphill.size() == 2);
  CHECK(uphill[0].verdict == Verdict::fails);
  CHECK(uphill[1].verdict == Verdict::fails);
  CHECK(judge_distance(Keeps::clear_uphill, Length::feet(200))[0].verdict == Verdict::holds);
  CHECK(judge_distance(Keeps::privy_uphill, Length::metres(70))[0].verdict == Verdict::undecided);
  CHECK(judge_distance(Keeps::privy_uphill, Length::metres(49))[0].verdict == Verdict::fails);
  CHECK(judge_distance(Keeps::latrine, Length::metres(30))[0].verdict == Verdict::holds);
  CHECK(judge_distance(Keeps::stock, {})[0].verdict == Verdict::cannot_be_judged);
}

TEST_CASE("every published distance has a source and a span the right way round") {
  for (const PublishedDistance& published : published_distances()) {
    CHECK(published.least.si() > 0.0);
    CHECK(published.least <= published.better);
    CHECK(base::find_reference(published.source) != nullptr);
  }
  for (int what = 0; what <= static_cast<int>(Keeps::ditch_outfall); ++what)
    CHECK_FALSE(judge_distance(static_cast<Keeps>(what), Length::metres(60)).empty());
}
