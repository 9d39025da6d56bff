#pragma once
// The sections of an answer, one file each. Not for users of the library.
#include <string>
#include <vector>

#include "runnel/report/answer.h"
#include "runnel/report/document.h"
#include "runnel/report/text.h"

namespace runnel::report {

std::string shown(Kind kind, double si, const TextOptions& options);
/// A name fit for a table: harmless and at most 28 columns.
std::string short_name(const std::string& name);
/// The names, separated by commas.
std::string listed(const std::vector<std::string>& names);

/// A way of running the model: "as drawn", or its name after `before`, which says what kind of name it is.
std::string way_of_running(const std::string& setting, const std::string& before = "");
/// The same as it stands under the heading: "as drawn", or `setting "dry season"`.
std::string setting_words(const std::string& setting);

/// A sentence with its figures in the reader's units.
std::string rendered(const verdict::Sentence& sentence, const TextOptions& options);
/// `Upper line, setting "summer"`: what an answer is about.
std::string about_words(const std::string& model, const std::string& setting);
/// What one setting comes to: "as drawn: Works ...".
std::string outcome_words(const std::string& setting, const verdict::Sentence& sentence,
                          const TextOptions& options);

/// "first water at barn tank after 1.2 h to 2.4 h".
std::string first_water_words(const verdict::Arrival& arrival, const std::string& end,
                              const TextOptions& options);

/// " after 1.2 h to 2.4 h", as `first_water_words` ends.
std::string first_water_time(const verdict::Arrival& arrival, const TextOptions& options);

Document places_section(const FlowAnswer& answer, const TextOptions& options);
Document lines_section(const FlowAnswer& answer, const TextOptions& options);
Document air_section(const FlowAnswer& answer, const TextOptions& options);
Document air_lines_section(const FlowAnswer& answer, const TextOptions& options);
Document findings_sections(const std::vector<Finding>& findings, const TextOptions& options);
Document basis_section(const FlowAnswer& answer, const TextOptions& options);

/// +1 at a high point of a line in the order of its points, -1 at a low point, else 0; of a level stretch the
/// first point counts.
int turn_at(const std::vector<steady::LinePoint>& points, std::size_t point);

/// Which points of a line to show: all if there are few or all are wanted; else both ends, every high and low
/// point, every change of state, the extremes of pressure, and evenly spaced points between. In rising order.
std::vector<std::size_t> points_to_show(const steady::LineState& line, bool all);

}  // namespace runnel::report
