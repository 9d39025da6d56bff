#include "runnel/linear/front_plan.h"

#include <algorithm>

#include "runnel/base/index.h"
#include "runnel/linear/ordering.h"

namespace runnel::linear {
namespace {

using Couplings = std::vector<std::pair<int, int>>;
/// The rows coupled to each row, as one array with offsets: those with smaller numbers if `above`, otherwise
/// those with greater ones.
struct Halves {
  std::vector<int> start, rows;
  Halves(int n, const Couplings& couplings, const std::vector<int>& row_of, bool above)
      : start(at(n) + 1, 0) {
    const auto ends = [&](const std::pair<int, int>& c) {
      const int i = row_of[at(c.first)], j = row_of[at(c.second)];
      return above ? std::pair{std::max(i, j), std::min(i, j)} : std::pair{std::min(i, j), std::max(i, j)};
    };
    for (const auto& c : couplings) ++start[at(ends(c).first) + 1];
    for (int k = 0; k < n; ++k) start[at(k) + 1] += start[at(k)];
    rows.resize(couplings.size());
    std::vector<int> next(start.begin(), start.end() - 1);
    for (const auto& c : couplings) rows[at(next[at(ends(c).first)]++)] = ends(c).second;
  }
};

/// Elimination tree [liu1990].
std::vector<int> elimination_tree(int n, const Halves& above) {
  std::vector<int> parent(at(n), -1), ancestor(at(n), -1);
  for (int k = 0; k < n; ++k)
    for (int p = above.start[at(k)]; p < above.start[at(k) + 1]; ++p)
      for (int i = above.rows[at(p)]; i != -1 && i < k;) {
        const int next = ancestor[at(i)];
        ancestor[at(i)] = k;
        if (next == -1) parent[at(i)] = k;
        i = next;
      }
  return parent;
}

/// Renumbers the rows so that each subtree has consecutive numbers, its root the last.
std::vector<int> postorder(const std::vector<int>& parent) {
  const int n = static_cast<int>(parent.size());
  std::vector<int> size(at(n), 1), end(at(n)), number(at(n));
  for (int k = 0; k < n; ++k)
    if (parent[at(k)] >= 0) size[at(parent[at(k)])] += size[at(k)];
  int roots_end = n;  // filled from the back: parents come after children
  for (int k = n - 1; k >= 0; --k) {
    int& free_end = parent[at(k)] >= 0 ? end[at(parent[at(k)])] : roots_end;
    number[at(k)] = free_end - 1;
    end[at(k)] = free_end - 1;
    free_end -= size[at(k)];
  }
  return number;
}

/// A block while it grows. The rows below are sorted.
struct GrowingBlock {
  int first = 0, last = 0;
  std::vector<int> below;
  long zeros = 0;
  int pivots() const { return last - first + 1; }
};

/// Columns one after the other; a column joins the block before it if it has the same rows below.
std::vector<GrowingBlock> exact_blocks(int n, const Halves& lower, const std::vector<int>& parent) {
  std::vector<GrowingBlock> growing;
  std::vector<std::vector<int>> children(at(n));  // blocks whose last column has this parent
  std::vector<int> seen(at(n), -1);
  for (int j = 0; j < n; ++j) {
    std::vector<int> below;
    const auto take = [&](int row) {
      if (row <= j || seen[at(row)] == j) return;
      seen[at(row)] = j;
      below.push_back(row);
    };
    for (int p = lower.start[at(j)]; p < lower.start[at(j) + 1]; ++p) take(lower.rows[at(p)]);
    for (int c : children[at(j)])
      for (int row : growing[at(c)].below) take(row);
    const bool joins = j > 0 && parent[at(j - 1)] == j && children[at(j)].size() == 1 &&
                       growing.back().below.size() == below.size() + 1;
    if (joins) {
      growing.back().last = j;
    } else {
      growing.emplace_back();
      growing.back().first = growing.back().last = j;
    }
    growing.back().below = std::move(below);
    if (parent[at(j)] >= 0) children[at(parent[at(j)])].push_back(static_cast<int>(growing.size()) - 1);
  }
  for (GrowingBlock& d : growing) std::sort(d.below.begin(), d.below.end());
  return growing;
}

/// Merges a block with the last of its children where that stores few zeros [ashcraft-grimes1989]. The
/// thresholds are CHOLMOD's usual ones, from memory.
std::vector<GrowingBlock> relaxed_blocks(std::vector<GrowingBlock> exact, const std::vector<int>& parent) {
  std::vector<GrowingBlock> kept;
  for (GrowingBlock& d : exact) {
    while (!kept.empty()) {
      const GrowingBlock& child = kept.back();
      const int up = parent[at(child.last)];
      if (up < d.first || up > d.last) break;
      const long columns = child.pivots() + d.pivots(), rows = static_cast<long>(d.below.size());
      const long zeros = child.zeros + d.zeros +
                         child.pivots() * (d.pivots() + rows - static_cast<long>(child.below.size()));
      const double share =
          static_cast<double>(zeros) / static_cast<double>(columns * (columns + 1) / 2 + columns * rows);
      if (!(columns <= 4 || (columns <= 16 && share < 0.8) || (columns <= 48 && share < 0.1) || share < 0.05))
        break;
      d.first = child.first;
      d.zeros = zeros;
      kept.pop_back();
    }
    kept.push_back(std::move(d));
  }
  return kept;
}

class Layout {
 public:
  Layout(FrontPlan& plan, const std::vector<GrowingBlock>& growing, const std::vector<int>& parent)
      : plan_(plan), block_of_(parent.size()) {
    for (std::size_t b = 0; b < growing.size(); ++b)
      for (int j = growing[b].first; j <= growing[b].last; ++j) block_of_[at(j)] = static_cast<int>(b);
    for (const GrowingBlock& d : growing) add(d);
    for (std::size_t b = 0; b < growing.size(); ++b) join(growing, b, parent);
    measure_stack();
  }

  /// Index in the factor of the entry that couples two rows.
  std::size_t slot(int i, int j) const {
    const int column = std::min(i, j), row = std::max(i, j);
    const FrontBlock& block = plan_.blocks[at(block_of_[at(column)])];
    return block.values + at(column - block.first) * at(block.height()) + at(place(block, row));
  }

 private:
  void add(const GrowingBlock& d) {
    FrontBlock block;
    block.first = d.first;
    block.pivots = d.pivots();
    block.below = static_cast<int>(d.below.size());
    block.rows = plan_.rows.size();
    block.values = plan_.factor_size;
    plan_.rows.insert(plan_.rows.end(), d.below.begin(), d.below.end());
    plan_.factor_size += at(block.height()) * at(block.pivots);
    plan_.tallest = std::max(plan_.tallest, block.height());
    plan_.blocks.push_back(block);
  }

  int place(const FrontBlock& block, int row) const {
    if (row < block.first + block.pivots) return row - block.first;
    const int* begin = plan_.rows.data() + block.rows;
    return block.pivots + static_cast<int>(std::lower_bound(begin, begin + block.below, row) - begin);
  }

  void join(const std::vector<GrowingBlock>& growing, std::size_t b, const std::vector<int>& parent) {
    plan_.place_in_parent.resize(plan_.rows.size());
    const int up = parent[at(growing[b].last)];
    if (up < 0) return;
    FrontBlock& above = plan_.blocks[at(block_of_[at(up)])];
    ++above.children;
    const FrontBlock& block = plan_.blocks[b];
    for (int i = 0; i < block.below; ++i)
      plan_.place_in_parent[block.rows + at(i)] = place(above, plan_.rows[block.rows + at(i)]);
  }

  /// Goes through the blocks as the factorisation will, to find how high its stack of updates grows.
  void measure_stack() {
    std::vector<std::size_t> updates;
    std::size_t used = 0;
    for (const FrontBlock& block : plan_.blocks) {
      const std::size_t own = at(block.below) * at(block.below);
      plan_.stack_size = std::max(plan_.stack_size, used + own);
      for (int c = 0; c < block.children; ++c) used -= updates.back(), updates.pop_back();
      used += own;
      updates.push_back(own);
    }
  }

  FrontPlan& plan_;
  std::vector<int> block_of_;
};

}  // namespace

FrontPlan plan_fronts(int n, const Couplings& couplings) {
  FrontPlan plan;
  plan.row_of = minimum_degree(n, couplings);
  std::vector<int> parent = elimination_tree(n, Halves(n, couplings, plan.row_of, true));
  const std::vector<int> number = postorder(parent);
  for (int& row : plan.row_of) row = number[at(row)];
  std::vector<int> renumbered(at(n), -1);
  for (int k = 0; k < n; ++k)
    if (parent[at(k)] >= 0) renumbered[at(number[at(k)])] = number[at(parent[at(k)])];
  parent = std::move(renumbered);

  const Halves lower(n, couplings, plan.row_of, false);
  const std::vector<GrowingBlock> growing = relaxed_blocks(exact_blocks(n, lower, parent), parent);
  const Layout layout(plan, growing, parent);
  for (int v = 0; v < n; ++v) plan.diagonal.push_back(layout.slot(plan.row_of[at(v)], plan.row_of[at(v)]));
  for (auto [i, j] : couplings) plan.coupling.push_back(layout.slot(plan.row_of[at(i)], plan.row_of[at(j)]));
  return plan;
}

}  // namespace runnel::linear
