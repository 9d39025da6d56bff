#pragma once
// What an answer with several runs comes to, in one sentence. Not for users of the library.
#include <string>
#include <vector>

#include "runnel/verdict/answer.h"

namespace runnel::verdict {

/// Of the run that leads, and what stands against it in the others.
Sentence whole_sentence(const Answer& answer);

/// A system under one of its settings.
struct SettingRun {
  const std::string& setting;
  const network::System& system;
};

/// Settings that ask for less than the model as drawn, where that may be why they do no worse; empty if none
/// does.
Sentence asking_less(const network::System& drawn, const std::vector<SettingRun>& runs);

/// How a later turn of a setting is named: "hours 17 to 20", or "box service, hours 17 to 20".
std::string name_of_turn(const std::string& setting, const std::string& hours);

/// Whether some need was judged.
bool any_judged(const std::vector<AskResult>& asks);

/// Whether some need was judged in the run.
inline bool asks_something(const Run& run) { return any_judged(run.verdict.asks); }

/// Whether a run has what is asked of the model to show for itself: a need that was judged; or what is drawn,
/// or a velocity, where no need is asked.
bool has_to_show(const network::System& system, const std::vector<AskResult>& asks);

}  // namespace runnel::verdict
