// Codes about what the pipe must stand.
#include "runnel/verdict/codes.h"

namespace runnel::verdict {

std::vector<Code> pressure_codes() {
  return {
      {"static-above-rating", "the pipe may burst when everything is shut",
       "With every tap and float valve shut the water stands still and presses with its full height. At the"
       " point named that is more than the pipe is rated for at this water temperature.",
       "A float valve shuts every night. A line that holds while it runs can burst while it rests.",
       "Take a pipe of a higher rating below that point, or put an open break-pressure box above it.",
       "static pressure must stay below the rating at every point [nrcs-430; found]"},
      {"running-above-rating", "the pipe may burst while the water runs",
       "At the point named the water presses harder while it runs than the pipe is rated for at this water"
       " temperature.",
       "Nothing need be shut for that: it is so all the time.",
       "Take a pipe of a higher rating there, or put an open break-pressure box above it.",
       "pressure must stay below the rating at every point [nrcs-430; found]"},
      {"nothing-to-shut", "a line in which water never stands",
       "No valve stands on the line, and what it ends at has no tap and no float valve.",
       "So the full height of the standing water never presses in it, and the pipe is judged by what runs.",
       "Write every valve and tap that will be there; a cap put on later lets the water stand.",
       "physics: water stands only before something that is shut"},
      {"reducing-valve-fails-open", "a pipe that hangs on a reducing valve",
       "Behind the reducing valve the pipe stands its pressure. If the valve fails open, as old or dirty "
       "ones do, the"
       " full height of the water presses there, and that is more than the pipe is rated for.",
       "A pipe that bursts whenever one part fails has no safety of its own.",
       "Put an open break-pressure box in its place, or a relief valve behind it, or take a stronger pipe.",
       "physics; that valves fail open: common practice, no source"},
      {"static-above-72-percent", "little is left for water hammer",
       "The standing pressure is below the rating, but above 72 % of it.",
       "A valve shut quickly adds a surge on top. Where that is not worked out, practice leaves 28 % for it.",
       "Take a stronger pipe, or work out the surge and make sure that valves close slowly.",
       "at most 72 % of the rating where surge is not worked out [asae-s376; secondary]"},
      {"rating-unknown", "the pipe's rating is not known",
       "The model describes a pipe without saying what pressure it stands.",
       "So nobody can say whether it holds when everything is shut.",
       "Write `rating:` on the pipe, or take it from the catalogue (`runnel pipes`).",
       "static pressure must stay below the rating at every point [nrcs-430; found]"},
      {"pressure-below-air", "the line is under suction",
       "The grade line lies below the pipe there: the pressure inside is less than the air's outside.",
       "Air gets in at every joint that is not tight, and comes out of the water itself at about 7.5 m of"
       " suction. Dirty ground water is drawn in as well. The line then carries less, or stops.",
       "Lower the line there, or make the pipe larger above the point and smaller below it.",
       "air comes out of water at about 7.5 m [air-release-chapter; found]; the water boils at the vapour "
       "limit"},
      {"siphon-loses-water", "a siphon that does not keep its water",
       "A sealed line runs under suction, and air gets in: by a mouth that is not drowned, by a branch, tap "
       "or air"
       " valve where it sucks, or out of the water itself where less than 2.7 m of absolute head is left.",
       "Once air is in, it runs as an open line: over no point above its source, and with less water. Nobody "
       "sees"
       " it in a calculation that takes it as full.",
       "Keep the mouth well under water, take branches off where the line is under pressure, put no air "
       "valve on"
       " the crest, and lower a crest that is too high for the altitude.",
       "2.7 m of absolute head [siphon-practice]; the rest common practice, no source"},
      {"surge-above-rating", "a valve shut quickly may burst the pipe",
       "If the valve named shuts faster than the pressure wave runs to the nearest open water and back, the"
       " speed of the water that it stops turns into pressure, in every pipe on that way. Added to what"
       " stands or runs there, whichever is more, it passes what the pipe stands for a moment: for PE 1.5"
       " times the rating at taps and floats and twice at valves in a line, for PVC and what has no rule the"
       " rating itself. Pipe held fast by the ground counts, the worse; both figures are given. What"
       " branches take off the wave is left out, and so is what the shut end of another branch adds.",
       "It happens in a fraction of a second, each time the valve snaps shut.",
       "Let the valve close slowly, take a larger pipe so that the water runs slower, or a stronger one.",
       "[joukowsky-korteweg]; [pipe-restraint]; PE [awwa-pe, from memory]; PVC [cp-312, secondary]; closure"
       " slower than 2L/a by the linear rule [slow-closure]"},
      {"surge-parts-column", "a valve shut quickly tears the water apart at a high point",
       "The pressure wave of a valve swings back as far below as it rose above. At a high point without an"
       " air valve, on its way to the nearest open water or behind the valve, that is more than 7 m of"
       " suction at sea level, and less where the air is thinner.",
       "The water parts, and slams together again harder than the first blow. Suction draws in dirt, and can"
       " crush thin pipe.",
       "Let the valve close slowly, dig the high point down, take a larger pipe, or set an air valve there.",
       "-7 m at sea level (common practice, from memory); [joukowsky-korteweg]"},
      {"surge-not-judged", "the blow of a quick valve cannot be worked out",
       "A pipe on the way of the wave has no rating, no wall, or no stiffness of the wall in the model, and"
       " its material does not tell it.",
       "Whether it stands a tap that snaps shut is then unknown, not good.",
       "Write `wall:`, `modulus:` and `rating:` on the pipe, or take it from the catalogue.",
       "wave speed from bore, wall and modulus [joukowsky-korteweg]"},
  };
}

}  // namespace runnel::verdict
