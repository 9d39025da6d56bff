#pragma once
// Strong quantity types for public borders. Each holds one double in SI; factories and accessors are
// named by unit, so that a bare number never crosses a border. Zero by default, copied by value.
//
// Exact factors by definition: 1 ft = 0.3048 m, 1 in = 0.0254 m, 1 US gallon = 231 in3
// = 3.785411784e-3 m3, 1 lbf/in2 = 6894.757293168362 Pa (from 0.45359237 kg and g = 9.80665 m/s2)
// [nist-sp811, appendix B.8; from memory].
#include <compare>

namespace runnel {

namespace units {
inline constexpr double foot_m = 0.3048;
inline constexpr double inch_m = 0.0254;
inline constexpr double us_gallon_m3 = 3.785411784e-3;
inline constexpr double imperial_gallon_m3 = 4.54609e-3;
inline constexpr double psi_pa = 44482216152605.0 / 6451600000.0;  // whole numbers, so rounded once
}  // namespace units

/// What every quantity can do: add, subtract, scale, compare, and give the ratio of two of a kind.
template <class Self>
class Quantity {
 public:
  constexpr Quantity() = default;
  static constexpr Self from_si(double value) {
    Self q;
    q.si_ = value;
    return q;
  }
  /// The value in SI: metres, m3/s, Pa, m/s, m3, s. Temperatures: degrees Celsius.
  constexpr double si() const { return si_; }

  friend constexpr Self operator+(Self a, Self b) { return from_si(a.si_ + b.si_); }
  friend constexpr Self operator-(Self a, Self b) { return from_si(a.si_ - b.si_); }
  friend constexpr Self operator-(Self a) { return from_si(-a.si_); }
  friend constexpr Self operator*(Self a, double k) { return from_si(a.si_ * k); }
  friend constexpr Self operator*(double k, Self a) { return from_si(a.si_ * k); }
  friend constexpr Self operator/(Self a, double k) { return from_si(a.si_ / k); }
  friend constexpr double operator/(Self a, Self b) { return a.si_ / b.si_; }
  friend constexpr auto operator<=>(Self a, Self b) { return a.si_ <=> b.si_; }
  friend constexpr bool operator==(Self a, Self b) { return a.si_ == b.si_; }
  constexpr Self& operator+=(Self b) {
    si_ += b.si_;
    return static_cast<Self&>(*this);
  }

 private:
  friend Self;
  double si_ = 0.0;
};

/// Lengths, elevations, depths, heads of water and bores: all are heights or distances [m].
class Length : public Quantity<Length> {
 public:
  static constexpr Length metres(double v) { return from_si(v); }
  static constexpr Length millimetres(double v) { return from_si(v * 1e-3); }
  static constexpr Length feet(double v) { return from_si(v * units::foot_m); }
  static constexpr Length inches(double v) { return from_si(v * units::inch_m); }
  constexpr double metres() const { return si(); }
  constexpr double millimetres() const { return si() * 1e3; }
  constexpr double feet() const { return si() / units::foot_m; }
  constexpr double inches() const { return si() / units::inch_m; }
};

/// Volume per time [m3/s].
class Flow : public Quantity<Flow> {
 public:
  static constexpr Flow cubic_metres_per_second(double v) { return from_si(v); }
  static constexpr Flow litres_per_second(double v) { return from_si(v * 1e-3); }
  static constexpr Flow gallons_per_minute(double v) { return from_si(v * units::us_gallon_m3 / 60.0); }
  constexpr double cubic_metres_per_second() const { return si(); }
  constexpr double litres_per_second() const { return si() * 1e3; }
  constexpr double gallons_per_minute() const { return si() * 60.0 / units::us_gallon_m3; }
};

/// Gauge pressure unless a name says absolute [Pa].
class Pressure : public Quantity<Pressure> {
 public:
  static constexpr Pressure pascals(double v) { return from_si(v); }
  static constexpr Pressure bar(double v) { return from_si(v * 1e5); }
  static constexpr Pressure psi(double v) { return from_si(v * units::psi_pa); }
  constexpr double pascals() const { return si(); }
  constexpr double bar() const { return si() * 1e-5; }
  constexpr double psi() const { return si() / units::psi_pa; }
};

/// [m/s].
class Velocity : public Quantity<Velocity> {
 public:
  static constexpr Velocity metres_per_second(double v) { return from_si(v); }
  static constexpr Velocity feet_per_second(double v) { return from_si(v * units::foot_m); }
  constexpr double metres_per_second() const { return si(); }
  constexpr double feet_per_second() const { return si() / units::foot_m; }
};

/// [m3].
class Volume : public Quantity<Volume> {
 public:
  static constexpr Volume cubic_metres(double v) { return from_si(v); }
  static constexpr Volume litres(double v) { return from_si(v * 1e-3); }
  static constexpr Volume gallons(double v) { return from_si(v * units::us_gallon_m3); }
  constexpr double cubic_metres() const { return si(); }
  constexpr double litres() const { return si() * 1e3; }
  constexpr double gallons() const { return si() / units::us_gallon_m3; }
};

/// [s].
class Duration : public Quantity<Duration> {
 public:
  static constexpr Duration seconds(double v) { return from_si(v); }
  static constexpr Duration hours(double v) { return from_si(v * 3600.0); }
  static constexpr Duration days(double v) { return from_si(v * 86400.0); }
  constexpr double seconds() const { return si(); }
  constexpr double hours() const { return si() / 3600.0; }
  constexpr double days() const { return si() / 86400.0; }
};

/// Degrees Celsius: an offset scale, so only differences and comparisons make sense.
class Temperature : public Quantity<Temperature> {
 public:
  static constexpr Temperature celsius(double v) { return from_si(v); }
  static constexpr Temperature fahrenheit(double v) { return from_si((v - 32.0) / 1.8); }
  constexpr double celsius() const { return si(); }
  constexpr double fahrenheit() const { return si() * 1.8 + 32.0; }
};

}  // namespace runnel
