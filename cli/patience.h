#pragma once
// Work that may take long: Ctrl-C ends it, and a person who waits is told what is going on.
#include <condition_variable>
#include <csignal>
#include <mutex>
#include <thread>

namespace cli {

/// While it lives, Ctrl-C ends the program at once with ExitCode::stopped, so nothing may be half-written
/// meanwhile; and if it lives longer than a second and standard error is a terminal, a line there says what
/// is being done and for how long. The line is gone when this is.
class Patience {
 public:
  explicit Patience(const char* what);
  ~Patience();
  Patience(const Patience&) = delete;
  Patience& operator=(const Patience&) = delete;

 private:
  void watch();

  const char* what_;
  void (*before_)(int);
  bool done_ = false;
  std::mutex mutex_;
  std::condition_variable ended_;
  std::thread watcher_;
};

/// Does `work`, and returns what it returns.
template <class Work>
auto patiently(const char* what, Work work) {
  const Patience patience(what);
  return work();
}

}  // namespace cli
