#include "output.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstdio>
#include <cstring>
#include <vector>

#include "exit_code.h"
#include "runnel/report/harmless.h"

namespace cli {
namespace {

bool write_all(int descriptor, const std::string& text) {
  std::size_t done = 0;
  while (done < text.size()) {
    const ssize_t n = ::write(descriptor, text.data() + done, text.size() - done);
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    done += static_cast<std::size_t>(n);
  }
  return true;
}

int complain(const std::string& path, int reason) {
  fmt::print(stderr, "runnel: cannot write {}: {}\n",
             path.empty() ? "the answer" : runnel::report::harmless(path), std::strerror(reason));
  return wrong_input;
}

std::string folder_of(const std::string& path) {
  const auto slash = path.rfind('/');
  return slash == std::string::npos ? "." : slash == 0 ? "/" : path.substr(0, slash);
}

void flush_folder(const std::string& folder) {
  const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (descriptor < 0) return;  // the file itself is safe; some file systems have no folders to flush
  ::fsync(descriptor);
  ::close(descriptor);
}

int write_stdout(const std::string& text) {
  if (write_all(STDOUT_FILENO, text)) return good;
  return errno == EPIPE ? good : complain("", errno);
}

// A device or a pipe has no folder to put a second file in, and must not be replaced by a file.
int write_special(const std::string& text, const std::string& path) {
  const int descriptor = ::open(path.c_str(), O_WRONLY | O_CLOEXEC);
  if (descriptor < 0) return complain(path, errno);
  const bool written = write_all(descriptor, text);
  const int reason = errno;
  ::close(descriptor);
  return written ? good : complain(path, reason);
}

int write_file(const std::string& text, const std::string& path) {
  const std::string folder = folder_of(path);
  std::string temporary = folder + "/.runnel-XXXXXX";
  std::vector<char> name(temporary.begin(), temporary.end());
  name.push_back('\0');
  const int descriptor = ::mkstemp(name.data());
  if (descriptor < 0) return complain(path, errno);
  const mode_t mask = ::umask(0);
  ::umask(mask);
  const bool written =
      ::fchmod(descriptor, 0666 & ~mask) == 0 && write_all(descriptor, text) && ::fsync(descriptor) == 0;
  int reason = errno;
  const bool closed = ::close(descriptor) == 0;
  if (written && !closed) reason = errno;
  if (written && closed && ::rename(name.data(), path.c_str()) == 0) {
    flush_folder(folder);
    return good;
  }
  if (written && closed) reason = errno;
  ::unlink(name.data());
  return complain(path, reason);
}

}  // namespace

int write(const std::string& text, const std::string& path) {
  if (path.empty() || path == "-") return write_stdout(text);
  struct stat about {};
  if (::stat(path.c_str(), &about) == 0 && !S_ISREG(about.st_mode) && !S_ISDIR(about.st_mode))
    return write_special(text, path);
  return write_file(text, path);
}

}  // namespace cli
