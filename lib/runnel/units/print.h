#pragma once
// Showing figures in the reader's units.
#include <string>
#include <vector>

#include "runnel/base/figure.h"
#include "runnel/base/finding.h"

namespace runnel::units {

enum class UnitSystem { si, us };

/// For people: rounded to a sensible number of digits, unit after a space: `12.3 m`, `1-1/2 in` is not
/// attempted (`1.5 in`), `4.75 gal/min`. A figure that is a least one is rounded up. Durations take the unit
/// that reads best: `45 s`, `12.5 h`, `3.2 days`. Never `-0`; what is not finite shows as `-`.
std::string show(Figure figure, UnitSystem system);

/// The number alone, for table columns; the unit is in the head (`unit_name`): durations in hours.
std::string show_number(Figure figure, UnitSystem system);

/// `ft`, `in`, `gal/min`, `psi`, `ft/s`, ...
std::string unit_name(Kind kind, UnitSystem system);

/// For files: the shortest text that `parse` reads back to exactly the same double, in the unit of
/// `unit_name` (durations: s or h, whichever is shorter). Where no 19 digits do that (extreme
/// figures, and within 0.1 degC of freezing in degF) it is written in SI instead. Precondition: finite.
std::string exact(Figure figure, UnitSystem system);

/// `message` (or `advice`) of a finding with its figures filled in. A placeholder without a figure stays
/// as it is.
std::string render(const std::string& text, const std::vector<Figure>& figures, UnitSystem system);

}  // namespace runnel::units
