#pragma once
// The independent checker's own cutting of a pipeline into reaches, by plan distance and slope length, at
// survey points, parts and changes of pipe.
#include <optional>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/proof/check_law.h"
#include "runnel/proof/check_mouth.h"

namespace runnel::proof {

/// Where two reaches meet. Losses are given as K / (2 g A^2) [s2/m5].
struct Cut {
  LongReal station_m = 0, elevation_m = 0;
  LongReal length_m = 0;  ///< slope length of the reach behind it; 0 at the last
  std::size_t pipe = 0;   ///< of the reach behind it; at the last, of the reach before
  LongReal forward_s2m5 = 0, backward_s2m5 = 0;
  LongReal floor_m = 0;           ///< the grade line cannot lie lower than this while water flows
  std::optional<LongReal> set_m;  ///< a reducing valve here holds the energy behind it at or below this
  bool shut = false, checked = false;
};

struct CutLine {
  std::vector<Cut> cuts;
  std::vector<PlainPipe> pipes;
  LongReal entrance_s2m5 = 0, exit_s2m5 = 0;            ///< flowing from start to end
  LongReal back_entrance_s2m5 = 0, back_exit_s2m5 = 0;  ///< flowing from end to start
  bool shut = false, one_way = false;
  std::optional<PlainMouth> mouth, back_mouth;  ///< of a start, and of an end, in a box or tank
};

/// `from`, `to`: the kinds of place at its ends.
CutLine cut_line(const network::System& system, const network::Line& line, network::PlaceKind from,
                 network::PlaceKind to);

}  // namespace runnel::proof
