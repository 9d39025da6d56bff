#pragma once
// What somebody might do so that a tank lasts or stands high enough: one change of the model each, with the
// words for it. Not for users of the library.
#include <functional>
#include <string>
#include <vector>

#include "runnel/network/model.h"
#include "runnel/verdict/draft.h"

namespace runnel::verdict {

/// One thing somebody might do: a verb in lower case, and the rest without a full stop.
struct Cure {
  const char* verb;
  Sentence what;
  std::function<void(network::Model&)> change;
};

/// Whether water runs from a tank to a place, as the lines are drawn.
bool gives_to(const network::Model& model, const std::string& tank, const std::string& place);

/// Float valves that open far below where they shut, let open just below.
std::vector<Cure> floats_sooner(const network::Model& model);

/// Float valves on the other tanks that have none.
std::vector<Cure> floats_on_others(const network::Model& model, const std::string& tank);

/// Open taps that let out more than is asked there, or may.
std::vector<std::string> taps_that_take_more(const network::Model& model);

/// Lets taps out no more than is asked there.
void throttle(network::Model& model, const std::vector<std::string>& taps);

/// All of them throttled to what is asked.
std::vector<Cure> taps_throttled(const network::Model& model);

/// The tank twice and four times as large.
std::vector<Cure> larger_tanks(const network::Model& model, const std::string& tank);

/// Larger pipe in one of the lines below a tank.
std::vector<Cure> larger_pipes(const network::Model& model, const std::string& tank);
/// Pipe one size larger in one of the lines that bring a tank its water, then two sizes.
std::vector<Cure> larger_pipes_to(const network::Model& model, const std::string& tank);

/// The high points of the lines below a tank and of those that bring it water, dug down a little.
std::vector<Cure> humps_dug(const network::Model& model, const std::string& tank);

/// Air valves at all high points of those lines that have none.
std::vector<Cure> humps_vented(const network::Model& model, const std::string& tank);

/// The high points dug as deep as anybody digs.
std::vector<Cure> humps_dug_deep(const network::Model& model, const std::string& tank);

/// High points of the lines that bring a tank water, dug down, the least depths first.
std::vector<Cure> humps_before_dug(const network::Model& model, const std::string& tank);

/// The way into a tank throttled: one that fills fast takes the head of those before it while its float valve
/// is open.
std::vector<Cure> throttled_floats(const network::Model& model, const std::string& tank);

}  // namespace runnel::verdict
