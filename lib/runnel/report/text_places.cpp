// Where the water goes: a row for each place.
#include <algorithm>

#include "runnel/network/no_flow.h"
#include "runnel/network/place_kinds.h"
#include "runnel/report/text_parts.h"
#include "runnel/report/words.h"

namespace runnel::report {
namespace {

using steady::PlaceState;

std::string water_of_box(const PlaceState& p, const network::System& system, const TextOptions& options) {
  const network::Box* box = system.box(p.name);
  std::string text = box && box->yield.si() > 0.0
                         ? "spring gives " + shown(Kind::flow, box->yield.si(), options)
                         : "takes in " + shown(Kind::flow, p.inflow_m3s, options);
  if (p.spill_m3s > network::no_flow_m3s)
    text += ", " + shown(Kind::flow, p.spill_m3s, options) + " over the lip";
  return text;
}

std::string water_of_tank(const PlaceState& p, const TextOptions& options) {
  if (p.float_shut) return "float valve shut";
  if (p.inflow_m3s < 0.0) return "gives " + shown(Kind::flow, -p.inflow_m3s, options);
  return "takes in " + shown(Kind::flow, p.inflow_m3s, options);
}

std::string water_of(const PlaceState& p, const network::System& system, const TextOptions& options) {
  switch (p.kind) {
    case network::PlaceKind::box:
      return water_of_box(p, system, options);
    case network::PlaceKind::tank:
      return water_of_tank(p, options);
    case network::PlaceKind::outlet: {
      const network::Outlet* outlet = system.outlet(p.name);
      if (outlet && outlet->shut) return "shut";
      return p.dry ? "dry: nothing comes out" : "gives " + shown(Kind::flow, p.flow_m3s, options);
    }
    case network::PlaceKind::joint:
      if (p.draw_given_m3s < p.draw_asked_m3s * (1.0 - 1e-6))
        return "draws " + shown(Kind::flow, p.draw_given_m3s, options) + " of the " +
               shown(Kind::flow, p.draw_asked_m3s, options) + " wanted";
      if (p.draw_asked_m3s > 0.0) return "draws " + shown(Kind::flow, p.draw_given_m3s, options);
      return p.dry ? "dry" : "";
  }
  return "";
}

std::string level_of(const PlaceState& p, const network::System& system, const TextOptions& options) {
  if (p.top_part_full) return "line part-full at the top";
  if (p.level_m) return "water at " + shown(Kind::elevation, *p.level_m, options);
  if (p.pressure_head_m)
    return shown(Kind::pressure, *p.pressure_head_m * system.site().specific_weight_nm3(), options);
  return "";
}

std::string asked_of(const PlaceState& p, const verdict::FlowVerdict& verdict, const TextOptions& options) {
  std::string text;
  for (const verdict::AskResult& r : verdict.asks) {
    if (r.ask.at != p.name) continue;
    if (!text.empty()) text += "; ";
    text += "asked " + units::show(r.asked, options.units);
    text += !r.judged ? " (not judged)" : r.met ? " - met" : " - NOT MET";
  }
  return text;
}

bool worth_a_row(const PlaceState& p, const verdict::FlowVerdict& verdict, const TextOptions& options) {
  if (p.kind != network::PlaceKind::joint || options.every_point) return true;
  const bool asked = std::any_of(verdict.asks.begin(), verdict.asks.end(),
                                 [&](const verdict::AskResult& r) { return r.ask.at == p.name; });
  return asked || p.dry || p.draw_asked_m3s > 0.0;
}

}  // namespace

Document places_section(const FlowAnswer& answer, const TextOptions& options) {
  Table rows({{}, {}, {.fit = Fit::below}, {.fit = Fit::below}});
  constexpr std::size_t most_rows = 60;
  std::size_t count = 0, left_out = 0;
  for (const auto* places : network::kinds_of(answer.state))
    for (const PlaceState& p : *places) {
      if (!worth_a_row(p, answer.verdict, options)) continue;
      if (++count > most_rows && !options.every_point) {
        ++left_out;
        continue;
      }
      rows.row({short_name(p.name), water_of(p, answer.system, options), level_of(p, answer.system, options),
                asked_of(p, answer.verdict, options)});
    }
  if (left_out > 0) rows.note("... and " + std::to_string(left_out) + " more; -v shows all");
  return Document().section("Where the water goes").add(rows);
}

}  // namespace runnel::report
