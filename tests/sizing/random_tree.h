#pragma once
// Trees by chance for the tests of the choice of pipe, and the slow ways to the same answer.
#include <random>

#include "runnel/network/choice.h"

namespace support {

struct RandomTree {
  int branches = 6, sizes = 4;
  double crest_chance = 0.3;  ///< that a line has a crest between its ends
};

/// Sizes that cost more lose less, as pipes do, by laws that are not those of the library: nothing here
/// depends on how a loss comes about.
inline runnel::network::TreeChoice random_tree(std::mt19937& chance, const RandomTree& of = {}) {
  std::uniform_real_distribution<double> share(0.0, 1.0);
  runnel::network::TreeChoice tree;
  tree.head_m = 100.0;
  std::vector<double> ground_m{99.0};
  for (int b = 0; b < of.branches; ++b) {
    runnel::network::TreeBranch branch;
    branch.above = static_cast<int>(share(chance) * (b + 1));
    const double above_m = ground_m[static_cast<std::size_t>(branch.above)];
    const double end_m = above_m - 25.0 * share(chance) + 4.0;
    ground_m.push_back(end_m);
    const double length_m = 50.0 + 500.0 * share(chance);
    double loss_m = 12.0 * share(chance) + 2.0, price = 1.0 + share(chance);
    for (int k = 0; k < of.sizes; ++k) {
      runnel::network::PipeOption option;
      option.cost = price * length_m;
      option.loss_m = loss_m;
      branch.options.push_back(option);
      loss_m *= 0.25 + 0.4 * share(chance);
      price *= 1.2 + 0.6 * share(chance);
    }
    if (share(chance) < of.crest_chance) {
      const double crest_m = above_m - 6.0 * share(chance), along = share(chance);
      for (auto& option : branch.options) option.need_m = crest_m + along * option.loss_m;
    }
    if (share(chance) < 0.7) branch.floor_m = end_m;
    tree.branches.push_back(branch);
  }
  return tree;
}

}  // namespace support
