#pragma once
// The sections of the short answer, one file each. Not for users of the library.
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/report/answer.h"
#include "runnel/report/document.h"
#include "runnel/report/text.h"
#include "runnel/verdict/draft.h"

namespace runnel::report {

/// At most so many lines, to fit one screen: for one line of pipe, and for a system of several.
inline constexpr int most_brief_one = 30, most_brief_all = 45;

/// As many items as fit below a title, at least `least`; a last line says how many are left out, in the words
/// for one or for many.
Document fitted(const std::vector<Document>& items, std::size_t least, int most_lines,
                const std::string& title, const std::string& one, const std::string& many,
                const TextOptions& options);

/// What each way of running comes to, a line each: as many as fit, at least one. Says how many are left out.
std::size_t list_outcomes(const std::vector<std::string>& outcomes, int most_lines,
                          const TextOptions& options, Document& out);
/// "One more", "3 more".
std::string more_of(std::size_t left);

/// "Do this", numbered; or the words that say why there is nothing.
Document acts_section(const std::vector<verdict::Sentence>& acts, const std::string& otherwise,
                      int most_lines, const TextOptions& options);
/// "Do this", numbered; or that nothing needs changing.
Document acts_section(const FlowAnswer& answer, int most_lines, const TextOptions& options);
/// One line of pipe, point by point; or the places of a system, with what each gets.
Document brief_table(const FlowAnswer& answer, int most_lines, const TextOptions& options);
/// One line of pipe in the next sizes, if its need is not met and a larger pipe brings more; else empty.
Document sizes_section(const FlowAnswer& answer, const TextOptions& options);
/// What is wrong beside what the sentence names and the needs that the table marks.
Document wrong_section(const FlowAnswer& answer, int most_lines, const TextOptions& options);
/// Warnings on which the answer does not depend, each kind once.
Document watch_section(const std::vector<Finding>& findings, int most_lines, const TextOptions& options);
/// The text up to the end of its first sentence, as a sentence.
std::string first_sentence(const std::string& text);
/// Whether the sentence on top says so already, at least up to where a finding goes into detail.
bool said_already(const std::string& said, const std::string& text);

/// How many lines the whole table would take.
int brief_rows(const FlowAnswer& answer);
/// Whether the system is one line of pipe from a source to an end and nothing else.
bool one_line(const network::System& system);

}  // namespace runnel::report
