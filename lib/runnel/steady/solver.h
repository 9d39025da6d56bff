#pragma once
// Solves a system again and again with one thing changed at a time: another pipe, a crest raised, a level.
// Its structure is analysed once, a change touches only what it must, and the next flows are found from the
// last. `answer` gives what steady::solve would give for the system as it stands.
#include <vector>

#include "runnel/network/working_copy.h"
#include "runnel/steady/assemble.h"
#include "runnel/steady/kernel_solver.h"
#include "runnel/steady/state.h"

namespace runnel::steady {

/// The figures alone. A head means nothing where no water comes (State says where that is).
struct Flows {
  Outcome outcome = Outcome::iteration_limit;
  bool found_near = false;          ///< found from the last flows, in a few steps
  std::vector<double> head_m;       ///< one a place, in the System's numbering
  std::vector<Hold> hold;           ///< one a place
  std::vector<double> line_m3s;     ///< one a line
  std::vector<double> outlet_m3s;   ///< one an outlet
  std::vector<double> surplus_m3s;  ///< one a place: what spills, or what a draw gets
};

class Solver {
 public:
  explicit Solver(const network::System& system, const Options& options = {});
  Solver(const Solver&) = delete;
  Solver& operator=(const Solver&) = delete;

  /// As it stands; it changes with the solver, and so does every copy of it.
  const network::System& system() const { return copy_.system(); }

  // Changes, in numbers of the system; what they may be, what is refused and what is thrown:
  // network/working_copy.h.
  bool lay(int line, int pipe, const pipes::Pipe& by);
  void raise(int line, int point, Length by);
  bool set_valve(int line, int part, double open);
  void yield(int box, Flow flow);
  void level(int tank, Length level);
  void draw(int joint, Flow flow);
  void shut(int outlet, bool shut);
  void open(int outlet, std::optional<Flow> to);

  /// Flows after all changes so far. Allocates nothing, unless it takes thousands of steps to settle.
  const Flows& solve();
  /// The full answer with its proof.
  State answer();

 private:
  void refit(int line);
  void turn(int outlet);
  void read();

  AssemblyOptions options_;
  network::WorkingCopy copy_;
  Assembly assembly_;  ///< above the system's own datum
  double datum_m_;
  KernelSolver kernel_;  ///< heads above `datum_m_`
  std::vector<int> node_of_place_;
  bool current_ = false;  ///< no change since the last solve
  Flows flows_;
};

}  // namespace runnel::steady
