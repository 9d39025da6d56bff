#include "runnel/air/tried_remedies.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "runnel/pipes/catalogue.h"

namespace runnel::air {
namespace {

constexpr std::size_t narrower_yet = 4;  // even narrower pipes carry too little to be worth a trench

network::Stretch stretch_of(const CrestDescent& d) {
  return {std::min(d.from_m, d.to_m), std::max(d.from_m, d.to_m)};
}

/// The largest bore that a flow sweeps by every law in its range on a given leg.
double most_bore_m(const ReachSweep& leg, double flow_m3s) {
  double bore_m = std::numeric_limits<double>::infinity();
  for (const LawVelocity& law : leg.sweep.laws)
    if (law.in_range)
      if (const auto most = bore_that_sweeps_m(law.law, flow_m3s, leg.down_angle_rad))
        bore_m = std::min(bore_m, *most);
  return bore_m;
}

/// The hardest leg to sweep on the descent after a crest; none if the descent does not run full.
std::optional<ReachSweep> swept_when_full(const network::Line& line, const steady::LineState& run,
                                          const CrestDescent& descent) {
  std::optional<ReachSweep> hardest;
  for (const ReachSweep& leg : sweep_reaches(line, run, {descent}, 0.0)) {
    if (!leg.below_crest) continue;
    if (!leg.runs_full) return std::nullopt;
    if (!hardest || leg.sweep.most_ms > hardest->sweep.most_ms) hardest = leg;
  }
  return hardest;
}

/// One pipe tried on the descent; `hardest` is none if the descent does not run full.
struct TriedPipe {
  TriedBore bore;
  std::optional<ReachSweep> hardest;
};

std::optional<TriedPipe> try_pipe(Trials& trials, const Crest& crest, const pipes::Pipe& pipe) {
  const network::Stretch stretch = stretch_of(crest.descent);
  const auto built = network::with_pipe(trials.system(), trials.line(crest.pipeline), stretch, pipe);
  if (!built) return std::nullopt;
  const network::System& changed = *built.value;
  const auto state = trials.solve(changed);
  const steady::LineState* run = state ? state->line(crest.pipeline) : nullptr;
  if (!run) return std::nullopt;
  TriedPipe tried{{pipe, stretch, 0.0, {}, {}},
                  swept_when_full(*changed.line(crest.pipeline), *run, crest.descent)};
  if (!tried.hardest) return tried;
  tried.bore.velocity_ms = tried.hardest->velocity_ms;
  tried.bore.sweep = tried.hardest->sweep;
  tried.bore.after = running(changed, *state, crest.pipeline, {crest.station_m, crest.station_m});
  return tried;
}

}  // namespace

TriedVent try_vent(Trials& trials, const Way& way, const Crest& crest, const Running& before) {
  TriedVent tried;
  tried.station_m = crest.station_m;
  tried.after = before;
  tried.start_after = way.start;  // at a crest without air, an air valve makes no difference
  const auto& all = way.vents.single;
  const auto effect = std::lower_bound(all.begin(), all.end(), crest.point,
                                       [](const VentEffect& e, int point) { return e.crest < point; });
  if (effect != all.end() && effect->crest == crest.point) {
    tried.start_after = effect->after;
    tried.gain_m = effect->gain_m;
    tried.uncompressed_gain_m = effect->uncompressed_gain_m;
  }
  // An air valve changes the floors of sealed lines only.
  if (trials.system().line(crest.pipeline)->air == network::Air::sealed) {
    const auto changed =
        network::with_air_valve(trials.system(), trials.line(crest.pipeline), crest.station_m);
    if (const auto state = changed ? trials.solve(*changed.value) : std::nullopt)
      tried.after = running(*changed.value, *state, crest.pipeline, {crest.station_m, crest.station_m});
  }
  return tried;
}

std::optional<TriedBore> try_bore(Trials& trials, const Crest& crest, double flow_m3s) {
  const network::Line* line = trials.system().line(crest.pipeline);
  if (!line || !crest.hardest) return std::nullopt;
  const double middle_m = 0.5 * (crest.hardest->from_m + crest.hardest->to_m);
  const pipes::Pipe& now = line->pipes[static_cast<std::size_t>(line->course.pipe_at(middle_m))].pipe;
  const std::vector<pipes::Pipe> all = narrower_pipes(now, most_bore_m(*crest.hardest, flow_m3s));
  // A descent is the more likely to run full the narrower its pipe, so the widest pipe that runs full is
  // found by bisection. Even narrower ones help only while the spring, not the pipe, sets the flow.
  std::size_t first = 0, last = all.size();
  std::optional<TriedPipe> tried;
  while (first < last) {
    const std::size_t middle = (first + last) / 2;
    auto here = try_pipe(trials, crest, all[middle]);
    if (!here) return std::nullopt;
    (here->hardest ? last : first) = here->hardest ? middle : middle + 1;
    if (here->hardest) tried = std::move(here);
  }
  for (std::size_t i = first; tried && tried->hardest && i < std::min(first + narrower_yet, all.size());
       ++i) {
    if (tried->bore.sweep.swept == Swept::by_all) return tried->bore;
    if (i + 1 < all.size()) tried = try_pipe(trials, crest, all[i + 1]);
  }
  return std::nullopt;
}

std::vector<pipes::Pipe> narrower_pipes(const pipes::Pipe& now, double most_bore_m) {
  const auto& all = pipes::standard_catalogue().pipes();
  const bool known = pipes::standard_catalogue().find(now.name) != nullptr;
  // Only pipes of one kind are compared, so that the narrower one always loses more head.
  const bool smooth_alike =
      std::any_of(all.begin(), all.end(), [&](const pipes::Pipe& p) { return p.hazen_c == now.hazen_c; });
  std::vector<pipes::Pipe> found;
  for (const pipes::Pipe& p : all) {
    if (p.bore >= now.bore || p.bore.metres() > most_bore_m || p.rating < now.rating) continue;
    if (known && (p.standard != now.standard || p.material != now.material)) continue;
    if (!known && smooth_alike && p.hazen_c != now.hazen_c) continue;
    found.push_back(p);
  }
  std::stable_sort(found.begin(), found.end(),
                   [](const pipes::Pipe& a, const pipes::Pipe& b) { return a.bore > b.bore; });
  const auto same = [](const pipes::Pipe& a, const pipes::Pipe& b) { return a.bore == b.bore; };
  found.erase(std::unique(found.begin(), found.end(), same), found.end());
  return found;
}

CrestRemedies try_remedies(Trials& trials, const steady::State& state, const Way& way, const Crest& crest) {
  CrestRemedies remedies;
  const network::System& system = trials.system();
  remedies.before = running(system, state, crest.pipeline, {crest.station_m, crest.station_m});
  if (!crest.vented) remedies.vent = try_vent(trials, way, crest, remedies.before);
  const auto dig = [&](DigGoal goal) {
    if (auto tried = try_dig(trials, way, crest, goal)) remedies.digs.push_back(std::move(*tried));
  };
  if (way.start.verdict != StartVerdict::starts) dig(DigGoal::water_starts);
  const steady::LineState* run = state.line(crest.pipeline);
  const bool stops = run && run->condition == steady::LineCondition::blocked;
  const bool governs =
      run && run->governed_by_station_m && std::abs(*run->governed_by_station_m - crest.station_m) < 1e-6;
  if (remedies.before.missing_m3s > 0.0 && (governs || stops)) dig(DigGoal::asks_met);
  if (!crest.clearance_m || *crest.clearance_m < crest.wanted_clearance_m) dig(DigGoal::grade_line_clear);
  if (crest.hardest && crest.hardest->sweep.swept != Swept::by_all)
    remedies.bore = try_bore(trials, crest, remedies.before.flow_m3s);
  return remedies;
}

}  // namespace runnel::air
