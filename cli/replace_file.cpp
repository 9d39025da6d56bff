#include "replace_file.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <climits>
#include <csignal>
#include <cstdlib>
#include <cstring>
#include <vector>

#include "inputs.h"

namespace cli {
namespace {

void flush_folder(const std::string& folder) {
  const int descriptor = ::open(folder.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC);
  if (descriptor < 0) return;  // the file itself is safe; some file systems have no folders to flush
  ::fsync(descriptor);
  ::close(descriptor);
}

/// While it lives, a request to end waits, so that no unfinished file is left lying about.
class Undisturbed {
 public:
  Undisturbed() {
    sigset_t requests;
    sigemptyset(&requests);
    for (const int signal : {SIGINT, SIGTERM, SIGHUP, SIGQUIT}) sigaddset(&requests, signal);
    ::pthread_sigmask(SIG_BLOCK, &requests, &before_);
  }
  ~Undisturbed() { ::pthread_sigmask(SIG_SETMASK, &before_, nullptr); }
  Undisturbed(const Undisturbed&) = delete;
  Undisturbed& operator=(const Undisturbed&) = delete;

 private:
  sigset_t before_{};
};

/// The file in question and, if there is one already, what is known of it.
struct Target {
  std::string path;
  bool there = false;
  struct stat about {};
};

std::string find_target(const std::string& path, Target& target) {
  struct stat itself {};
  target.path = path;
  if (::lstat(path.c_str(), &itself) != 0) return errno == ENOENT ? "" : std::strerror(errno);
  if (S_ISLNK(itself.st_mode)) {
    char real[PATH_MAX];
    if (!::realpath(path.c_str(), real))
      return errno == ENOENT ? "it is a link to nothing" : std::strerror(errno);
    target.path = real;
  }
  if (::stat(target.path.c_str(), &target.about) != 0) return std::strerror(errno);
  target.there = true;
  return "";
}

std::string why_not(const Target& target) {
  if (!target.there) return "";
  if (S_ISDIR(target.about.st_mode)) return std::strerror(EISDIR);
  if (was_read(target.about)) return "the answer comes from it; give the answer a name of its own";
  if (target.about.st_nlink > 1)
    return "it has a second name, which would keep the old text; delete it first";
  if (::access(target.path.c_str(), W_OK) != 0) return std::strerror(errno);
  return "";
}

/// The mode, and if it is another's file, the owner.
bool dress(int descriptor, const Target& target) {
  if (!target.there) {
    const mode_t mask = ::umask(0);
    ::umask(mask);
    return ::fchmod(descriptor, 0666 & ~mask) == 0;
  }
  struct stat fresh {};
  if (::fstat(descriptor, &fresh) != 0) return false;
  const bool same = fresh.st_uid == target.about.st_uid && fresh.st_gid == target.about.st_gid;
  if (!same && ::fchown(descriptor, target.about.st_uid, target.about.st_gid) != 0) return false;
  return ::fchmod(descriptor, target.about.st_mode & 07777) == 0;
}

}  // namespace

std::string folder_of(const std::string& path) {
  const auto slash = path.rfind('/');
  return slash == std::string::npos ? "." : slash == 0 ? "/" : path.substr(0, slash);
}

bool write_all(int descriptor, std::string_view text) {
  while (!text.empty()) {
    const ssize_t n = ::write(descriptor, text.data(), text.size());
    if (n < 0 && errno == EINTR) continue;
    if (n <= 0) return false;
    text.remove_prefix(static_cast<std::size_t>(n));
  }
  return true;
}

std::string replace_file(const std::string& text, const std::string& path) {
  Target target;
  std::string reason = find_target(path, target);
  if (reason.empty()) reason = why_not(target);
  if (!reason.empty()) return reason;
  const Undisturbed undisturbed;
  const std::string folder = folder_of(target.path), pattern = folder + "/.runnel-XXXXXX";
  std::vector<char> name(pattern.c_str(), pattern.c_str() + pattern.size() + 1);
  const int descriptor = ::mkstemp(name.data());
  if (descriptor < 0) return std::strerror(errno);
  bool done = dress(descriptor, target) && write_all(descriptor, text) && ::fsync(descriptor) == 0;
  int error = errno;
  if (::close(descriptor) != 0 && done) {
    done = false;
    error = errno;
  }
  if (done && ::rename(name.data(), target.path.c_str()) == 0) {
    flush_folder(folder);
    return "";
  }
  if (done) error = errno;
  ::unlink(name.data());
  return std::strerror(error);
}

}  // namespace cli
