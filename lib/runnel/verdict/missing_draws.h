#pragma once
// What is missing of all that is drawn by the hour in a run.
#include <functional>
#include <optional>
#include <string>

#include "runnel/filling/fill.h"
#include "runnel/network/system.h"

namespace runnel::verdict {

struct MissingDraw {
  std::string place;
  double missing_m3 = 0.0, asked_m3 = 0.0;  ///< over the run; of a day
};

/// The first tank, tap or joint that is `due` and misses more than a thousandth of what is drawn there in a
/// day: a run is followed no more exactly.
std::optional<MissingDraw> missing_draw(const network::System& system, const filling::FillHistory& history,
                                        const std::function<bool(const std::string&)>& due);

}  // namespace runnel::verdict
