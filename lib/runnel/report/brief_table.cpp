// The short table: one line of pipe along its stations, or every place of a system.
#include <algorithm>
#include <cmath>
#include <limits>

#include "runnel/network/place_state.h"
#include "runnel/report/brief.h"
#include "runnel/report/harmless.h"
#include "runnel/report/render_text.h"
#include "runnel/report/text_parts.h"
#include "runnel/verdict/air_flow.h"
#include "runnel/verdict/rules.h"

namespace runnel::report {
namespace {

using steady::LineState;
using steady::PlaceState;

Cell pressure_cell(std::optional<double> head_m, const FlowAnswer& answer) {
  if (!head_m) return "-";
  return Figure{Kind::pressure, *head_m * answer.system.site().specific_weight_nm3()};
}

Cell rated_cell(std::optional<double> rating_pa) { return figure_or(rating_pa, Kind::pressure, "?"); }

/// What a place gets in a state: what comes out of a tap, what the lines bring to a tank, what a joint draws.
std::optional<double> comes_m3s(const PlaceState& p, const network::System& system,
                                const steady::State& state, const FlowAnswer& answer) {
  if (p.kind == network::PlaceKind::tank) return verdict::brought_m3s(system, state, p.name);
  if (p.kind != network::PlaceKind::joint || p.draw_asked_m3s > 0.0) return network::gets_m3s(p);
  const bool asked =
      std::any_of(answer.verdict.asks.begin(), answer.verdict.asks.end(), [&](const verdict::AskResult& r) {
        return r.ask.at == p.name && r.ask.kind == network::AskKind::flow;
      });
  return asked ? std::optional(verdict::brought_m3s(system, state, p.name)) : std::nullopt;
}

/// The flow at first: as the need is judged, with the air of the start where that holds water back.
std::optional<double> at_first_m3s(const PlaceState& p, const FlowAnswer& answer) {
  for (const verdict::AskResult& r : answer.verdict.asks)
    if (r.ask.at == p.name && r.ask.kind == network::AskKind::flow && r.got && !r.met_until_s &&
        !r.met_only_primed && !r.low_water)
      return r.got->si;
  if (answer.verdict.air && p.kind == network::PlaceKind::outlet)
    if (const auto air = verdict::air_flow_at(answer.system, answer.state, *answer.verdict.air, p.name))
      return std::min(p.flow_m3s, air->least_m3s);
  return comes_m3s(p, answer.system, answer.state, answer);
}

/// The flow once tanks are drawn down and siphons have lost their water; nothing where the first flow lasts.
std::optional<double> in_the_end_m3s(const std::string& place, const FlowAnswer& answer) {
  const auto there = [&](const network::System& system, const steady::State& state) -> std::optional<double> {
    const PlaceState* p = state.place(place);
    return p ? comes_m3s(*p, system, state, answer) : std::nullopt;
  };
  if (const auto& lasting = answer.verdict.lasting;
      lasting && lasting->state.outcome == steady::Outcome::settled)
    return there(lasting->system, lasting->state);
  if (const auto& after = answer.verdict.after_siphons) return there(after->system, after->state);
  return std::nullopt;
}

/// Whether the table needs another column, for what lasts.
bool changes(const std::vector<const PlaceState*>& places, const FlowAnswer& answer) {
  constexpr double worth_a_column = 0.01;  // nobody who reads a gauge notices less
  return std::any_of(places.begin(), places.end(), [&](const PlaceState* p) {
    const auto first = at_first_m3s(*p, answer), then = in_the_end_m3s(p->name, answer);
    return first && then && std::abs(*first - *then) > worth_a_column * std::max(*first, *then);
  });
}

struct Need {
  Cell flow;
  std::string mark;
  bool failing = false;
};

Need need_of(const PlaceState& p, const FlowAnswer& answer, const TextOptions& options) {
  Need need;
  for (const verdict::AskResult& r : answer.verdict.asks) {
    if (r.ask.at != p.name) continue;
    const bool bad = r.judged && !r.met, flow = r.ask.kind == network::AskKind::flow;
    // Of several needs the one that is missed is shown; of those alike the flow.
    if (is_blank(need.flow) || (bad && !need.failing) || (flow && bad == need.failing))
      need.flow = flow ? Cell(r.asked) : Cell(units::show(r.asked, options.units));
    need.failing = need.failing || bad;
    if (r.cut_off)
      need.mark = "shut off";
    else if (!r.judged)
      need.mark = "?";
    else if (bad)
      need.mark = r.met_until_s || r.met_only_primed ? "not for long" : r.low_water ? "NO when low" : "NO";
    else if (need.mark.empty())
      need.mark = "ok";
  }
  return need;
}

/// The rating of the weakest pipe that ends at a place.
std::optional<double> rating_at(const std::string& name, const FlowAnswer& answer) {
  const auto place = answer.system.find_place(name);
  if (!place) return std::nullopt;
  int at = *place;
  if (answer.system.lines_at(at).empty() && answer.system.outlet(at))
    at = answer.system.hangs_on(answer.system.place(at).index);
  if (at < 0) return std::nullopt;  // no pipe leads to it
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

/// A long name stands above its row.
const Column name_column{.fit = Fit::above};

std::vector<Cell> place_row(const PlaceState& p, const FlowAnswer& answer, bool in_the_end,
                            const TextOptions& options) {
  const Need need = need_of(p, answer, options);
  std::optional<double> running_m = p.pressure_head_m, shut_m = p.static_head_m;
  if (p.kind == network::PlaceKind::tank)
    if (const steady::LinePoint* end = end_before(p.name, answer)) {
      running_m = end->pressure_head_m;
      shut_m = end->static_head_m;
    }
  // As the need is judged, with the air of the start where that holds water back.
  for (const verdict::AskResult& r : answer.verdict.asks)
    if (r.ask.at == p.name && r.ask.kind == network::AskKind::pressure && r.judged && r.got && !r.low_water &&
        !r.met_until_s && !r.met_only_primed)
      running_m = r.got->si / answer.system.site().specific_weight_nm3();
  const bool box = p.kind == network::PlaceKind::box;
  std::vector<Cell> cells{p.name, figure_or(at_first_m3s(p, answer), Kind::flow, "")};
  if (in_the_end) cells.push_back(figure_or(in_the_end_m3s(p.name, answer), Kind::flow, ""));
  cells.insert(cells.end(),
               {need.flow, need.mark, box ? "" : pressure_cell(running_m, answer),
                box ? "" : pressure_cell(shut_m, answer), box ? "" : rated_cell(rating_at(p.name, answer))});
  return cells;
}

/// Whether a reader looks for the place: it is an end, or something is asked there.
bool wanted(const PlaceState& p, const FlowAnswer& answer) {
  if (p.kind != network::PlaceKind::joint) return p.kind != network::PlaceKind::box;
  return p.draw_asked_m3s > 0.0 ||
         std::any_of(answer.verdict.asks.begin(), answer.verdict.asks.end(),
                     [&](const verdict::AskResult& r) { return r.ask.at == p.name; });
}

/// Every place worth a row, grouped by kind.
std::vector<const PlaceState*> places_wanted(const FlowAnswer& answer) {
  std::vector<const PlaceState*> all;
  for (const auto* places : {&answer.state.outlets, &answer.state.tanks, &answer.state.joints})
    for (const PlaceState& p : *places)
      if (wanted(p, answer)) all.push_back(&p);
  return all;
}

Table places_head(bool in_the_end) {
  using enum Align;
  std::vector<Column> columns{name_column, {in_the_end ? "at first" : "gets", right, Kind::flow}};
  if (in_the_end) columns.push_back({"later", right, Kind::flow});
  columns.insert(columns.end(), {{"needs", right, Kind::flow},
                                 {},
                                 {"running", right, Kind::pressure},
                                 {"shut", right, Kind::pressure},
                                 {"rated", right, Kind::pressure}});
  return Table(std::move(columns));
}

int lines_of_row(const PlaceState& p) { return display_width(harmless(p.name)) > widest_name ? 2 : 1; }

Table places_table(const FlowAnswer& answer, int most_lines, const TextOptions& options) {
  std::vector<const PlaceState*> all = places_wanted(answer);
  const std::size_t count = all.size();
  const bool in_the_end = changes(all, answer);
  int used = 0;
  for (const PlaceState* p : all) used += lines_of_row(*p);
  if (used > most_lines - 3) {
    // What fails comes first; the others keep their order as far as there is room.
    std::stable_partition(all.begin(), all.end(),
                          [&](const PlaceState* p) { return need_of(*p, answer, options).failing; });
    std::size_t kept = 0;
    for (used = 0; kept < all.size() && used + lines_of_row(*all[kept]) <= most_lines - 4; ++kept)
      used += lines_of_row(*all[kept]);
    all.resize(kept);
  }
  Table rows = places_head(in_the_end);
  for (const PlaceState* p : all) rows.row(place_row(*p, answer, in_the_end, options));
  if (count > all.size())
    rows.note("and " + std::to_string(count - all.size()) +
              (count - all.size() == 1 ? " more place" : " more places") + "; -v shows all");
  return rows;
}

/// All points if they fit; else the ends, high and low points, and where the static pressure is greatest.
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
  // Too many high and low points: the ends, and in turn those of least and of greatest running pressure.
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
  if (i == 0) return answer.system.place_name(line.from);
  if (i + 1 == run.points.size()) return answer.system.place_name(line.to);
  const int bend = turn_at(run.points, i);
  std::string text = bend > 0 ? "high" : bend < 0 ? "low" : "";
  for (const network::Part& part : line.parts)
    if (!part.name.empty() && std::abs(part.at.metres() - run.points[i].station_m) < 1e-6)
      text += (text.empty() ? "" : ", ") + part.name;
  return text;
}

Table line_table(const FlowAnswer& answer, int most_lines) {
  using enum Align;
  const network::Line& line = answer.system.lines().front();
  const LineState& run = answer.state.lines.front();
  Table rows({{.title = "along the line", .fit = Fit::above},
              {"station", right, Kind::length},
              {"pipe at", right, Kind::elevation},
              {"running", right, Kind::pressure},
              {"shut", right, Kind::pressure},
              {"rated", right, Kind::pressure}});
  const auto most = static_cast<std::size_t>(std::clamp(most_lines - 4, 3, 12));
  const auto chosen = points_worth_a_row(run, most);
  for (const std::size_t i : chosen) {
    const steady::LinePoint& p = run.points[i];
    const pipes::Pipe& pipe = line.pipes[static_cast<std::size_t>(line.course.pipe_at(p.station_m))].pipe;
    rows.row({mark_of(run, i, line, answer), Figure{Kind::length, p.station_m},
              Figure{Kind::elevation, p.elevation_m}, pressure_cell(p.pressure_head_m, answer),
              pressure_cell(p.static_head_m, answer),
              rated_cell(verdict::allowed_pressure_pa(answer.system, pipe))});
  }
  if (chosen.size() < run.points.size())
    rows.note(std::to_string(run.points.size() - chosen.size()) +
              (run.points.size() - chosen.size() == 1 ? " point" : " points") + " between; -v shows all");
  return rows;
}

}  // namespace

int brief_rows(const FlowAnswer& answer) {
  if (one_line(answer.system))
    return 4 + static_cast<int>(std::min<std::size_t>(12, answer.state.lines.front().points.size()));
  int rows = 4;
  for (const PlaceState* p : places_wanted(answer)) rows += lines_of_row(*p);
  return rows;
}

bool one_line(const network::System& system) { return system.lines().size() == 1; }

Document brief_table(const FlowAnswer& answer, int most_lines, const TextOptions& options) {
  const bool along = one_line(answer.system) && !answer.state.lines.front().points.empty();
  return Document().section().add(along ? line_table(answer, most_lines)
                                        : places_table(answer, most_lines, options));
}

}  // namespace runnel::report
