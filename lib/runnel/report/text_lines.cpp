// Each pipeline, point by point.
#include <algorithm>
#include <cmath>

#include "runnel/network/no_flow.h"
#include "runnel/network/place_state.h"
#include "runnel/report/harmless.h"
#include "runnel/report/text_parts.h"
#include "runnel/report/words.h"

namespace runnel::report {
namespace {

using steady::LineCondition;
using steady::LineState;
using steady::Reach;
using steady::ReachState;

constexpr std::size_t most_points = 24;
constexpr std::size_t most_lines_told = 20;

bool runs(const LineState& line) { return std::abs(line.flow_m3s) > network::no_flow_m3s; }

std::string condition_text(const LineState& line) {
  switch (line.condition) {
    case LineCondition::full:
      return "runs full";
    case LineCondition::mixed:
      return "runs full in places and part-full in others";
    case LineCondition::part_full:
      return "runs part-full, open to air all the way";
    case LineCondition::dry:
      return "is dry";
    case LineCondition::still:
      return "stands full, still";
    case LineCondition::shut:
      return "is shut";
    case LineCondition::blocked:
      return "is blocked by a high point";
  }
  return "";
}

// What a line could carry, only where it starts from open water: elsewhere the rest of the system decides.
std::string capacity_text(const LineState& line, const network::Line* drawn, const FlowAnswer& answer,
                          const TextOptions& options) {
  if (!line.capacity_m3s || !drawn || line.flow_m3s <= 0.0) return "";
  const auto governs = line.governed_by_station_m;
  const bool inside = governs && line.points.size() > 2 && *governs > line.points.front().station_m + 1e-6 &&
                      *governs < line.points.back().station_m - 1e-6;
  if (!answer.system.box(drawn->from) && !inside) return "";
  const bool all = line.flow_m3s > *line.capacity_m3s * (1.0 - 1e-6);
  if (all && !inside && answer.system.joint(drawn->to)) return "";  // what runs on decides, not this line
  std::string text =
      all ? " It carries all it can" : " It could carry " + shown(Kind::flow, *line.capacity_m3s, options);
  if (line.governed_by_station_m) {
    for (std::size_t i = 1; i + 1 < line.points.size(); ++i)
      if (std::abs(line.points[i].station_m - *line.governed_by_station_m) < 1e-6)
        text += std::string(turn_at(line.points, i) > 0 ? "; the high point at " : "; the point at ") +
                shown(Kind::length, *line.governed_by_station_m, options) + " sets that";
  }
  return text + ".";
}

std::string standing_text(const LineState& line, double weight, const TextOptions& options) {
  const steady::LinePoint* worst = nullptr;
  for (const steady::LinePoint& p : line.points)
    if (p.static_head_m && (!worst || *p.static_head_m > *worst->static_head_m)) worst = &p;
  if (!worst) return "";
  return " With everything shut it bears up to " +
         shown(Kind::pressure, *worst->static_head_m * weight, options) + ", at " +
         shown(Kind::length, worst->station_m, options) + ".";
}

std::string line_sentence(const LineState& line, const network::Line* drawn, const FlowAnswer& answer,
                          const TextOptions& options) {
  std::string text;
  if (drawn) {
    const bool back = line.flow_m3s < 0.0;
    text = answer.system.place_name(back ? drawn->to : drawn->from) + " to " +
           answer.system.place_name(back ? drawn->from : drawn->to) + ", ";
  }
  text += runs(line) ? shown(Kind::flow, std::abs(line.flow_m3s), options) : std::string("nothing flows");
  text += "; it " + condition_text(line) + ".";
  text += capacity_text(line, drawn, answer, options);
  if (drawn && network::mouth_limits(answer.system, answer.state,
                                     static_cast<std::size_t>(drawn - answer.system.lines().data())))
    text += " Its mouth lets in no more: for that the water stands " +
            shown(Kind::head, *line.mouth_needs_m, options) + " over the middle of the pipe there.";
  if (line.check_valve_shut) text += " Its check valve holds.";
  if (line.reducing_valve_active) text += " Its reducing valve is at work.";
  return text;
}

std::string reach_text(const Reach& r, const TextOptions& options) {
  switch (r.state) {
    case ReachState::full:
      return "full, " + shown(Kind::velocity, std::abs(r.velocity_ms), options);
    case ReachState::still:
      return "still";
    case ReachState::dry:
      return "dry";
    case ReachState::part_full:
      if (r.near_full) return "nearly full, open to air";
      return r.part_full_velocity_ms
                 ? "part-full, " + shown(Kind::velocity, *r.part_full_velocity_ms, options)
                 : std::string("part-full");
    case ReachState::mixed:
      if (r.refill_station_m && *r.refill_station_m > r.to_m - 0.05) return "part-full";
      return r.refill_station_m ? "part-full to " + shown(Kind::length, *r.refill_station_m, options)
                                : std::string("part-full, then full");
  }
  return "";
}

bool same_water(const Reach& a, const Reach& b) {
  return a.state == b.state && a.state != ReachState::mixed && a.pipe == b.pipe &&
         std::abs(a.velocity_ms - b.velocity_ms) <= 1e-9;
}

const Reach* reach_after(const LineState& line, double station_m) {
  for (const Reach& r : line.reaches)
    if (r.from_m >= station_m - 1e-9) return &r;
  return nullptr;
}

// What stands out at a point: a high or low point, and the named parts there.
std::string marks_at(const LineState& line, std::size_t i, const network::Line* drawn) {
  const int turn = turn_at(line.points, i);
  std::string text = turn > 0 ? "high" : turn < 0 ? "low" : "";
  if (!drawn) return text;
  for (const network::Part& part : drawn->parts)
    if (!part.name.empty() && std::abs(part.at.metres() - line.points[i].station_m) < 1e-6)
      text += (text.empty() ? "" : ", ") + cut(harmless(part.name), 14);
  return cut(text, 18);
}

Table table_of(const LineState& line, const network::Line* drawn, double weight, const TextOptions& options) {
  using enum Align;
  Table rows({{"station", right, Kind::length},
              {},
              {"pipe at", right, Kind::elevation},
              {"water up to", right, Kind::elevation},
              {"running", right, Kind::pressure},
              {"all shut", right, Kind::pressure},
              {"from here on"}});
  const std::vector<std::size_t> chosen = points_to_show(line, options.every_point);
  const auto pressure = [&](const std::optional<double>& head_m) -> Cell {
    if (!head_m) return "-";
    return Figure{Kind::pressure, *head_m * weight};
  };
  const Reach* said = nullptr;
  for (std::size_t at : chosen) {
    const steady::LinePoint& p = line.points[at];
    const Reach* reach = reach_after(line, p.station_m);
    std::string water;
    if (reach && (!said || !same_water(*said, *reach))) water = reach_text(*reach, options);
    if (reach) said = reach;
    rows.row({Figure{Kind::length, p.station_m}, marks_at(line, at, drawn),
              Figure{Kind::elevation, p.elevation_m}, figure_or(p.grade_m, Kind::elevation, "-"),
              pressure(p.pressure_head_m), pressure(p.static_head_m), water});
  }
  if (chosen.size() < line.points.size())
    rows.note(std::to_string(line.points.size() - chosen.size()) +
              " points between are left out, no high or low point among them; -v shows all");
  return rows;
}

}  // namespace

int turn_at(const std::vector<steady::LinePoint>& p, std::size_t i) {
  if (i == 0 || i + 1 >= p.size()) return 0;
  const double before = p[i].elevation_m - p[i - 1].elevation_m;
  std::size_t next = i + 1;
  while (next + 1 < p.size() && p[next].elevation_m == p[i].elevation_m) ++next;
  const double after = p[next].elevation_m - p[i].elevation_m;
  return before > 0.0 && after < 0.0 ? 1 : before < 0.0 && after > 0.0 ? -1 : 0;
}

std::vector<std::size_t> points_to_show(const LineState& line, bool all) {
  const auto& p = line.points;
  std::vector<bool> keep(p.size(), all || p.size() <= most_points);
  if (!p.empty()) keep.front() = keep.back() = true;
  std::size_t fastest = 0, hardest = 0;
  for (std::size_t i = 0; i < p.size(); ++i) {
    if (turn_at(p, i) != 0) keep[i] = true;
    if (line.governed_by_station_m && std::abs(p[i].station_m - *line.governed_by_station_m) < 1e-6)
      keep[i] = true;
    if (p[i].pressure_head_m.value_or(1e9) < p[fastest].pressure_head_m.value_or(1e9)) fastest = i;
    if (p[i].static_head_m.value_or(-1e9) > p[hardest].static_head_m.value_or(-1e9)) hardest = i;
  }
  if (!p.empty()) keep[fastest] = keep[hardest] = true;
  for (std::size_t i = 1; i < line.reaches.size() && i + 1 < p.size(); ++i)
    if (line.reaches[i].state != line.reaches[i - 1].state ||
        line.reaches[i].pipe != line.reaches[i - 1].pipe)
      keep[i] = true;
  const auto kept = static_cast<std::size_t>(std::count(keep.begin(), keep.end(), true));
  if (kept < most_points && kept < p.size()) {
    const std::size_t stride = (p.size() + most_points - kept - 1) / (most_points - kept);
    for (std::size_t i = 0; i < p.size(); i += std::max<std::size_t>(1, stride)) keep[i] = true;
  }
  std::vector<std::size_t> chosen;
  for (std::size_t i = 0; i < p.size(); ++i)
    if (keep[i]) chosen.push_back(i);
  return chosen;
}

Document lines_section(const FlowAnswer& answer, const TextOptions& options) {
  Document out;
  const double weight = answer.system.site().specific_weight_nm3();
  const auto& lines = answer.state.lines;
  for (std::size_t i = 0; i < lines.size(); ++i) {
    if (i == most_lines_told && !options.every_point)
      return out.section().paragraph("... and " + std::to_string(lines.size() - i) +
                                     " more lines; -v shows all");
    const network::Line* drawn =
        i < answer.system.lines().size() && answer.system.lines()[i].name == lines[i].name
            ? &answer.system.lines()[i]
            : answer.system.line(lines[i].name);
    out.section("Along " + cut(harmless(lines[i].name), 60));
    std::string said = line_sentence(lines[i], drawn, answer, options);
    if (!runs(lines[i])) said += standing_text(lines[i], weight, options);
    out.paragraph(said, 1);
    if (!lines[i].points.empty() && (runs(lines[i]) || options.every_point))
      out.add(table_of(lines[i], drawn, weight, options));
  }
  return out;
}

}  // namespace runnel::report
