#pragma once
// A model file in, a checked and complete system out.
#include <functional>
#include <optional>
#include <string>
#include <string_view>

#include "runnel/base/finding.h"
#include "runnel/network/model.h"

namespace runnel::input {

struct ReadOptions {
  /// The text of another file that the model names (a survey, a list of pipes), by the name written in
  /// the model; nothing if it cannot be read. Left empty, a model that names files is an error.
  std::function<std::optional<std::string>(const std::string& name)> side_file;
};

/// Reads a model: syntax, units, names, geometry. There is a value only if there is no error. Findings
/// stand in the order of the text; the reader goes on after an error, so that all of them are seen at
/// once. `file` is the name that marks carry ("-" for standard input). Never throws for bad input.
Checked<network::Model> read_model(std::string_view text, const std::string& file,
                                    const ReadOptions& options = {});

}  // namespace runnel::input
