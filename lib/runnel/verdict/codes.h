#pragma once
// Every code a finding may carry, explained: what it means, why it matters, what to do, where the rule
// is from. `runnel explain CODE` prints it.
#include <string_view>
#include <vector>

namespace runnel::verdict {

struct Code {
  std::string_view code;
  std::string_view title;    ///< a few words
  std::string_view meaning;  ///< what was seen
  std::string_view why;      ///< why it matters on the ground
  std::string_view remedy;   ///< what to do
  std::string_view source;   ///< where the rule is from; empty for the language's own rules
};

/// All of them, in the order of their codes.
const std::vector<Code>& finding_codes();

/// One of them, or nullptr.
const Code* find_code(std::string_view code);

/// The parts `finding_codes` is put together from.
std::vector<Code> flow_codes();
std::vector<Code> pressure_codes();
std::vector<Code> air_codes();
std::vector<Code> text_codes();
std::vector<Code> model_codes();
std::vector<Code> figure_codes();
std::vector<Code> command_codes();
std::vector<Code> fill_codes();
std::vector<Code> review_codes();
std::vector<Code> size_codes();

}  // namespace runnel::verdict
