#pragma once
// The answer of `fill --drain` and what `fill --spring-stops` adds: how long the water lasts.
#include <string>

#include "runnel/filling/drain_down.h"
#include "runnel/report/fill.h"

namespace runnel::report {

/// How long the section of a washout takes to empty, and what that rests on. Nothing that the model asks for
/// is judged by it, which the text says and the JSON by `"judged": false`.
Document drain_document(const filling::DrainDown& drain, const filling::DrainOptions& used,
                        const TextOptions& options);
std::string drain_text(const filling::DrainDown& drain, const filling::DrainOptions& used,
                       const TextOptions& options);
/// One object, SI throughout.
std::string drain_json(const filling::DrainDown& drain, const filling::DrainOptions& used);

/// One line for each tank: how long it lasts in a run whose springs give nothing.
Document springs_stop_document(const filling::FillHistory& history, const filling::FillOptions& used,
                               const TextOptions& options);

}  // namespace runnel::report
