#pragma once
// Reads a model file into a checked and complete model.
#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "runnel/base/finding.h"
#include "runnel/network/model.h"
#include "runnel/units/print.h"

namespace runnel::input {

struct ReadOptions {
  /// The text of another file that the model names (a survey, a list of pipes), by the name written in the
  /// model; none if it cannot be read. If this is empty, a model that names files is an error.
  std::function<std::optional<std::string>(const std::string& name)> side_file;
  /// At most this many findings of each severity are kept. A person reads a hundred at most.
  std::size_t most_told = 100'000;
};

/// A model if there is no error, with all findings about the text.
struct ReadModel : Checked<network::Model> {
  /// As the elevation that stands first in the text is written (`lip`, `outlet`, `floor`, `elevation`,
  /// `level`, the `unit` of a survey): US for feet and inches, else SI.
  units::UnitSystem written_in = units::UnitSystem::si;
};

/// Reads a model: syntax, units, names, geometry. There is a value only if there is no error. Findings are in
/// the order of the text; the reader goes on after an error, so that all are seen at once; beyond `most_told`
/// only their number is given (code "more-findings"). `file` is the name in the marks ("-" for standard
/// input). Never throws for bad input. Time and memory grow in proportion to the text.
ReadModel read_model(std::string_view text, const std::string& file, const ReadOptions& options = {});

}  // namespace runnel::input
