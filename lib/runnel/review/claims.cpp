#include "runnel/review/claims.h"

namespace runnel::review {

namespace {

using network::Claim;
using network::System;

/// Each claim as an ask, so that it is judged in the state that lasts, with the air that stays.
network::Model asking_what_is_claimed(const System& system) {
  network::Model model = system.model();
  model.asks.clear();
  for (const Claim& claim : system.claims()) {
    network::Ask ask;
    ask.at = claim.at;
    ask.mark = claim.mark;
    if (claim.flow && *claim.flow > Flow{}) {
      ask.kind = network::AskKind::flow;
      ask.flow = *claim.flow;
      model.asks.push_back(ask);
    }
    if (claim.pressure) {
      ask.kind = network::AskKind::pressure;
      ask.pressure = *claim.pressure;
      model.asks.push_back(ask);
    }
  }
  return model;
}

const verdict::AskResult* answer_to(const verdict::FlowVerdict& verdict, network::AskKind kind,
                                    const Claim& claim) {
  for (const verdict::AskResult& result : verdict.asks)
    if (result.ask.kind == kind && result.ask.at == claim.at &&
        (kind == network::AskKind::flow ? result.ask.flow == *claim.flow
                                        : result.ask.pressure == *claim.pressure))
      return &result;
  return nullptr;
}

bool promises_too_much(ClaimKind kind, double claimed, double ours) {
  switch (kind) {
    case ClaimKind::flow:
    case ClaimKind::pressure:
      return claimed > ours * (1.0 + claim_tolerance);
    case ClaimKind::static_pressure:
    case ClaimKind::full_after:
      break;
  }
  return claimed < ours * (1.0 - claim_tolerance);
}

class ClaimJudge {
 public:
  explicit ClaimJudge(const System& system) : system_(system) {
    auto asking = network::resolve(asking_what_is_claimed(system));
    if (!asking) return;
    asking_ = std::move(asking.value);
    state_ = steady::solve(*asking_);
    verdict_ = verdict::judge_flow(*asking_, state_);
  }

  void judge(const Claim& claim, std::vector<JudgedClaim>& out) const {
    if (claim.flow) out.push_back(of_ask(claim, ClaimKind::flow, {Kind::flow, claim.flow->si()}));
    if (claim.pressure)
      out.push_back(of_ask(claim, ClaimKind::pressure, {Kind::pressure, claim.pressure->si()}));
    if (claim.static_pressure)
      out.push_back(of_reckoning(claim, ClaimKind::static_pressure,
                                 {Kind::pressure, claim.static_pressure->si()},
                                 "no standing water reaches it"));
    if (claim.full_after)
      out.push_back(of_reckoning(claim, ClaimKind::full_after, {Kind::duration, claim.full_after->si()},
                                 "it is never full"));
  }

 private:
  JudgedClaim weighed(JudgedClaim judged) const {
    if (!judged.ours) return judged;
    const bool wrong = promises_too_much(judged.kind, judged.claimed.si, judged.ours->si);
    judged.verdict = wrong ? Verdict::fails : Verdict::holds;
    if (wrong)
      judged.reason =
          find_reason(system_, {judged.kind, judged.claim.at}, judged.claimed.si, judged.ours->si);
    return judged;
  }

  JudgedClaim of_ask(const Claim& claim, ClaimKind kind, Figure claimed) const {
    JudgedClaim judged{claim, kind, claimed};
    const auto ask = kind == ClaimKind::flow ? network::AskKind::flow : network::AskKind::pressure;
    const verdict::AskResult* result = answer_to(verdict_, ask, claim);
    if (!result || !result->judged)
      judged.missing = result ? result->why_not_judged : "it cannot be computed";
    else
      judged.ours = result->got ? *result->got : Figure{claimed.kind, 0.0};
    return weighed(judged);
  }

  JudgedClaim of_reckoning(const Claim& claim, ClaimKind kind, Figure claimed, const char* none) const {
    JudgedClaim judged{claim, kind, claimed};
    if (const auto si = reckoned(system_.model(), {kind, claim.at})) {
      judged.ours = Figure{claimed.kind, *si};
      return weighed(judged);
    }
    judged.missing = none;
    // A tank that is never full is no matter of judgement: whatever time is claimed is wrong.
    if (kind == ClaimKind::full_after) {
      judged.verdict = Verdict::fails;
      judged.reason = find_reason(system_, {kind, claim.at}, claimed.si, std::nullopt);
    }
    return judged;
  }

  const System& system_;
  std::optional<System> asking_;
  steady::State state_;
  verdict::FlowVerdict verdict_;
};

}  // namespace

std::vector<JudgedClaim> judge_claims(const System& system) {
  std::vector<JudgedClaim> out;
  if (system.claims().empty()) return out;
  const ClaimJudge judge(system);
  for (const Claim& claim : system.claims()) judge.judge(claim, out);
  return out;
}

}  // namespace runnel::review
