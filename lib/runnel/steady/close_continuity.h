#pragma once
// A link of high conductance knows its flow from heads only to the rounding of what they are computed from.
// Once the energies close, the flows of a spanning forest of the best conductors are set by continuity
// instead: they absorb what the others lack, and their energies change by no more than that rounding. A
// forest is kept as long as its links are about as good as when it was grown: growing it takes longer than
// using it.
#include <cstdint>
#include <utility>
#include <vector>

#include "runnel/base/groups.h"
#include "runnel/steady/workspace.h"

namespace runnel::steady {

class CloseContinuity {
 public:
  /// Sets the flows of the forest so that every place held by nothing but its balance does balance, and keeps
  /// `net_m3s` up to date. A link that is no two-way law is never turned round for the sake of rounding.
  void run(Workspace& work);
  /// Allocates all that a run could need.
  void prepare(const Workspace& work);

 private:
  bool forest_serves(const Workspace& work) const;
  void grow_forest(const Workspace& work);
  void find_leaves(const Workspace& work);
  int cut(const Workspace& work, int leaf);
  int end(const Workspace& work, int node) const;

  /// What is left of a forest: how many links a place has, and their numbers in one by exclusive or: where
  /// one is left, that is it.
  struct Forest {
    std::vector<int> degree;
    std::vector<std::size_t> links_at;
    std::vector<int> leaves;
  };
  std::vector<std::pair<double, std::uint32_t>> order_;  ///< links by falling conductance
  base::Groups groups_;
  Forest grown_, left_;
  std::vector<double> grown_conductance_;  ///< one a link, when the forest was grown; 0: not to be used
  std::vector<Hold> grown_hold_;           ///< one a node
};

}  // namespace runnel::steady
