#pragma once
// What a review says: a summary that fits a screen, everything behind it, and the same for programs.
#include <string>

#include "runnel/network/model.h"
#include "runnel/report/text.h"
#include "runnel/review/against.h"
#include "runnel/review/review.h"
#include "runnel/verdict/settings.h"

namespace runnel::report {

struct ReviewAnswer {
  const network::Model& drawn;
  const review::Review& review;
  std::string setting = verdict::as_drawn;
};

/// At most about 20 lines; with `options.every_point`, every rule with its source.
Document review_document(const ReviewAnswer& answer, const TextOptions& options);
std::string review_text(const ReviewAnswer& answer, const TextOptions& options);

std::string review_json(const ReviewAnswer& answer);

/// A page to hang up: what to open, drain, clean and measure, and how often, and what the yield log shows.
Document upkeep_document(const ReviewAnswer& answer, const TextOptions& options);
std::string upkeep_text(const ReviewAnswer& answer, const TextOptions& options);
std::string upkeep_json(const ReviewAnswer& answer);

/// Two proposals side by side (review_against.cpp).
Document against_document(const ReviewAnswer& first, const ReviewAnswer& second,
                          const review::Comparison& beside, const TextOptions& options);
std::string against_text(const ReviewAnswer& first, const ReviewAnswer& second,
                         const review::Comparison& beside, const TextOptions& options);
std::string against_json(const ReviewAnswer& first, const ReviewAnswer& second,
                         const review::Comparison& beside);

/// "holds", "fails", "undecided", "cannot be judged".
std::string_view verdict_word(review::Verdict verdict);

}  // namespace runnel::report
