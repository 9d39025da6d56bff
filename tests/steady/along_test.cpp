// Stations counted along the pipe say the same as stations on the level, only in other figures.
#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/steady/state.h"
#include "support/rooms.h"
#include "verdict/sample.h"

using namespace runnel;

namespace {

/// The same line with each station put along the pipe.
network::Pipeline along_the_pipe(network::Pipeline line) {
  const auto mapped = line.survey;
  double along_m = 0.0;
  for (std::size_t i = 1; i < mapped.size(); ++i) {
    along_m += std::hypot((mapped[i].station - mapped[i - 1].station).metres(),
                          (mapped[i].elevation - mapped[i - 1].elevation).metres());
    line.survey[i].station = Length::metres(along_m);
  }
  line.along = network::Along::pipe;
  return line;
}

}  // namespace

TEST_CASE("a line with a crest flows the same however its stations count") {
  network::Model mapped = sample::system();
  mapped.pipelines[0].survey = {{Length::metres(0), Length::metres(49)},
                                {Length::metres(60), Length::metres(10)},
                                {Length::metres(150), Length::metres(46)},
                                {Length::metres(300), Length::metres(0)}};
  network::Model taped = mapped;
  taped.pipelines[0] = along_the_pipe(mapped.pipelines[0]);
  const auto a = steady::solve(mapped), b = steady::solve(taped);
  REQUIRE(a.outcome == steady::Outcome::settled);
  REQUIRE(b.outcome == steady::Outcome::settled);
  CHECK(b.proof.consistent);
  CHECK(b.lines[0].flow_m3s == Approx(a.lines[0].flow_m3s).epsilon(1e-12));
  REQUIRE(a.lines[0].reaches.size() == b.lines[0].reaches.size());
  for (std::size_t i = 0; i < a.lines[0].reaches.size(); ++i) {
    CHECK(b.lines[0].reaches[i].length_m == Approx(a.lines[0].reaches[i].length_m).epsilon(1e-12));
    CHECK(b.lines[0].reaches[i].loss_m == Approx(a.lines[0].reaches[i].loss_m).epsilon(1e-9).margin(1e-12));
  }
  CHECK(b.lines[0].points[1].station_m == Approx(std::hypot(60.0, 39.0)));
}
