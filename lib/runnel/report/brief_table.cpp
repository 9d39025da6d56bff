// The short table: one line of pipe along its stations, or every place of a system.
#include <algorithm>
#include <cmath>
#include <limits>

#include "runnel/report/brief.h"
#include "runnel/report/harmless.h"
#include "runnel/report/text_parts.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/rules.h"

namespace runnel::report {
namespace {

using steady::LineState;
using steady::PlaceState;

std::string pressure_cell(std::optional<double> head_m, const FlowAnswer& answer,
                          const TextOptions& options) {
  if (!head_m) return "-";
  return units::show_number({Kind::pressure, *head_m * answer.system.site().specific_weight_nm3()},
                            options.units);
}

std::string rated_cell(std::optional<double> rating_pa, const TextOptions& options) {
  return rating_pa ? units::show_number({Kind::pressure, *rating_pa}, options.units) : "?";
}

/// What a place gets in a state: what comes out of a tap, what the lines bring to a tank, what a joint draws.
std::optional<double> gets_m3s(const PlaceState& p, const network::System& system, const steady::State& state,
                               const FlowAnswer& answer) {
  switch (p.kind) {
    case network::PlaceKind::outlet:
      return p.flow_m3s;
    case network::PlaceKind::tank:
      return verdict::brought_m3s(system, state, p.name);
    case network::PlaceKind::joint:
      if (p.draw_asked_m3s > 0.0) return p.draw_given_m3s;
      break;
    case network::PlaceKind::box:
      return p.inflow_m3s;
  }
  const bool asked =
      std::any_of(answer.verdict.asks.begin(), answer.verdict.asks.end(), [&](const verdict::AskResult& r) {
        return r.ask.at == p.name && r.ask.kind == network::AskKind::flow;
      });
  return asked ? std::optional(verdict::brought_m3s(system, state, p.name)) : std::nullopt;
}

/// As it runs at first: as the need is judged, with the air of the start where that holds water back.
std::optional<double> at_first_m3s(const PlaceState& p, const FlowAnswer& answer) {
  for (const verdict::AskResult& r : answer.verdict.asks)
    if (r.ask.at == p.name && r.ask.kind == network::AskKind::flow && r.got && !r.met_until_s &&
        !r.met_only_primed)
      return r.got->si;
  if (answer.verdict.air && p.kind == network::PlaceKind::outlet)
    if (const auto air = verdict::air_flow_at(answer.system, answer.state, *answer.verdict.air, p.name))
      return std::min(p.flow_m3s, air->least_m3s);
  return gets_m3s(p, answer.system, answer.state, answer);
}

/// Once tanks are drawn down and siphons have lost their water; none where what runs at first lasts.
std::optional<double> in_the_end_m3s(const std::string& place, const FlowAnswer& answer) {
  const auto there = [&](const network::System& system, const steady::State& state) -> std::optional<double> {
    const PlaceState* p = state.place(place);
    return p ? gets_m3s(*p, system, state, answer) : std::nullopt;
  };
  if (const auto& lasting = answer.verdict.lasting;
      lasting && lasting->state.outcome == steady::Outcome::settled)
    return there(lasting->system, lasting->state);
  if (const auto& after = answer.verdict.after_siphons) return there(after->system, after->state);
  return std::nullopt;
}

/// Whether the table has a column more, for what lasts.
bool changes(const std::vector<const PlaceState*>& places, const FlowAnswer& answer) {
  constexpr double worth_a_column = 0.01;  // less is no news to anybody who reads a gauge
  return std::any_of(places.begin(), places.end(), [&](const PlaceState* p) {
    const auto first = at_first_m3s(*p, answer), then = in_the_end_m3s(p->name, answer);
    return first && then && std::abs(*first - *then) > worth_a_column * std::max(*first, *then);
  });
}

struct Need {
  std::string flow, mark;
  bool failing = false;
};

Need need_of(const PlaceState& p, const FlowAnswer& answer, const TextOptions& options) {
  Need need;
  for (const verdict::AskResult& r : answer.verdict.asks) {
    if (r.ask.at != p.name) continue;
    if (r.ask.kind == network::AskKind::flow)
      need.flow = units::show_number(r.asked, options.units);
    else if (need.flow.empty())
      need.flow = units::show(r.asked, options.units);
    const bool bad = r.judged && !r.met;
    need.failing = need.failing || bad;
    if (r.cut_off)
      need.mark = "shut off";
    else if (!r.judged)
      need.mark = "?";
    else if (bad)
      need.mark = r.met_until_s || r.met_only_primed ? "not for long" : "NO";
    else if (need.mark.empty())
      need.mark = "ok";
  }
  return need;
}

/// The weakest pipe that ends at a place.
std::optional<double> rating_at(const std::string& name, const FlowAnswer& answer) {
  const auto place = answer.system.find_place(name);
  if (!place) return std::nullopt;
  int at = *place;
  if (answer.system.lines_at(at).empty() && answer.system.outlet(at))
    at = answer.system.hangs_on(answer.system.place(at).index);
  double least = std::numeric_limits<double>::infinity();
  for (const int l : answer.system.lines_at(at)) {
    const network::Line& line = answer.system.lines()[static_cast<std::size_t>(l)];
    const auto& laid = line.to == at ? line.pipes.back() : line.pipes.front();
    const auto rating = verdict::allowed_pressure_pa(answer.system, laid.pipe);
    if (!rating) return std::nullopt;
    least = std::min(least, *rating);
  }
  if (!std::isfinite(least)) return std::nullopt;
  return least;
}

/// The pressures of the line that ends at a tank, just before the water leaves it.
const steady::LinePoint* end_before(const std::string& name, const FlowAnswer& answer) {
  const auto place = answer.system.find_place(name);
  if (!place) return nullptr;
  for (const int l : answer.system.lines_at(*place)) {
    const LineState& run = answer.state.lines[static_cast<std::size_t>(l)];
    if (answer.system.lines()[static_cast<std::size_t>(l)].to == *place && !run.points.empty())
      return &run.points.back();
  }
  return nullptr;
}

constexpr int widest_name = 28;

/// A row that a name begins. One too long for its column stands above its row, uncut.
void add_named(Columns& rows, std::vector<std::string> cells) {
  if (display_width(cells.front()) > widest_name) {
    rows.note(cells.front());
    cells.front() = "";
  }
  rows.row(std::move(cells));
}

std::vector<std::string> place_row(const PlaceState& p, const FlowAnswer& answer, bool in_the_end,
                                   const TextOptions& options) {
  const Need need = need_of(p, answer, options);
  const auto cell = [&](std::optional<double> m3s) {
    return m3s ? units::show_number({Kind::flow, *m3s}, options.units) : std::string();
  };
  std::optional<double> running_m = p.pressure_head_m, shut_m = p.static_head_m;
  if (p.kind == network::PlaceKind::tank)
    if (const steady::LinePoint* end = end_before(p.name, answer)) {
      running_m = end->pressure_head_m;
      shut_m = end->static_head_m;
    }
  const bool box = p.kind == network::PlaceKind::box;
  std::vector<std::string> cells{harmless(p.name), cell(at_first_m3s(p, answer))};
  if (in_the_end) cells.push_back(cell(in_the_end_m3s(p.name, answer)));
  cells.insert(cells.end(), {need.flow, need.mark, box ? "" : pressure_cell(running_m, answer, options),
                             box ? "" : pressure_cell(shut_m, answer, options),
                             box ? "" : rated_cell(rating_at(p.name, answer), options)});
  return cells;
}

/// A place that a reader looks for: an end, or one of which something is asked.
bool wanted(const PlaceState& p, const FlowAnswer& answer) {
  if (p.kind != network::PlaceKind::joint) return p.kind != network::PlaceKind::box;
  return p.draw_asked_m3s > 0.0 ||
         std::any_of(answer.verdict.asks.begin(), answer.verdict.asks.end(),
                     [&](const verdict::AskResult& r) { return r.ask.at == p.name; });
}

std::string places_table(const FlowAnswer& answer, int most_lines, const TextOptions& options) {
  std::vector<const PlaceState*> all;
  for (const auto* places : {&answer.state.outlets, &answer.state.tanks, &answer.state.joints})
    for (const PlaceState& p : *places)
      if (wanted(p, answer)) all.push_back(&p);
  const std::size_t count = all.size();
  const bool in_the_end = changes(all, answer);
  const auto lines_of = [](const PlaceState* p) {
    return display_width(harmless(p->name)) > widest_name ? 2 : 1;
  };
  int used = 0;
  for (const PlaceState* p : all) used += lines_of(p);
  if (used > most_lines - 3) {
    // What fails first; the others in their own order as far as there is room.
    std::stable_partition(all.begin(), all.end(),
                          [&](const PlaceState* p) { return need_of(*p, answer, options).failing; });
    std::size_t kept = 0;
    for (used = 0; kept < all.size() && used + lines_of(all[kept]) <= most_lines - 4; ++kept)
      used += lines_of(all[kept]);
    all.resize(kept);
  }
  const std::string flow = units::unit_name(Kind::flow, options.units);
  const std::string pressure = units::unit_name(Kind::pressure, options.units);
  std::vector<std::string> head{"", "gets"}, unit{"", flow};
  std::vector<Align> aligned{Align::left, Align::right};
  if (in_the_end) {
    head = {"", "at first", "later"};
    unit.push_back(flow);
    aligned.push_back(Align::right);
  }
  head.insert(head.end(), {"needs", "", "running", "shut", "rated"});
  unit.insert(unit.end(), {flow, "", pressure, pressure, pressure});
  aligned.insert(aligned.end(), {Align::right, Align::left, Align::right, Align::right, Align::right});
  Columns rows(aligned);
  rows.row(head);
  rows.row(unit);
  for (const PlaceState* p : all) add_named(rows, place_row(*p, answer, in_the_end, options));
  if (count > all.size())
    rows.note("and " + std::to_string(count - all.size()) +
              (count - all.size() == 1 ? " more place" : " more places") + "; -v shows all");
  return "\n" + rows.text(2);
}

/// Ends, high and low points, and where the pressure is greatest; the even ones between as there is room.
std::vector<std::size_t> points_worth_a_row(const LineState& run, std::size_t most) {
  const auto& p = run.points;
  std::vector<std::size_t> keep;
  std::size_t hardest = 0;
  for (std::size_t i = 0; i < p.size(); ++i)
    if (p[i].static_head_m.value_or(-1e9) > p[hardest].static_head_m.value_or(-1e9)) hardest = i;
  for (std::size_t i = 0; i < p.size(); ++i)
    if (p.size() <= most || i == 0 || i + 1 == p.size() || i == hardest || turn_at(p, i) != 0)
      keep.push_back(i);
  if (keep.size() <= most) return keep;
  // A saw of many bends: the ends, and the bends of least and of greatest running pressure.
  std::vector<std::size_t> bends(keep.begin() + 1, keep.end() - 1);
  std::stable_sort(bends.begin(), bends.end(), [&](std::size_t a, std::size_t b) {
    return p[a].pressure_head_m.value_or(0.0) < p[b].pressure_head_m.value_or(0.0);
  });
  std::vector<std::size_t> chosen{keep.front(), keep.back()};
  for (std::size_t i = 0; chosen.size() < most; ++i)
    chosen.push_back(i % 2 == 0 ? bends[i / 2] : bends[bends.size() - 1 - i / 2]);
  std::sort(chosen.begin(), chosen.end());
  return chosen;
}

std::string mark_of(const LineState& run, std::size_t i, const network::Line& line,
                    const FlowAnswer& answer) {
  if (i == 0) return harmless(answer.system.place_name(line.from));
  if (i + 1 == run.points.size()) return harmless(answer.system.place_name(line.to));
  const int bend = turn_at(run.points, i);
  std::string text = bend > 0 ? "high" : bend < 0 ? "low" : "";
  for (const network::Part& part : line.parts)
    if (!part.name.empty() && std::abs(part.at.metres() - run.points[i].station_m) < 1e-6)
      text += (text.empty() ? "" : ", ") + harmless(part.name);
  return text;
}

std::string line_table(const FlowAnswer& answer, int most_lines, const TextOptions& options) {
  const network::Line& line = answer.system.lines().front();
  const LineState& run = answer.state.lines.front();
  Columns rows({Align::left, Align::right, Align::right, Align::right, Align::right, Align::right});
  rows.row({"along the line", "station", "pipe at", "running", "shut", "rated"});
  const std::string pressure = units::unit_name(Kind::pressure, options.units);
  rows.row({"", units::unit_name(Kind::length, options.units),
            units::unit_name(Kind::elevation, options.units), pressure, pressure, pressure});
  const auto most = static_cast<std::size_t>(std::clamp(most_lines - 4, 3, 12));
  const auto chosen = points_worth_a_row(run, most);
  for (const std::size_t i : chosen) {
    const steady::LinePoint& p = run.points[i];
    const pipes::Pipe& pipe = line.pipes[verdict::pipe_at(line, p.station_m)].pipe;
    add_named(
        rows,
        {mark_of(run, i, line, answer), units::show_number({Kind::length, p.station_m}, options.units),
         units::show_number({Kind::elevation, p.elevation_m}, options.units),
         pressure_cell(p.pressure_head_m, answer, options), pressure_cell(p.static_head_m, answer, options),
         rated_cell(verdict::allowed_pressure_pa(answer.system, pipe), options)});
  }
  if (chosen.size() < run.points.size())
    rows.note(std::to_string(run.points.size() - chosen.size()) +
              (run.points.size() - chosen.size() == 1 ? " point" : " points") + " between; -v shows all");
  return "\n" + rows.text(2);
}

}  // namespace

int brief_rows(const FlowAnswer& answer) {
  if (one_line(answer.system))
    return 4 + static_cast<int>(std::min<std::size_t>(12, answer.state.lines.front().points.size()));
  int rows = 4;
  for (const auto* places : {&answer.state.outlets, &answer.state.tanks, &answer.state.joints})
    for (const PlaceState& p : *places)
      if (wanted(p, answer)) rows += display_width(harmless(p.name)) > widest_name ? 2 : 1;
  return rows;
}

bool one_line(const network::System& system) { return system.lines().size() == 1; }

std::string brief_table(const FlowAnswer& answer, int most_lines, const TextOptions& options) {
  if (one_line(answer.system) && !answer.state.lines.front().points.empty())
    return line_table(answer, most_lines, options);
  return places_table(answer, most_lines, options);
}

}  // namespace runnel::report
