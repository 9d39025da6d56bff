#include "runnel/review/review.h"

#include <algorithm>
#include <array>

#include "runnel/document/quote.h"
#include "runnel/filling/fill.h"
#include "runnel/review/claim_reasons.h"
#include "runnel/review/over_settings.h"
#include "runnel/review/proposal.h"
#include "runnel/review/read_rules.h"
#include "runnel/review/works_facts.h"
#include "runnel/review/yields.h"
#include "runnel/verdict/answer.h"
#include "runnel/verdict/cut_off.h"
#include "runnel/verdict/start_levels.h"

namespace runnel::review {

namespace {

/// Follows the tanks over time from the levels as written, where a need of time is missed.
std::optional<filling::FillHistory> filled(const network::Model& drawn, const verdict::Run& run) {
  const auto& asks = run.verdict.asks;
  const bool late = std::any_of(asks.begin(), asks.end(), [](const verdict::AskResult& r) {
    return r.ask.kind == network::AskKind::full_within && r.missed();
  });
  const auto model = late ? network::under_setting(drawn, run.setting_of_model) : Checked<network::Model>{};
  const auto system = model ? network::resolve(*model.value) : Checked<network::System>{};
  if (!system) return std::nullopt;
  filling::FillOptions options;
  options.duration_s = longest_fill_s;
  options.until_full = true;
  options.keep_steps = false;
  options.every_s = 0.0;
  std::vector<Finding> remarks;  // the verdict has reported them
  return filling::fill(verdict::with_asked_tanks_empty(*system.value, remarks), options);
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

/// Places that a setting itself shuts off: what is drawn there meanwhile comes from what they hold.
std::vector<std::string> shut_off(const network::Model& drawn, const std::string& setting) {
  const auto run = network::under_setting(drawn, setting);
  return run ? verdict::cut_off(drawn, *run.value) : std::vector<std::string>{};
}

/// What the answer itself calls wrong and no rule speaks of: rules on needs, on starting and on ratings say
/// the same at their own places.
std::vector<Finding> wrong_besides(const verdict::FlowVerdict& verdict,
                                   const std::vector<std::string>& cut_off) {
  std::vector<Finding> out;
  for (const Finding& finding : verdict.findings) {
    const std::string& code = finding.code;
    if (std::find(cut_off.begin(), cut_off.end(), finding.where.place) != cut_off.end()) continue;
    const bool by_rule = code.starts_with("ask-") || code == "air-start-blocked" || code == "line-blocked" ||
                         code == "static-above-rating" || code == "running-above-rating";
    if (finding.severity == Severity::error && !by_rule) out.push_back(finding);
  }
  return out;
}

/// Whether a finding is about drier times that the model tells of, for needs that are met while it is wetter.
bool of_dry_times(const Finding& finding) {
  constexpr std::array<std::string_view, 5> codes = {"taps-left-running", "yield-logged-lower",
                                                     "need-fails-at-logged-yield", "yield-falls",
                                                     "yield-of-a-day"};
  return std::find(codes.begin(), codes.end(), finding.code) != codes.end();
}

Finding as_note(Finding finding) {
  finding.severity = Severity::note;
  return finding;
}

/// Warnings that keep `flow` from a yes, except those on claims, which are judged here.
std::vector<Finding> left_open(const verdict::FlowVerdict& verdict) {
  std::vector<Finding> out;
  for (const Finding& finding : verdict.findings)
    if (finding.severity == Severity::warning && finding.code != "claims-not-judged" &&
        verdict::bearing(finding) == verdict::Ruling::cannot_be_said)
      out.push_back(finding);
  return out;
}

/// Whether a rule that cannot be judged or is undecided, or what the proposal leaves out, says the same.
bool told_by_rules(const std::string& code) {
  return code == "rating-unknown" || code == "ask-not-judged" || code == "air-start-doubtful";
}

bool told_already(const std::vector<Finding>& told, const Finding& finding) {
  return std::any_of(told.begin(), told.end(), [&](const Finding& other) {
    return other.code == finding.code && other.where.place == finding.where.place &&
           other.where.pipeline == finding.where.pipeline && other.where.part == finding.where.part;
  });
}

void add_once(std::vector<std::string>& all, const std::string& what) {
  if (std::find(all.begin(), all.end(), what) == all.end()) all.push_back(what);
}

/// Adds one setting to the review. `first`: the one that gives whatever settings do not change.
void add_run(const network::Model& drawn, const verdict::Run& run, double need_m3s, bool first, Review& out) {
  SettingOutcome outcome{run.setting, false, {}};
  outcome.settled = run.state.proved();
  if (outcome.settled) {
    const auto fill = filled(drawn, run);
    auto rulings = judge(out.rules, {run.system, run.state, run.verdict, fill ? &*fill : nullptr, need_m3s});
    for (const Ruling& ruling : rulings)
      if (fails(ruling)) add_once(outcome.failing, ruling.rule);
    const auto tell = [&](Finding finding) {
      if (told_already(out.told, finding)) return;
      if (!first) finding.message = "Under " + document::quote(run.setting) + ": " + finding.message;
      out.told.push_back(std::move(finding));
    };
    for (const Finding& finding : wrong_besides(run.verdict, shut_off(drawn, run.setting_of_model))) {
      add_once(outcome.failing, finding.code);
      tell(finding);
    }
    for (const Finding& finding : run.verdict.findings)
      if (finding.code == "yield-logged-lower")
        tell(as_note(finding));  // the rules of the dry season judge the log
      else if (of_dry_times(finding) ||
               finding.code == "hazen-williams-range" ||  // a proposal chooses its formula
               finding.code == "mouths-share-water")
        tell(finding);
    for (const Finding& finding : left_open(run.verdict)) {
      add_once(out.open, finding.code);
      if (!told_by_rules(finding.code)) tell(finding);
    }
    if (first)
      out.rulings = std::move(rulings);
    else
      out.rulings = worse_of_each(out.rules, std::move(out.rulings), std::move(rulings), run.setting);
  }
  out.settings.push_back(std::move(outcome));
}

bool anything_fails(const Review& review) {
  const std::vector<Ruling> rulings = all_rulings(review);
  return std::any_of(review.claims.begin(), review.claims.end(),
                     [](const JudgedClaim& claim) { return claim.verdict == Verdict::fails; }) ||
         std::any_of(rulings.begin(), rulings.end(), fails) || any_error(review.told);
}

bool all_settled(const Review& review) {
  return std::all_of(review.settings.begin(), review.settings.end(),
                     [](const SettingOutcome& outcome) { return outcome.settled; });
}

}  // namespace

const RuleSet& usual_rules(const network::Model& model) {
  constexpr std::size_t a_village = 3;
  const RuleSet* set = find_rule_set(model.outlets.size() >= a_village ? "village" : "stock");
  return *set;
}

bool worse(const Ruling& a, const Ruling& b) {
  if (gravity(a.verdict) != gravity(b.verdict)) return gravity(a.verdict) < gravity(b.verdict);
  return a.margin_si && b.margin_si && *a.margin_si < *b.margin_si;
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

Checked<Review> review(const network::Model& drawn, const RuleSet& rules, const ReviewOptions& options) {
  verdict::AnswerOptions wanted;
  wanted.setting = options.setting;
  auto answer = verdict::answer_model(drawn, wanted);
  if (!answer) return {std::nullopt, std::move(answer.findings)};
  Review out;
  out.rules = rules;
  const std::vector<verdict::Run>& runs = answer.value->runs;
  const network::System& system = runs.front().system;
  const double need = need_m3s(system);
  out.told = read_between_lines(system);
  for (const verdict::Run& run : runs) add_run(drawn, run, need, &run == &runs.front(), out);
  out.settled = out.settings.front().settled;
  if (!out.settled) return {std::move(out), {}};
  out.claims = judge_claims(drawn, options.setting);
  out.works = review_works(system, rules);
  // The works have said so already, with their own greatest flow.
  std::erase_if(out.told, [&](const Finding& finding) {
    return finding.code.starts_with("overflow-") && overflow_fails(out.works, finding.where.place);
  });
  out.logs = log_facts(system);
  out.service = plan_service(system);
  out.maintenance = maintenance_of(system);
  // Where nothing is needed nothing can be too little, and a yes would say nothing.
  for (const Finding& finding : out.told)
    if (finding.code == "proposal-without-needs") add_once(out.open, finding.code);
  out.fails = anything_fails(out);
  out.good = !out.fails && out.open.empty() && all_settled(out);
  return {std::move(out), {}};
}

}  // namespace runnel::review
