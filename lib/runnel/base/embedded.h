#pragma once
// Files built into the library, so that one binary is enough.
#include <string>
#include <vector>

namespace runnel::base {

struct EmbeddedFile {
  std::string name;  ///< file name without its folder
  std::string text;  ///< the whole file, byte for byte
};

/// Every file of models/catalogue as it stood at build time, by name.
const std::vector<EmbeddedFile>& embedded_files();

/// Every file of models/rules, by name.
const std::vector<EmbeddedFile>& rule_files();

/// One file, models/first_line/model.yaml: the file from which people start a model of their own.
const std::vector<EmbeddedFile>& first_model_files();

/// The bibliography, lib/runnel/references.h, and the list of what cites it (base/bibliography.h reads them).
const std::vector<EmbeddedFile>& bibliography_files();

}  // namespace runnel::base
