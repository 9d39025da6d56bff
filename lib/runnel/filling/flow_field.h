#pragma once
// The steady physics as a function of levels: what runs into every storage at given levels.
//
// Storages are the tanks, and the boxes whose plan is given. All of them are fixed heads, which cut the
// system into parts that do not depend on each other. Each part keeps a solver of its own, which continues
// from its last flows, and only when a head beside it, or a valve or draw in it, has changed.
#include <Eigen/Core>
#include <cmath>
#include <vector>

#include "runnel/filling/instant.h"
#include "runnel/filling/settled_part.h"
#include "runnel/steady/assemble.h"

namespace runnel::filling {

class FlowField {
 public:
  explicit FlowField(const network::System& system);
  FlowField(const FlowField&) = delete;
  FlowField& operator=(const FlowField&) = delete;

  const steady::Assembly& assembly() const { return assembly_; }
  std::size_t storages() const { return node_.size(); }
  /// The node of a storage in the assembly. Tanks come first, then boxes with a plan, both in model order.
  int node(std::size_t storage) const { return node_[storage]; }
  /// The largest flow of springs and pipes so far; flows far below it count as none.
  double scale_m3s() const { return scale_m3s_; }
  /// Newton steps so far.
  long work() const { return work_; }

  // Float valves, numbered as by `float_groups`.
  std::size_t floats() const { return valve_.size(); }
  void set_valve(std::size_t group, Valve valve) {
    slopes_known_ = slopes_known_ && valve_[group] == valve;
    valve_[group] = valve;
  }
  Valve valve(std::size_t group) const { return valve_[group]; }
  /// Whether a float valve holds the level of the storage.
  bool held(std::size_t storage) const;

  /// Sets what a joint draws from now on, and the most that an outlet lets out (any: `steady::unbounded`).
  void set_joint_draw(std::size_t joint, double m3s);
  void set_outlet_most(std::size_t outlet, double m3s);
  /// Sets the net inflow that a held valve has to maintain, which is what is drawn.
  void set_need(std::size_t storage, double m3s) { need_[storage] = m3s; }

  /// Lets a storage follow at once, or no longer. With a mere film over a mouth at that elevation it holds
  /// next to nothing: like a box without plan it gives what it gets, and its head is found with the flows.
  void set_follows(std::size_t storage, bool follows, double mouth_m = 0.0);
  bool follows(std::size_t storage) const { return follows_[storage]; }
  double mouth_m(std::size_t storage) const { return mouth_m_[storage]; }

  /// The flow through a float valve.
  double passes_m3s(std::size_t group, const Instant& now) const {
    double sum = 0.0;
    for (int link : float_links_[group]) sum += now.flow_m3s[static_cast<std::size_t>(link)];
    return sum;
  }

  /// The sum of what a storage's spring gives and the flows to it and from it in all its lines, unsigned.
  double through_m3s(std::size_t storage, const Instant& now) const {
    double sum = assembly_.kernel.nodes[static_cast<std::size_t>(node_[storage])].inflow_m3s;
    for (int link : links_[storage]) sum += std::abs(now.flow_m3s[static_cast<std::size_t>(link)]);
    return sum;
  }

  /// Solves at these levels, one a storage. Returns false if some part did not settle.
  bool evaluate(const std::vector<double>& level_m, Instant& out);

  /// d net / d level [m2/s], from the linear model of the flows: computed at these levels if `fresh`, else
  /// those computed last, unless a valve or a law has changed since. Returns whether they are new.
  bool slopes(const std::vector<double>& level_m, bool fresh, Eigen::MatrixXd& out);
  /// To be called when other laws hold, so that slopes are computed anew.
  void forget_slopes() { slopes_known_ = false; }

 private:
  /// A part, and which of its places are storages: (own place, storage).
  struct Piece {
    SettledPart part;
    std::vector<std::pair<int, std::size_t>> borders;    ///< storages at a fixed level
    std::vector<std::pair<int, std::size_t>> followers;  ///< storages that follow at once
  };
  void find_storages(const network::System& system);
  void cut();
  Piece piece_of(Part part);
  void apply_draws();
  void apply_valves();
  bool solve_all(const std::vector<double>& level_m);
  void work_out_slopes(const std::vector<double>& level_m);
  void gather(Instant& out);
  void gather_piece(const Piece& piece, Instant& out) const;
  bool hold_levels(const std::vector<double>& level_m, Instant& out);
  bool at_cap(std::size_t group, int link, const Instant& out) const;
  Holding holding(std::size_t group, const Instant& out) const;
  double felt_cap(std::size_t group, const Instant& out) const;
  double cap_step(std::size_t group, const Instant& out, double missing) const;

  steady::Assembly assembly_;
  std::vector<int> node_, storage_of_node_;
  std::vector<std::vector<int>> links_;        ///< one list a storage
  std::vector<std::vector<int>> float_links_;  ///< one list a float valve
  std::vector<std::size_t> hangs_in_;          ///< one a float valve: its storage
  std::vector<char> shut_anyway_;              ///< one a link: shut whatever float valves do
  std::vector<Piece> pieces_;
  std::vector<std::pair<int, int>> place_of_link_;  ///< link -> piece, link within it
  std::vector<std::pair<int, int>> place_of_node_;  ///< place that is not fixed -> piece, place within it
  std::vector<Valve> valve_;                        ///< one a float valve
  std::vector<bool> follows_;
  std::vector<double> mouth_m_;
  std::vector<double> need_;    ///< one a storage
  std::vector<double> cap_;     ///< one a float valve: the most that it passes while it holds [m3/s]
  Eigen::MatrixXd slopes_m2s_;  ///< as computed last
  bool slopes_known_ = false;
  double scale_m3s_ = 1e-9;
  long work_ = 0;
};

}  // namespace runnel::filling
