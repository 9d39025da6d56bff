#pragma once
// The system with one bound lifted that the solver cannot lift in place: each is a changed model, resolved
// anew. None where the change does not resolve.
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/reasons.h"

namespace runnel::verdict {

/// One valve wide open. A loss that was stated for a valve part open does not stay with it.
std::optional<network::System> with_open_valve(const network::System& system, const std::string& valve);

/// One tap with another opening [m].
std::optional<network::System> with_opening(const network::System& system, const std::string& outlet,
                                            double bore_m);

/// The next wider opening to try [m], in whole millimetres.
double next_opening_m(double opening_m);

/// The bore of the pipe that an outlet is on [m]: of the widest, if it hangs on a joint.
double bore_behind_m(const network::System& system, int outlet);

/// One named part taken out of a line.
std::optional<network::System> without_part(const network::System& system, const std::string& line,
                                            const std::string& part);

/// What a reducing valve is set to [Pa]; none for other parts.
std::optional<double> set_pressure_pa(const network::System& system, const std::string& line,
                                      const std::string& part);

/// One reducing valve set to another pressure [Pa].
std::optional<network::System> with_set_pressure(const network::System& system, const std::string& line,
                                                 const std::string& part, double set_pa);

/// One line throttled where it ends, by a loss K.
std::optional<network::System> with_throttled_end(const network::System& system, const std::string& line,
                                                  double loss);

/// The mouth of a line, by number, set deeper in its box [m].
std::optional<network::System> with_deeper_mouth(const network::System& system, int line, double by_m);

/// Taps throttled to what is asked of them; those that nothing is asked of are shut.
std::optional<network::System> with_taps_throttled(const network::System& system,
                                                   const std::vector<std::string>& taps);

/// A reason's bound lifted, if it is a part, a pipe, a trench or taps that take the water first.
std::optional<network::System> with_lifted(const network::System& system, const Reason& reason);

/// With the tanks at the level that they come to by themselves; none where no tank rises.
std::optional<network::System> with_tanks_filled(const network::System& system);

/// Tanks that take water and have no float valve to stop it, where no flow is asked of them and nothing runs
/// out of them.
std::vector<std::string> tanks_without_end(const network::System& system, const steady::State& state);

}  // namespace runnel::verdict
