#pragma once
// A document as text for a terminal: the one place where answers are laid out.
#include <string>

#include "runnel/report/document.h"
#include "runnel/report/text.h"

namespace runnel::report {

/// No line is longer than the width, unless one word or one row of a table is. What could steer a terminal is
/// made harmless here.
std::string render_text(const Document& document, const TextOptions& options);

/// How many lines the document takes.
int lines_of(const Document& document, const TextOptions& options);

/// Columns that a name may take before it is put above its row (`Fit::above`).
inline constexpr int widest_name = 28;

/// A chart in characters (chart_text.cpp).
std::string chart_text(const Chart& chart, const TextOptions& options);

}  // namespace runnel::report
