#include "runnel/filling/recorder.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/index.h"

namespace runnel::filling {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

// A shortfall below this share of a draw is rounding of the flows.
constexpr double least_short = 1e-9;

// The value at a share of a step, by the parabola through values at the stages.
double within(double share, double a, double b, double c) {
  const auto& x = radau_table().at;
  return a * (share - x[1]) * (share - x[2]) / ((x[0] - x[1]) * (x[0] - x[2])) +
         b * (share - x[0]) * (share - x[2]) / ((x[1] - x[0]) * (x[1] - x[2])) +
         c * (share - x[0]) * (share - x[1]) / ((x[2] - x[0]) * (x[2] - x[1]));
}

// The integral of that parabola from the start of a step to a share of it, over the step's length.
double brought(double share, double a, double b, double c) {
  const auto& x = radau_table().at;
  const auto part = [&](double own, double one, double other) {
    return share * (share * share / 3.0 - 0.5 * (one + other) * share + one * other) /
           ((own - one) * (own - other));
  };
  return a * part(x[0], x[1], x[2]) + b * part(x[1], x[0], x[2]) + c * part(x[2], x[0], x[1]);
}

}  // namespace

Recorder::Recorder(const network::System& system, Basins& basins, const FillOptions& options,
                   FillHistory& history)
    : system_(system), basins_(basins), options_(options), history_(history), groups_(float_groups(system)) {
  const auto& links = basins.field().assembly().kernel.links;
  for (std::size_t k = 0; k < links.size(); ++k)
    if (links[k].b < 0) open_links_.push_back(static_cast<int>(k));
}

void Recorder::begin(const VectorXd& volume, const std::vector<double>& spilled) {
  for (std::size_t i = 0; i < basins_.size(); ++i) {
    const Storage& s = basins_.stores()[i];
    StorageHistory h;
    h.name = s.name;
    h.kind = s.kind;
    const double v = volume[static_cast<Index>(i)];
    h.start_m3 = v + spilled[i];
    h.start_level_m = h.lowest_m = h.highest_m = s.level_m(v);
    h.capacity_m3 = s.lip_m3;
    h.spilled_m3 = spilled[i];
    if (basins_.floats_shut(i) || v >= s.lip_m3 - s.grain_m3()) h.full_after_s = 0.0;
    history_.storages.push_back(std::move(h));
    if (spilled[i] > 0.0) {
      history_.events.push_back({0.0, EventKind::spilled_at_start, s.name, {}, {}, spilled[i]});
      history_.storages.back().first_spill_s = 0.0;
    }
  }
  watch_places();
  next_row_s_ = options_.every_s > 0.0 ? options_.every_s : std::numeric_limits<double>::infinity();
}

void Recorder::watch_places() {
  const auto& assembly = basins_.field().assembly();
  using What = Watched::What;
  const auto add = [&](const std::string& name, network::PlaceKind kind, What what, int source,
                       double asked_m3s) {
    Watched watched{what, source, asked_m3s};
    for (std::size_t p = 0; p < basins_.drawn_places().size(); ++p)
      if (basins_.drawn_places()[p].name == name) watched.drawn = static_cast<int>(p);
    history_.places.push_back({.name = name, .kind = kind, .by_the_hour = watched.drawn >= 0});
    watched_.push_back(watched);
  };
  for (std::size_t j = 0; j < system_.joints().size(); ++j)
    if (system_.joints()[j].draw.si() > 0.0)
      add(system_.joints()[j].name, network::PlaceKind::joint, What::draw,
          assembly.nodes_of(network::PlaceKind::joint)[j], system_.joints()[j].draw.si());
  for (std::size_t o = 0; o < system_.outlets().size(); ++o)
    if (assembly.outlet_link[o] >= 0 && !system_.outlets()[o].shut)
      add(system_.outlets()[o].name, network::PlaceKind::outlet, What::flow, assembly.outlet_link[o], 0.0);
  for (std::size_t b = 0; b < system_.boxes().size(); ++b)
    if (!assembly.kernel.nodes[at(assembly.nodes_of(network::PlaceKind::box)[b])].fixed)
      add(system_.boxes()[b].name, network::PlaceKind::box, What::spill,
          assembly.nodes_of(network::PlaceKind::box)[b], 0.0);
}

double Recorder::asked_m3s(std::size_t p) const {
  const Watched& watched = watched_[p];
  return watched.drawn < 0 ? watched.asked_m3s : basins_.drawn_places()[at(watched.drawn)].asked_m3s;
}

double Recorder::place_m3s(std::size_t p, const Instant& now) const {
  const auto source = at(watched_[p].source);
  switch (watched_[p].what) {
    case Watched::What::flow:
      return now.flow_m3s[source];
    case Watched::What::spill:
      return now.hold[source] == steady::Hold::lip ? now.surplus_m3s[source] : 0.0;
    case Watched::What::draw:
      break;
  }
  const bool none = now.hold[source] == steady::Hold::draw_none || !(asked_m3s(p) > 0.0);
  return none ? 0.0 : now.surplus_m3s[source];
}

double Recorder::outlet_m3s(const Instant& now) const {
  double sum = 0.0;
  for (int k : open_links_) sum += now.flow_m3s[at(k)];
  return sum;
}

double Recorder::joint_draws_m3s(const Instant& now) const {
  double sum = 0.0;
  const auto& assembly = basins_.field().assembly();
  for (std::size_t j = 0; j < system_.joints().size(); ++j) {
    const int node = assembly.nodes_of(network::PlaceKind::joint)[j];
    if (assembly.kernel.nodes[at(node)].draw_m3s == 0.0 || now.hold[at(node)] == steady::Hold::draw_none)
      continue;
    sum += now.surplus_m3s[at(node)];
  }
  return sum;
}

double Recorder::box_spill_m3s(const Instant& now) const {
  double sum = 0.0;
  for (int node : basins_.field().assembly().nodes_of(network::PlaceKind::box))
    if (now.hold[at(node)] == steady::Hold::lip) sum += now.surplus_m3s[at(node)];
  return sum;
}

void Recorder::sum_storage(std::size_t i, double time_s, const Trial& trial) {
  StorageHistory& h = history_.storages[i];
  double missing = 0.0;
  for (int k = 0; k < 3; ++k) {
    const double part = trial.h * radau_table().weight[at(k)];
    const Instant& now = basins_.stage(k);
    const double given = basins_.given_m3s(i, now), asked = basins_.draw_m3s(i);
    h.inflow_m3 += part * now.net_m3s[i];
    h.drawn_m3 += part * given;
    h.asked_m3 += part * asked;
    h.spilled_m3 += part * basins_.spill_m3s(i, now);
    missing += part * (asked - given);
  }
  if (missing <= 1e-9 * trial.h * basins_.draw_m3s(i)) return;
  const int day = static_cast<int>((time_s + 0.5 * trial.h) / day_s) + 1;
  if (h.short_days.empty() || h.short_days.back().day != day) h.short_days.push_back({day, 0.0});
  h.short_days.back().missing_m3 += missing;
}

void Recorder::sum_places(double time_s, const Trial& trial) {
  for (std::size_t p = 0; p < history_.places.size(); ++p) {
    PlaceHistory& h = history_.places[p];
    const double asked = asked_m3s(p);
    if (h.by_the_hour && !(asked > 0.0)) continue;  // nobody draws at this hour
    h.asked_m3 += trial.h * asked;
    for (int k = 0; k < 3; ++k) {
      const double flow = place_m3s(p, basins_.stage(k));
      h.given_m3 += trial.h * radau_table().weight[at(k)] * flow;
      h.least_m3s = std::min(h.least_m3s, flow);
      if (!h.short_from_s && asked > 0.0 && flow < asked * (1.0 - least_short)) h.short_from_s = time_s;
    }
  }
}

void Recorder::sum_others(const Trial& trial) {
  for (int k = 0; k < 3; ++k) {
    const double part = trial.h * radau_table().weight[at(k)];
    const Instant& now = basins_.stage(k);
    history_.outlets_m3 += part * outlet_m3s(now);
    history_.joint_draws_m3 += part * joint_draws_m3s(now);
    history_.box_spill_m3 += part * box_spill_m3s(now);
  }
  for (const network::Box& box : system_.boxes()) history_.spring_m3 += trial.h * box.yield.si();
}

void Recorder::add_row(std::size_t i, const Row& row) {
  StorageHistory& h = history_.storages[i];
  h.lowest_m = std::min(h.lowest_m, row.level_m);
  h.highest_m = std::max(h.highest_m, row.level_m);
  h.series.push_back(row);
}

void Recorder::series(double time_s, const VectorXd& start, const Trial& trial) {
  while (next_row_s_ < time_s + trial.h) {
    const double share = std::clamp((next_row_s_ - time_s) / trial.h, 0.0, 1.0);
    const VectorXd volume = trial.within(start, share);
    for (std::size_t i = 0; i < basins_.size(); ++i) {
      const Instant &a = basins_.stage(0), &b = basins_.stage(1), &c = basins_.stage(2);
      const StorageHistory& h = history_.storages[i];
      const auto here = [&](auto&& rate) { return within(share, rate(a), rate(b), rate(c)); };
      const auto so_far = [&](auto&& rate) { return trial.h * brought(share, rate(a), rate(b), rate(c)); };
      const auto in = [&](const Instant& now) { return now.net_m3s[i]; };
      const auto spill = [&](const Instant& now) { return basins_.spill_m3s(i, now); };
      const auto given = [&](const Instant& now) { return basins_.given_m3s(i, now); };
      add_row(i, {next_row_s_, basins_.stores()[i].level_m(volume[static_cast<Index>(i)]), here(in),
                  here(spill), here(given), h.inflow_m3 + so_far(in), h.spilled_m3 + so_far(spill),
                  h.drawn_m3 + so_far(given)});
    }
    for (std::size_t p = 0; p < history_.places.size(); ++p) {
      const double a = place_m3s(p, basins_.stage(0)), b = place_m3s(p, basins_.stage(1)),
                   c = place_m3s(p, basins_.stage(2));
      PlaceHistory& h = history_.places[p];
      h.series.push_back(
          {next_row_s_, within(share, a, b, c), h.given_m3 + trial.h * brought(share, a, b, c)});
    }
    next_row_s_ += options_.every_s;
  }
}

void Recorder::keep(double time_s, const VectorXd& start, const Trial& trial) {
  const auto& assembly = basins_.field().assembly();
  StepRecord record;
  record.start_s = time_s;
  record.length_s = trial.h;
  for (std::size_t i = 0; i < basins_.size(); ++i) {
    const Index k = static_cast<Index>(i);
    record.level_m.push_back(basins_.stores()[i].level_m(start[k]));
    record.last_level_m.push_back(basins_.stores()[i].level_m(start[k] + trial.climb(2, k)));
    record.film.push_back(basins_.field().follows(i));
  }
  record.valve.assign(system_.lines().size(), Valve::open);
  for (const Storage& s : basins_.stores())
    for (const Float& f : s.floats)
      for (const std::size_t line : groups_[f.group].lines)
        record.valve[line] = basins_.field().valve(f.group);
  for (int k = 0; k < 3; ++k) {
    const Instant& now = basins_.stage(k);
    StepRecord::Stage& stage = record.stage[k];
    for (int link : assembly.line_link) stage.line_m3s.push_back(now.flow_m3s[at(link)]);
    for (std::size_t i = 0; i < basins_.size(); ++i) {
      stage.spill_m3s.push_back(basins_.spill_m3s(i, now));
      stage.drawn_m3s.push_back(basins_.given_m3s(i, now));
    }
    stage.other_out_m3s = outlet_m3s(now) + joint_draws_m3s(now) + box_spill_m3s(now);
  }
  history_.record.push_back(std::move(record));
}

void Recorder::step(double time_s, const VectorXd& start, const Trial& trial) {
  series(time_s, start, trial);  // before the sums, since its rows lie within the step
  for (std::size_t i = 0; i < basins_.size(); ++i) sum_storage(i, time_s, trial);
  sum_places(time_s, trial);
  sum_others(trial);
  if (options_.keep_steps) keep(time_s, start, trial);
}

void Recorder::moment(double time_s, const VectorXd& volume, const Instant& now) {
  for (std::size_t i = 0; i < basins_.size(); ++i) {
    const StorageHistory& h = history_.storages[i];
    add_row(i, {time_s, basins_.stores()[i].level_m(volume[static_cast<Index>(i)]), now.net_m3s[i],
                basins_.spill_m3s(i, now), basins_.given_m3s(i, now), h.inflow_m3, h.spilled_m3, h.drawn_m3});
  }
  for (std::size_t p = 0; p < history_.places.size(); ++p)
    history_.places[p].series.push_back({time_s, place_m3s(p, now), history_.places[p].given_m3});
}

void Recorder::events(const std::vector<Event>& events) {
  for (const Event& event : events) {
    history_.events.push_back(event);
    if (event.place.empty()) continue;
    for (std::size_t i = 0; i < history_.storages.size(); ++i) {
      StorageHistory& h = history_.storages[i];
      if (h.name != event.place) continue;
      const EventKind what = event.what;
      const bool shuts = what == EventKind::float_shuts || what == EventKind::float_holds;
      const bool full = (shuts && (event.pipeline.empty() || basins_.floats_shut(i))) ||
                        what == EventKind::spill_begins || what == EventKind::full;
      if (full && !h.full_after_s) h.full_after_s = event.time_s;
      if (what == EventKind::spill_begins && !h.first_spill_s) h.first_spill_s = event.time_s;
      if (what == EventKind::empty && !h.emptied_at_s) h.emptied_at_s = event.time_s;
    }
  }
}

/// A tank that has not been full by the time that nothing changes any more, or each day is like the last,
/// never will be.
void Recorder::judge_never() {
  if (history_.rest == RestKind::no) return;
  for (StorageHistory& h : history_.storages) {
    if (h.full_after_s) continue;
    double level = h.end_level_m;
    const double day_before = history_.duration_s - day_s;
    if (history_.rest == RestKind::daily)
      for (auto row = h.series.rbegin(); row != h.series.rend() && row->time_s >= day_before; ++row)
        level = std::max(level, row->level_m);
    h.never_m = level;
  }
}

void Recorder::finish(double time_s, const VectorXd& volume, RestKind rest) {
  history_.duration_s = time_s;
  history_.rest = rest;
  for (std::size_t i = 0; i < basins_.size(); ++i) {
    StorageHistory& h = history_.storages[i];
    h.end_m3 = volume[static_cast<Index>(i)];
    h.end_level_m = basins_.stores()[i].level_m(h.end_m3);
  }
  judge_never();
}

std::vector<std::size_t> Recorder::not_emptied() const {
  const std::vector<double>& marks = options_.emptied_at_m;
  std::vector<std::size_t> tanks;
  for (std::size_t t = 0; t < std::min(marks.size(), system_.tanks().size()); ++t)
    if (!std::isnan(marks[t]) && !history_.storages[t].emptied_at_s) tanks.push_back(t);
  return tanks;
}

bool Recorder::all_full() const {
  const auto& named = options_.to_fill;
  return std::all_of(history_.storages.begin(), history_.storages.end(), [&](const StorageHistory& h) {
    const bool counts = named.empty() || std::find(named.begin(), named.end(), h.name) != named.end();
    return h.kind != network::PlaceKind::tank || h.full_after_s || !counts;
  });
}

}  // namespace runnel::filling
