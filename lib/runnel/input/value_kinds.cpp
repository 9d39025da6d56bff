#include "runnel/input/value_kinds.h"

namespace runnel::input {

using units::Dimension;

const std::vector<KindRow>& kind_rows() {
  static const std::vector<KindRow> rows{
      {Kind::text, "a text", "text", std::nullopt},
      {Kind::name, "a name", "text", std::nullopt},
      {Kind::elevation, "an elevation", "quantity", Dimension::length},
      {Kind::station, "a station", "quantity", Dimension::length},
      {Kind::level, "a water level", "quantity", Dimension::length},
      {Kind::length, "a length", "amount", Dimension::length},
      {Kind::flow, "a flow", "amount", Dimension::flow},
      {Kind::volume, "a volume", "amount", Dimension::volume},
      {Kind::duration, "a time", "amount", Dimension::duration},
      {Kind::pressure, "a pressure", "amount", Dimension::pressure},
      {Kind::temperature, "a temperature", "quantity", Dimension::temperature},
      {Kind::density, "a density", "amount", Dimension::density},
      {Kind::viscosity, "a viscosity", "amount", Dimension::kinematic_viscosity},
      {Kind::opening, "`shut`, `open` or a share", "opening", std::nullopt},
  };
  return rows;
}

const KindRow& kind_row(Kind kind) { return kind_rows()[static_cast<std::size_t>(kind)]; }

}  // namespace runnel::input
