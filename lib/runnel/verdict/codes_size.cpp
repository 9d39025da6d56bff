// Codes about the choice of pipe.
#include "runnel/verdict/codes.h"

namespace runnel::verdict {

std::vector<Code> size_codes() {
  return {
      {"not-to-choose-from", "a present pipe that is not among those to choose from",
       "`--present` names a model whose pipes are set beside the choice, and one of its pipes is not in the "
       "list"
       " of the line.",
       "Its price is not known, so it cannot stand in a table of costs.",
       "Add it to the line's `choose`, with its price.", ""},
      {"pipe-not-chosen", "a pipe is left open", "The model leaves open which pipe a line is laid in.",
       "Flows and pressures depend on it.",
       "`runnel size` chooses the cheapest that does; or write one pipe instead of `choose`.", ""},
      {"not-a-price", "not a price", "What stands there is no amount for a length or a piece.",
       "Costs could not be added up.", "Write 0.90 per m, 0.28 per ft or 12 each.", ""},
      {"price-of-nothing", "a price of something unknown",
       "A name under `prices` is that of no pipe, of the catalogue or the model's own, and of no part.",
       "The price would be passed over without a word.",
       "Write the pipe as `runnel pipes` lists it, or the part by its word, as `ball_valve`.", ""},
      {"bad-split", "how often a line may change size", "`split` is not a count from 1 to 8.",
       "It says how many sizes the line may have, one after the other.", "Write `split: 2`, or leave it out.",
       ""},
      {"nothing-to-choose", "nothing is left open", "`size` was run on a model that leaves no pipe open.",
       "There is nothing to choose.",
       "Write `pipe: {choose: pe100 sdr11}` for each line that may still change.", ""},
      {"no-price", "a pipe without a price",
       "A pipe to choose from has no price, and its weight does not follow from its measures.",
       "It could not be compared with the others.", "Add it to `prices:`, or take it out of `choose`.", ""},
      {"velocity-out-of-reach", "no pipe is wide enough for the velocity that is asked",
       "With the flow that is asked, water runs faster than `velocity_at_most` in every pipe that the line "
       "may be laid in, or in the one that is laid.",
       "No choice of the other lines changes that.",
       "Add wider pipes to its `choose`, allow a higher velocity, or ask for less.", ""},
      {"size-not-a-tree", "an open line of several pipes in a loop",
       "A line left open lies in a part of the system with loops or several sources, and changes pipe on its "
       "way.",
       "What each line carries there depends on the sizes, and the search lays each open line in one.",
       "Divide the line at a joint where the pipe changes, or lay it.", ""},
      {"hangs-on-constant", "a margin thinner than a constant in print",
       "What is chosen does with the model's own Hazen-Williams k, and not with every k that books print.",
       "The printed values differ by 4 %, and nobody knows which is right for a given pipe.",
       "Size with the greatest k in print, 10.9031, or by Darcy-Weisbach.", "[savic-walters1997]"},
      {"not-sure-enough", "a choice that may turn out short",
       "`size --sure` passed over a choice, because the chance that some need is met is less than was asked "
       "for.",
       "Levels, bores, roughness and the spring are not known exactly.",
       "Measure again what the ranking names first, or take wider pipe.", ""},
      {"spring-gives-too-little", "more is asked than comes",
       "The needs together are more than the spring or the tank above them gets.",
       "No pipe brings water that is not there.", "Ask for less, or find another spring.", ""},
  };
}

}  // namespace runnel::verdict
