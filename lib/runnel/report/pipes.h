#pragma once
// The catalogue of pipes, as text and as JSON.
#include <string>
#include <vector>

#include "runnel/pipes/pipe.h"
#include "runnel/report/text.h"

namespace runnel::report {

std::string pipes_text(const std::vector<pipes::Pipe>& pipes, const TextOptions& options);
std::string pipes_json(const std::vector<pipes::Pipe>& pipes);

}  // namespace runnel::report
