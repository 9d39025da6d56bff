#pragma once
// What an answer says of a place, and the table of the kinds of place: all that depends on the kind and on
// nothing else. A new kind answers these questions here and nowhere else.
#include <array>
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/place.h"

namespace runnel::network {

struct PlaceState {
  std::string name;
  PlaceKind kind = PlaceKind::joint;
  std::optional<double> level_m;          ///< boxes, tanks: water level; none for a box whose line runs
                                          ///< part-full at its top
  std::optional<double> grade_m;          ///< joints, outlets: hydraulic grade; none when dry
  std::optional<double> pressure_head_m;  ///< joints, outlets
  std::optional<double> static_head_m;    ///< pressure head with every outlet, tap and float valve shut;
                                          ///< none where no water stands
  double inflow_m3s =
      0.0;  ///< boxes: yield and lines together; tanks: from lines, net of what leaves by lines
  double spill_m3s = 0.0;                             ///< boxes: over the lip
  double flow_m3s = 0.0;                              ///< outlets: what comes out
  double draw_asked_m3s = 0.0, draw_given_m3s = 0.0;  ///< joints
  bool dry = false;                                   ///< no water gets here
  bool top_part_full = false;  ///< boxes: the line leaves part-full; the level is not defined by it
  bool float_shut = false;     ///< tanks
};

/// The places of an answer, in the order of the system's own.
struct PlaceStates {
  std::vector<PlaceState> boxes, tanks, outlets, joints;
};

struct PlaceKindRow {
  PlaceKind kind;
  const char* word;  ///< the same in models, in text and in JSON
  bool open_water;   ///< water stands there with a surface of its own: a pipe that leaves it has a mouth, and
                     ///< one that enters it loses its velocity head
  std::vector<PlaceState> PlaceStates::*states;
  double PlaceState::*gets_m3s;  ///< an outlet what comes out, a joint its draw, else what runs in
};

inline constexpr std::array<PlaceKindRow, place_kinds> place_kind_rows{{
    {PlaceKind::box, "box", true, &PlaceStates::boxes, &PlaceState::inflow_m3s},
    {PlaceKind::tank, "tank", true, &PlaceStates::tanks, &PlaceState::inflow_m3s},
    {PlaceKind::outlet, "outlet", false, &PlaceStates::outlets, &PlaceState::flow_m3s},
    {PlaceKind::joint, "joint", false, &PlaceStates::joints, &PlaceState::draw_given_m3s},
}};

constexpr bool rows_stand_in_order() {
  for (std::size_t i = 0; i < place_kinds; ++i)
    if (place_kind_rows[i].kind != static_cast<PlaceKind>(i)) return false;
  return true;
}
static_assert(rows_stand_in_order());

constexpr const PlaceKindRow& kind_row(PlaceKind kind) {
  return place_kind_rows[static_cast<std::size_t>(kind)];
}
constexpr const char* kind_word(PlaceKind kind) { return kind_row(kind).word; }
constexpr bool open_water(PlaceKind kind) { return kind_row(kind).open_water; }

/// The places of one kind.
inline const std::vector<PlaceState>& of_kind(const PlaceStates& states, PlaceKind kind) {
  return states.*kind_row(kind).states;
}

/// The places of a state, each kind in turn as a System counts them.
inline std::array<const std::vector<PlaceState>*, place_kinds> kinds_of(const PlaceStates& states) {
  std::array<const std::vector<PlaceState>*, place_kinds> kinds{};
  for (std::size_t i = 0; i < place_kinds; ++i) kinds[i] = &(states.*place_kind_rows[i].states);
  return kinds;
}

/// What a place gets: an outlet what comes out, a joint its draw, a tank or a box what runs in [m3/s].
inline double gets_m3s(const PlaceState& place) { return place.*kind_row(place.kind).gets_m3s; }

}  // namespace runnel::network
