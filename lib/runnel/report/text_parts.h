#pragma once
// The sections of an answer, each one file. Not for users of the library.
#include <string>
#include <vector>

#include "runnel/report/answer.h"
#include "runnel/report/document.h"
#include "runnel/report/text.h"

namespace runnel::report {

std::string shown(Kind kind, double si, const TextOptions& options);
/// A name fit for a table: harmless and at most 28 columns.
std::string short_name(const std::string& name);
/// Names with commas between.
std::string listed(const std::vector<std::string>& names);

/// A way of running the model: "as drawn", or its name behind `before`, which says what a name it is.
std::string way_of_running(const std::string& setting, const std::string& before = "");
/// The same as it stands under the heading: "as drawn", or `setting "dry season"`.
std::string setting_words(const std::string& setting);

/// A sentence with its figures in the reader's units.
std::string rendered(const verdict::Sentence& sentence, const TextOptions& options);
/// `Upper line, setting "summer"`: what an answer is about.
std::string about_words(const std::string& model, const std::string& setting);
/// What a way of running it comes to: "as drawn: Works ...".
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

/// +1 at a crest of a line as it runs, -1 at a low point, 0 between: the first point of a level stretch
/// counts.
int turn_at(const std::vector<steady::LinePoint>& points, std::size_t point);

/// Which points of a line to show: all if there are few or all are wanted; else both ends, every crest and
/// low, every change of state, the extremes of pressure, and points between at even spacing. Rising.
std::vector<std::size_t> points_to_show(const steady::LineState& line, bool all);

}  // namespace runnel::report
