#pragma once
// A choice of pipe for a network with loops, in plain numbers: fixed draws, one size for each run, and the
// least head that every place must keep.
#include <limits>
#include <optional>
#include <vector>

#include "runnel/losses/friction.h"
#include "runnel/steady/kernel.h"

namespace runnel::sizing {

/// All that a link of the kernel takes from its pipe, where that is more than friction: local losses, crests,
/// mouths.
struct LoopLaw {
  std::vector<steady::Control> controls;  ///< forward, then backward
  std::vector<double> lengths_m;          ///< one for each control
  double start_m3s = 0.0, smooth_m3s = 0.0;
  std::optional<steady::LinkMouth> mouth, back_mouth;
};

struct LoopOption {
  double cost = 0.0;
  std::optional<losses::PipeFriction> pipe;  ///< none: nothing is laid
  LoopLaw law = {};                          ///< for a run that is an existing link
};

struct LoopRun {
  /// The bore of an option [m]; 0 if no pipe is laid.
  double bore_m(std::size_t option) const {
    return options[option].pipe ? options[option].pipe->bore_m() : 0.0;
  }

  int a = 0, b = 0;
  double length_m = 0.0;
  std::vector<LoopOption> options;                           ///< in rising order of cost
  int link = -1;                                             ///< in LoopChoice::there; -1: none yet
  double most_ms = std::numeric_limits<double>::infinity();  ///< the greatest velocity allowed
};

/// What links must bring to a place that is a source itself, such as a tank.
struct LoopInflow {
  int node = 0;
  double flow_m3s = 0.0;
};

struct LoopChoice {
  /// Places, of which those with a fixed head or a lip are sources, and existing links.
  steady::Kernel there;
  std::vector<LoopRun> runs;
  std::vector<double> least_head_m;  ///< for each place; ignored for sources
  std::vector<LoopInflow> inflows;

  bool is_source(std::size_t place) const {
    return there.nodes[place].fixed || there.nodes[place].lip_m < steady::unbounded;
  }
  /// The most head that a source has.
  double source_head_m(std::size_t place) const {
    return there.nodes[place].fixed ? there.nodes[place].head_m : there.nodes[place].lip_m;
  }
  /// Links between two places that no run stands for.
  std::vector<steady::Link> old_links() const;
};

/// A choice once it is solved.
struct LoopDesign {
  std::vector<int> options;  ///< one for each run
  double cost = 0.0;
  double margin_m = 0.0;  ///< least head above what is asked, over all places
};

/// The widest pipe on every run.
std::vector<int> roomiest(const LoopChoice& choice);

double cost_of(const LoopChoice& choice, const std::vector<int>& options);

/// Links of `there`, by number, that are open and that no run lays anew: pipe that stays as it is.
std::vector<int> links_that_stay(const LoopChoice& choice);

/// All that a link takes from the pipe in which it is laid now.
LoopLaw law_of(const steady::Kernel& kernel, const steady::Link& link);

/// The head that an option loses from a to b with a flow in that direction; negative against it. A run that
/// lets nothing through in that direction loses more than any source has.
double loss_m(const LoopChoice& choice, const LoopRun& run, std::size_t option, double flow_m3s);
/// How fast that rises with the flow [s/m2], from its values a little to either side.
double loss_slope_sm2(const LoopChoice& choice, const LoopRun& run, std::size_t option, double flow_m3s);

/// Flow of a run at a loss of head [m3/s].
double flow_at(const losses::PipeFriction& pipe, double length_m, double loss_m);

}  // namespace runnel::sizing
