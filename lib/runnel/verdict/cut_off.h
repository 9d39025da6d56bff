#pragma once
// What a setting shuts off by itself: no water is due there while it is in force.
#include <string>
#include <vector>

#include "runnel/network/model.h"

namespace runnel::verdict {

/// Places with a need or a draw that no source reaches in `run`, though one does in `drawn`, because of a tap
/// or a valve that stands open in `drawn` and shut in `run`. Both are the same model under two settings.
std::vector<std::string> cut_off(const network::Model& drawn, const network::Model& run);

/// Taps that stand shut in `drawn` and that one of its settings opens: they are judged there.
std::vector<std::string> opened_elsewhere(const network::Model& drawn);

/// What is not due in `run`: what it cuts off, and those of `turns` (`opened_elsewhere`) that it leaves shut,
/// whose turn is another setting's.
std::vector<std::string> not_due(const network::Model& drawn, const network::Model& run,
                                 const std::vector<std::string>& turns);

}  // namespace runnel::verdict
