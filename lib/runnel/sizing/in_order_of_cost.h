#pragma once
// All choices for a tree that meet its floors, from the cheapest up. The proof says what each part must cost
// at least (tree_program.h), which leads straight to the next choice. So whoever looks for a property that no
// sum expresses takes the first choice that has it, and no cheaper one has it.
#include <cstddef>
#include <optional>
#include <queue>
#include <vector>

#include "runnel/network/choice.h"
#include "runnel/sizing/tree_program.h"

namespace runnel::sizing {

class InOrderOfCost {
 public:
  /// Both must outlive it; the answer must be proved.
  InOrderOfCost(const network::TreeChoice& choice, const TreeAnswer& answer);

  struct Found {
    double cost = 0.0;
    std::vector<int> options;
  };
  /// The next one; nothing if there is none, or if `most_steps` went by without finding it (`tired`).
  std::optional<Found> next(std::size_t most_steps = 2'000'000);
  bool tired() const { return tired_; }
  /// No choice that is still to come costs less.
  double bound() const;

 private:
  /// A partial choice: the branches up to one of them are chosen.
  struct Step {
    int before = -1;
    int option = -1;
    int chosen = 0;
    double cost = 0.0, bound = 0.0;
  };
  struct Later {
    double bound;
    int chosen, step;
    bool operator<(const Later& other) const {
      if (bound != other.bound) return bound > other.bound;
      return chosen != other.chosen ? chosen < other.chosen : step > other.step;
    }
  };

  void expand(int step);
  void open(const Step& step);
  std::vector<int> options_of(int step) const;

  const network::TreeChoice& choice_;
  const network::TreeProof& proof_;
  std::vector<std::vector<std::size_t>> below_;
  std::vector<Step> steps_;
  std::priority_queue<Later> open_;
  bool tired_ = false;
};

}  // namespace runnel::sizing
