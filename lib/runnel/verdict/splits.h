#pragma once
// Where water divides by centimetres: at a tee that does not run full, and in a box with less water than its
// lines can carry, where each gets what runs over the edge of its mouth.
#include <string>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/draft.h"

namespace runnel::verdict {

struct AskResult;

/// A place, and the lines among which its water divides so: at least two.
struct Split {
  int place = 0;
  std::vector<int> branches;
};

/// All such places of a settled state, in the order of the system's places.
std::vector<Split> splits_of(const network::System& system, const steady::State& state);

/// What is asked, and comes, at each place [m3/s], and what is drawn from tanks over the day; empty if
/// nothing is.
std::vector<double> asked_at_m3s(const network::System& system, const steady::State& state,
                                 const std::vector<AskResult>& asks);

/// Whether some branch may get less than is asked below it while the others carry all that they can.
bool needs_hang_on(const network::System& system, const steady::State& state, const Split& split,
                   const std::vector<double>& asked_m3s);

/// Marks every need that is met only if its branch of a split gets its share (`AskResult::hangs_on`).
void mark_splits(const network::System& system, const steady::State& state, std::vector<AskResult>& asks);

/// Takes over what needs hang on in another state, in which they are met as well; `when` is that state, as in
/// "once tanks are empty".
void also_hang_on(const AskResult& then, const char* when, AskResult& now);
void also_hang_on(const std::vector<AskResult>& then, const char* when, std::vector<AskResult>& asks);

/// "how the water divides at tee decides what tap gets": of a need that hangs on a split.
Sentence hangs_then(const AskResult& then);

/// Whether a need hangs on a split in another state that it does not hang on now.
bool hangs_only_then(const AskResult& now, const AskResult& then);

}  // namespace runnel::verdict
