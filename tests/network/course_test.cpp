// The course of a line whose stations count along the pipe.
#include "runnel/network/course.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace runnel;
using namespace runnel::network;

TEST_CASE("slope length and run on the level belong to one right triangle") {
  CHECK(slope_length_m(Along::level, 4.0, 3.0) == Approx(5.0).epsilon(1e-15));
  CHECK(level_run_m(Along::level, 4.0, 3.0) == 4.0);
  CHECK(slope_length_m(Along::pipe, 5.0, -3.0) == 5.0);
  CHECK(level_run_m(Along::pipe, 5.0, -3.0) == Approx(4.0).epsilon(1e-15));
  CHECK(level_run_m(Along::pipe, 5.0, 5.0) == 0.0);
  CHECK(level_run_m(Along::pipe, 5.0, 5.1) == 0.0);  // rounding of a tape held upright
}

TEST_CASE("stations along the pipe are its length") {
  const std::vector<SurveyPoint> survey{{Length::metres(0), Length::metres(50)},
                                        {Length::metres(120), Length::metres(20)},
                                        {Length::metres(200), Length::metres(0)}};
  const std::vector<LaidPipe> pipes{LaidPipe{}};
  const Course taped(survey, {}, pipes, Along::pipe), mapped(survey, {}, pipes);
  CHECK(taped.points()[0].length_m == 120.0);
  CHECK(taped.points()[1].length_m == 80.0);
  CHECK(mapped.points()[0].length_m == Approx(std::hypot(120.0, 30.0)));
  CHECK(taped.elevation_at(60.0) == Approx(35.0));
}
