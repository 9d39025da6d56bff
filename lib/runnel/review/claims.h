#pragma once
// What a proposal claims beside what comes out here and, where the two differ, the mistake that gives the
// proposal's figure. Each reason is found by reckoning in that way, never by a guess.
#include <optional>
#include <string>
#include <vector>

#include "runnel/review/claim_reasons.h"
#include "runnel/review/judge.h"

namespace runnel::review {

/// What a claim comes to under another setting than its own.
struct ClaimElsewhere {
  std::string setting;
  std::optional<Figure> ours;  ///< none: no water stands there, or the tank is never full
  bool broken = false;         ///< the claim does not hold there
};

struct JudgedClaim {
  network::Claim claim;
  ClaimKind kind = ClaimKind::flow;
  Figure claimed;
  std::string setting;         ///< under which it is compared; "normal": as drawn
  std::optional<Figure> ours;  ///< in the state that lasts; none: it cannot be judged
  std::string missing;         ///< why not
  Verdict verdict = Verdict::cannot_be_judged;
  std::optional<FoundReason> reason;    ///< of a claim that fails; none: no reason was found
  std::optional<ClaimElsewhere> worst;  ///< the setting that is hardest on it; none: its own
};

/// A claim may promise this much more than ours and still stand, for rounding and the constants of friction
/// laws make as much. Our own limit.
inline constexpr double claim_tolerance = 0.02;

/// One entry of the model may claim several figures; each is judged by itself. A flow or a running pressure
/// fails where more is promised than comes, a static pressure where more stands than is claimed, a time to
/// fill where it is too short. Each is compared under the setting that it names, or as drawn; with `only`,
/// just those that name that setting or none, under that setting.
std::vector<JudgedClaim> judge_claims(const network::Model& drawn,
                                      const std::optional<std::string>& only = std::nullopt);

}  // namespace runnel::review
