#pragma once
// What a steady answer means to the person who asked: does it deliver, by how much, and what else is
// worth knowing before anyone digs.
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/filling/lasting.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/air_answer.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/siphon_rules.h"

namespace runnel::verdict {

/// An ask whose lines start with air in them.
struct AirAsk {
  std::optional<Figure> at_first;  ///< with all the air that start-up leaves
  std::optional<Figure> most;      ///< by the law of clearing that leaves it most
  std::optional<Figure> without;   ///< once all air is gone
  bool met_without = false;
  std::vector<AirPlace> held;  ///< the air that takes head where it gets least
};

/// One ask, judged.
struct AskResult {
  network::Ask ask;
  bool judged = false;  ///< false: this answer cannot tell (`full_within`, a shut float valve)
  std::string why_not_judged;
  bool met = false;
  Figure asked;               ///< flow [m3/s], pressure [Pa] or duration [s]
  std::optional<Figure> got;  ///< none where no water stands. With air in the lines: what comes when the
                              ///< current has carried off what it can, by the law that carries off least
  std::optional<double> met_until_s;  ///< met at first; `got` is what it gets once tanks are drawn down
  bool met_only_primed = false;       ///< met by a siphon; `got` is what it gets once that has lost its water
  std::optional<AirAsk> air;          ///< none where no air makes a difference
  /// Met only once the air is gone, and nothing is sure to carry it off.
  bool held_by_air() const { return judged && !met && air && air->met_without; }
  /// What it gives over what is asked; negative when it falls short. Zero if not judged.
  double margin_si() const { return got && judged ? got->si - asked.si : 0.0; }
};

struct FlowVerdict {
  bool good = false;                          ///< settled, every judged ask met, no finding is an error
  Sentence sentence;                          ///< one plain sentence
  std::vector<AskResult> asks;                ///< in the model's order
  std::vector<Finding> findings;              ///< errors first, then warnings, then notes
  std::optional<AirAnswer> air;               ///< none if nothing was settled
  std::optional<AfterSiphons> after_siphons;  ///< none if every sealed line keeps its water
  std::optional<filling::Lasting> lasting;    ///< none if no tank gives more than it gets
};

/// Judges an answer. `more` are findings from elsewhere, to be sorted in. The system must outlive the
/// verdict. Never throws; a state that is not settled gives a verdict that says so and judges nothing.
FlowVerdict judge_flow(const network::System& system, const steady::State& state,
                       const std::vector<Finding>& more = {});

/// Every ask against the answer.
std::vector<AskResult> judge_asks(const network::System& system, const steady::State& state);

/// The one sentence, from asks, air and findings already in the verdict.
Sentence flow_sentence(const network::System& system, const steady::State& state, const FlowVerdict& verdict);

}  // namespace runnel::verdict
