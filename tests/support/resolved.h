#pragma once
// Tests build models by hand. Here they are resolved, so that what takes a System can be asked about a model.
#include <list>
#include <stdexcept>
#include <string>

#include "runnel/network/change.h"
#include "runnel/network/system.h"
#include "runnel/proof/check.h"
#include "runnel/steady/assemble.h"
#include "runnel/steady/state.h"

namespace support {

/// The system of a model that a test means to be right; throws with the first finding if it is not.
inline runnel::network::System resolved(const runnel::network::Model& model) {
  auto system = runnel::network::resolve(model);
  if (!system) {
    for (const auto& finding : system.findings)
      if (finding.severity == runnel::Severity::error)
        throw std::runtime_error("the test's model is wrong: " + finding.code + ": " + finding.message);
  }
  return std::move(*system.value);
}

/// The same, kept until the test program ends: for answers that point into the system.
inline const runnel::network::System& kept(const runnel::network::Model& model) {
  static std::list<runnel::network::System> all;
  return all.emplace_back(resolved(model));
}

/// The system as if a caller had built it in code and changed it.
inline runnel::network::System built(runnel::Checked<runnel::network::System> system) {
  if (!system)
    throw std::runtime_error("the change makes a wrong system: " + system.findings.front().message);
  return std::move(*system.value);
}

}  // namespace support

// The questions that tests ask of a model.
namespace runnel::steady {
inline State solve(const network::Model& model, const Options& options = {}) {
  return solve(support::resolved(model), options);
}
inline Assembly assemble(const network::Model& model, AssemblyOptions options = {}) {
  return assemble(support::resolved(model), options);
}
inline LinePlan plan_line(const network::Model& model, const network::Pipeline& pipeline) {
  const network::System system = support::resolved(model);
  return plan_line(system, *system.line(pipeline.name));
}
}  // namespace runnel::steady

namespace runnel::proof {
inline network::Proof check(const network::Model& model, const network::State& state) {
  return check(support::resolved(model), state);
}
}  // namespace runnel::proof
