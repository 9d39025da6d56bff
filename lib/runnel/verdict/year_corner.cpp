#include "runnel/verdict/year_corner.h"

#include <algorithm>
#include <optional>
#include <string>

#include "runnel/network/corner.h"
#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/margins.h"

namespace runnel::verdict {
namespace {

constexpr Code year_met_only_if_rule{
    "year-met-only-if",
    "a year that depends on what nobody knows exactly",
    "With the values of the model all comes through the year. With the least bore, old pipe, colder water, "
    "the "
    "survey off by its stated error and the least yield that the bucket tests allow something is missed in "
    "some "
    "month.",
    "The pipe is old in the dry month as well.",
    "Choose a pipe that leaves more, time the spring again, or take the condition as part of the promise.",
    "walls [iso-11922-1], [astm-d3035; from memory]; yields by Student's t; ageing common practice, no "
    "source",
    Filling::follows};

bool is_error(const Finding& finding) { return finding.severity == Severity::error; }

/// The same at a corner; none if nothing does, or nothing is known.
std::optional<Finding> wrong_at(const dry::Judged& of, const network::Unknowns& unknown,
                                const JudgeYear& judge_year, const std::vector<AskResult>& asks) {
  const auto system = network::at_corner(of.system, network::Corner::bad, unknown);
  const auto all_day = network::at_corner(of.all_day, network::Corner::bad, unknown);
  if (!system || !all_day) return std::nullopt;
  return wrong_in_year({*system.value, *all_day.value}, judge_year, asks);
}

}  // namespace

std::optional<Finding> wrong_in_year(const dry::Judged& of, const JudgeYear& judge_year,
                                     const std::vector<AskResult>& asks) {
  FlowVerdict there;
  there.asks = asks;
  judge_year(of, there);
  const auto wrong = std::find_if(there.findings.begin(), there.findings.end(), is_error);
  return wrong == there.findings.end() ? std::nullopt : std::optional(*wrong);
}

bool misses_nothing(const FlowVerdict& verdict) {
  return !any_error(verdict.findings) && std::none_of(verdict.asks.begin(), verdict.asks.end(),
                                                      [](const AskResult& r) { return r.missed(); });
}

void weigh_year(const dry::Judged& of, const JudgeYear& judge_year, FlowVerdict& verdict) {
  if (!of.system.year() || !misses_nothing(verdict)) return;
  const std::optional<Finding> wrong = wrong_at(of, {}, judge_year, verdict.asks);
  if (!wrong) return;
  const std::string condition = turned_alone_by(of.system, [&](const network::Unknowns& unknown) {
    return wrong_at(of, unknown, judge_year, verdict.asks).has_value();
  });
  Draft d(year_met_only_if_rule, Severity::warning);
  d.at_place(wrong->where.place);
  d.message.name(wrong->where.place).say(" has enough through the year only ").say(condition).say(".");
  d.advice.say(what_to_do(condition));
  verdict.findings.push_back(d.done());
  verdict.dry_conditions.push_back(Sentence().say(condition));
}

std::vector<Code> year_corner_codes() { return {year_met_only_if_rule}; }

}  // namespace runnel::verdict
