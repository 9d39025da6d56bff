#include "runnel/units/display.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

#include "runnel/units/choice.h"

namespace runnel::units {

namespace {

struct DisplayRow {
  Kind kind;
  Display si, us;
};

// How finely a reader can use each figure: common practice, no source.
constexpr DisplayRow display_table[] = {
    {Kind::number, {"", 0, 4, 6, true}, {"", 0, 4, 6, true}},
    {Kind::percent, {"%", 0, 3, 3, true}, {"%", 0, 3, 3, true}},
    {Kind::length, {"m", 1, 1, 3, false}, {"ft", 1, 1, 3, false}},
    {Kind::bore, {"mm", 0, 4, 4, true}, {"in", 0, 4, 5, true}},
    {Kind::elevation, {"m", 2, 0, 2, false}, {"ft", 1, 0, 1, false}},
    {Kind::head, {"m", 2, 0, 2, false}, {"ft", 1, 0, 1, false}},
    {Kind::pressure, {"kPa", 1, 0, 1, false}, {"psi", 1, 0, 1, false}},
    {Kind::flow, {"L/s", 0, 3, 5, false}, {"gal/min", 0, 3, 4, false}},
    {Kind::velocity, {"m/s", 2, 2, 3, false}, {"ft/s", 2, 2, 3, false}},
    {Kind::volume, {"m3", 0, 3, 4, true}, {"gal", 0, 3, 1, true}},
    {Kind::duration, {"h", 0, 3, 3, true}, {"h", 0, 3, 3, true}},
    {Kind::temperature, {"degC", 0, 3, 1, true}, {"degF", 0, 3, 1, true}},
    {Kind::slope, {"%", 0, 3, 3, true}, {"%", 0, 3, 3, true}},
};
static_assert(std::size(display_table) == static_cast<std::size_t>(Kind::slope) + 1);

/// From here on a double no longer holds every whole number, and nobody reads that many digits.
constexpr double most_in_full = 1e15;

/// What seeking and converting a figure may add to it, as a share.
constexpr double left_over = 2e-6;

/// Place of the first digit that counts: 0 for 1 to 9.99, -1 for 0.1 to 0.99.
int magnitude(double value, int significant) {
  // Through the rounded text, so that 9.996 to three digits counts as 10.0.
  const std::string text = fmt::format("{:.{}e}", std::fabs(value), std::max(significant - 1, 0));
  return std::stoi(text.substr(text.find('e') + 1));
}

}  // namespace

const Display& display(Kind kind, UnitSystem system) {
  if (const Display* own = chosen(kind, system)) return *own;
  const DisplayRow& row = display_table[static_cast<std::size_t>(kind)];
  return base_of(system) == UnitSystem::us ? row.us : row.si;
}

std::string rounded(double value, const Display& how, bool up) {
  if (!std::isfinite(value)) return "-";
  if (std::fabs(value) >= most_in_full) return fmt::format("{:.3g}", value);
  int decimals = how.decimals;
  if (how.significant > 0 && value != 0.0)
    decimals = std::max(decimals, how.significant - 1 - magnitude(value, how.significant));
  decimals = std::min(decimals, how.most_decimals);
  std::string text = fmt::format("{:.{}f}", value, decimals);
  if (up && std::stod(text) < value - left_over * std::fabs(value))
    text = fmt::format("{:.{}f}", std::stod(text) + std::pow(10.0, -decimals), decimals);
  if (text.find_first_not_of("-0.") == std::string::npos) {
    // It rounds to nothing: plain zero, with as many decimals as its neighbours in a column.
    return fmt::format("{:.{}f}", 0.0, how.trimmed ? 0 : how.decimals);
  }
  if (how.trimmed && text.find('.') != std::string::npos) {
    text.erase(text.find_last_not_of('0') + 1);
    if (text.back() == '.') text.pop_back();
  }
  return text;
}

}  // namespace runnel::units
