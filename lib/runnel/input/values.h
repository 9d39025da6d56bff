#pragma once
// Reading one value: a text, a number, a quantity with its unit.
#include <optional>
#include <string>

#include "runnel/input/reader.h"
#include "runnel/units/parse.h"
#include "runnel/units/quantity.h"

namespace runnel::input {

/// The dimension in which a quantity type is written.
template <class Q>
struct Written;
template <>
struct Written<Length> {
  static constexpr auto dimension = units::Dimension::length;
};
template <>
struct Written<Flow> {
  static constexpr auto dimension = units::Dimension::flow;
};
template <>
struct Written<Velocity> {
  static constexpr auto dimension = units::Dimension::velocity;
};
template <>
struct Written<Volume> {
  static constexpr auto dimension = units::Dimension::volume;
};
template <>
struct Written<Duration> {
  static constexpr auto dimension = units::Dimension::duration;
};
template <>
struct Written<Temperature> {
  static constexpr auto dimension = units::Dimension::temperature;
};

/// The SI value of a scalar, or none with a finding. `what` opens the message: `the lip of box "A"`. Codes:
/// empty-value, not-a-value, missing-unit, wrong-unit, unknown-unit, not-a-quantity, bad-number.
std::optional<units::Parsed> read_parsed(Reader& reader, const document::Node& node,
                                         units::Dimension dimension, const std::string& what);

template <class Q>
std::optional<Q> read_quantity(Reader& reader, const document::Node& node, const std::string& what) {
  const auto parsed = read_parsed(reader, node, Written<Q>::dimension, what);
  if (!parsed) return std::nullopt;
  return Q::from_si(parsed->si);
}

/// A number without a unit.
std::optional<double> read_number(Reader& reader, const document::Node& node, const std::string& what);

/// A gauge pressure; a height of water is converted with the site's own water.
std::optional<Pressure> read_pressure(Reader& reader, const document::Node& node, const std::string& what,
                                      double specific_weight_nm3);

/// How far a valve is open, 0 to 1: `shut`, `open`, `40 %`.
std::optional<double> read_opening(Reader& reader, const document::Node& node, const std::string& what);

/// A text that is not empty.
std::optional<std::string> read_text(Reader& reader, const document::Node& node, const std::string& what);

}  // namespace runnel::input
