#include "runnel/losses/standpipe.h"

#include <catch2/catch.hpp>
#include <cmath>

#include "runnel/base/constants.h"

using namespace runnel::losses;

TEST_CASE("standpipe: weir under little water, orifice under more") {
  const Standpipe pipe{0.1, 0.6, 0.6, {}};
  // Computed from the formulas at g = 9.80665, ten digits.
  CHECK(standpipe_flow(pipe, 0.01).flow.flow_m3s == Approx(1.574092295e-03 / std::pow(2, 1.5)).epsilon(1e-9));
  CHECK(standpipe_flow(pipe, 0.01).limit == StandpipeLimit::weir);
  CHECK(standpipe_flow(pipe, 0.02).flow.flow_m3s == Approx(1.574092295e-03).epsilon(1e-9));
  CHECK(standpipe_flow(pipe, 0.05).flow.flow_m3s == Approx(4.666609597e-03).epsilon(1e-9));
  CHECK(standpipe_flow(pipe, 0.05).limit == StandpipeLimit::orifice);
  CHECK(standpipe_flow(pipe, 0.0).flow.flow_m3s == 0.0);
  CHECK(standpipe_flow(pipe, -0.1).limit == StandpipeLimit::dry);
}

TEST_CASE("weir and orifice of equal Cd cross at 3D/8") {
  for (const double bore : {0.05, 0.1, 0.3}) {
    const Standpipe pipe{bore, 0.6, 0.6, {}};
    const double crossing = 0.375 * bore;  // exact: (2/3) pi D h = pi D^2/4
    CHECK(standpipe_flow(pipe, crossing * (1 - 1e-12)).limit == StandpipeLimit::weir);
    CHECK(standpipe_flow(pipe, crossing * (1 + 1e-12)).limit == StandpipeLimit::orifice);
  }
}

TEST_CASE("a full drain limits the standpipe") {
  Standpipe pipe{0.1, 0.6, 0.6, DrainPipe{0.05, 4.0, 1.2}};
  const StandpipeFlow deep = standpipe_flow(pipe, 0.3);
  CHECK(deep.limit == StandpipeLimit::drain);
  // a sqrt(2 g (0.3 + 1.2) / 4)
  CHECK(deep.flow.flow_m3s ==
        Approx(0.25 * runnel::pi * 0.0025 * std::sqrt(2 * runnel::gravity_ms2 * 1.5 / 4)).epsilon(1e-13));
  CHECK(standpipe_flow(pipe, 0.001).limit == StandpipeLimit::weir);
}

TEST_CASE("the standpipe's slope is its derivative and its flow has no jump") {
  const Standpipe pipe{0.1, 0.57, 0.62, DrainPipe{0.06, 3.0, 0.6}};
  double before = 0.0;
  int weir = 0, orifice = 0, drain = 0;
  for (double head = 0.0005; head < 0.6; head *= 1.02) {
    const StandpipeFlow here = standpipe_flow(pipe, head);
    weir += here.limit == StandpipeLimit::weir;
    orifice += here.limit == StandpipeLimit::orifice;
    drain += here.limit == StandpipeLimit::drain;
    CHECK(here.flow.flow_m3s > before);
    before = here.flow.flow_m3s;
    const double step = 1e-5 * head;
    const StandpipeFlow up = standpipe_flow(pipe, head + step), down = standpipe_flow(pipe, head - step);
    if (up.limit != down.limit) continue;
    CHECK(here.flow.slope_m2s == Approx((up.flow.flow_m3s - down.flow.flow_m3s) / (2 * step)).epsilon(1e-7));
  }
  CHECK(weir > 0);
  CHECK(orifice > 0);
  CHECK(drain > 0);
}

TEST_CASE("weir coefficients in US and SI") {
  // Cw SI = (2/3) Cd sqrt(2g): US 3.1, 3.33 and 3.0 are 1.71147, 1.83845 and 1.65626, six digits.
  const auto si = [](double us) {
    return 2.0 / 3.0 * weir_cd_from_us(us) * std::sqrt(2 * runnel::gravity_ms2);
  };
  CHECK(si(3.1) == Approx(1.71147).epsilon(5e-6));
  CHECK(si(3.33) == Approx(1.83845).epsilon(5e-6));
  CHECK(si(3.0) == Approx(1.65626).epsilon(5e-6));
}

TEST_CASE("friction of the drain by Manning") {
  // n 0.025, 18 in: 0.0674 per foot as printed [nrcs-permit]; 0.0673977 by its rounded constant 5087.
  CHECK(manning_loss_per_metre(18 * 0.0254, 0.025) * 0.3048 == Approx(0.0674).margin(0.00005));
  CHECK(manning_loss_per_metre(18 * 0.0254, 0.025) * 0.3048 == Approx(0.0673977).epsilon(7e-4));
}
