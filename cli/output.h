#pragma once
// Writing an answer so that it is whole or not there at all.
#include <string>

namespace cli {

/// Writes to standard output (empty path or "-") or to a file: a new file in the same folder, flushed to
/// the disk, then renamed over the old one. Says on standard error what went wrong.
/// Returns ExitCode::good, or wrong_input if it could not be written. A reader that has gone away (`| head`)
/// is no failure.
int write(const std::string& text, const std::string& path);

}  // namespace cli
