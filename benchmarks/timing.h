#pragma once
// Processor time of this program, all threads: what other programs take of the machine does not count.
#include <algorithm>
#include <ctime>
#include <vector>

namespace bench {

inline double processor_seconds() {
  timespec t{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &t);
  return static_cast<double>(t.tv_sec) + 1e-9 * static_cast<double>(t.tv_nsec);
}

/// Median over repeated runs: at least `least` and at most `most` of them, until `enough_s` are spent.
template <class Run>
double median_seconds(Run&& run, int least = 3, int most = 301, double enough_s = 0.5) {
  std::vector<double> times;
  double spent = 0.0;
  while (static_cast<int>(times.size()) < least ||
         (static_cast<int>(times.size()) < most && spent < enough_s)) {
    const double start = processor_seconds();
    run();
    times.push_back(processor_seconds() - start);
    spent += times.back();
  }
  std::nth_element(times.begin(), times.begin() + static_cast<std::ptrdiff_t>(times.size() / 2), times.end());
  return times[times.size() / 2];
}

}  // namespace bench
