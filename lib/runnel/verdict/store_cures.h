#pragma once
// What would make a tank last that runs empty, or stand high enough: each thing somebody might do, tried by
// itself. Not for users of the library.
#include <functional>
#include <optional>
#include <string>

#include "runnel/base/finding.h"
#include "runnel/network/model.h"
#include "runnel/verdict/draft.h"

namespace runnel::verdict {

struct LateFloat;

/// The first of these with which `all_comes`: float valves that open higher, float valves on tanks that have
/// none, taps that let out no more than is asked, the tank twice and four times as large, larger pipe to it,
/// its high points dug down, twice as much from the springs. Where none helps, the act says so. What is not
/// enough on the model as drawn is tried on `mended`, which has the other things done that are told.
Sentence store_cure(const network::Model& model, const std::string& tank,
                    const std::function<bool(const network::Model&)>& all_comes,
                    const std::optional<network::Model>& mended = {});

/// The same for a need that is missed while the tank stands low; larger pipe below the tank may make up for
/// that. None if nothing that is tried helps.
std::optional<Sentence> low_water_cure(const network::Model& model, const std::string& tank,
                                       const std::function<bool(const network::Model&)>& all_comes,
                                       const std::optional<network::Model>& mended = {});

/// The same where draws are missed because of the hour at which a float valve opens. `holder`: the tank that
/// the place lives on.
std::optional<Sentence> late_float_cure(const network::Model& model, const LateFloat& late,
                                        const std::string& holder,
                                        const std::function<bool(const network::Model&)>& all_comes,
                                        const std::optional<network::Model>& mended = {});

/// The same where draws by the hour are missed below a tank whose high points shut off part of what it holds.
std::optional<Sentence> high_point_cure(const network::Model& model, const std::string& tank,
                                        const std::function<bool(const network::Model&)>& all_comes,
                                        const std::optional<network::Model>& mended = {});

/// Gives a finding another advice. Its message keeps its figures.
void advise(Finding& finding, const Sentence& advice);

}  // namespace runnel::verdict
