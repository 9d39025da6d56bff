// Arithmetic of about 32 digits, against exact integers.
#include "runnel/units/wide.h"

#include <catch2/catch.hpp>
#include <cstdint>
#include <random>

#include "runnel/units/number_text.h"

using namespace runnel::units;

namespace {

__extension__ using Integer = __int128;

/// A Wide that holds a whole number, as one; both halves are whole then.
Integer whole(Wide w) { return static_cast<Integer>(w.high) + static_cast<Integer>(w.low); }

}  // namespace

TEST_CASE("sums and products of whole numbers are exact up to 106 bits") {
  std::mt19937_64 random(1971);
  for (int i = 0; i < 20000; ++i) {
    const std::uint64_t a = random() >> 12U, b = random() >> 12U;  // 52 bits: 104 in the product
    const Wide wide_a = decimal(a, 0), wide_b = decimal(b, 0);
    if (whole(sum(wide_a, wide_b)) != static_cast<Integer>(a) + static_cast<Integer>(b))
      FAIL(a << " + " << b);
    if (whole(product(wide_a, wide_b)) != static_cast<Integer>(a) * static_cast<Integer>(b))
      FAIL(a << " * " << b);
    if (whole(quotient(product(wide_a, wide_b), wide_b)) != static_cast<Integer>(a))
      FAIL(a << " * b / b, b = " << b);
  }
}

TEST_CASE("nineteen digits are held exactly") {
  std::mt19937_64 random(19);
  for (int i = 0; i < 20000; ++i) {
    const std::uint64_t digits = random();
    if (whole(decimal(digits, 0)) != static_cast<Integer>(digits)) FAIL(digits);
  }
}

TEST_CASE("powers of ten go there and back") {
  for (int power = -44; power <= 44; ++power) {
    CAPTURE(power);
    const Wide back = times_power_of_ten(times_power_of_ten({7.0, 0.0}, power), -power);
    // Four roundings of 2^-104 each at most, on 7.
    CHECK(back.high == 7.0);
    CHECK(back.low == Approx(0.0).margin(7 * 8e-32));
  }
  CHECK(times_power_of_ten({5.0, 0.0}, -1).high == 0.5);
  CHECK(times_power_of_ten({3.0, 0.0}, 23).high == 3e23);
  CHECK(times_power_of_ten({3.0, 0.0}, -23).high == 3e-23);
}
