// How does reading a model grow with its size? Text to checked model, and the findings of a text with a slip
// in every line. `bench_reading shape places` writes such a model to standard output instead.
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <cstring>

#include "runnel/input/read_model.h"
#include "support/big_model.h"
#include "timing.h"

namespace {

using runnel::test::Shape;

void measure(const char* what, int most, std::string (*text_of)(int)) {
  double first_s = 0.0;
  int first = 0;
  for (int places = 1'000; places <= most; places *= 10) {
    const std::string text = text_of(places);
    std::size_t findings = 0;
    const double s = bench::median_seconds(
        [&] { findings = runnel::input::read_model(text, "big.yaml").findings.size(); }, 1, 5);
    if (first == 0) first_s = s, first = places;
    std::printf("%-16s %7d places %7.1f MB %9.4f s %6.2f us a place  %zu findings", what, places,
                static_cast<double>(text.size()) / 1e6, s, 1e6 * s / places, findings);
    if (places > first)
      std::printf("  growth %.2f", std::log(s / first_s) / std::log(static_cast<double>(places) / first));
    std::printf("\n");
  }
}

}  // namespace

int main(int argc, char** argv) {
  if (argc > 2) {
    for (int shape = 0; shape < 4; ++shape)
      if (std::strcmp(argv[1], runnel::test::shape_names[shape]) == 0)
        std::fputs(big_model_text(static_cast<Shape>(shape), std::atoi(argv[2])).c_str(), stdout);
    return 0;
  }
  const int most = argc > 1 ? std::atoi(argv[1]) : 100'000;
  measure("chain", most, [](int n) { return big_model_text(Shape::chain, n); });
  measure("star", most, [](int n) { return big_model_text(Shape::star, n); });
  measure("grid", most, [](int n) { return big_model_text(Shape::grid, n); });
  measure("chain of boxes", most, [](int n) { return big_model_text(Shape::boxes, n); });
  measure("slips", most, [](int n) { return runnel::test::big_model_of_slips(n); });
}
