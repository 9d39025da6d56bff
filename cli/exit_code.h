#pragma once
// What the command tells the shell.

namespace cli {

enum ExitCode : int {
  good = 0,
  wrong_system = 1,  ///< it works out, but something is wrong with the system
  wrong_input = 2,   ///< the model, an option or a file cannot be used
  no_answer = 3,     ///< the calculation did not settle
  defect = 70,       ///< a fault of this program
  stopped = 130,     ///< stopped by Ctrl-C; as shells count it, 128 + SIGINT
};

}  // namespace cli
