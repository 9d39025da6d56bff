// What the words for parts mean, for people who read or write a model.
#include <iterator>

#include "runnel/network/part_table.h"

namespace runnel::network {

namespace {

struct Meaning {
  std::string_view word, meaning;
};

constexpr Meaning meanings[] = {
    {"ball_valve", "A valve with a bored ball, open or shut with a quarter turn."},
    {"gate_valve", "A valve whose gate is screwed up out of the way; open, it hardly hinders the water."},
    {"globe_valve", "A valve that turns the water through a seat; it throttles well and loses much."},
    {"angle_valve", "A globe valve at a corner: water leaves it at a right angle."},
    {"butterfly_valve", "A valve with a disc that turns in the pipe."},
    {"diaphragm_valve", "A valve that squeezes the passage shut with a rubber skin."},
    {"check_valve", "A flap that lets water through one way only; of the swing type."},
    {"check_valve_swing", "A check valve with a flap on a hinge."},
    {"check_valve_lift", "A check valve with a disc that is lifted off its seat; it loses much."},
    {"foot_valve", "A check valve with a strainer, at the foot of a pipe in the water."},
    {"foot_valve_hinged", "A foot valve with a hinged flap."},
    {"union", "A joint that can be undone, so that what stands beside it can be taken out."},
    {"coupling", "A joint between two lengths of pipe."},
    {"elbow_90", "A bend of 90 degrees with a short radius."},
    {"elbow_90_long", "A bend of 90 degrees with a long radius."},
    {"elbow_90_square", "A sharp corner of 90 degrees."},
    {"elbow_45", "A bend of 45 degrees."},
    {"return_bend", "A bend of 180 degrees."},
    {"tee_run", "A tee that the water passes straight on."},
    {"tee_branch", "A tee that the water leaves or enters by the branch."},
    {"entrance_sharp", "The start of a pipe flush with the wall, its edge sharp."},
    {"entrance_projecting", "The start of a pipe that sticks out into the water."},
    {"entrance_rounded", "The start of a pipe with its edge slightly rounded."},
    {"entrance_bell", "The start of a pipe with a bell mouth."},
    {"exit", "The end of a pipe in still water or open air."},
    {"washout", "A valve at a low point that lets water and sand out."},
    {"air_valve", "A valve at a high point that lets air out, and in when the line empties."},
    {"reducing_valve", "A valve that holds a set pressure behind it, however high it is before it."},
    {"valve", "Any other valve; it needs a `loss`."},
    {"fitting", "Anything else that hinders the water; it needs a `loss`."},
};

}  // namespace

std::string_view part_meaning(std::string_view word) {
  for (const Meaning& row : meanings)
    if (row.word == word) return row.meaning;
  return {};
}

}  // namespace runnel::network
