#pragma once
// How sure it is that each need can be met, by samples of what is not known. A sample draws elevations that
// the survey missed, bores and roughness that the pipe really has, and what the spring gives on average;
// every need is then judged by flows and heads as in the choice of pipe (design_tree.h), with taps turned
// anew. Air, surge and time are not sampled.
//
// Sample i depends on the seed and on i alone, so the figures are the same however threads share the work.
#include <cstdint>
#include <functional>
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/network/model.h"

namespace runnel::sizing {

/// One thing that is not known: the survey of a line, the pipe of a line, the spring of a box.
struct Unknown {
  enum class Kind { survey, bore, roughness, yield };
  Kind kind = Kind::survey;
  std::size_t index = 0;  ///< pipeline or box of the model
};

/// All that the model, with its pipes laid, leaves unknown. A `survey_error` is read as twice the standard
/// deviation of a point and of the drift along the walk, common practice, no source; bores lie anywhere in
/// network::bore_range, roughness anywhere from new to aged (network::Unknowns); bucket tests scatter by
/// Student's t.
std::vector<Unknown> unknowns_of(const network::Model& model);

/// The model as sample number `sample` has it: these unknowns drawn, all else as written.
network::Model sampled(network::Model model, const std::vector<Unknown>& unknowns, std::uint64_t seed,
                       std::uint64_t sample);

/// The margin of a place where neither a flow nor a pressure is asked: nothing is sampled there.
inline constexpr double nothing_asked_m = 1e6;

/// The head that each place of `places_asked` has over what it asks for, for one sample, in the turn of the
/// taps in which it has least; far below zero where
/// the spring does not give enough, or where the sample cannot be computed on.
std::vector<double> margins_m(const network::Model& model);

/// Places where something is asked or drawn at a tap, each once, in the order of the asks.
std::vector<std::string> places_asked(const network::Model& model);
/// The place of each of some names among all of them, which must hold it.
std::vector<std::size_t> numbers_in(const std::vector<std::string>& all,
                                    const std::vector<std::string>& some);

/// A figure for each of `places_asked` of a model.
using FiguresOf = std::function<std::vector<double>(const network::Model&)>;

/// The least of such figures over the turns in which the taps are drawn (design_turns.h), at the levels at
/// which needs are judged; `unasked` for a place at which nothing is due in any of them.
std::vector<double> least_of_turns(const network::Model& model, double unasked, const FiguresOf& figures_of);

struct Chance {
  std::string place;
  double chance = 0.0;                    ///< that it holds
  double error = 0.0;                     ///< standard error of the sampling
  double margin_m = 0.0, spread_m = 0.0;  ///< mean and standard deviation of the head over what is asked
};

/// From the margins of all samples; each sample has one list of places.
std::vector<Chance> chances(const network::Model& model, const std::vector<std::vector<double>>& margins);

/// How much of the scatter of the worst place's margin an unknown alone brings about (sureness.h ranks them).
struct Influence {
  Unknown unknown;
  double share = 0.0;
};

}  // namespace runnel::sizing
