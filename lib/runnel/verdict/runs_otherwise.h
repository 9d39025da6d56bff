#pragma once
// A line that stands still in the state as drawn may run in another state that the system will be in.
#include "runnel/network/system.h"
#include "runnel/steady/state.h"

namespace runnel::verdict {

/// When a line that is blocked in the state as drawn runs after all.
enum class RunsWhen {
  never,
  taps_shut,             ///< while nobody draws at the taps that are drawn at certain hours only
  tanks_full,            ///< once the tanks that gain water have filled
  taps_shut_tanks_full,  ///< when both hold
};

/// Tries these states one after another by solving them. A tap without hours is taken to stay as it is drawn,
/// and a tank that gains nothing keeps its level: neither promises another state.
RunsWhen runs_otherwise(const network::System& system, const steady::State& state, std::size_t line);

/// Whether water passes a line, by number, in a model.
bool runs_in(const network::Model& model, std::size_t line);

}  // namespace runnel::verdict
