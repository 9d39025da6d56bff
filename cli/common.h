#pragma once
// Options that several commands share, and what follows from them.
#include <CLI/CLI.hpp>
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/report/text.h"
#include "runnel/units/print.h"

namespace cli {

struct Common {
  bool json = false;
  std::string units;   ///< "us", "si" or empty: as the model is written
  std::string output;  ///< a file, or empty for standard output
  bool no_color = false;
  bool verbose = false;
};

/// Adds --json, -o, --no-color; with `figures` also --units and -v.
void add_common(CLI::App& command, Common& common, bool figures);

/// Colour only on a terminal, and only if neither --no-color, NO_COLOR (not empty), TERM=dumb nor -o says
/// otherwise.
bool colour_wanted(const Common& common, int descriptor);

runnel::report::TextOptions text_options(const Common& common, runnel::units::UnitSystem as_written,
                                         int descriptor);

/// Says what is wrong with the input: as JSON on standard output with --json, else on standard error.
/// Always returns ExitCode::wrong_input.
int refuse(const Common& common, const std::vector<runnel::Finding>& findings,
           const runnel::report::Texts& texts = {},
           runnel::units::UnitSystem as_written = runnel::units::UnitSystem::si);

/// A finding about the command line itself.
runnel::Finding usage(std::string code, std::string message, std::string advice = {});

}  // namespace cli
