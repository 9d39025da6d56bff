#pragma once
// The sections of the short answer, each one file. Not for users of the library.
#include <string>
#include <vector>

#include "runnel/report/answer.h"
#include "runnel/report/document.h"
#include "runnel/report/text.h"

namespace runnel::report {

/// Most lines of the short answer: for one line of pipe, and for a system of several.
inline constexpr int most_brief_one = 30, most_brief_all = 45;

/// "Do this", numbered; or that nothing needs changing.
Document acts_section(const FlowAnswer& answer, int most_lines, const TextOptions& options);
/// One line of pipe, point by point; or the places of a system, with what each gets.
Document brief_table(const FlowAnswer& answer, int most_lines, const TextOptions& options);
/// One line of pipe in the next sizes, if its need is not met and a larger pipe brings more; else nothing.
Document sizes_section(const FlowAnswer& answer, const TextOptions& options);
/// Warnings that the answer does not hang on, each kind once.
Document watch_section(const FlowAnswer& answer, int most_lines, const TextOptions& options);

/// Lines the whole table would take.
int brief_rows(const FlowAnswer& answer);
/// One line of pipe from a source to an end, and nothing else.
bool one_line(const network::System& system);

}  // namespace runnel::report
