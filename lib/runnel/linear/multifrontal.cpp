#include "runnel/linear/multifrontal.h"

#include <algorithm>

#include "runnel/base/index.h"
#include "runnel/linear/dense_front.h"

namespace runnel::linear {
namespace {}  // namespace

void Multifrontal::analyse(int n, const std::vector<std::pair<int, int>>& couplings) {
  plan_ = plan_fronts(n, couplings);
  factor_.assign(plan_.factor_size, 0.0);
  stack_.assign(plan_.stack_size, 0.0);
  own_.assign(at(plan_.tallest) * at(plan_.tallest), 0.0);
  work_.assign(at(n), 0.0);
  waiting_.reserve(plan_.blocks.size());
}

void Multifrontal::clear() { std::fill(factor_.begin(), factor_.end(), 0.0); }

/// Adds a child's update to its parent's columns and to the parent's own update.
void Multifrontal::take(const FrontBlock& child, const double* update, const FrontBlock& block, double* own) {
  const int* place = plan_.place_in_parent.data() + child.rows;
  double* columns = factor_.data() + block.values;
  for (int j = 0; j < child.below; ++j, update += child.below) {
    const int column = place[j];
    double* to = column < block.pivots ? columns + at(column) * at(block.height())
                                       : own + at(column - block.pivots) * at(block.below) - block.pivots;
    for (int i = j; i < child.below; ++i) to[place[i]] += update[i];
  }
}

bool Multifrontal::factorise() {
  double* top = stack_.data();
  waiting_.clear();
  for (const FrontBlock& block : plan_.blocks) {
    const std::size_t size = at(block.below) * at(block.below);
    double* own = block.children == 0 ? top : own_.data();
    std::fill(own, own + size, 0.0);
    for (int c = 0; c < block.children; ++c) {
      const FrontBlock& child = *waiting_.back();
      waiting_.pop_back();
      top -= at(child.below) * at(child.below);
      take(child, top, block, own);
    }
    if (!factorise_front(block.height(), block.pivots, factor_.data() + block.values, own)) return false;
    if (own != top) std::copy(own, own + size, top);
    top += size;
    waiting_.push_back(&block);
  }
  return true;
}

void Multifrontal::solve(std::vector<double>& b) {
  for (std::size_t v = 0; v < b.size(); ++v) work_[at(plan_.row_of[v])] = b[v];
  for (const FrontBlock& block : plan_.blocks) {
    const double* column = factor_.data() + block.values;
    const int* rows = plan_.rows.data() + block.rows;
    double* x = work_.data() + block.first;
    for (int k = 0; k < block.pivots; ++k, column += block.height()) {
      const double value = x[k] /= column[k];
      for (int i = k + 1; i < block.pivots; ++i) x[i] -= column[i] * value;
      for (int i = 0; i < block.below; ++i) work_[at(rows[i])] -= column[block.pivots + i] * value;
    }
  }
  for (auto block = plan_.blocks.rbegin(); block != plan_.blocks.rend(); ++block) {
    const int* rows = plan_.rows.data() + block->rows;
    double* x = work_.data() + block->first;
    for (int k = block->pivots; k-- > 0;) {
      const double* column = factor_.data() + block->values + at(k) * at(block->height());
      double value = x[k];
      for (int i = k + 1; i < block->pivots; ++i) value -= column[i] * x[i];
      for (int i = 0; i < block->below; ++i) value -= column[block->pivots + i] * work_[at(rows[i])];
      x[k] = value / column[k];
    }
  }
  for (std::size_t v = 0; v < b.size(); ++v) b[v] = work_[at(plan_.row_of[v])];
}

}  // namespace runnel::linear
