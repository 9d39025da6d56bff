#pragma once
// What a proposal says, beside what comes out here; and where the two differ, which way of reckoning gives
// the proposal's figure. Each reason is found by reckoning it that way, never by a guess.
#include <optional>
#include <string>
#include <vector>

#include "runnel/review/claim_reasons.h"
#include "runnel/review/judge.h"

namespace runnel::review {

struct JudgedClaim {
  network::Claim claim;
  ClaimKind kind = ClaimKind::flow;
  Figure claimed;
  std::optional<Figure> ours;  ///< in the state that lasts; none: it cannot be judged
  std::string missing;         ///< why not
  Verdict verdict = Verdict::cannot_be_judged;
  std::optional<FoundReason> reason;  ///< of a claim that fails; none: no reason was found
};

/// A claim that promises no more than this beyond ours stands: rounding and the constants of friction laws
/// make as much. Our own limit.
inline constexpr double claim_tolerance = 0.02;

/// One entry of the model may claim several figures; each is judged by itself. A flow or a running pressure
/// fails where it promises more than comes, a static pressure where it leaves out a load, a time of filling
/// where it is too short.
std::vector<JudgedClaim> judge_claims(const network::System& system);

}  // namespace runnel::review
