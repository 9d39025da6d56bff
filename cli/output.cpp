#include "output.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

#include "exit_code.h"
#include "inputs.h"
#include "replace_file.h"
#include "runnel/report/harmless.h"

namespace cli {
namespace {

int complain(const std::string& path, const std::string& reason) {
  const std::string what = path.empty() ? "the answer" : runnel::report::harmless(path);
  tell("runnel: cannot write " + what + ": " + reason + "\n");
  return wrong_input;
}

int write_stdout(const std::string& text) {
  struct stat about {};
  if (::fstat(STDOUT_FILENO, &about) == 0 && was_read(about))
    return complain("", "standard output leads into a file that the answer comes from");
  if (write_all(STDOUT_FILENO, text)) return good;
  return errno == EPIPE ? good : complain("", std::strerror(errno));
}

// A device or a pipe has no folder to put a second file in, and must not be replaced by a file.
int write_special(const std::string& text, const std::string& path) {
  const int descriptor = ::open(path.c_str(), O_WRONLY | O_CLOEXEC);
  if (descriptor < 0) return complain(path, std::strerror(errno));
  const bool written = write_all(descriptor, text);
  const int reason = errno;
  ::close(descriptor);
  return written ? good : complain(path, std::strerror(reason));
}

}  // namespace

int write(const std::string& text, const std::string& path) {
  if (path.empty() || path == "-") return write_stdout(text);
  struct stat about {};
  if (::stat(path.c_str(), &about) == 0 && !S_ISREG(about.st_mode) && !S_ISDIR(about.st_mode))
    return write_special(text, path);
  const std::string reason = replace_file(text, path);
  return reason.empty() ? good : complain(path, reason);
}

void tell(std::string_view text) noexcept { (void)write_all(STDERR_FILENO, text); }

void guard_standard_streams() {
  for (int stream = STDIN_FILENO; stream <= STDERR_FILENO; ++stream)
    if (::fcntl(stream, F_GETFD) < 0 && errno == EBADF)
      // The wrong way round on purpose; the lowest free number is that of the stream itself.
      (void)::open("/dev/null", stream == STDIN_FILENO ? O_WRONLY : O_RDONLY);
}

}  // namespace cli
