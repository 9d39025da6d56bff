// The proof of a design with loops: every cheaper one that could work is tried.
#include <algorithm>
#include <numeric>
#include <optional>

#include "runnel/sizing/bounds.h"
#include "runnel/sizing/cuts.h"
#include "runnel/sizing/loop_search.h"
#include "runnel/sizing/loop_trials.h"

namespace runnel::sizing {
namespace {

/// The only run at the only source: it gives all that is drawn, so its flow is known whatever the sizes.
std::optional<std::size_t> only_run(const LoopChoice& choice) {
  if (!choice.inflows.empty()) return std::nullopt;
  int source = -1;
  for (std::size_t v = 0; v < choice.there.nodes.size(); ++v)
    if (choice.is_source(v)) {
      if (source >= 0) return std::nullopt;
      source = static_cast<int>(v);
    }
  for (const LoopRun& run : choice.runs)
    if (run.b < 0) return std::nullopt;  // what runs into the open air is not drawn
  for (const int l : links_that_stay(choice)) {
    const steady::Link& link = choice.there.links[static_cast<std::size_t>(l)];
    if (link.b < 0 || link.a == source || link.b == source) return std::nullopt;
  }
  std::optional<std::size_t> only;
  for (std::size_t r = 0; r < choice.runs.size(); ++r)
    if (choice.runs[r].a == source || choice.runs[r].b == source) {
      if (only) return std::nullopt;
      only = r;
    }
  return only;
}

double most_of(const std::vector<double>& carries_m3s) {
  return *std::max_element(carries_m3s.begin(), carries_m3s.end());
}

class Proof {
 public:
  Proof(const LoopChoice& whole, LoopAnswer& answer, const LoopLimits& limits)
      : whole_(whole), answer_(answer), limits_(limits), options_(whole.runs.size(), 0) {}

  /// False if it would take too long.
  bool run() {
    std::vector<std::size_t> numbers(whole_.runs.size());
    std::iota(numbers.begin(), numbers.end(), std::size_t{0});
    return part(whole_, numbers, 0.0);
  }

 private:
  double best() const { return answer_.best.cost * (1.0 - same_cost); }

  /// `numbers`: the numbers that the part's runs have in the whole.
  bool part(const LoopChoice& choice, const std::vector<std::size_t>& numbers, double cost) {
    const auto only = only_run(choice);
    return only ? beyond(choice, numbers, cost, *only) : inside(choice, numbers, cost);
  }

  /// Each size of the run at the source makes a source of its other end.
  bool beyond(const LoopChoice& choice, const std::vector<std::size_t>& numbers, double cost,
              std::size_t only) {
    const LoopRun& run = choice.runs[only];
    const bool forward = choice.is_source(static_cast<std::size_t>(run.a));
    const auto from = static_cast<std::size_t>(forward ? run.a : run.b);
    const auto to = static_cast<std::size_t>(forward ? run.b : run.a);
    double flow = 0.0;
    for (std::size_t v = 0; v < choice.there.nodes.size(); ++v)
      if (!choice.is_source(v)) flow += choice.there.nodes[v].draw_m3s - choice.there.nodes[v].inflow_m3s;
    for (std::size_t k = 0; k < run.options.size(); ++k) {
      if (!run.options[k].pipe || cost + run.options[k].cost >= best()) continue;
      LoopChoice rest = choice;
      const double head_m =
          choice.source_head_m(from) - std::abs(loss_m(choice, run, k, forward ? flow : -flow));
      if (head_m < choice.least_head_m[to]) continue;
      rest.there.nodes[to] = {.fixed = true, .head_m = head_m};
      if (run.link >= 0) drop_link(rest, run.link);
      drop_place(rest, from);
      rest.runs.erase(rest.runs.begin() + static_cast<std::ptrdiff_t>(only));
      std::vector<std::size_t> left = numbers;
      left.erase(left.begin() + static_cast<std::ptrdiff_t>(only));
      options_[numbers[only]] = static_cast<int>(k);
      if (!part(rest, left, cost + run.options[k].cost)) return false;
    }
    return true;
  }

  static void drop_link(LoopChoice& choice, int link) {
    choice.there.links.erase(choice.there.links.begin() + link);
    for (LoopRun& run : choice.runs) run.link -= run.link > link;
  }

  /// Drops the old source, to which nothing is connected any more.
  static void drop_place(LoopChoice& choice, std::size_t place) {
    choice.there.nodes.erase(choice.there.nodes.begin() + static_cast<std::ptrdiff_t>(place));
    choice.least_head_m.erase(choice.least_head_m.begin() + static_cast<std::ptrdiff_t>(place));
    const auto shift = [&](int& v) { v -= static_cast<std::size_t>(v) > place; };
    const auto shift_ends = [&](auto& of) {
      shift(of.a);
      if (of.b >= 0) shift(of.b);
    };
    for (LoopRun& run : choice.runs) shift_ends(run);
    for (steady::Link& link : choice.there.links) shift_ends(link);
  }

  bool inside(const LoopChoice& choice, const std::vector<std::size_t>& numbers, double cost) {
    const std::vector<Cut> cuts =
        cuts_of(choice, static_cast<int>(std::min<std::size_t>(choice.runs.size(), 4)));
    Inner inner{choice, numbers, cuts, {}, {}, {}, {}, LoopTrials(choice)};
    inner.in_cuts.resize(choice.runs.size());
    for (std::size_t c = 0; c < cuts.size(); ++c) {
      double most = 0.0;
      for (std::size_t i = 0; i < cuts[c].runs.size(); ++i) {
        most += most_of(cuts[c].carries_m3s[i]);
        inner.in_cuts[cuts[c].runs[i]].push_back({c, i});
      }
      inner.carries_m3s.push_back(most);
      if (most < cuts[c].needed_m3s) return true;
    }
    inner.options = roomiest(choice);
    inner.order.resize(choice.runs.size());
    std::iota(inner.order.begin(), inner.order.end(), std::size_t{0});
    // Runs in many cuts first: they decide most.
    std::stable_sort(inner.order.begin(), inner.order.end(), [&](std::size_t a, std::size_t b) {
      return inner.in_cuts[a].size() > inner.in_cuts[b].size();
    });
    double rest = 0.0;
    for (const LoopRun& run : choice.runs) rest += run.options.front().cost;
    return descend(inner, 0, cost, rest);
  }

  struct InCut {
    std::size_t cut, place;
  };
  struct Inner {
    const LoopChoice& choice;
    const std::vector<std::size_t>& numbers;
    const std::vector<Cut>& cuts;
    std::vector<std::vector<InCut>> in_cuts;
    std::vector<double> carries_m3s;  ///< for each cut, with runs not chosen yet as wide as can be
    std::vector<std::size_t> order;
    std::vector<int> options;
    LoopTrials trials;
  };

  bool descend(Inner& in, std::size_t depth, double cost, double rest) {
    if (answer_.solved >= limits_.most_solved || limits_.stop()) return false;
    if (depth == in.order.size()) return leaf(in, cost);
    const std::size_t r = in.order[depth];
    const auto& options = in.choice.runs[r].options;
    const double others = rest - options.front().cost;
    const int widest = in.options[r];
    bool finished = true;
    for (std::size_t k = 0; finished && k < options.size(); ++k) {
      if (cost + options[k].cost + others >= best()) break;
      bool gets_through = true;
      for (const InCut& in_cut : in.in_cuts[r]) {
        const auto& carries = in.cuts[in_cut.cut].carries_m3s[in_cut.place];
        in.carries_m3s[in_cut.cut] += carries[k] - most_of(carries);
        // A part in 10^9 for rounding, on the safe side.
        gets_through =
            gets_through && in.carries_m3s[in_cut.cut] >= in.cuts[in_cut.cut].needed_m3s * (1.0 - 1e-9);
      }
      in.options[r] = static_cast<int>(k);
      if (gets_through) finished = descend(in, depth + 1, cost + options[k].cost, others);
      for (const InCut& in_cut : in.in_cuts[r]) {
        const auto& carries = in.cuts[in_cut.cut].carries_m3s[in_cut.place];
        in.carries_m3s[in_cut.cut] -= carries[k] - most_of(carries);
      }
    }
    in.options[r] = widest;
    return finished;
  }

  bool leaf(Inner& in, double cost) {
    if (++answer_.solved % 10'000 == 0) limits_.progress(answer_.solved, answer_.best.cost);
    const double margin = in.trials.margin_m(in.options);
    if (margin < 0.0) return true;
    std::vector<int> whole = options_;
    for (std::size_t r = 0; r < in.options.size(); ++r) whole[in.numbers[r]] = in.options[r];
    if (!limits_.accept(whole, cost)) return true;
    for (std::size_t r = 0; r < in.options.size(); ++r) options_[in.numbers[r]] = in.options[r];
    answer_.best = {options_, cost, margin};
    return true;
  }

  const LoopChoice& whole_;
  LoopAnswer& answer_;
  const LoopLimits& limits_;
  std::vector<int> options_;
};

}  // namespace

void prove_loops(const LoopChoice& choice, LoopAnswer& answer, const LoopLimits& limits) {
  if (!answer.found || answer.proved) return;
  const long before = answer.solved;
  answer.solved = 0;
  if (Proof(choice, answer, limits).run()) {
    answer.proved = true;
    answer.bound = answer.best.cost;
  }
  answer.solved += before;
}

}  // namespace runnel::sizing
