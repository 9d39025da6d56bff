#pragma once
// A kernel solved again and again. Its shape (places, links, which controls and pipes each link has) is
// analysed once; every figure in it may be changed in between, and the answer after a small change is found
// from the last one in a few steps. No solve after the first allocates (unless it takes thousands of steps to
// settle, steady/slow_settling.h).
#include <cstdint>
#include <vector>

#include "runnel/steady/newton_steps.h"
#include "runnel/steady/slow_settling.h"

namespace runnel::steady {

class KernelSolver {
 public:
  explicit KernelSolver(Kernel kernel, const NewtonOptions& options = {});
  KernelSolver(const KernelSolver&) = delete;
  KernelSolver& operator=(const KernelSolver&) = delete;

  const Kernel& kernel() const { return kernel_; }

  // Changes, all in the kernel's own terms (kernel.h). A place stays fixed or free; a link keeps its ends,
  // its number of pipes and of controls. A slot that is not needed is a pipe of no length, or a control whose
  // sink is so low that it never governs (`idle`).
  void set_head(int node, double head_m);  ///< of a fixed place
  void set_inflow(int node, double inflow_m3s);
  void set_lip(int node, double lip_m);
  void set_draw(int node, double draw_m3s, double floor_m);
  void set_shut(int link, bool shut);
  void set_most(int link, double most_m3s);
  void set_start(int link, double start_m3s, double smooth_m3s);
  /// One pipe of a link, numbered within the link.
  void set_pipe(int link, int pipe, const losses::PipeFriction& friction);
  /// One control of a link, by its index in Kernel::controls. Its `lengths` and `mouth` stay what they were;
  /// `lengths_m` holds one length for each pipe of the link.
  void set_control(int link, std::uint32_t control, const Control& to, const double* lengths_m);
  static Control idle(Control control);
  /// Precondition: the link has a mouth at that end.
  void set_mouth(int link, bool forward, const LinkMouth& mouth);

  /// Solves from nothing.
  const KernelState& solve();
  /// Solves from the last settled state, or from nothing if there is none or it leads to no answer.
  const KernelState& solve_near();
  /// The last answer.
  const KernelState& state() const { return steps_.work().state; }
  /// Whether the last answer was found from the one before.
  bool found_near() const { return found_near_; }

 private:
  Link& changed(int link);
  KernelNode& changed_place(int node);
  void take_over();

  Kernel kernel_;
  NewtonSteps steps_;
  SlowSettling slow_;
  std::vector<std::uint32_t> changed_links_;
  bool places_changed_ = false, controls_changed_ = false;  ///< whether the workspace must read them again
  bool settled_before_ = false, found_near_ = false;
};

/// Searches from nothing. What is found, or else the last try, is in the state of `steps`.
void search(NewtonSteps& steps, SlowSettling& slow);
/// Searches from the present state (Workspace::start_from); returns false if it leads to no answer.
bool search_near(NewtonSteps& steps);

}  // namespace runnel::steady
