#pragma once
// Where the answer goes, and what is said beside it.
#include <string>
#include <string_view>

namespace cli {

/// Writes `text` to a file, or to standard output if `path` is empty or "-". A file is written whole or not
/// at all; one that was read for this answer is never written over. Returns an ExitCode; what went wrong is
/// said on standard error. A reader that went away (EPIPE) is no error.
int write(const std::string& text, const std::string& path);

/// Says something on standard error. If nobody can hear it, that is no reason to fail.
void tell(std::string_view text) noexcept;

/// Opens something harmless on each of the three standard streams that the caller has shut, so that no file
/// opened later takes its number and gets what was meant for it. Reading and writing it fail as before.
void guard_standard_streams();

}  // namespace cli
