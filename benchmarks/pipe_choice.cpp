// How long it takes to choose the cheapest sizes of a tree and to prove that they are, beside a general
// mixed-integer program (GLPK) on the same trees. Asked: 10 lines of 12 sizes in 50 ms, 100 in 10 s.
#include <cstdio>
#include <random>

#include "runnel/proof/check_choice.h"
#include "runnel/sizing/tree_program.h"
#include "sizing/random_tree.h"
#include "sizing/second_programme.h"
#include "timing.h"

namespace {

using runnel::network::TreeChoice;

/// A tree in which every place asks for something between what the widest and the narrowest pipes leave it.
TreeChoice tree_of(int lines, unsigned seed) {
  std::mt19937 chance(seed);
  support::RandomTree of;
  of.branches = lines;
  of.sizes = 12;
  of.crest_chance = 0.0;
  TreeChoice tree = support::random_tree(chance, of);
  std::vector<double> least_m{0.0}, most_m{0.0};
  std::uniform_real_distribution<double> between(0.1, 0.6);
  for (auto& branch : tree.branches) {
    const auto above = static_cast<std::size_t>(branch.above);
    least_m.push_back(least_m[above] + branch.options.back().loss_m);
    most_m.push_back(most_m[above] + branch.options.front().loss_m);
    branch.floor_m = tree.head_m - least_m.back() - between(chance) * (most_m.back() - least_m.back());
  }
  return tree;
}

void compare(int lines, int trees, bool with_second) {
  double worst = 0.0, sum = 0.0, checking = 0.0, second = 0.0;
  int proved = 0;
  for (int i = 0; i < trees; ++i) {
    const TreeChoice tree = tree_of(lines, 100u + static_cast<unsigned>(i));
    const double start = bench::processor_seconds();
    const auto answer = runnel::sizing::cheapest(tree);
    const double found = bench::processor_seconds();
    proved += answer.outcome == runnel::sizing::TreeOutcome::proved &&
              runnel::proof::check(tree, answer.proof).empty();
    checking += bench::processor_seconds() - found;
    worst = std::max(worst, found - start);
    sum += found - start;
    if (!with_second) continue;
    const double before = bench::processor_seconds();
    support::second_programme(tree, true);
    second += bench::processor_seconds() - before;
  }
  std::printf("%4d lines: %d of %d proved, %.1f ms each (worst %.1f), check of the proof %.1f ms", lines,
              proved, trees, 1e3 * sum / trees, 1e3 * worst, 1e3 * checking / trees);
  if (with_second) std::printf(", general program %.1f ms", 1e3 * second / trees);
  std::printf("\n");
}

}  // namespace

int main() {
  std::printf("The cheapest of 12 sizes for every line of a tree, proved\n");
  compare(10, 20, true);
  compare(20, 10, true);
  compare(100, 10, false);
  compare(300, 3, false);
  return 0;
}
