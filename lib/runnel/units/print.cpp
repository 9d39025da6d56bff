#include "runnel/units/print.h"

#include <fmt/format.h>

#include <charconv>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/units/display.h"
#include "runnel/units/unit_names.h"

namespace runnel::units {

namespace {

/// A pressure shown as a height is one of water of 1000 kg/m3, as conventional metres of water are.
constexpr double water_weight_nm3 = 1000.0 * gravity_ms2;

/// `value` in the unit of that name; every name of `display` is known to `find_unit`.
double in_unit(double si, std::string_view name) {
  const std::optional<Unit> unit = find_unit(name);
  if (!unit) return si;
  return unit->from_si(unit->head_of_water ? si / water_weight_nm3 : si).high;
}

/// Durations as people say them: seconds below two minutes, then minutes, hours, days.
std::string show_duration(double seconds, bool up) {
  const double size = std::fabs(seconds);
  std::string_view unit = "days";
  if (size < 120.0)
    unit = "s";
  else if (size < 2.0 * 3600.0)
    unit = "min";
  else if (size < 2.0 * 86400.0)
    unit = "h";
  const std::string number = rounded(in_unit(seconds, unit), {unit, 0, 3, 1, true}, up);
  return number == "-" ? number : fmt::format("{} {}", number, unit);
}

}  // namespace

std::string unit_name(Kind kind, UnitSystem system) { return std::string(display(kind, system).unit); }

std::string show_number(Figure figure, UnitSystem system) {
  const Display& how = display(figure.kind, system);
  if (!std::isfinite(figure.si)) return "-";
  return rounded(in_unit(figure.si, how.unit), how, figure.up);
}

std::string show(Figure figure, UnitSystem system) {
  if (figure.kind == Kind::duration) return show_duration(figure.si, figure.up);
  const std::string number = show_number(figure, system);
  const std::string_view unit = display(figure.kind, system).unit;
  return unit.empty() || number == "-" ? number : fmt::format("{} {}", number, unit);
}

std::string render(const std::string& text, const std::vector<Figure>& figures, UnitSystem system) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    const bool doubled = i + 1 < text.size() && text[i] == text[i + 1];
    if (doubled && (text[i] == '{' || text[i] == '}')) {
      out += text[i++];
      continue;
    }
    const std::size_t close = text[i] == '{' ? text.find('}', i) : std::string::npos;
    std::size_t index = figures.size();
    if (close != std::string::npos) {
      const char* end = text.data() + close;
      if (std::from_chars(text.data() + i + 1, end, index).ptr != end) index = figures.size();
    }
    if (index < figures.size()) {
      out += show(figures[index], system);
      i = close;
    } else {
      out += text[i];
    }
  }
  return out;
}

}  // namespace runnel::units
