#pragma once
// Why a run over time shows no answer, in words.
#include <string>

#include "runnel/filling/fill.h"

namespace runnel::report {

/// Without a full stop; empty for a run that was followed as far as it should be.
std::string fill_end_words(const filling::FillHistory& history);

}  // namespace runnel::report
