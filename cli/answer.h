#pragma once
// The common end of `flow` and `quick`: solve, judge, write.
#include "common.h"
#include "runnel/network/model.h"
#include "runnel/units/print.h"
#include "runnel/verdict/answer.h"

namespace cli {

/// Returns the exit code, which follows from the ruling.
int answer(const Common& common, const runnel::network::Model& model,
           const runnel::verdict::AnswerOptions& options, runnel::units::UnitSystem written_in);

}  // namespace cli
