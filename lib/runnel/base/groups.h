#pragma once
// Which things are joined, directly or through others.
#include <cstddef>
#include <vector>

namespace runnel::base {

/// Groups of the numbers 0..n-1, each alone at first. Joining and asking take almost no time, however large
/// the groups: paths are halved as they are walked (union-find, universal textbook matter).
class Groups {
 public:
  Groups() = default;
  explicit Groups(std::size_t n) { part(n); }

  /// Puts each of n numbers back into a group of its own. Allocates nothing if there is room for n already.
  void part(std::size_t n) {
    leader_.resize(n);
    for (std::size_t i = 0; i < n; ++i) leader_[i] = static_cast<int>(i);
  }
  void reserve(std::size_t n) { leader_.reserve(n); }
  std::size_t size() const { return leader_.size(); }

  /// One number that stands for the whole group of `i`.
  int leader(int i) {
    while (of(i) != i) i = of(i) = of(of(i));
    return i;
  }
  bool together(int a, int b) { return leader(a) == leader(b); }
  /// False if they were together already. The leader of `b` then leads both groups.
  bool join(int a, int b) {
    const int first = leader(a), second = leader(b);
    of(first) = second;
    return first != second;
  }

 private:
  int& of(int i) { return leader_[static_cast<std::size_t>(i)]; }
  std::vector<int> leader_;
};

}  // namespace runnel::base
