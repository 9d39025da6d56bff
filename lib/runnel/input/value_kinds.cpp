#include "runnel/input/value_kinds.h"

namespace runnel::input {

using units::Dimension;

const std::vector<KindRow>& kind_rows() {
  static const std::vector<KindRow> rows{
      {ValueKind::text, "a text", "text", std::nullopt},
      {ValueKind::name, "a name", "text", std::nullopt},
      {ValueKind::elevation, "an elevation", "quantity", Dimension::length},
      {ValueKind::station, "a station", "quantity", Dimension::length},
      {ValueKind::level, "a water level", "quantity", Dimension::length},
      {ValueKind::length, "a length", "amount", Dimension::length},
      {ValueKind::flow, "a flow", "amount", Dimension::flow},
      {ValueKind::volume, "a volume", "amount", Dimension::volume},
      {ValueKind::duration, "a time", "amount", Dimension::duration},
      {ValueKind::pressure, "a pressure", "amount", Dimension::pressure},
      {ValueKind::velocity, "a velocity", "amount", Dimension::velocity},
      {ValueKind::temperature, "a temperature", "quantity", Dimension::temperature},
      {ValueKind::density, "a density", "amount", Dimension::density},
      {ValueKind::viscosity, "a viscosity", "amount", Dimension::kinematic_viscosity},
      {ValueKind::opening, "`shut`, `open` or a share", "opening", std::nullopt},
  };
  return rows;
}

const KindRow& kind_row(ValueKind kind) { return kind_rows()[static_cast<std::size_t>(kind)]; }

}  // namespace runnel::input
