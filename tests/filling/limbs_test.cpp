// Columns that drain through one opening: what holds for every shape of them.
#include "runnel/filling/limbs.h"

#include <catch2/catch.hpp>

using namespace runnel;
using filling::Limb;
using filling::LimbPiece;

namespace {

LimbPiece piece(double top_m, double bottom_m, double length_m, double bore_m) {
  const losses::PipeFriction friction({}, bore_m, 1.5e-6, 150.0, 1.3e-6);
  return {top_m, bottom_m, length_m, friction.area_m2(), 0.0, friction};
}

}  // namespace

TEST_CASE("what runs out is what stood above the end, cut into pieces or not") {
  const Limb whole{{piece(10.0, 0.0, 100.0, 0.04)}, {}};
  const Limb cut{{piece(4.0, 0.0, 40.0, 0.04), piece(10.0, 4.0, 60.0, 0.04)}, {}};
  CHECK(whole.volume_m3() == Approx(cut.volume_m3()).epsilon(1e-12));
  const auto a = filling::drain({whole}, 0.02, 0.62, 0.02), b = filling::drain({cut}, 0.02, 0.62, 0.02);
  CHECK(a.drained_m3 == Approx(whole.volume_m3() * (1.0 - 0.02 / 10.0)).epsilon(1e-9));
  CHECK(b.drained_m3 == Approx(a.drained_m3).epsilon(1e-9));
  CHECK(b.first_m3s == Approx(a.first_m3s).epsilon(1e-9));
  CHECK(b.time_s == Approx(a.time_s).epsilon(1e-5));  // the integration errs by about 1e-6
}

TEST_CASE("a dip that stays full slows the water and gives none of its own") {
  const Limb plain{{piece(10.0, 0.0, 100.0, 0.04)}, {}};
  Limb dipped = plain;
  dipped.always_full = {piece(0.0, 0.0, 50.0, 0.04)};
  CHECK(dipped.volume_m3() == plain.volume_m3());
  const auto fast = filling::drain({plain}, 0.02, 0.62, 0.02),
             slow = filling::drain({dipped}, 0.02, 0.62, 0.02);
  CHECK(slow.first_m3s < fast.first_m3s);
  CHECK(slow.time_s > fast.time_s);
  CHECK(slow.drained_m3 == Approx(fast.drained_m3).epsilon(1e-9));
}

TEST_CASE("a lower limb waits until the higher has come down to it") {
  const Limb high{{piece(10.0, 0.0, 100.0, 0.04)}, {}}, low{{piece(2.0, 0.0, 20.0, 0.04)}, {}};
  const auto alone = filling::drain({high}, 0.01, 0.62, 0.02),
             both = filling::drain({high, low}, 0.01, 0.62, 0.02);
  CHECK(both.drained_m3 > alone.drained_m3);
  CHECK(both.time_s > alone.time_s);
  // Through so narrow a hole the head in the pipe is all there is: at first the high limb gives alone.
  CHECK(both.first_m3s == Approx(alone.first_m3s).epsilon(1e-3));
}
