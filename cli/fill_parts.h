#pragma once
// What `fill` answers besides the course of the levels.
#include <optional>
#include <string>

#include "common.h"
#include "model_source.h"

namespace cli {

/// `fill --year`. Returns what the command tells the shell. Precondition: the model has a system.
int fill_year(const Common& common, const Model& model, const std::optional<std::string>& setting);

/// `fill --drain WASHOUT`, likewise; `bore` of the washout as typed, empty for that of its pipe.
int fill_drain(const Common& common, const Model& model, const std::string& washout, const std::string& bore);

}  // namespace cli
