#pragma once
// The search for reasons: each bound is lifted in turn, and of the bound that gains most it is tried how much
// of it is enough. Not for users of the library.
#include <algorithm>
#include <array>
#include <cstddef>
#include <optional>
#include <set>
#include <string>
#include <vector>

#include "runnel/steady/solver.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/opened_wide.h"
#include "runnel/verdict/way_to_need.h"

namespace runnel::verdict {

// What gains less than a part in a thousand of the need is not what holds it back.
inline constexpr double worth_naming = 1e-3;
// How much deeper a mason can set the mouth of a pipe in an existing box (common practice, no source).
inline constexpr std::array deeper_m{0.1, 0.2, 0.3};

/// Tries one bound after another on one solver, and keeps for each need what gained most.
class ReasonSearch {
 public:
  ReasonSearch(const network::System& system, std::vector<AskResult>& asks);

  void run();

 private:
  /// Whether the budget of lines solved allows another trial, which it then pays for.
  bool afford();
  /// Judged in the state that lasts: a siphon that would lose its water is no cure.
  std::optional<std::vector<AskResult>> needs(const network::System& system, const steady::State& state,
                                              bool of_stores = true) const;
  /// Of something built instead; none if it could not be.
  template <class Built>
  std::optional<std::vector<AskResult>> needs_of(const Built& built) const {
    if (!built) return std::nullopt;
    return needs(*built, steady::solve(*built));
  }
  /// And with the air that start-up leaves in the lines: what would come without it is no promise.
  static std::vector<AskResult> with_air(const network::System& system, std::vector<AskResult> asks);
  std::optional<std::vector<AskResult>> judged(bool of_stores = true);
  static double got_si(const AskResult& r) { return r.got ? r.got->si : 0.0; }
  /// Of two bounds whose lifting brings all that is wanted, the one that would bring more with the tap opened
  /// wide holds the water back.
  static double worth_si(const AskResult& r) { return r.got ? most_si(r) : 0.0; }

  /// Offers the reason to every missed need that gains most by it so far.
  void offer(const Reason& reason, const std::optional<std::vector<AskResult>>& now);
  /// Whether what is offered to a need, or what it has, meets it until stores are drawn down.
  bool for_a_while(std::size_t ask, const std::vector<AskResult>& now) const;
  /// Notes what comes with the bound of a need's reason lifted.
  void promise(const std::vector<AskResult>& now, std::size_t ask);
  /// Another place that gets what it needs as things stand, and would not then.
  std::string short_with(const std::vector<AskResult>& now, const std::string& cured) const;
  void offer(const Reason& reason) { offer(reason, judged()); }

  void shut_taps();
  std::optional<std::vector<AskResult>> needs_at_opening(const std::string& outlet, double bore_m) const;
  void openings();
  void open_tanks(const steady::State& state);
  void other_taps(bool all);
  void tanks_left_to_fill();
  void valves(int line);
  void held_valves(int line);
  void free_ends(const steady::State& state);
  void pipes(int line);
  void high_point(int line, const steady::LineState& run);
  void mouth(int line, const steady::State& state);
  bool takes_only(const std::string& tank) const;
  void sources(const Way& way);
  void follow_pipe(std::size_t ask);
  bool missed_at(const std::string& place) const {
    return std::any_of(missed_.begin(), missed_.end(),
                       [&](std::size_t i) { return asks_[i].ask.at == place; });
  }
  void follow_spring(std::size_t ask);
  void follow_opening(std::size_t ask);
  void follow_dig(std::size_t ask);
  void follow_mouth(std::size_t ask);
  void follow_setting(std::size_t ask);
  void follow_taps(std::size_t ask);
  void follow_filling(std::size_t ask);

  const network::System& system_;
  std::vector<AskResult>& asks_;
  steady::Solver solver_;
  std::size_t left_;
  std::vector<std::size_t> missed_;
  std::vector<double> base_, gain_;
  std::set<std::size_t> cured_by_pipe_;
  std::vector<AirPlace> held_;  ///< air that holds water back as drawn
  bool trying_works_ = false;   ///< what is tried now are pipes, valves and openings, not sources
  bool last_resort_ = false;    ///< what is offered now is for needs that nothing else explains
};

}  // namespace runnel::verdict
