#include "runnel/sizing/cuts.h"

#include <algorithm>

#include "runnel/base/groups.h"
#include "runnel/sizing/linear_programme.h"

namespace runnel::sizing {
namespace {

/// The places that the sources still reach without some runs and without the existing links beside them.
std::vector<bool> reached(const LoopChoice& choice, const std::vector<steady::Link>& old_links,
                          const std::vector<std::size_t>& without) {
  base::Groups groups(choice.there.nodes.size());
  const auto parted = [&](int a, int b) {
    return std::any_of(without.begin(), without.end(), [&](std::size_t r) {
      const LoopRun& run = choice.runs[r];
      return (run.a == a && run.b == b) || (run.a == b && run.b == a);
    });
  };
  for (const LoopRun& run : choice.runs)
    if (run.b >= 0 && !parted(run.a, run.b)) groups.join(run.a, run.b);
  for (const steady::Link& link : old_links)
    if (!parted(link.a, link.b)) groups.join(link.a, link.b);
  int source = -1;
  for (std::size_t v = 0; v < groups.size(); ++v)
    if (choice.is_source(v)) {
      if (source >= 0) groups.join(source, static_cast<int>(v));
      source = static_cast<int>(v);
    }
  std::vector<bool> with(groups.size());
  for (std::size_t v = 0; v < groups.size(); ++v) with[v] = groups.together(static_cast<int>(v), source);
  return with;
}

/// The most head that can stand at a place: that of the highest source.
double top_m(const LoopChoice& choice) {
  double top = -1e300;
  for (std::size_t v = 0; v < choice.there.nodes.size(); ++v)
    if (choice.is_source(v)) top = std::max(top, choice.source_head_m(v));
  return top;
}

double least_loss_m(const LoopRun& run, double flow_m3s) {
  double least = 1e300;
  for (const LoopOption& option : run.options)
    if (option.pipe) least = std::min(least, run.length_m * option.pipe->per_metre(flow_m3s).head_m);
  return least;
}

class Gatherer {
 public:
  Gatherer(const LoopChoice& choice, int most)
      : choice_(choice),
        old_links_(choice.old_links()),
        most_(most),
        most_m_(choice.there.nodes.size(), top_m(choice)) {
    bound_heads();
  }

  const std::vector<double>& most_heads_m() const { return most_m_; }

  std::vector<Cut> run() {
    add({}, 0);
    return std::move(cuts_);
  }

 private:
  void add(std::vector<std::size_t> runs, std::size_t from) {
    if (!runs.empty()) try_cut(runs);
    if (static_cast<int>(runs.size()) == most_) return;
    for (std::size_t r = from; r < choice_.runs.size(); ++r) {
      if (choice_.runs[r].b < 0) continue;  // into the open air
      runs.push_back(r);
      add(runs, r + 1);
      runs.pop_back();
    }
  }

  double drawn_m3s(std::size_t v) const {
    return choice_.there.nodes[v].draw_m3s - choice_.there.nodes[v].inflow_m3s;
  }

  /// A run that alone leads to a part without a source carries all that is drawn there, and no place of that
  /// part has more head than it leaves with the widest pipe.
  void bound_heads() {
    for (std::size_t round = 0; round < choice_.runs.size(); ++round) {
      bool lower = false;
      for (std::size_t r = 0; r < choice_.runs.size(); ++r) lower = bound_behind(r) || lower;
      if (!lower) return;
    }
  }

  bool bound_behind(std::size_t r) {
    const LoopRun& run = choice_.runs[r];
    if (run.b < 0) return false;
    for (const steady::Link& link : old_links_)
      if ((link.a == run.a && link.b == run.b) || (link.a == run.b && link.b == run.a)) return false;
    for (std::size_t other = 0; other < choice_.runs.size(); ++other)
      if (const LoopRun& beside = choice_.runs[other];
          other != r &&
          ((beside.a == run.a && beside.b == run.b) || (beside.a == run.b && beside.b == run.a)))
        return false;
    const std::vector<bool> with = reached(choice_, old_links_, {r});
    if (with[static_cast<std::size_t>(run.a)] == with[static_cast<std::size_t>(run.b)]) return false;
    double drawn = 0.0;
    for (std::size_t v = 0; v < with.size(); ++v)
      if (!with[v]) drawn += drawn_m3s(v);
    if (drawn <= 0.0) return false;
    const int before = with[static_cast<std::size_t>(run.a)] ? run.a : run.b;
    const double head_m = most_m_[static_cast<std::size_t>(before)] - least_loss_m(run, drawn);
    bool lower = false;
    for (std::size_t v = 0; v < with.size(); ++v)
      if (!with[v] && head_m < most_m_[v] - 1e-9) {
        most_m_[v] = head_m;
        lower = true;
      }
    return lower;
  }

  void try_cut(const std::vector<std::size_t>& runs) {
    const std::vector<bool> with = reached(choice_, old_links_, runs);
    Cut cut;
    // Water that enters runs downhill to where it is drawn, so the place where it enters has at least the
    // head of the lowest of those.
    double lowest_m = 1e300;
    for (std::size_t v = 0; v < with.size(); ++v) {
      if (with[v]) continue;
      cut.needed_m3s += drawn_m3s(v);
      if (drawn_m3s(v) > 0.0) lowest_m = std::min(lowest_m, choice_.least_head_m[v]);
    }
    if (cut.needed_m3s <= 0.0) return;
    const auto left_m = [&](int before, int behind) {
      return most_m_[static_cast<std::size_t>(before)] -
             std::max(lowest_m, choice_.least_head_m[static_cast<std::size_t>(behind)]);
    };
    if (!(lowest_m > -1e6)) return;  // nothing is known of the head there
    for (const std::size_t r : runs) {
      const LoopRun& run = choice_.runs[r];
      if (with[static_cast<std::size_t>(run.a)] == with[static_cast<std::size_t>(run.b)])
        return;  // not part of the cut
      const int behind = with[static_cast<std::size_t>(run.a)] ? run.b : run.a;
      const double head_m = left_m(behind == run.b ? run.a : run.b, behind);
      cut.runs.push_back(r);
      cut.carries_m3s.emplace_back();
      for (const LoopOption& option : run.options)
        cut.carries_m3s.back().push_back(option.pipe ? flow_at(*option.pipe, run.length_m, head_m) : 0.0);
    }
    for (const steady::Link& link : old_links_) {
      if (with[static_cast<std::size_t>(link.a)] == with[static_cast<std::size_t>(link.b)]) continue;
      const int behind = with[static_cast<std::size_t>(link.a)] ? link.b : link.a;
      cut.needed_m3s -= flow_at(choice_.there.terms[link.term],
                                choice_.there.lengths_m[choice_.there.controls[link.forward].lengths],
                                left_m(behind == link.b ? link.a : link.b, behind));
    }
    if (cut.needed_m3s > 0.0) cuts_.push_back(std::move(cut));
  }

  const LoopChoice& choice_;
  std::vector<steady::Link> old_links_;
  int most_;
  std::vector<double> most_m_;  ///< for each place, a head that no design exceeds
  std::vector<Cut> cuts_;
};

}  // namespace

std::vector<double> most_heads_m(const LoopChoice& choice) { return Gatherer(choice, 0).most_heads_m(); }

std::vector<Cut> cuts_of(const LoopChoice& choice, int most_runs) {
  return Gatherer(choice, most_runs).run();
}

double bound_by_cuts(const LoopChoice& choice, const std::vector<Cut>& cuts) {
  LinearProgramme programme;
  std::vector<std::size_t> first;
  for (const LoopRun& run : choice.runs) {
    first.push_back(programme.columns());
    std::vector<LinearProgramme::Entry> whole;
    for (const LoopOption& option : run.options)
      whole.push_back({programme.add_column(option.cost, 0.0), 1.0});
    programme.add_row(whole, 1.0, 1.0);
  }
  for (const Cut& cut : cuts) {
    std::vector<LinearProgramme::Entry> row;
    for (std::size_t i = 0; i < cut.runs.size(); ++i)
      for (std::size_t k = 0; k < cut.carries_m3s[i].size(); ++k)
        // Capped at what is needed: for whole pipes that changes nothing, for shares it tightens the bound.
        row.push_back({first[cut.runs[i]] + k, std::min(cut.carries_m3s[i][k], cut.needed_m3s)});
    programme.add_row(row, cut.needed_m3s, LinearProgramme::endless);
  }
  const auto solved = programme.solve();
  return solved ? solved->cost : LinearProgramme::endless;
}

}  // namespace runnel::sizing
