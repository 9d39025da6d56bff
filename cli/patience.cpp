#include "patience.h"

#include <unistd.h>

#include <atomic>
#include <chrono>
#include <string>
#include <system_error>

#include "exit_code.h"
#include "output.h"

namespace cli {
namespace {

constexpr const char* clear_line = "\r\x1b[K";
std::atomic<bool> line_shown{false};

// Only what a signal handler may do: a write and the end.
void end_at_once(int) {
  if (line_shown) tell(clear_line);
  tell("runnel: stopped; nothing was written\n");
  ::_exit(stopped);
}

}  // namespace

Patience::Patience(const char* what) : what_(what), before_(std::signal(SIGINT, end_at_once)) {
  if (before_ == SIG_IGN) std::signal(SIGINT, SIG_IGN);  // as under nohup: whoever started us wants it so
  if (isatty(STDERR_FILENO) != 1) return;
  try {
    watcher_ = std::thread([this] { watch(); });
  } catch (const std::system_error&) {  // no room for a thread: then it is done in silence
  }
}

Patience::~Patience() {
  if (watcher_.joinable()) {
    {
      const std::lock_guard lock(mutex_);
      done_ = true;
    }
    ended_.notify_one();
    watcher_.join();
  }
  if (line_shown.exchange(false)) tell(clear_line);
  if (before_ != SIG_ERR) std::signal(SIGINT, before_);
}

void Patience::watch() {
  std::unique_lock lock(mutex_);
  for (int seconds = 1; !ended_.wait_for(lock, std::chrono::seconds(1), [this] { return done_; });
       ++seconds) {
    line_shown = true;
    tell(std::string(clear_line) + "runnel: " + what_ + ", " + std::to_string(seconds) + " s");
  }
}

}  // namespace cli
