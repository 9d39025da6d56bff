#include "runnel/air/crests.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <memory>
#include <unordered_map>
#include <utility>

#include "runnel/air/closed_leg.h"
#include "runnel/air/restart.h"

namespace runnel::air {
namespace {

const std::string& pipeline_of(const Profile& profile, int i) {
  return profile.pipelines[static_cast<std::size_t>(point(profile, i).pipeline)];
}

struct Span {
  int crest, low;
};

/// The span from each crest to the low point, or the end, after it.
std::vector<Span> spans(const Profile& profile) {
  std::vector<Span> found;
  const std::vector<Turn> all = turns(profile);
  const int last = static_cast<int>(profile.points.size()) - 1;
  for (std::size_t i = 0; i < all.size(); ++i)
    if (all[i].crest) found.push_back({all[i].point, i + 1 < all.size() ? all[i + 1].point : last});
  return found;
}

/// The span from the source down to the first low point, or to the end; none if the line first rises.
std::optional<Span> source_span(const Profile& profile) {
  const std::vector<Turn> all = turns(profile);
  const int last = static_cast<int>(profile.points.size()) - 1;
  if (all.empty() && point(profile, last).elevation_m > point(profile, 0).elevation_m) return std::nullopt;
  if (!all.empty() && all.front().crest) return std::nullopt;
  return Span{0, all.empty() ? last : all.front().point};
}

/// The leg that begins at a point, in stations of its own pipeline. On a profile, the end of a pipeline is
/// the first point of the next.
CrestDescent leg_from(const Way& way, int i) {
  const ProfilePoint a = point(way.profile, i), b = point(way.profile, i + 1);
  if (a.pipeline == b.pipeline) return {a.own_station_m, b.own_station_m};
  const PathLeg& leg = way.path.legs[static_cast<std::size_t>(a.pipeline)];
  const auto& end = leg.reversed ? leg.line->survey.front() : leg.line->survey.back();
  return {a.own_station_m, end.station.metres()};
}

/// The part of a span on the pipeline on which it begins.
CrestDescent on_first_pipeline(const Way& way, const Span& span) {
  CrestDescent d = leg_from(way, span.crest);
  const int line = point(way.profile, span.crest).pipeline;
  for (int i = span.crest; i < span.low && point(way.profile, i).pipeline == line; ++i)
    d.to_m = leg_from(way, i).to_m;
  return d;
}

const Pocket* pocket_at(const Way& way, int crest) {
  const auto& all = way.start.pockets;  // in flow order
  const auto at = std::lower_bound(all.begin(), all.end(), crest,
                                   [](const Pocket& p, int point) { return p.crest < point; });
  return at != all.end() && at->crest == crest ? &*at : nullptr;
}

bool vented_at(const Way& way, const Span& span) {
  if (const Pocket* pocket = pocket_at(way, span.crest)) return pocket->vented;
  const ProfilePoint top = point(way.profile, span.crest);
  return std::any_of(way.profile.air_valves.begin(), way.profile.air_valves.end(), [&](const ProfilePart& v) {
    return std::abs(v.station_m - top.station_m) < top.bore_m;
  });
}

/// Pipelines and how they run, by name, as the ways of a large system look them up again and again.
struct Found {
  const network::Line* line = nullptr;
  const steady::LineState* run = nullptr;
  std::shared_ptr<const LineLegs> legs;  ///< of a line that flows
};
using ByName = std::unordered_map<std::string, Found>;

ByName by_name(const network::System& system, const steady::State& state) {
  ByName lines;
  for (const network::Line& line : system.lines()) lines[line.name].line = &line;
  for (const steady::LineState& run : state.lines) {
    Found& found = lines[run.name];
    found.run = &run;
    if (found.line && std::abs(run.flow_m3s) > 0.0) found.legs = std::make_shared<LineLegs>(*found.line, run);
  }
  return lines;
}

Crest crest_on(const ByName& lines, const Way& way, const Span& span, const Clearance& clearance) {
  Crest crest;
  const ProfilePoint top = point(way.profile, span.crest);
  crest.pipeline = pipeline_of(way.profile, span.crest);
  crest.station_m = top.own_station_m;
  crest.elevation_m = top.elevation_m;
  crest.point = span.crest;
  crest.holds_air = pocket_at(way, span.crest) != nullptr;
  crest.vented = vented_at(way, span);
  crest.descent = on_first_pipeline(way, span);
  const auto& [line, run, legs] = lines.at(crest.pipeline);
  if (line) crest.wanted_clearance_m = clearance.of(*line);
  if (line && run && std::abs(run->flow_m3s) > 0.0) {
    crest.clearance_m = clearance_at_m(*run, crest.station_m);
    crest.hardest = legs->hardest_below(*run, crest.descent);
  }
  CrestEvidence evidence{way.start.verdict, crest.holds_air,          crest.vented,
                         crest.clearance_m, crest.wanted_clearance_m, std::nullopt};
  if (crest.hardest) evidence.swept = crest.hardest->sweep.swept;
  const bool runs = run && std::abs(run->flow_m3s) > 0.0;
  crest.graded = !runs && crest.elevation_m > way.path.source_level_m
                     ? Graded{Risk::high, CrestReason::above_source}
                     : grade_crest(evidence);
  return crest;
}

}  // namespace

double Clearance::of(const network::Line& line) const {
  return line.survey_error ? line.survey_error->metres() : unstated_m;
}

std::vector<Way> ways_of(const network::System& system, std::size_t most, std::size_t* left_out) {
  std::vector<Way> ways;
  std::vector<Path> all = paths(system);
  if (left_out) *left_out = all.size() > most ? all.size() - most : 0;
  if (all.size() > most) all.resize(most);
  for (Path& path : all) {
    Way way;
    way.profile = profile_of(path);
    way.conditions = conditions_of(path, system.site());
    way.start = harder_start(way.profile, way.conditions);
    way.path = std::move(path);
    ways.push_back(std::move(way));
  }
  std::vector<std::optional<Pocket>> closed;
  for (const Way& way : ways) closed.push_back(closed_leg(system, ways, way));
  for (std::size_t w = 0; w < ways.size(); ++w)
    if (closed[w]) ways[w].start.pockets.push_back(std::move(*closed[w]));
  return ways;
}

std::vector<Crest> crests_of(const network::System& system, const steady::State& state,
                             const std::vector<Way>& ways, const Clearance& clearance) {
  std::vector<Crest> found;
  const ByName lines = by_name(system, state);
  std::map<std::pair<std::string, double>, std::size_t> seen;
  for (std::size_t w = 0; w < ways.size(); ++w)
    for (const Span& span : spans(ways[w].profile)) {
      Crest crest = crest_on(lines, ways[w], span, clearance);
      crest.way = w;
      const auto [at, fresh] = seen.try_emplace({crest.pipeline, crest.station_m}, found.size());
      if (fresh)
        found.push_back(std::move(crest));
      else if (crest.graded.risk > found[at->second].graded.risk)
        found[at->second] = std::move(crest);
    }
  return found;
}

std::map<std::string, std::vector<CrestDescent>> descents_by_line(const std::vector<Way>& ways) {
  std::map<std::string, std::vector<CrestDescent>> found;
  const auto add = [&](const Way& way, const Span& span, Top top) {
    for (int i = span.crest; i < span.low; ++i) {
      CrestDescent leg = leg_from(way, i);
      leg.top = top;
      found[pipeline_of(way.profile, i)].push_back(leg);
    }
  };
  for (const Way& way : ways) {
    if (const auto first = source_span(way.profile)) add(way, *first, Top::source);
    for (const Span& span : spans(way.profile))
      add(way, span, vented_at(way, span) ? Top::vented_crest : Top::bare_crest);
  }
  return found;
}

}  // namespace runnel::air
