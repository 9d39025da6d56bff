#pragma once
// In a link of high conductance, heads determine the flow only to within their own rounding. Once the
// energies close, the flows of a spanning forest of the best conductors are therefore set by continuity:
// they absorb what the others lack, and their energies change by no more than that rounding.
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
  void grow_forest(const Workspace& work);
  void find_leaves(const Workspace& work);
  int cut(const Workspace& work, int leaf);
  int end(const Workspace& work, int node) const;

  std::vector<std::pair<double, std::uint32_t>> order_;  ///< links by falling conductance
  base::Groups groups_;
  std::vector<int> degree_, leaves_;
  /// The exclusive or of the numbers of the forest's links at each place: where one link is left, its number.
  std::vector<std::size_t> links_at_;
};

}  // namespace runnel::steady
