// Codes about tanks over time.
#include "runnel/verdict/codes.h"

namespace runnel::verdict {

std::vector<Code> fill_codes() {
  return {
      {"tank-never-full", "a tank that never fills",
       "At some level below the float valve or the lip just as much runs in as runs out, and there it stays.",
       "The upper part of the tank is never used, and a float valve that never shuts hides that more is drawn"
       " than the line gives.",
       "Raise the source, enlarge the pipe, draw less, or let the water enter above the water level.",
       "computed: the level at which inflow and outflow are equal"},
      {"tank-runs-empty", "a tank that runs empty",
       "More is drawn than runs in and the tank had stored, so for a while only what runs in can be drawn.",
       "Stock goes thirsty, taps run dry, and air gets into the lines that leave the tank.",
       "If more runs in over a whole day than is drawn, a larger tank bridges the hours; else more water, or"
       " fewer heads, must be found.",
       "computed: the draws of the model against what is stored"},
      {"tank-gives-out", "a tank that gives more than it gets",
       "More runs out of the tank than into it, so what comes below is partly or wholly its store. The time "
       "is"
       " what stands above its lowest mouth over the difference of both flows, at the levels of now.",
       "Taken for a spring, a full tank promises for ever what it gives for an hour. After that only what "
       "runs"
       " in runs on.",
       "More spring, less drawn, or draw for some hours and let it fill again: `runnel fill` follows that.",
       "computed: what stands above the mouth, over what goes out less what comes in"},
      {"outlet-dry-at-times", "an outlet that gives nothing at times",
       "While tanks and boxes rise and fall there are instants at which no water comes out of it.",
       "Whoever opens the tap then finds it dry, though it runs when `flow` looks.",
       "See which tank or box runs low at that time; draw less from it, or lead its line out lower.",
       "computed: what comes out at each instant"},
      {"tank-spills", "a tank runs over", "The tank is full to its lip and more runs in than is drawn.",
       "That water is lost to the places before it, and where it runs it makes mud.",
       "A float valve shuts the line; or lead the overflow away through a pipe.", "computed"},
  };
}

}  // namespace runnel::verdict
