#pragma once
// What a filling comes to, in one sentence or a few.
#include <string>

#include "runnel/verdict/empty_lines.h"
#include "runnel/verdict/fill_verdict.h"

namespace runnel::verdict {

/// Whether the figures of a run stand: it passed its check, or there was nothing to check.
bool fill_proved(const filling::FillHistory& history);

/// Whether no way to a tank starts from empty. An empty tank before it gives nothing yet, but will.
bool no_water_from_empty(const network::System& system, const FillSeen& seen, const std::string& tank);

/// The time until the lines have filled, where they start empty.
EmptyLines lines_fill(const network::System& system, const filling::FillHistory& history,
                      const FillSeen& seen, const std::string& tank);

/// From the needs, the findings and the ruling that are in the verdict already.
Sentence fill_sentence(const network::System& system, const filling::FillHistory& history,
                       const FillSeen& seen, const FillVerdict& verdict);

}  // namespace runnel::verdict
