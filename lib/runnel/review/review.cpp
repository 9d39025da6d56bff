#include "runnel/review/review.h"

#include <algorithm>

#include "runnel/review/proposal.h"
#include "runnel/review/read_rules.h"
#include "runnel/review/works_facts.h"
#include "runnel/verdict/cut_off.h"

namespace runnel::review {

namespace {

/// Tanks over time, where somebody asks for a time.
std::optional<filling::FillHistory> filled(const network::System& system) {
  const bool asked = std::any_of(system.asks().begin(), system.asks().end(), [](const network::Ask& ask) {
    return ask.kind == network::AskKind::full_within;
  });
  if (!asked) return std::nullopt;
  filling::FillOptions options;
  options.keep_steps = false;
  options.every_s = 0.0;
  return filling::fill(system, options);
}

int gravity(Verdict verdict) {
  switch (verdict) {
    case Verdict::fails:
      return 0;
    case Verdict::undecided:
      return 1;
    case Verdict::cannot_be_judged:
      return 2;
    case Verdict::holds:
      break;
  }
  return 3;
}

bool worse(const Ruling& a, const Ruling& b) {
  if (gravity(a.verdict) != gravity(b.verdict)) return gravity(a.verdict) < gravity(b.verdict);
  return a.margin_si && b.margin_si && *a.margin_si < *b.margin_si;
}

/// What the answer itself calls wrong and no rule speaks of: rules on asks, on starting and on ratings say
/// the same at their own places.
std::vector<Finding> wrong_besides(const verdict::FlowVerdict& verdict) {
  std::vector<Finding> out;
  for (const Finding& finding : verdict.findings) {
    const std::string& code = finding.code;
    const bool by_rule = code.starts_with("ask-") || code == "air-start-blocked" || code == "line-blocked" ||
                         code == "static-above-rating" || code == "running-above-rating";
    if (finding.severity == Severity::error && !by_rule) out.push_back(finding);
  }
  return out;
}

}  // namespace

const RuleSet& usual_rules(const network::System& system) {
  constexpr std::size_t a_village = 3;
  const RuleSet* set = find_rule_set(system.outlets().size() >= a_village ? "village" : "stock");
  return *set;
}

const Ruling* worst_of_rule(const std::vector<Ruling>& rulings, const std::string& rule) {
  const Ruling* worst = nullptr;
  for (const Ruling& ruling : rulings)
    if (ruling.rule == rule && (!worst || worse(ruling, *worst))) worst = &ruling;
  return worst;
}

std::vector<Ruling> all_rulings(const Review& review) {
  std::vector<Ruling> all = review.rulings;
  for (const WorksReview& works : review.works)
    all.insert(all.end(), works.rulings.begin(), works.rulings.end());
  return all;
}

namespace {

SettingOutcome outcome_of(const std::string& name, const network::System& system, const verdict::Aside& aside,
                          const RuleSet& rules) {
  SettingOutcome out{name, false, {}};
  const steady::State state = steady::solve(system);
  out.settled = state.outcome == steady::Outcome::settled && state.proof.consistent;
  if (!out.settled) return out;
  const verdict::FlowVerdict verdict = verdict::judge_flow(system, state, aside);
  const auto fill = filled(system);
  const auto add = [&](const std::string& what) {
    if (std::find(out.failing.begin(), out.failing.end(), what) == out.failing.end())
      out.failing.push_back(what);
  };
  for (const Ruling& ruling : judge(rules, {system, state, verdict, fill ? &*fill : nullptr}))
    if (fails(ruling)) add(ruling.rule);
  for (const Finding& finding : wrong_besides(verdict)) add(finding.code);
  return out;
}

}  // namespace

std::vector<SettingOutcome> review_settings(const network::Model& drawn, const RuleSet& rules) {
  std::vector<SettingOutcome> out;
  for (const network::Setting& setting : drawn.settings) {
    const auto run = network::under_setting(drawn, setting.name);
    const auto system = run ? network::resolve(*run.value) : Checked<network::System>{};
    if (!system) {
      out.push_back({setting.name, false, {}});
      continue;
    }
    verdict::Aside aside;
    aside.cut_off = verdict::cut_off(drawn, *run.value);
    out.push_back(outcome_of(setting.name, *system.value, aside, rules));
  }
  return out;
}

Review review(const network::System& system, const RuleSet& rules) {
  Review out;
  out.rules = rules;
  const steady::State state = steady::solve(system);
  out.settled = state.outcome == steady::Outcome::settled && state.proof.consistent;
  if (!out.settled) return out;
  const verdict::FlowVerdict verdict = verdict::judge_flow(system, state);
  const auto fill = filled(system);
  out.rulings = judge(rules, {system, state, verdict, fill ? &*fill : nullptr});
  out.claims = judge_claims(system);
  out.told = read_between_lines(system);
  for (Finding& finding : wrong_besides(verdict)) out.told.push_back(std::move(finding));
  out.works = review_works(system);
  // The works have said so already, with their own greatest flow.
  std::erase_if(out.told, [&](const Finding& finding) {
    return finding.code.starts_with("overflow-") && overflow_fails(out.works, finding.where.place);
  });
  out.logs = log_facts(system);
  out.service = plan_service(system);
  out.maintenance = maintenance_of(system);
  const bool claims_hold = std::none_of(out.claims.begin(), out.claims.end(), [](const JudgedClaim& claim) {
    return claim.verdict == Verdict::fails;
  });
  const std::vector<Ruling> rulings = all_rulings(out);
  out.good = claims_hold && std::none_of(rulings.begin(), rulings.end(), fails) && !any_error(out.told);
  return out;
}

}  // namespace runnel::review
