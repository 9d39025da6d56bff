#pragma once
// Places that no link answers for: all their links rest, or follow heads elsewhere. Their linear model says
// nothing of their own head, and a trickle that comes to one would drive it to wherever heads are kept.
// What would happen is that its water rises until the first of its links opens, or where more is asked of it
// than comes, sinks until one brings it some. So that link is taken to stand just open, and carries the
// difference.
#include <vector>

#include "runnel/steady/mixed_links.h"
#include "runnel/steady/workspace.h"

namespace runnel::steady {

class StrandedPlaces {
 public:
  /// Allocates what an opening could want.
  void prepare(const Workspace& work);
  /// Moves heads of stranded places to where the first of their links opens and enters its slope in the
  /// linear model. To follow `MixedLinks::linearise` and the choice of holds.
  /// `nothing_m3s`: what a balance may be off.
  void open(Workspace& work, MixedLinks& mixed, double nothing_m3s);

 private:
  /// A link at rest that opens first as the head of a place moves.
  struct Opening {
    int link = -1;
    bool forward = true;
    double move_m = unbounded;  ///< of the head, up or down
    double slope_sm2 = 0.0, per_head = 1.0;
  };
  bool find_stranded(const Workspace& work);
  void offer(const Workspace& work, MixedLinks& mixed, std::uint32_t k, bool forward);
  void take(Workspace& work, std::size_t node, const Opening& opening);

  std::vector<double> answer_;  ///< one a node: how much flow its links answer to its head
  double nothing_m3s_ = 0.0;
  std::vector<Opening> openings_;  ///< one a node
};

}  // namespace runnel::steady
