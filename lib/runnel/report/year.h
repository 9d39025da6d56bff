#pragma once
// Answers of `fill --year`: storage through a year, as text for people and as JSON for programs.
#include <string>
#include <vector>

#include "runnel/filling/year.h"
#include "runnel/report/text.h"
#include "runnel/verdict/ruling.h"
#include "runnel/verdict/settings.h"
#include "runnel/verdict/year_states.h"

namespace runnel::report {

struct YearAnswer {
  const network::System& system;
  const std::vector<filling::YearPart>& parts;
  std::string setting = verdict::as_drawn;
  const verdict::YearAnswered* whole = nullptr;  ///< all settings, of which this one leads
};

/// What the year comes to under one setting: as the steady answer rules, and no better than `fails` where
/// some part does not last.
verdict::Ruling year_ruling(const verdict::YearRun& run);

/// A sentence for each part, a row for each period with a bar of what is stored, what it was worked out with.
Document year_document(const YearAnswer& answer, const TextOptions& options);
std::string year_text(const YearAnswer& answer, const TextOptions& options);

/// One object, SI throughout. Throws std::logic_error for a number that is not finite.
std::string year_json(const YearAnswer& answer);

/// "cistern lacks 1,200 gal a year: it is dry on 14 days".
std::string year_sentence(const filling::YearPart& part, const TextOptions& options);

}  // namespace runnel::report
