#pragma once
// The cheapest pipes with which a model meets its needs: candidates in order of cost, each tried in full
// (trial.h), until one passes. None that is cheaper can pass, since candidates are found by demands weaker
// than the trial (design_tree.h); so the first that passes is the cheapest, and the proof says so.
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/model.h"
#include "runnel/sizing/design_tree.h"
#include "runnel/sizing/trial.h"

namespace runnel::sizing {

/// The pipe of one line.
struct ChosenLine {
  std::string line, pipe;
  double length_m = 0.0;
  std::optional<double> per_metre;  ///< none for a line that was laid already
  double cost = 0.0;
  double flow_m3s = 0.0;  ///< what it is designed for
};

/// What would have to change for a need that no pipe can meet.
struct Shortfall {
  std::string place;
  bool crest = false;              ///< a high point on the way needs more head than the source has
  double short_m = 0.0;            ///< the head that is missing with the widest pipes
  std::optional<double> flow_m3s;  ///< what it could have instead, with all other needs as they are
  std::optional<double>
      second_line_m;  ///< how much head a second line of the widest pipe beside the whole way
                      ///< would leave it over what is asked; negative: not even that is enough
};

enum class SizeOutcome {
  chosen,
  out_of_reach,  ///< no pipe meets some need: `shortfalls`; with loops: the widest pipes do not
  none_does,     ///< flows and heads would work, but everything tried fails something
};

struct SizeAnswer {
  SizeOutcome outcome = SizeOutcome::none_does;
  bool proved = false;   ///< no choice is cheaper
  bool stopped = false;  ///< by the caller, before it was done
  bool by_weight = false;
  bool loops = false;  ///< flows depend on the sizes: found by a search (loop_search.h)
  long solved = 0;     ///< designs solved for their flows and heads alone
  double cost = 0.0, bound = 0.0;
  std::vector<ChosenLine> lines;
  network::Model laid;              ///< with the pipes of that choice, its taps wide open
  Trial trial;                      ///< of what is chosen, or of the widest that failed
  int tried = 0, passed_over = 0;   ///< tried in full; passed over as not sure enough
  std::vector<std::string> failed;  ///< codes of what failed cheaper candidates, each once
  std::vector<Shortfall> shortfalls;
  std::vector<Finding> remarks;  ///< on what is chosen
  DesignTree tree;
};

/// How far a search has come.
struct SizeProgress {
  long looked_at = 0;  ///< choices, in full or for their heads and flows alone
  double cost = 0.0;
  bool best_so_far = false;  ///< the cost is that of the best found; otherwise nothing cheaper works
};

struct SizeLimits {
  int most_tried = 300, most_passed_over = 5000;
  int kicks = 40;  ///< fresh starts of the search, with loops
  std::function<bool()> stop = [] { return false; };
  /// Whether a design (its taps wide open) is tried at all; one that is refused fails as "not-sure-enough".
  std::function<bool(const network::Model&)> accept = [](const network::Model&) { return true; };
  std::function<void(const SizeProgress&)> progress = [](const SizeProgress&) {};
};

/// Chooses the pipes, and remarks on a choice that depends on the constant of the friction formula
/// (constant_spread.h). Findings instead of an answer where the model cannot be sized at all.
Checked<SizeAnswer> size(const network::Model& model, const SizeLimits& limits = {});

}  // namespace runnel::sizing
