// Codes about the model as written.
#include "runnel/verdict/codes.h"

namespace runnel::verdict {

std::vector<Code> input_codes() {
  return {
      {"unknown-setting", "no such setting", "The command asked for a setting that the model does not name.",
       "Settings are named ways of running the system; `normal` is the system as drawn.",
       "Look under `settings:` in the model, or leave `--setting` out.", ""},
  };
}

}  // namespace runnel::verdict
