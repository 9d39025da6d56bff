#pragma once
// The linear system of one Newton step on a network. Link e from place a to b answers a change of heads
// x with a change of flow alpha x_a - beta x_b (alpha, beta >= 0; equal for a full pipe, one of them
// zero where a crest or a reducing valve decouples the ends). The changes must balance at each place:
//
//   sum over links leaving v (alpha x_a - beta x_b) - the same over links arriving + ground_v x_v = rhs_v
//
// Every column sums to ground_v >= 0, so the matrix is a (column) diagonally dominant M-matrix. Places joined
// to the rest by one link are eliminated first, in linear time and without subtraction (each column carries
// its excess over its off-diagonal entries instead of its diagonal), so branched systems need no sparse
// factorisation at all and lose no digits to the spread of conductances. What is left, the looped core, goes
// to Ldl or Multifrontal, or to DominantLu where some link there is not symmetric or the conductances of a
// core small enough for Ldl lie very far apart.
#include <cstddef>
#include <cstdint>
#include <limits>
#include <utility>
#include <vector>

#include "runnel/linear/dominant_lu.h"
#include "runnel/linear/ldl.h"
#include "runnel/linear/multifrontal.h"

namespace runnel::linear {

struct Ends {
  int a = -1, b = -1;  ///< places; -1: a fixed head, which never changes
};

class NodeSystem {
 public:
  NodeSystem(int places, const std::vector<Ends>& links);

  /// Analyses the core for every method now, so that no later `solve` allocates.
  void prepare();

  /// alpha, beta: one a link; ground, rhs, x: one a place. Where pinned[v] is not 0, x[v] is given on entry
  /// and kept. `leak` is the least pivot: a place whose links answer no change of head gets it, so that its
  /// head moves far instead of the system being singular (a symmetric core raises it to what rounding needs).
  /// Returns false if the core could not be factorised.
  bool solve(const std::vector<double>& alpha, const std::vector<double>& beta,
             const std::vector<double>& ground, const std::vector<double>& rhs,
             const std::vector<char>& pinned, double leak, std::vector<double>& x);

  /// The same once more with another `rhs`, by the factors of the last `solve`, for which all else must be as
  /// it was then.
  void solve_again(const std::vector<double>& alpha, const std::vector<double>& beta,
                   const std::vector<double>& rhs, const std::vector<char>& pinned, std::vector<double>& x);

  std::size_t core_size() const { return core_.size(); }

 private:
  struct Peeled {
    int place, parent, link;
  };  ///< parent -1: a root
  struct Core {
    bool symmetric = true;
    double greatest = 0.0, least = std::numeric_limits<double>::infinity();
  };
  Core look(const std::vector<double>& alpha, const std::vector<double>& beta,
            const std::vector<char>& pinned) const;
  void analyse_symmetric();
  template <class Method>
  bool solve_by(Method& method, const std::vector<double>& alpha, const std::vector<char>& pinned,
                double least);
  bool solve_dominant(const std::vector<double>& alpha, const std::vector<double>& beta,
                      const std::vector<char>& pinned, double leak);
  bool solve_core(const std::vector<double>& alpha, const std::vector<double>& beta,
                  const std::vector<char>& pinned, double leak, std::vector<double>& x);

  void take_known_heads(const std::vector<double>& alpha, const std::vector<double>& beta,
                        const std::vector<char>& pinned, const std::vector<double>& x);
  void take_core_rhs(const std::vector<char>& pinned, const std::vector<double>& x);
  void substitute_back(const std::vector<double>& alpha, const std::vector<double>& beta,
                       const std::vector<char>& pinned, std::vector<double>& x) const;

  std::vector<Ends> links_;
  std::vector<std::uint32_t> at_fixed_;  ///< links with one end at a fixed head
  std::vector<Peeled> order_;
  std::vector<int> core_;        ///< places of the looped core
  std::vector<int> core_links_;  ///< links with both ends in the core
  std::vector<std::pair<int, int>> couplings_;
  Ldl ldl_;                    ///< for a small core
  Multifrontal multifrontal_;  ///< for a large core
  bool analysed_ = false;
  DominantLu dominant_;
  enum class Factors { ldl, multifrontal, dominant } factors_ = Factors::ldl;  ///< of the core, the last ones
  std::vector<double> excess_, right_, pivot_, core_rhs_;
};

}  // namespace runnel::linear
