// 10,000 friction factors against Debian's python3-fluids, which is run here. Without it this test fails:
// install python3-fluids.
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cmath>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string>
#include <utility>
#include <vector>

#include "runnel/losses/friction_factor.h"

using namespace runnel::losses;

namespace {

/// 100 Reynolds numbers from 4,000 to 1e8 by 100 roughnesses: smooth, then 1e-7 to 0.05, even in the
/// logarithm.
std::vector<std::pair<double, double>> grid() {
  std::vector<std::pair<double, double>> points;
  for (int i = 0; i < 100; ++i) {
    const double reynolds = 4000.0 * std::pow(1e8 / 4000.0, i / 99.0);
    for (int j = 0; j < 100; ++j) {
      points.emplace_back(reynolds, j == 0 ? 0.0 : 1e-7 * std::pow(0.05 / 1e-7, (j - 1) / 98.0));
    }
  }
  return points;
}

std::string output_of(const std::string& command, int& status) {
  std::string text;
  FILE* pipe = popen(command.c_str(), "r");
  REQUIRE(pipe != nullptr);
  char buffer[4096];
  for (std::size_t n = 0; (n = std::fread(buffer, 1, sizeof buffer, pipe)) > 0;) text.append(buffer, n);
  status = pclose(pipe);
  return text;
}

}  // namespace

TEST_CASE("friction factors agree with python3-fluids on a grid of 10,000") {
  const auto points = grid();
  REQUIRE(points.size() == 10000);
  const auto file = std::filesystem::temp_directory_path() / ("runnel-grid-" + std::to_string(getpid()));
  {
    std::ofstream out(file);
    out.precision(17);
    for (const auto& [reynolds, roughness] : points) out << reynolds << ' ' << roughness << '\n';
  }
  // Debian's own interpreter: another python3 on the path would not see Debian's packages.
  int status = 0;
  const std::string text = output_of(
      "/usr/bin/python3 " RUNNEL_SOURCE_DIR "/tests/losses/fluids_grid.py " + file.string(), status);
  std::filesystem::remove(file);
  INFO("needs the Debian package python3-fluids and /usr/bin/python3");
  REQUIRE(status == 0);

  double worst_colebrook = 0.0, worst_clamond = 0.0, worst_churchill = 0.0;
  const char* at = text.c_str();
  for (const auto& [reynolds, roughness] : points) {
    double colebrook_f = 0.0, clamond_f = 0.0, churchill_f = 0.0;
    int used = 0;
    REQUIRE(std::sscanf(at, "%lf %lf %lf%n", &colebrook_f, &clamond_f, &churchill_f, &used) == 3);
    at += used;
    const double ours = darcy_factor(reynolds, roughness).factor;
    worst_colebrook = std::fmax(worst_colebrook, std::fabs(ours / colebrook_f - 1.0));
    worst_clamond = std::fmax(worst_clamond, std::fabs(ours / clamond_f - 1.0));
    worst_churchill =
        std::fmax(worst_churchill, std::fabs(churchill(reynolds, roughness) / churchill_f - 1.0));
  }
  // Their Colebrook goes through Lambert's W and was seen to be off Clamond by 3e-14 to 6e-13, by
  // cancellation.
  CHECK(worst_colebrook < 2e-12);
  CHECK(worst_clamond < 1e-14);    // the same equation by the same kind of iteration: roundings only
  CHECK(worst_churchill < 1e-13);  // sixteenth powers enlarge roundings
}
