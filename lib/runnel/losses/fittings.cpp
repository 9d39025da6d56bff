#include "runnel/losses/fittings.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <iterator>

namespace runnel::losses {
namespace {

enum class Basis { turbulent_factors, fixed };
enum class PartOpen { refuse, gate, butterfly, any };

struct Row {
  const char* type;
  Basis basis;
  double value;      // n of K = n fT, or K itself
  double low, high;  // printed elsewhere; 0: no other value found
  PartOpen part_open;
  const char* source;
};

// The second half of each source says where `low` and `high` come from. The n values marked "from memory"
// agree with the formulas of an independent general library to its digits (see the test).
constexpr Row table[] = {
    {"ball_valve", Basis::turbulent_factors, 3, 0, 0, PartOpen::refuse, "[crane-tp410] from memory"},
    {"gate_valve", Basis::turbulent_factors, 8, 0.1, 0.32, PartOpen::gate,
     "[crane-tp410]; range [minor-loss-9.2], [hvac-pump-handbook]"},
    {"globe_valve", Basis::turbulent_factors, 340, 3.0, 14.0, PartOpen::refuse,
     "[crane-tp410] from memory; range [minor-loss-9.2], [hvac-pump-handbook]"},
    {"angle_valve", Basis::turbulent_factors, 150, 2.0, 0, PartOpen::refuse,
     "[crane-tp410] from memory; low [fitting-table]"},
    {"butterfly_valve", Basis::turbulent_factors, 45, 0.24, 0, PartOpen::butterfly,
     "[crane-tp410] 2 to 8 in, from memory; low and part open [fitting-table]"},
    {"diaphragm_valve", Basis::fixed, 2.3, 0, 0, PartOpen::refuse, "[fitting-table]"},
    {"check_valve", Basis::turbulent_factors, 100, 0.29, 2.5, PartOpen::refuse,
     "swing type, [crane-tp410]; range [minor-loss-9.2], [water-supply-6-4]"},
    {"check_valve_swing", Basis::turbulent_factors, 100, 0.29, 2.5, PartOpen::refuse,
     "[crane-tp410]; range [minor-loss-9.2], [water-supply-6-4]"},
    {"check_valve_lift", Basis::turbulent_factors, 600, 0.85, 9.1, PartOpen::refuse,
     "[crane-tp410] from memory; range [minor-loss-9.2]"},
    {"foot_valve", Basis::turbulent_factors, 420, 0.8, 15.0, PartOpen::refuse,
     "poppet with strainer, [crane-tp410] from memory; high [fitting-table]"},
    {"foot_valve_hinged", Basis::turbulent_factors, 75, 0.8, 15.0, PartOpen::refuse,
     "with strainer, [crane-tp410] from memory; high [fitting-table]"},
    {"union", Basis::fixed, 0.04, 0.04, 0.08, PartOpen::any, "[fitting-table]; high: a second handbook list"},
    {"coupling", Basis::fixed, 0.04, 0, 0, PartOpen::any, "[fitting-table]"},
    {"elbow_90", Basis::turbulent_factors, 30, 0, 0.75, PartOpen::any,
     "[crane-tp410] from memory; high [fitting-table]"},
    {"elbow_90_long", Basis::turbulent_factors, 14, 0, 0.45, PartOpen::any,
     "r/d = 1.5, [crane-tp410]; high [fitting-table]"},
    {"elbow_90_square", Basis::fixed, 1.3, 1.1, 1.3, PartOpen::any,
     "[fitting-table]; low: mitre, [minor-loss-9.2]"},
    {"elbow_45", Basis::turbulent_factors, 16, 0.2, 0.35, PartOpen::any,
     "[crane-tp410] from memory; range [fitting-table]"},
    {"return_bend", Basis::turbulent_factors, 50, 0, 0, PartOpen::any, "[crane-tp410] from memory"},
    {"tee_run", Basis::turbulent_factors, 20, 0.4, 0.9, PartOpen::any,
     "[crane-tp410] from memory; range [fitting-table], [hvac-pump-handbook]"},
    {"tee_branch", Basis::turbulent_factors, 60, 1.0, 2.4, PartOpen::any,
     "[crane-tp410] from memory; range [fitting-table], [hvac-pump-handbook]"},
    {"entrance_sharp", Basis::fixed, 0.5, 0.5, 0.57, PartOpen::any,
     "[minor-loss-9.2], [water-supply-6-4]; high [rennels2012]"},
    {"entrance_projecting", Basis::fixed, 0.78, 0.5, 1.0, PartOpen::any,
     "[crane-tp410] from memory; range [minor-loss-9.2], [water-supply-6-4]"},
    {"entrance_rounded", Basis::fixed, 0.23, 0.04, 0.5, PartOpen::any, "slightly rounded, [minor-loss-9.2]"},
    {"entrance_bell", Basis::fixed, 0.04, 0.03, 0.1, PartOpen::any, "[minor-loss-9.2], [water-supply-6-4]"},
    {"exit", Basis::fixed, 1.0, 1.0, 1.0, PartOpen::any, "the velocity head itself, [water-supply-6-4]"},
    {"washout", Basis::fixed, 0.0, 0, 0, PartOpen::any, "none: stands on a branch of the line"},
    {"air_valve", Basis::fixed, 0.0, 0, 0, PartOpen::any, "none: stands on a branch of the line"},
};

struct Point {
  double at, k;
};
// Gate valve by how far it is open; 1 is the valve's own value.
constexpr Point gate_openings[] = {{0.25, 24.0}, {0.5, 4.5}, {0.75, 0.9}};        // [fitting-table]
constexpr Point gate_openings_other[] = {{0.25, 24.0}, {0.5, 5.6}, {0.75, 1.2}};  // [water-supply-6-4]
// Butterfly valve by the angle turned from open, degrees.
constexpr Point butterfly_angles[] = {
    {5.0, 0.24}, {20.0, 1.54}, {40.0, 10.8}, {60.0, 118.0}};  // [fitting-table]

double along_log_k(const Point& a, const Point& b, double at) {
  const double share = (at - a.at) / (b.at - a.at);
  return a.k * std::pow(b.k / a.k, share);
}

/// log K linear between the points; none before the first or after the last.
template <class Points>
std::optional<double> between(const Points& points, double at) {
  if (!(at >= points[0].at)) return std::nullopt;
  for (auto p = std::next(std::begin(points)); p != std::end(points); ++p) {
    if (at <= p->at) return along_log_k(*std::prev(p), *p, at);
  }
  return std::nullopt;
}

std::optional<double> gate_part_open(const Point (&openings)[3], double open_k, double open) {
  const Point& last = openings[2];
  if (open > last.at) return along_log_k(last, {1.0, open_k}, open);
  return between(openings, open);
}

std::optional<PublishedLoss> part_open_gate(PublishedLoss loss, double open) {
  const auto k = gate_part_open(gate_openings, loss.k, open);
  const auto other = gate_part_open(gate_openings_other, loss.k, open);
  if (!k || !other) return std::nullopt;
  return PublishedLoss{*k, fmt::format("gate {:g} open, [fitting-table]; high [water-supply-6-4]", open), *k,
                       std::max(*k, *other)};
}

std::optional<PublishedLoss> part_open_butterfly(PublishedLoss loss, double open) {
  const double angle_deg = 90.0 * (1.0 - open);
  // The angle table starts below the open value of the other source, so K is never less than that.
  const auto k = angle_deg < butterfly_angles[0].at ? loss.k : between(butterfly_angles, angle_deg);
  if (!k) return std::nullopt;
  return PublishedLoss{std::max(*k, loss.k),
                       fmt::format("butterfly turned {:g} degrees from open, [fitting-table]", angle_deg),
                       std::min(*k, loss.k), std::max(*k, loss.k)};
}

PublishedLoss wide_open(const Row& row, double bore_m) {
  const bool by_size = row.basis == Basis::turbulent_factors;
  const double k = by_size ? row.value * fully_turbulent_factor(bore_m) : row.value;
  const std::string source = by_size ? fmt::format("{:g} fT, {}", row.value, row.source) : row.source;
  return {k, source, row.low > 0.0 ? std::min(k, row.low) : k, std::max(k, row.high)};
}

}  // namespace

std::optional<PublishedLoss> published_loss(std::string_view type, double bore_m, double open) {
  const auto row =
      std::find_if(std::begin(table), std::end(table), [&](const Row& r) { return type == r.type; });
  if (row == std::end(table) || !(bore_m > 0.0)) return std::nullopt;
  const PublishedLoss loss = wide_open(*row, bore_m);
  if (open == 1.0 || row->part_open == PartOpen::any) return loss;
  if (!(open > 0.0 && open < 1.0)) return std::nullopt;
  if (row->part_open == PartOpen::gate) return part_open_gate(loss, open);
  if (row->part_open == PartOpen::butterfly) return part_open_butterfly(loss, open);
  return std::nullopt;
}

std::vector<std::string> fitting_types() {
  std::vector<std::string> types;
  for (const Row& row : table) types.emplace_back(row.type);
  return types;
}

double fully_turbulent_factor(double bore_m) {
  struct Size {
    double bore_in, factor;
  };
  // Sizes 1/2, 3/4, 1, 1-1/4, 1-1/2, 2, 2-1/2, 3, 4, 6 in. fT: [crane-tp410] p. A-26. Bores: Schedule 40,
  // [astm-d1785].
  static constexpr Size sizes[] = {{0.622, 0.027}, {0.824, 0.025}, {1.049, 0.023}, {1.380, 0.022},
                                   {1.610, 0.021}, {2.067, 0.019}, {2.469, 0.018}, {3.068, 0.018},
                                   {4.026, 0.017}, {6.065, 0.015}};
  const double bore_in = bore_m / 0.0254;
  if (!(bore_in > sizes[0].bore_in)) return sizes[0].factor;
  for (auto s = std::next(std::begin(sizes)); s != std::end(sizes); ++s) {
    if (bore_in > s->bore_in) continue;
    const Size& before = *std::prev(s);
    const double share = std::log(bore_in / before.bore_in) / std::log(s->bore_in / before.bore_in);
    return before.factor + share * (s->factor - before.factor);
  }
  return std::rbegin(sizes)->factor;
}

}  // namespace runnel::losses
