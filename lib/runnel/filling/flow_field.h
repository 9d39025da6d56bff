#pragma once
// The steady physics as a function of levels: what runs into every storage when the water stands so.
//
// Storages are the tanks, and the boxes whose plan is given. All of them are fixed heads, which cuts the
// system into parts that know nothing of each other: each part keeps a solver of its own, which goes on from
// its last flows, and only when a head beside it, or a float valve in it, has changed.
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
  /// The place of the assembly that a storage is: tanks first, then boxes with a plan, in model order.
  int node(std::size_t storage) const { return node_[storage]; }
  /// The largest flow that springs and pipes have shown so far; what is far below it is none.
  double scale_m3s() const { return scale_m3s_; }
  /// Newton steps so far.
  long work() const { return work_; }

  // Float valves, counted as `float_groups` does.
  std::size_t floats() const { return valve_.size(); }
  void set_valve(std::size_t group, Valve valve) {
    slopes_known_ = slopes_known_ && valve_[group] == valve;
    valve_[group] = valve;
  }
  Valve valve(std::size_t group) const { return valve_[group]; }
  /// A float valve of the storage keeps its level.
  bool held(std::size_t storage) const;

  /// What a joint takes from now on, and what an outlet lets out at most (`steady::unbounded`: all it can).
  void set_joint_draw(std::size_t joint, double m3s);
  void set_outlet_most(std::size_t outlet, double m3s);
  /// The net inflow a held valve has to keep up: what is drawn.
  void set_need(std::size_t storage, double m3s) { need_[storage] = m3s; }

  /// A storage whose water is a mere film over a mouth at that height holds nothing worth speaking of: it
  /// gives at once what it gets, as a box without plan does, and its head is found with the flows.
  void set_follows(std::size_t storage, bool follows, double mouth_m = 0.0);
  bool follows(std::size_t storage) const { return follows_[storage]; }
  double mouth_m(std::size_t storage) const { return mouth_m_[storage]; }

  /// What runs through a float valve.
  double passes_m3s(std::size_t group, const Instant& now) const {
    double sum = 0.0;
    for (int link : float_links_[group]) sum += now.flow_m3s[static_cast<std::size_t>(link)];
    return sum;
  }

  /// What a storage's spring gives and what runs to it and from it through all its lines, all counted.
  double through_m3s(std::size_t storage, const Instant& now) const {
    double sum = assembly_.kernel.nodes[static_cast<std::size_t>(node_[storage])].inflow_m3s;
    for (int link : links_[storage]) sum += std::abs(now.flow_m3s[static_cast<std::size_t>(link)]);
    return sum;
  }

  /// Solves at these levels, one a storage. False: some part did not settle.
  bool evaluate(const std::vector<double>& level_m, Instant& out);

  /// d net / d level [m2/s], from the linear model of the flows: those found at these levels if `fresh`, else
  /// those looked at last, as long as no valve and no law has changed since. True: they are of these levels.
  bool slopes(const std::vector<double>& level_m, bool fresh, Eigen::MatrixXd& out);
  /// Other laws hold: slopes are worked out anew.
  void forget_slopes() { slopes_known_ = false; }

 private:
  /// A part, and which of its places are storages: (own place, storage).
  struct Piece {
    SettledPart part;
    std::vector<std::pair<int, std::size_t>> borders;    ///< at a fixed level
    std::vector<std::pair<int, std::size_t>> followers;  ///< follow at once
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
  std::vector<std::vector<int>> links_;        ///< a storage
  std::vector<std::vector<int>> float_links_;  ///< a float valve
  std::vector<std::size_t> hangs_in_;          ///< a float valve: its storage
  std::vector<char> shut_anyway_;              ///< a link that no float valve opens
  std::vector<Piece> pieces_;
  std::vector<std::pair<int, int>> place_of_link_;  ///< piece, link within
  std::vector<std::pair<int, int>> place_of_node_;  ///< piece, place within, of a place that is not fixed
  std::vector<Valve> valve_;                        ///< a float valve
  std::vector<bool> follows_;
  std::vector<double> mouth_m_;
  std::vector<double> need_;    ///< a storage
  std::vector<double> cap_;     ///< a float valve
  Eigen::MatrixXd slopes_m2s_;  ///< as looked at last
  bool slopes_known_ = false;
  double scale_m3s_ = 1e-9;
  long work_ = 0;
};

}  // namespace runnel::filling
