#pragma once
// No favourable ruling may rest on a state that the system does not stay in: where one is given, the needs
// are judged here once more on each state it passes into.
#include <algorithm>
#include <catch2/catch.hpp>
#include <string>

#include "runnel/steady/newton.h"
#include "runnel/verdict/answer.h"

namespace runnel::test {

/// The state a run is judged in by name.
inline std::string state_of(const verdict::FlowVerdict& v) {
  std::string state;
  const auto add = [&](const char* more) { state += (state.empty() ? "" : ", ") + std::string(more); };
  if (v.after_siphons) add("siphons broken");
  if (v.lasting) add("tanks drawn down");
  if (v.air && v.air->at_first) add("with its air");
  const auto blocked = [&](bool over) {
    return v.air && std::any_of(v.air->paths.begin(), v.air->paths.end(), [&](const verdict::PathAir& way) {
             return way.start.verdict == air::StartVerdict::blocked && way.start.too_high.has_value() == over;
           });
  };
  if (blocked(false)) add("a way blocked");
  if (blocked(true)) add("a way over its source");
  return state.empty() ? "as it runs" : state;
}

/// Whether a need may be less in a later state, because the condition for it stands in the sentence.
inline bool conditional(const verdict::AskResult& r) { return r.met_until_s || r.met_only_primed; }

inline void check_needs(const char* in, const verdict::Run& run, const network::System& system,
                        const steady::State& state) {
  INFO(in);
  const auto again = verdict::judge_asks(system, state);
  REQUIRE(again.size() == run.verdict.asks.size());
  for (std::size_t i = 0; i < again.size(); ++i) {
    const verdict::AskResult& told = run.verdict.asks[i];
    if (!told.judged || told.cut_off || again[i].ask.kind == network::AskKind::full_within) continue;
    INFO(told.ask.at);
    if (conditional(told))
      CHECK(run.verdict.ruling == verdict::Ruling::only_if);
    else
      CHECK((!again[i].judged || again[i].met));
  }
}

inline void check_ways(const verdict::Run& run) {
  for (const verdict::AskResult& r : run.verdict.asks) {
    // What leaves a spring need not reach it by any way.
    if (!r.judged || r.met_only_primed || r.at_spring) continue;
    int ways = 0, blocked = 0;
    for (const verdict::PathAir& way : run.verdict.air->paths) {
      if (way.path.end != r.ask.at) continue;
      ++ways;
      // A siphon is filled by hand, and the sentence says so.
      const bool by_hand = way.start.too_high && run.verdict.ruling == verdict::Ruling::only_if;
      blocked += way.start.verdict == air::StartVerdict::blocked && !by_hand;
    }
    INFO(r.ask.at);
    CHECK((ways == 0 || blocked < ways));
  }
}

/// What a favourable ruling of a run rests on.
inline void check_that_it_stays(const verdict::Run& run) {
  const verdict::FlowVerdict& v = run.verdict;
  if (!v.good()) return;
  check_needs("as it runs", run, run.system, run.state);
  // Solved once more from nothing: a state told is the one the system is in.
  check_needs("solved again", run, run.system, steady::solve(run.system));
  if (v.lasting) check_needs("tanks drawn down", run, v.lasting->system, v.lasting->state);
  if (v.after_siphons) check_needs("siphons broken", run, v.after_siphons->system, v.after_siphons->state);
  if (!v.air) return;
  if (v.air->at_first)
    for (const std::size_t end : v.air->at_first->ends())
      check_needs("with its air", run, run.system, v.air->at_first->states[end].state);
  check_ways(run);
}

}  // namespace runnel::test
