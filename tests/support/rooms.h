#pragma once
// The questions that tests of the upper rooms ask of a model, and a line by itself.
#include "runnel/air/line_air.h"
#include "runnel/filling/drain_down.h"
#include "runnel/filling/fill.h"
#include "runnel/filling/year.h"
#include "runnel/verdict/fill_verdict.h"
#include "runnel/verdict/flow_verdict.h"
#include "support/resolved.h"

namespace support {

/// A pipeline as a line, for what needs no system: its ends are nowhere.
inline runnel::network::Line line_of(const runnel::network::Pipeline& pipeline) {
  runnel::network::Line line;
  line.name = pipeline.name;
  for (const auto& laid : pipeline.pipes) line.pipes.push_back({laid.pipe, laid.from, 0.0, 0.0, false, {}});
  line.air = pipeline.air;
  line.survey = pipeline.survey;
  line.surveyed = pipeline.surveyed;
  line.survey_error = pipeline.survey_error;
  for (const auto& part : pipeline.parts) {
    runnel::network::FittedPart fitted;
    static_cast<runnel::network::Part&>(fitted) = part;
    fitted.k = part.loss.value_or(0.0);
    line.parts.push_back(fitted);
  }
  line.course = runnel::network::Course(pipeline.survey, pipeline.parts, pipeline.pipes, pipeline.along);
  return line;
}

}  // namespace support

namespace runnel::air {
inline std::vector<Path> paths(const network::Model& model) { return paths(support::kept(model)); }
inline std::vector<Way> ways_of(const network::Model& model, std::size_t most,
                                std::size_t* left_out = nullptr) {
  return ways_of(support::kept(model), most, left_out);
}
inline std::vector<Crest> crests_of(const network::Model& model, const steady::State& state,
                                    const std::vector<Way>& ways) {
  return crests_of(support::kept(model), state, ways);
}
inline AirJudgement judge_air(const network::Model& model, const steady::State& state,
                              const AirOptions& options = {}) {
  return judge_air(support::kept(model), state, options);
}
inline double missing_m3s(const network::Model& model, const steady::State& state) {
  return missing_m3s(support::kept(model), state);
}
inline Profile profile_of(const network::Pipeline& pipeline) {
  return profile_of(support::line_of(pipeline));
}
inline std::vector<WashoutAdvice> washouts_wanted(const network::Pipeline& pipeline) {
  return washouts_wanted(support::line_of(pipeline));
}
}  // namespace runnel::air

namespace runnel::filling {
inline FillHistory fill(const network::Model& model, const FillOptions& options = {}) {
  return fill(support::kept(model), options);
}
inline std::vector<YearPart> look_at_year(const network::Model& model) {
  return look_at_year(support::kept(model));
}
inline std::vector<std::string> washouts_of(const network::Model& model) {
  return washouts_of(support::kept(model));
}
inline std::optional<DrainDown> drain_down(const network::Model& model, const std::string& washout,
                                           const DrainOptions& options = {}) {
  return drain_down(support::kept(model), washout, options);
}
}  // namespace runnel::filling

namespace runnel::verdict {
inline FlowVerdict judge_flow(const network::Model& model, const steady::State& state,
                              const Aside& aside = {}) {
  return judge_flow(support::kept(model), state, aside);
}
}  // namespace runnel::verdict
