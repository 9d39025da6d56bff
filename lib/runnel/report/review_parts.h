#pragma once
// Pieces of a review in words. Not for users of the library.
#include <string>

#include "runnel/report/document.h"
#include "runnel/report/review.h"
#include "runnel/report/text.h"

namespace runnel::report {

/// The figure in the reader's units; "never" for a share without bound.
std::string figure_words(const Figure& figure, const TextOptions& options);
/// "static-pressure fails at 310 ft of main: 104 % against at most 100 %."
std::string ruling_words(const review::Ruling& ruling, const TextOptions& options, bool with_name = true);

/// " (and 2 more places)" where the same rule fails elsewhere too.
std::string others_words(const review::Review& review, const review::Ruling& worst);

/// "barn tank: 3.0 gal/min claimed, 1.2 come; the proposal took the nominal size ..."
std::string claim_words(const review::JudgedClaim& claim, const TextOptions& options);

/// What a lay owner reads first; with the lines that follow it, 20 at most (review_summary.cpp).
Document summary(const ReviewAnswer& answer, int lines_after, const TextOptions& options);

// review_text_plans.cpp: the sections of the full review.
Document logs_section(const review::Review& review, const TextOptions& options);
Document works_section(const review::Review& review, const TextOptions& options);
Document service_section(const review::Review& review, const TextOptions& options);
Document maintenance_section(const review::Review& review);

}  // namespace runnel::report
