#pragma once
// A model file in, a checked and complete system out.
#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "runnel/base/finding.h"
#include "runnel/network/model.h"
#include "runnel/units/print.h"

namespace runnel::input {

struct ReadOptions {
  /// The text of another file that the model names (a survey, a list of pipes), by the name written in
  /// the model; nothing if it cannot be read. Left empty, a model that names files is an error.
  std::function<std::optional<std::string>(const std::string& name)> side_file;
  /// So many errors and so many warnings are told. A person reads a hundred at most.
  std::size_t most_told = 100'000;
};

/// A model if there is no error, and everything said about the text.
struct ReadModel : Checked<network::Model> {
  /// As the elevation that stands first in the text is written (`lip`, `outlet`, `floor`, `elevation`,
  /// `level`, the `unit` of a survey): US for feet and inches, else SI.
  units::UnitSystem written_in = units::UnitSystem::si;
};

/// Reads a model: syntax, units, names, geometry. There is a value only if there is no error. Findings
/// stand in the order of the text; the reader goes on after an error, so that all of them are seen at
/// once; of more than `most_told` the first are told and how many more there are (code "more-findings").
/// `file` is the name that marks carry ("-" for standard input). Never throws for bad input. Time and memory
/// grow with the size of the text.
ReadModel read_model(std::string_view text, const std::string& file, const ReadOptions& options = {});

}  // namespace runnel::input
