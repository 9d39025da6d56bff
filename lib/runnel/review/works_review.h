#pragma once
// The works at one spring, held against published rules, and what follows from them: amounts, doses, what the
// box keeps back.
#include <string>
#include <vector>

#include "runnel/review/judge.h"
#include "runnel/verdict/draft.h"

namespace runnel::review {

/// Something worth knowing that no rule judges.
struct Fact {
  verdict::Sentence said;
  std::string source;
};

struct WorksReview {
  std::string box;
  std::vector<Ruling> rulings;
  std::vector<Fact> facts;
};

/// One for each `collection:` of the model, in its order, judged by those rules that speak of works.
std::vector<WorksReview> review_works(const network::System& system, const RuleSet& rules);

/// True if the overflow of that box cannot pass the spring's greatest flow.
bool overflow_fails(const std::vector<WorksReview>& works, const std::string& box);

}  // namespace runnel::review
