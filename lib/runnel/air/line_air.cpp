#include "runnel/air/line_air.h"

#include <algorithm>
#include <map>
#include <numeric>

namespace runnel::air {
namespace {

/// Indices of the crests worth trying remedies at, the gravest first.
std::vector<std::size_t> worth_trying(const std::vector<Crest>& crests) {
  std::vector<std::size_t> order(crests.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  order.erase(std::remove_if(order.begin(), order.end(),
                             [&](std::size_t i) { return crests[i].graded.risk == Risk::low; }),
              order.end());
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return crests[a].graded.risk > crests[b].graded.risk;
  });
  return order;
}

using AllRemedies = std::vector<std::optional<CrestRemedies>>;

/// Marks on each way the air valve that lowers the required level most; of equals the first.
void mark_best_vents(const std::vector<Crest>& crests, std::size_t ways, AllRemedies& remedies) {
  std::vector<std::optional<std::size_t>> best(ways);
  const auto better = [&](std::size_t a, std::size_t b) {
    const TriedVent &x = *remedies[a]->vent, &y = *remedies[b]->vent;
    if (x.gain_m != y.gain_m) return x.gain_m > y.gain_m;
    return x.uncompressed_gain_m > y.uncompressed_gain_m;
  };
  for (std::size_t i = 0; i < crests.size(); ++i) {
    if (!remedies[i] || !remedies[i]->vent || remedies[i]->vent->uncompressed_gain_m <= 0.0) continue;
    auto& held = best[crests[i].way];
    if (!held || better(i, *held)) held = i;
  }
  for (const auto& i : best)
    if (i) remedies[*i]->vent_gains_most = true;
}

LineAir line_air(const network::System& system, const steady::LineState& run, const network::Line& line,
                 const std::vector<CrestDescent>& descents, const std::vector<Crest>& crests,
                 const AirOptions& options) {
  LineAir air;
  air.pipeline = line.name;
  air.wanted_clearance_m = options.clearance.of(line);
  air.clearance_stated = line.survey_error.has_value();
  air.washouts = washouts_wanted(line);
  air.descents = sweep_reaches(line, run, descents, air.wanted_clearance_m);
  air.jumps = jumps(run);
  air.stretches = stretches_at_risk(system, line, run, crests, descents, air.wanted_clearance_m);
  return air;
}

AllRemedies try_all(const network::System& system, const steady::State& state,
                    const std::vector<Crest>& crests, const AirOptions& options, AirJudgement& judgement) {
  AllRemedies remedies(crests.size());
  Trials trials(system, options.pipelines_solved);
  for (std::size_t i : worth_trying(crests))
    if (!trials.spent()) remedies[i] = try_remedies(trials, state, judgement.ways[crests[i].way], crests[i]);
  mark_best_vents(crests, judgement.ways.size(), remedies);
  judgement.solves = trials.solves();
  judgement.cut_short = trials.spent();
  return remedies;
}

}  // namespace

AirJudgement judge_air(const network::System& system, const steady::State& state, const AirOptions& options) {
  AirJudgement judgement;
  judgement.ways = ways_of(system, options.most_ways, &judgement.ways_left_out);
  for (Way& way : judgement.ways) way.vents = vent_advice(way.profile, way.conditions);
  std::vector<Crest> crests = crests_of(system, state, judgement.ways, options.clearance);
  AllRemedies remedies = try_all(system, state, crests, options, judgement);
  const auto descents = descents_by_line(judgement.ways);
  std::map<std::string, std::vector<std::size_t>> crests_on;
  for (std::size_t i = 0; i < crests.size(); ++i) crests_on[crests[i].pipeline].push_back(i);
  const std::size_t lines = std::min(system.lines().size(), state.lines.size());
  for (std::size_t i = 0; i < lines; ++i) {
    const network::Line& line = system.lines()[i];
    std::vector<Crest> own;
    for (std::size_t c : crests_on[line.name]) own.push_back(crests[c]);
    const auto at = descents.find(line.name);
    judgement.lines.push_back(line_air(system, state.lines[i], line,
                                       at != descents.end() ? at->second : std::vector<CrestDescent>{}, own,
                                       options));
    LineAir& air = judgement.lines.back();
    std::vector<RiskPoint> doubts = uncertain_stretches(line, judgement.ways);
    air.stretches.insert(air.stretches.end(), doubts.begin(), doubts.end());
    for (std::size_t c : crests_on[line.name])
      air.crests.push_back({std::move(crests[c]), std::move(remedies[c])});
  }
  return judgement;
}

std::vector<WashoutAdvice> washouts_wanted(const network::Line& line) {
  const Profile profile = profile_of(line);
  const std::vector<double> volume_m3 = bore_volume_to_points_m3(profile);
  const std::vector<Turn> all = turns(profile);
  std::vector<WashoutAdvice> found;
  for (int low : lows_without_washout(profile)) {
    std::size_t before = 0, after = profile.points.size() - 1;
    for (const Turn& turn : all) {
      const auto at = static_cast<std::size_t>(turn.point);
      if (turn.crest && turn.point < low) before = at;
      if (turn.crest && turn.point > low) after = std::min(after, at);
    }
    const ProfilePoint here = profile.points[static_cast<std::size_t>(low)];
    found.push_back({here.own_station_m, here.elevation_m, volume_m3[after] - volume_m3[before],
                     profile.points[after].distance_m - profile.points[before].distance_m});
  }
  return found;
}

}  // namespace runnel::air
