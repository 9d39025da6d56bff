#pragma once
// Getting at a model: the text, the files beside it, and the units it is written in.
#include <optional>
#include <string>

#include "runnel/base/finding.h"
#include "runnel/network/system.h"
#include "runnel/report/text.h"
#include "runnel/units/print.h"

namespace cli {

struct Model {
  std::optional<runnel::network::Model> drawn;    ///< as it is written, whatever the setting
  std::optional<runnel::network::System> system;  ///< under the setting
  std::vector<runnel::Finding> findings;
  runnel::report::Texts texts;  ///< all that was read, by name
  runnel::units::UnitSystem written_in = runnel::units::UnitSystem::si;
};

/// Reads a model from a file or from standard input ("-") and puts it under a setting.
/// Files that the model names are looked for beside it.
Model read_model(const std::string& path, const std::string& setting);

/// The same without a setting and without a system: pipes may be left open.
Model read_written(const std::string& path);

/// The whole text of a file; nothing if it cannot be read. `reason` then says why.
std::optional<std::string> read_text(const std::string& path, std::string& reason);

}  // namespace cli
