#pragma once
// A number with its kind, for messages and tables. It is in SI; whoever shows it chooses the unit
// (runnel/units/print.h). `Kind` gives both the dimension and the usual scale: a bore is shown in inches or
// millimetres, an elevation in feet or metres.

namespace runnel {

enum class Kind {
  number,       ///< no dimension
  percent,      ///< a ratio, shown in per cent
  length,       ///< stations, pipe lengths, depths [m]
  bore,         ///< small lengths: bores, walls, roughness [m]
  elevation,    ///< above the datum [m]
  head,         ///< height of water [m]
  pressure,     ///< gauge pressure [Pa]
  flow,         ///< [m3/s]
  velocity,     ///< [m/s]
  volume,       ///< [m3]
  duration,     ///< [s]
  temperature,  ///< degrees Celsius, not kelvin
  slope,        ///< rise over run, shown in per cent
};

struct Figure {
  Kind kind = Kind::number;
  double si = 0.0;
  bool up = false;  ///< shown rounded up, because less than this would not do
};

}  // namespace runnel
