// Codes about the choice of pipe as it is written; what the choice itself says: sizing/codes.h.
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
  };
}

}  // namespace runnel::verdict
