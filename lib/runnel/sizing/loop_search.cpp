#include "runnel/sizing/loop_search.h"

#include <algorithm>
#include <numeric>
#include <optional>
#include <random>
#include <set>

#include "runnel/sizing/bounds.h"
#include "runnel/sizing/cuts.h"
#include "runnel/sizing/loop_trials.h"

namespace runnel::sizing {
namespace {

// At most so many ends of the search are tried in full before more head is left to spare.
constexpr std::size_t most_tried = 40;

class Search {
 public:
  Search(const LoopChoice& choice, const LoopLimits& limits)
      : choice_(choice), limits_(limits), trials_(choice, true), chance_(limits.seed) {}

  LoopAnswer run() {
    LoopAnswer answer;
    std::vector<int> options = roomiest(choice_);
    answer.most_margin_m = trials_.margin_m(options);
    if (answer.most_margin_m < 0.0) return answer;
    improve(options);
    std::vector<int> best = options, here = options;
    ends_.insert(options);
    for (int kick = 0, since = 0; kick < limits_.kicks && !tired(); ++kick) {
      limits_.progress(trials_.solved(), cost_of(choice_, best));
      options = here;
      if (!disturb(options)) continue;
      improve(options);
      ends_.insert(options);
      // A slightly dearer design may lead on to a cheaper one, but is not followed for long.
      if (cost_of(choice_, options) <= cost_of(choice_, here) * 1.003) here = options;
      if (cheaper(options, best)) {
        best = here = options;
        since = 0;
      } else if (++since % 25 == 0) {
        here = best;
      }
    }
    if (auto taken = first_taken()) {
      answer.found = true;
      answer.best = {*taken, cost_of(choice_, *taken), trials_.margin_m(*taken)};
    }
    answer.solved = trials_.solved();
    return answer;
  }

 private:
  /// The cheapest of all ends of the search that is accepted; if none is, one with more head to spare,
  /// narrowed again as far as it is accepted.
  std::optional<std::vector<int>> first_taken() {
    std::vector<std::vector<int>> ends(ends_.begin(), ends_.end());
    const auto cost = [&](const auto& options) { return cost_of(choice_, options); };
    const auto cheaper = [&](const auto& a, const auto& b) { return cost(a) < cost(b); };
    std::stable_sort(ends.begin(), ends.end(), cheaper);
    if (ends.size() > most_tried) ends.resize(most_tried);
    for (const auto& options : ends)
      if (limits_.accept(options, cost(options))) return options;
    std::optional<std::vector<int>> taken;
    for (const double spare_m : {0.1, 0.3, 1.0, 3.0, 10.0, 30.0}) {
      std::vector<int> options = ends.front();
      spare_m_ = spare_m;
      if (taken || limits_.stop() || !repair(options)) break;
      if (limits_.accept(options, cost(options))) taken = options;
    }
    spare_m_ = 0.0;
    const std::vector<int> most = roomiest(choice_);
    if (!taken && limits_.accept(most, cost(most))) taken = most;
    if (taken) come_down(*taken);
    return taken;
  }

  /// Narrows one run after the other by one size, what saves most first, as long as the design is accepted.
  void come_down(std::vector<int>& options) {
    std::vector<std::size_t> order(options.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    for (bool better = true; better && !limits_.stop();) {
      better = false;
      std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        return step_saves(options, a) > step_saves(options, b);
      });
      for (const std::size_t r : order) {
        if (options[r] == 0 || limits_.stop()) continue;
        --options[r];
        better = trials_.margin_m(options) >= 0.0 && limits_.accept(options, cost_of(choice_, options));
        if (better) break;
        ++options[r];
      }
    }
  }

  double step_saves(const std::vector<int>& options, std::size_t r) const {
    return options[r] == 0 ? 0.0 : saved(r, options[r], options[r] - 1);
  }

  bool tired() const { return limits_.stop() || trials_.solved() >= limits_.most_solved; }
  bool cheaper(const std::vector<int>& a, const std::vector<int>& b) const {
    return cost_of(choice_, a) < cost_of(choice_, b) * (1.0 - same_cost);
  }
  int widest(std::size_t r) const { return static_cast<int>(choice_.runs[r].options.size()) - 1; }
  /// The next dearer option that is wider; -1 if there is none.
  int next_wider(std::size_t r, int option) const {
    const LoopRun& run = choice_.runs[r];
    for (auto k = static_cast<std::size_t>(option) + 1; k < run.options.size(); ++k)
      if (run.bore_m(k) > run.bore_m(static_cast<std::size_t>(option))) return static_cast<int>(k);
    return -1;
  }
  double saved(std::size_t r, int from, int to) const {
    return choice_.runs[r].options[static_cast<std::size_t>(from)].cost -
           choice_.runs[r].options[static_cast<std::size_t>(to)].cost;
  }

  /// Puts two to five runs at other sizes; if some place then has too little, others are widened until it has
  /// enough.
  bool disturb(std::vector<int>& options) {
    std::uniform_int_distribution<std::size_t> any(0, options.size() - 1), runs(2, 5);
    std::uniform_int_distribution<int> kind(0, 3);
    const std::size_t last = runs(chance_);
    for (std::size_t i = 0; i < last; ++i) {
      const std::size_t r = any(chance_);
      std::uniform_int_distribution<int> size(0, widest(r));
      options[r] =
          kind(chance_) == 0 ? size(chance_) : std::min(widest(r), options[r] + 1 + kind(chance_) / 2);
    }
    return repair(options);
  }

  /// Widens, one size at a time, where it helps the worst place most for its cost.
  bool repair(std::vector<int>& options) {
    double margin = trials_.margin_m(options) - spare_m_;
    while (margin < 0.0 && !tired()) {
      double best = 0.0, best_margin = margin;
      std::size_t run = options.size();
      for (std::size_t r = 0; r < options.size(); ++r) {
        const int before = options[r], wider = next_wider(r, before);
        if (wider < 0) continue;
        options[r] = wider;
        const double now = trials_.margin_m(options) - spare_m_;
        const double worth = (std::min(now, 0.0) - margin) / std::max(1e-12, -saved(r, before, wider));
        options[r] = before;
        if (worth <= best) continue;
        best = worth;
        best_margin = now;
        run = r;
      }
      if (run == options.size()) return false;
      options[run] = next_wider(run, options[run]);
      margin = best_margin;
    }
    return margin >= 0.0;
  }

  void improve(std::vector<int>& options) {
    do narrow(options);
    while (!tired() && swap(options));
  }

  /// Narrows the run that saves most for the head that it costs, as long as there is one.
  void narrow(std::vector<int>& options) {
    while (!tired()) {
      const double margin = trials_.margin_m(options);
      double best = 0.0;
      std::size_t run = options.size();
      for (std::size_t r = 0; r < options.size(); ++r) {
        if (options[r] == 0) continue;
        --options[r];
        const double left = trials_.margin_m(options);
        ++options[r];
        if (left < 0.0) continue;
        const double worth = saved(r, options[r], options[r] - 1) / (std::max(0.0, margin - left) + 1e-3);
        if (worth > best) {
          best = worth;
          run = r;
        }
      }
      if (run == options.size()) return;
      --options[run];
    }
  }

  /// Widens one run and narrows another by as little as pays for it, or two by one size: the first to work.
  bool swap(std::vector<int>& options) {
    const std::size_t n = options.size();
    std::uniform_int_distribution<std::size_t> any(0, n - 1);
    const std::size_t offset = any(chance_);
    for (std::size_t i = 0; i < n && !tired(); ++i) {
      const std::size_t up = (i + offset) % n;
      for (int wider = 1; options[up] + wider <= widest(up); ++wider)
        if (give(options, up, wider)) return true;
    }
    return false;
  }

  bool give(std::vector<int>& options, std::size_t up, int wider) {
    const double paid = -saved(up, options[up], options[up] + wider);
    options[up] += wider;
    for (std::size_t down = 0; down < options.size(); ++down)
      for (int by = 1; down != up && by <= options[down]; ++by) {
        if (saved(down, options[down], options[down] - by) <= paid * (1.0 + same_cost)) continue;
        options[down] -= by;
        if (trials_.margin_m(options) >= 0.0) return true;
        options[down] += by;
        break;
      }
    if (wider <= 2 && give_two(options, up, paid)) return true;
    options[up] -= wider;
    return false;
  }

  /// One run wider, and two narrower by one size.
  bool give_two(std::vector<int>& options, std::size_t up, double paid) {
    for (std::size_t a = 0; a < options.size(); ++a) {
      if (a == up || options[a] == 0) continue;
      const double first = saved(a, options[a], options[a] - 1);
      --options[a];
      const bool alone = trials_.margin_m(options) >= 0.0;
      for (std::size_t b = a + 1; alone && b < options.size(); ++b) {
        if (b == up || options[b] == 0) continue;
        if (first + saved(b, options[b], options[b] - 1) <= paid * (1.0 + same_cost)) continue;
        --options[b];
        if (trials_.margin_m(options) >= 0.0) return true;
        ++options[b];
      }
      ++options[a];
    }
    return false;
  }

  const LoopChoice& choice_;
  const LoopLimits& limits_;
  LoopTrials trials_;
  std::mt19937 chance_;
  std::set<std::vector<int>> ends_;  ///< where the search came to rest
  double spare_m_ = 0.0;             ///< head that `repair` leaves to spare
};

}  // namespace

LoopAnswer search_loops(const LoopChoice& choice, const LoopLimits& limits) {
  LoopAnswer answer = Search(choice, limits).run();
  answer.bound = bound_by_cuts(choice, cuts_of(choice, choice.runs.size() > 40 ? 2 : 3));
  answer.proved = answer.found && answer.bound >= answer.best.cost * (1.0 - same_cost);
  return answer;
}

}  // namespace runnel::sizing
