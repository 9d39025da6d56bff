#include "runnel/sizing/split.h"

#include <algorithm>
#include <cmath>
#include <limits>

#include "runnel/base/index.h"
#include "runnel/proof/check_choice.h"
#include "runnel/sizing/design_loops.h"
#include "runnel/sizing/loop_split.h"
#include "runnel/sizing/split_program.h"

namespace runnel::sizing {
namespace {

using network::Model;
using network::TreeChoice;

// Head kept back for what the shares leave out: the loss at a change of bore, and the air of the start, which
// may take many metres. More is tried until the design passes or the whole pipelines are cheaper.
constexpr double kept_back_m[] = {0.0, 0.005, 0.02, 0.05, 0.1, 0.2,  0.5,  1.0,
                                  2.0, 3.0,   5.0,  7.0,  9.0, 12.0, 16.0, 24.0};

/// A tree whose lines keep their options where they may be split; the others are what was chosen for them.
struct Splittable {
  TreeChoice choice;
  std::vector<std::vector<int>> sizes;
  std::vector<std::vector<SplitCrest>> crests;

  void keep_only(std::size_t branch, std::size_t option) {
    for (std::size_t k = sizes[branch].size(); k-- > 0;)
      if (k != option) drop(branch, k);
  }
  void drop(std::size_t branch, std::size_t option) {
    const auto take_out = [&](auto& all) { all.erase(all.begin() + static_cast<std::ptrdiff_t>(option)); };
    take_out(choice.branches[branch].options);
    take_out(sizes[branch]);
    for (SplitCrest& crest : crests[branch]) take_out(crest.loss_m);
  }
};

Splittable splittable(const Model& model, const SizeAnswer& answer) {
  Splittable tree{answer.tree.choice, {}, {}};
  for (std::size_t b = 0; b < tree.choice.branches.size(); ++b) {
    const DesignLine& design = answer.tree.lines[b];
    tree.sizes.push_back(design.sizes);
    tree.crests.push_back(design.crests);
    if (design.line < 0) continue;
    const auto& open = model.pipelines[at(design.line)].choice;
    if (!open || open->sizes > 1) continue;
    for (std::size_t k = 0; k < design.sizes.size(); ++k)
      if (open->among[at(design.sizes[k])].name == answer.lines[at(design.line)].pipe) {
        tree.keep_only(b, k);
        break;
      }
  }
  return tree;
}

SharedLine shared_line(const DesignLine& design, const network::TreeBranch& branch,
                       const std::vector<int>& sizes, const std::vector<double>& shares) {
  SharedLine line{at(design.line), design.forward, {}};
  for (std::size_t k = 0; k < shares.size(); ++k)
    line.sizes.push_back({sizes[k], shares[k], branch.options[k].loss_m, branch.options[k].cost});
  return line;
}

/// Every floor and crest raised by `head_m`, but only as far as the source stands over it: a floor keeps a
/// tenth of that, and a crest half, since one beside the source has next to none and loses next to none.
Splittable higher_by(Splittable tree, double head_m) {
  const double source_m = tree.choice.head_m;
  const auto up = [&](double from_m, double most_share) {
    return std::min(head_m, most_share * std::max(0.0, source_m - from_m));
  };
  for (auto& branch : tree.choice.branches) branch.floor_m += up(branch.floor_m, 0.9);
  for (auto& crests : tree.crests)
    for (SplitCrest& crest : crests) crest.sink_m += up(crest.sink_m, 0.5);
  return tree;
}

/// All choices of `count` out of `of`, as rising lists of places; empty if they are more than `most`.
std::vector<std::vector<std::size_t>> choices(std::size_t of, std::size_t count) {
  constexpr std::size_t most = 2000;
  std::vector<std::vector<std::size_t>> all;
  std::vector<std::size_t> some(count);
  for (std::size_t i = 0; i < count; ++i) some[i] = i;
  while (count <= of && all.size() < most) {
    all.push_back(some);
    std::size_t last = count;
    while (last > 0 && some[last - 1] == of - count + last - 1) --last;
    if (last == 0) return all;
    ++some[last - 1];
    for (std::size_t i = last; i < count; ++i) some[i] = some[i - 1] + 1;
  }
  return {};
}

/// Limits a branch to the sizes, as many as its line may have, that cost least with all others as they are.
/// False if none works.
bool limit_sizes(Splittable& tree, std::size_t branch, int most_sizes) {
  const auto count = static_cast<std::size_t>(most_sizes);
  double best = std::numeric_limits<double>::infinity();
  Splittable limited = tree;
  for (const auto& kept : choices(tree.sizes[branch].size(), count)) {
    Splittable some = tree;
    for (std::size_t k = tree.sizes[branch].size(); k-- > 0;)
      if (std::find(kept.begin(), kept.end(), k) == kept.end()) some.drop(branch, k);
    const SplitAnswer shares = cheapest_split(some.choice, some.crests);
    if (!shares.found || !(shares.cost < best)) continue;
    best = shares.cost;
    limited = std::move(some);
  }
  tree = std::move(limited);
  return std::isfinite(best);
}

/// Lays the shares; a line that gets more sizes than it may keeps the best of them. Nothing if no shares
/// work.
std::optional<SplitLayer> laid_with(const Model& model, const DesignTree& design, Splittable tree) {
  while (true) {
    const SplitAnswer shares = cheapest_split(tree.choice, tree.crests);
    if (!shares.found) return std::nullopt;
    SplitLayer layer(model);
    std::optional<std::size_t> too_many;
    for (std::size_t b = 0; b < shares.shares.size() && !too_many; ++b)
      if (design.lines[b].line >= 0 &&
          !layer.lay(shared_line(design.lines[b], tree.choice.branches[b], tree.sizes[b], shares.shares[b])))
        too_many = b;
    if (!too_many) return layer;
    const int most = model.pipelines[at(design.lines[*too_many].line)].choice->sizes;
    if (tree.sizes[*too_many].size() <= at(most)) return std::nullopt;
    if (!limit_sizes(tree, *too_many, most)) return std::nullopt;
  }
}

/// A design that was laid, if it is cheaper and passes.
std::optional<SplitDesign> tried(const SplitLayer& layer, const SizeAnswer& whole, bool& dearer) {
  SplitDesign design;
  design.pieces = layer.pieces();
  for (const SplitPiece& piece : design.pieces) design.cost += piece.cost;
  dearer = !(design.cost < whole.cost);
  if (dearer) return std::nullopt;
  design.trial = try_out(layer.laid());
  if (!design.trial.good || (design.trial.surge && !whole.trial.surge)) return std::nullopt;
  design.trial = with_round_throttles(std::move(design.trial), layer.laid());
  return design;
}

/// The design that keeps back the least head: the first of `kept_back_m` that passes, refined towards the one
/// before, which did not.
template <class Attempt>
std::optional<SplitDesign> with_least_kept_back(const Attempt& attempt) {
  constexpr int halvings = 6;
  double before_m = 0.0;
  for (const double kept_m : kept_back_m) {
    bool dearer = false;
    auto design = attempt(kept_m, dearer);
    if (dearer) return std::nullopt;
    if (!design) {
      before_m = kept_m;
      continue;
    }
    double low_m = before_m, high_m = kept_m;
    for (int i = 0; i < halvings && high_m > 0.0; ++i) {
      const double middle_m = 0.5 * (low_m + high_m);
      auto closer = attempt(middle_m, dearer);
      (closer ? high_m : low_m) = middle_m;
      if (closer && closer->cost < design->cost) design = std::move(closer);
    }
    return design;
  }
  return std::nullopt;
}

std::optional<SplitDesign> split_tree(const Model& model, const SizeAnswer& answer) {
  const Splittable tree = splittable(model, answer);
  auto design = with_least_kept_back([&](double kept_m, bool& dearer) -> std::optional<SplitDesign> {
    const auto layer = laid_with(model, answer.tree, higher_by(tree, kept_m));
    return layer ? tried(*layer, answer, dearer) : std::nullopt;
  });
  if (!design) return design;
  const network::SplitProof proof = cheapest_split(tree.choice).proof;
  if (proof::check(tree.choice, proof).empty()) design->bound = std::max(0.0, proof.cost);
  return design;
}

/// With loops: only what may be split keeps its options, and the search over the flows starts from what was
/// chosen for it.
struct LoopStart {
  DesignLoops loops;
  std::vector<int> options;
};

LoopStart loop_start(const Model& model, const SizeAnswer& answer, DesignLoops loops) {
  LoopStart start{std::move(loops), {}};
  for (std::size_t r = 0; r < start.loops.lines.size(); ++r) {
    const auto line = at(start.loops.lines[r]);
    const auto& open = *model.pipelines[line].choice;
    auto& options = start.loops.choice.runs[r].options;
    auto& sizes = start.loops.sizes[r];
    std::size_t chosen = 0;
    while (chosen + 1 < sizes.size() && open.among[at(sizes[chosen])].name != answer.lines[line].pipe)
      ++chosen;
    if (open.sizes < 2) {
      options = {options[chosen]};
      sizes = {sizes[chosen]};
      chosen = 0;
    }
    start.options.push_back(static_cast<int>(chosen));
  }
  return start;
}

SharedLine shared_line(const DesignLoops& loops, std::size_t r, const LoopSplit& shares) {
  const LoopRun& run = loops.choice.runs[r];
  SharedLine line{at(loops.lines[r]), shares.flow_m3s[r] >= 0.0, {}};
  for (std::size_t k = 0; k < run.options.size(); ++k)
    line.sizes.push_back({loops.sizes[r][k], shares.shares[r][k],
                          std::abs(loss_m(loops.choice, run, k, shares.flow_m3s[r])), run.options[k].cost});
  return line;
}

/// As with trees, but a run with more sizes than it may have loses the one with the least share.
std::optional<SplitLayer> laid_with(const Model& model, DesignLoops loops, LoopSplit shares) {
  while (shares.found) {
    SplitLayer layer(model);
    std::size_t r = 0;
    while (r < loops.lines.size() && layer.lay(shared_line(loops, r, shares))) ++r;
    if (r == loops.lines.size()) return layer;
    const auto& of = shares.shares[r];
    std::size_t least = of.size();
    for (std::size_t k = 0; k < of.size(); ++k)
      if (of[k] > 0.0 && (least == of.size() || of[k] < of[least])) least = k;
    if (least == of.size() || of.size() < 2) return std::nullopt;
    auto& options = loops.choice.runs[r].options;
    options.erase(options.begin() + static_cast<std::ptrdiff_t>(least));
    loops.sizes[r].erase(loops.sizes[r].begin() + static_cast<std::ptrdiff_t>(least));
    shares = split_near(loops.choice, shares);
  }
  return std::nullopt;
}

/// Raises the head that every place and every point on the way must have.
void raise(LoopChoice& choice, double head_m) {
  for (double& least_m : choice.least_head_m) least_m += head_m;
  for (LoopRun& run : choice.runs)
    for (LoopOption& option : run.options)
      for (steady::Control& control : option.law.controls)
        if (control.from_node && !control.to_node) control.sink_head_m += head_m;
}

std::optional<SplitDesign> split_with_loops(const Model& model, const SizeAnswer& answer,
                                            const std::function<bool()>& stop) {
  auto loops = design_loops(model, PriceList(model));
  if (!loops) return std::nullopt;
  LoopStart start = loop_start(model, answer, std::move(*loops.value));
  const LoopSplit shares = split_loops(start.loops.choice, start.options, stop);
  if (!shares.found || stop()) return std::nullopt;
  return with_least_kept_back([&](double kept_m, bool& dearer) -> std::optional<SplitDesign> {
    if (stop()) return std::nullopt;
    DesignLoops higher = start.loops;
    raise(higher.choice, kept_m);
    const auto layer = laid_with(model, higher, kept_m > 0.0 ? split_near(higher.choice, shares) : shares);
    return layer ? tried(*layer, answer, dearer) : std::nullopt;
  });
}

}  // namespace

std::optional<SplitDesign> split(const Model& model, const SizeAnswer& answer,
                                 const std::function<bool()>& stop) {
  const bool any = std::any_of(model.pipelines.begin(), model.pipelines.end(),
                               [](const auto& line) { return line.choice && line.choice->sizes > 1; });
  if (!any || answer.outcome != SizeOutcome::chosen) return std::nullopt;
  return answer.loops ? split_with_loops(model, answer, stop) : split_tree(model, answer);
}

}  // namespace runnel::sizing
