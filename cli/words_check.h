#pragma once
// A look at the words of the command line before they are parsed, so that a slip of the finger is answered
// with the word that was meant.
#include <CLI/CLI.hpp>
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/finding.h"

namespace cli {

/// The first word that is neither a command nor an option of the command it stands behind, or nothing.
std::optional<runnel::Finding> unknown_word(const CLI::App& app, const std::vector<std::string>& words);

}  // namespace cli
