// Cover, frost, and whether the survey is finer than what it shows.
#include <algorithm>
#include <cmath>

#include "runnel/review/measure.h"

namespace runnel::review {

namespace {

std::optional<Length> cover_of(const Seen& seen, const std::string& line) {
  const auto& ground = seen.system.model().ground;
  if (!ground) return std::nullopt;
  for (const network::Cover& cover : ground->covers)
    if (cover.pipeline == line) return cover.depth;
  return std::nullopt;
}

/// Least cover of plastic pipe: 18 in to 2-1/2 in, 24 in to 5 in, 30 in from 6 in [nrcs-s-430-dd]. By the
/// bore, since many pipes have no nominal size in inches; what lies between two sizes counts as the larger.
Length least_cover(Length bore) {
  if (bore < Length::inches(2.75)) return Length::inches(18);
  return bore < Length::inches(5.5) ? Length::inches(24) : Length::inches(30);
}

/// One figure for each line, which `figure` makes of its cover.
template <class Figure>
std::vector<Measured> of_cover(const Seen& seen, Figure figure) {
  const auto& ground = seen.system.model().ground;
  if (!ground || ground->covers.empty())
    return {lacking({}, "how deep the pipes lie (`ground: {cover: ...}`)")};
  std::vector<Measured> out;
  for (const network::Line& line : seen.system.lines()) {
    const Where where{"", line.name, "", std::nullopt};
    const auto cover = cover_of(seen, line.name);
    out.push_back(cover ? figure(where, line, *cover) : lacking(where, "the cover of " + line.name));
  }
  return out;
}

std::vector<Measured> cover_by_size(const Seen& seen) {
  return of_cover(seen, [](const Where& where, const network::Line& line, Length cover) {
    Length widest;
    for (const network::FittedPipe& laid : line.pipes) widest = std::max(widest, laid.pipe.bore);
    return exactly(where, (cover - least_cover(widest)).metres());
  });
}

std::vector<Measured> cover_below_frost(const Seen& seen) {
  const auto& ground = seen.system.model().ground;
  if (!ground || !ground->frost) return {lacking({}, "how deep the ground freezes (`ground: {frost: ...}`)")};
  return of_cover(seen, [&](const Where& where, const network::Line&, Length cover) {
    return exactly(where, (cover - *ground->frost).metres());
  });
}

/// The stated error at both ends, in opposite directions, over the fall between them.
std::vector<Measured> survey_error(const Seen& seen) {
  std::vector<Measured> out;
  const auto& lines = seen.system.lines();
  if (std::none_of(lines.begin(), lines.end(), [](const network::Line& line) { return line.survey_error; }))
    return {lacking({}, "how exact the survey is")};
  for (const network::Line& line : seen.system.lines()) {
    const Where where{"", line.name, "", std::nullopt};
    const double fall_m = std::fabs((line.start_elevation() - line.end_elevation()).metres());
    if (!line.surveyed)
      out.push_back(lacking(where, "a survey of " + line.name));
    else if (!line.survey_error)
      out.push_back(lacking(where, "how exact the survey of " + line.name + " is"));
    else if (fall_m > 0.0)
      out.push_back(exactly(where, 2.0 * line.survey_error->metres() / fall_m));
  }
  return out;
}

/// The longest step of each survey, since nobody has seen what lies between two points.
std::vector<Measured> between_survey_points(const Seen& seen) {
  std::vector<Measured> out;
  for (const network::Line& line : seen.system.lines()) {
    if (!line.surveyed || line.survey.size() < 2) continue;
    std::size_t worst = 1;
    const auto step_m = [&](std::size_t i) {
      return (line.survey[i].station - line.survey[i - 1].station).metres();
    };
    for (std::size_t i = 2; i < line.survey.size(); ++i)
      if (step_m(i) > step_m(worst)) worst = i;
    out.push_back(exactly({"", line.name, "", line.survey[worst - 1].station.metres()}, step_m(worst)));
  }
  return out;
}

}  // namespace

std::vector<Measure> ground_measures() {
  return {
      {"cover beyond that for its size", Kind::length, "of each line", cover_by_size},
      {"cover below the frost", Kind::length, "of each line", cover_below_frost},
      {"survey error over fall", Kind::percent, "of each line, both ends off opposite ways", survey_error},
      {"longest way between survey points", Kind::length, "of each line that was surveyed",
       between_survey_points},
  };
}

}  // namespace runnel::review
