#pragma once
// Several candidates, or several ways of running one, side by side: what each comes to, what each gives to
// every need, and what is wrong with it.
#include <optional>
#include <string>
#include <vector>

#include "runnel/report/text.h"
#include "runnel/verdict/answer.h"

namespace runnel::report {

/// One column of the comparison.
struct Candidate {
  std::string name;
  const verdict::Run* run = nullptr;
  double pipe_m = 0.0;
  std::optional<double> pipe_cost;  ///< if every pipe has a price
};

/// Rows that are the same in every column are left out unless `options.every_point`.
Document compare_document(const std::vector<Candidate>& candidates, const TextOptions& options);
std::string compare_text(const std::vector<Candidate>& candidates, const TextOptions& options);
std::string compare_json(const std::vector<Candidate>& candidates);

}  // namespace runnel::report
