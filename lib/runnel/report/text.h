#pragma once
// Answers as text, for people: the verdict first, then where the water goes, then each line point by point,
// then findings by severity, then what was assumed and what was checked.
#include <map>
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/report/answer.h"
#include "runnel/report/document.h"
#include "runnel/units/print.h"

namespace runnel::report {

struct TextOptions {
  units::UnitSystem units = units::UnitSystem::si;
  bool colour = false;       ///< terminal colours; never switched on by the library itself
  bool every_point = false;  ///< all survey points instead of those that matter
  int width = 100;           ///< columns; at least 60
};

/// Everything there is to say about one run. No line is longer than the width unless one word is.
Document flow_document(const FlowAnswer& answer, const TextOptions& options);
std::string flow_text(const FlowAnswer& answer, const TextOptions& options);

/// The answer to a whole model on one screen: at most 30 lines for one line of pipe, 45 for a system. With
/// `every_point`, everything about its leading run, as `flow_text` has it.
Document answer_document(const verdict::Answer& answer, const TextOptions& options);
std::string answer_text(const verdict::Answer& answer, const TextOptions& options);

/// The texts that marks refer to, by the file name the marks carry.
using Texts = std::map<std::string, std::string>;

/// Findings about the input, each with its source line and caret.
std::string input_text(const std::vector<Finding>& findings, const Texts& texts, const TextOptions& options);

}  // namespace runnel::report
