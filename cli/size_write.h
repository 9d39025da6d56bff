#pragma once
// The model with what was chosen written into it: a text that reads, and runs.
#include <string>

#include "runnel/base/finding.h"
#include "runnel/network/model.h"
#include "runnel/sizing/size.h"

namespace cli {

/// `text` is the model as it was read. Every pipe that was left open gets its name, every tap its throttle;
/// comments are not kept.
runnel::Checked<std::string> written_choice(const std::string& text, const std::string& file,
                                            const runnel::network::Model& model,
                                            const runnel::sizing::SizeAnswer& answer);

}  // namespace cli
