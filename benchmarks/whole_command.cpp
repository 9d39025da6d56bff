// How does the whole command, from the text of a model to JSON, grow with the size of the model?
#include <sys/resource.h>
#include <sys/wait.h>
#include <unistd.h>

#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include "support/big_model.h"

namespace {

using runnel::test::Shape;

/// Processor time of one run of the command, its output thrown away; below zero if it fails.
double run_seconds(const std::string& model) {
  const pid_t child = fork();
  if (child == 0) {
    if (!std::freopen("/dev/null", "w", stdout)) _exit(126);
    execl(RUNNEL_BINARY, "runnel", "flow", model.c_str(), "--json", nullptr);
    _exit(127);
  }
  int status = 0;
  rusage used{};
  if (child < 0 || wait4(child, &status, 0, &used) != child) return -1.0;
  if (!WIFEXITED(status) || WEXITSTATUS(status) > 1)
    return -1.0;  // 1: an answer, and it is not what was asked
  const auto seconds = [](const timeval& t) {
    return static_cast<double>(t.tv_sec) + 1e-6 * static_cast<double>(t.tv_usec);
  };
  return seconds(used.ru_utime) + seconds(used.ru_stime);
}

}  // namespace

int main(int argc, char** argv) {
  const int most = argc > 1 ? std::atoi(argv[1]) : 100'000;
  const auto file =
      std::filesystem::temp_directory_path() / ("runnel_whole_" + std::to_string(getpid()) + ".yaml");
  for (int shape = 0; shape < 4; ++shape) {
    double first_s = 0.0;
    for (int places = 1'000; places <= most; places *= 10) {
      std::ofstream(file) << big_model_text(static_cast<Shape>(shape), places);
      double s = run_seconds(file);
      for (int again = places < 100'000 ? 4 : 0; again > 0; --again) s = std::min(s, run_seconds(file));
      if (s < 0.0) {
        std::printf("%-14s %7d places: the command failed\n", runnel::test::shape_names[shape], places);
        break;
      }
      if (places == 1'000) first_s = s;
      std::printf("%-14s %7d places %9.3f s %7.1f us a place", runnel::test::shape_names[shape], places, s,
                  1e6 * s / places);
      if (places > 1'000) std::printf("  growth %.2f", std::log(s / first_s) / std::log(places / 1000.0));
      std::printf("\n");
      std::fflush(stdout);
    }
  }
  std::filesystem::remove(file);
}
