// Codes about water that comes, or does not.
#include "runnel/verdict/codes.h"

namespace runnel::verdict {

std::vector<Code> flow_codes() {
  return {
      {"ask-not-met", "a place gets less than is asked",
       "The model says under `asks` what a place needs, and the running system gives it less.",
       "It is the question the whole calculation was made for: as drawn, the system does not do its work.",
       "See what limits it. If the spring gives all it has and nothing spills, only more spring or storage"
       " helps. If the box spills, the pipe is what limits: a larger bore, a shorter way, or a high point dug"
       " down helps, and the answer names the point that governs.",
       "the model's own asks"},
      {"need-met-only-if", "a need that hangs on what nobody knows exactly",
       "With the values of the model the need is met. With the least bore that the standard allows, pipe "
       "that has"
       " aged, colder water, the survey off by its stated error and the least yield that the bucket tests "
       "allow it is"
       " not. The one of them that turns it alone is named.",
       "Pipe ages, springs vary and walls come out thick. What is met only on the good side may fail in a "
       "few years.",
       "Choose a pipe that leaves more, time the spring again, or take the condition as part of the promise.",
       "walls [iso-11922-1], [astm-d3035; from memory]; yields by Student's t; ageing common practice, no "
       "source"},
      {"float-taken-open", "a full tank is judged as if it had been drawn from",
       "A flow is asked of a tank whose float valve is shut at the level the model starts from. What it gets "
       "is"
       " worked out with the water at the level where the float opens.",
       "At the level as written nothing runs in, and the answer would say nothing about the line.",
       "Nothing, if that is what is meant. Write a lower `level` to see the line filling an empty tank.", ""},
      {"ask-not-judged", "an ask that this command cannot judge",
       "A steady answer shows one moment. How long a tank takes to fill, or what runs into a tank whose"
       " float valve is shut, does not show in it.",
       "A verdict that left it out silently would look better than it is.",
       "`full_within` needs the answer over time. For a shut float valve let the model start from a lower"
       " level.",
       "the model's own asks"},
      {"no-water-arrives", "nothing comes out anywhere",
       "No tap, tank or draw gets any water, and not because every tap is shut.",
       "A system that gives nothing is not a good one just because the model asks for nothing.",
       "See which line is shut, blocked or dry, and why.", "continuity"},
      {"line-not-surveyed", "a line that nobody walked",
       "Only the ends of a line are known, or only its length: it is taken straight between them.",
       "One high point in between can halve the flow or stop it, and traps air; none of that is judged.",
       "Walk the line and give its points under `survey`.", "common practice, no source"},
      {"friction-constants-unusual", "friction constants that no book has",
       "The model sets k, n or m of the Hazen-Williams law outside every published set.",
       "A small k makes any pipe carry anything: the flows are then not those of real pipe.",
       "Leave the constants out, or use a published set.", "published sets [savic-walters1997, from memory]"},
      {"claims-not-judged", "claims that nothing is set beside",
       "The model quotes a proposal under `claims`, and this command only names them.",
       "A claim that stands unchallenged beside an answer looks as if it had been checked.",
       "Run `runnel review`, which sets each beside its own figure.", "the model's own claims"},
      {"overflow-too-small", "an overflow that cannot let the water out",
       "With its line shut a box or tank must let out all that runs in, and its overflow never can.",
       "The water then leaves where nobody meant it to: over the wall, through the lid, into the bank.",
       "Give it a longer lip, a wider standpipe, a larger pipe through the wall, or more holes.",
       "weir, orifice and inlet-control formulas [weir-page], [nrcs-permit], [hds-5]"},
      {"overflow-overtops", "water runs over the wall before the overflow takes it",
       "Over a lip water stands the higher the more leaves by it; here it reaches the top of the wall.",
       "What runs over a wall washes out the ground in front of it, and dirt comes in the same way.",
       "Lower the lip, raise the wall, or give the overflow more length or bore.",
       "weir, orifice and inlet-control formulas [weir-page], [nrcs-permit], [hds-5]"},
      {"overflow-head", "how high water stands over the lip",
       "To let out all that runs in, water stands over the lip of the overflow by the head that is told.",
       "The level in the box, and every static pressure below it, is higher by as much.",
       "Nothing, if there is room below the top of the wall; give that as `rim`.",
       "weir, orifice and inlet-control formulas [weir-page], [nrcs-permit], [hds-5]"},
      {"draw-not-met", "more is drawn than the line can give",
       "A joint draws a fixed amount, and to give it the grade line would have to fall below the pipe.",
       "A pipe that can take in air does not suck: people at that tap get less than they are promised, and"
       " what lies beyond it gets nothing.",
       "Draw less there, or give the line above it more pipe or more water.",
       "physics: a draw that no pipe can give is reported, not delivered"},
      {"outlet-dry", "an open outlet gives no water",
       "The grade line at the outlet lies below it, or no water reaches its line.",
       "Lower outlets take all the water. An outlet that stands dry also lets air into the line.",
       "Throttle or shut the lower outlets, lower the dry one, or enlarge the pipe they share.",
       "physics: an outlet above the grade line gives nothing, and never draws water in"},
      {"line-blocked", "a high point stands above the water",
       "A point of the line is higher than the water that should flow over it.",
       "Where air can get in, water does not run uphill past the level it came from, however low the far end"
       " lies.",
       "Dig the line down at that point, go round the hill, or raise the source. A sealed siphon can pass a"
       " low rise, but must be filled by hand and loses its water when air gets in.",
       "physics: where air can get in, the grade line cannot lie below the pipe"},
      {"check-valve-shut", "a check valve holds",
       "The water beyond the check valve stands higher than the water before it.",
       "Nothing flows through that line now. That may be just what the valve is for.",
       "Nothing, if it is meant so. Else see why the far side stands higher.",
       "physics: a check valve passes water one way only"},
      {"margin-thin", "too close to call",
       "What is asked and what comes differ by less than half a per cent of the head.",
       "Published constants of the same friction formula already differ by 0.3 % in head. With another book"
       " the verdict would turn.",
       "Take it as undecided: survey again, use the true bore of the pipe you will buy, or choose a pipe that"
       " leaves more.",
       "published sets of constants differ by 0.33 % [hazen-williams-sets; computed]; 0.5 % is our own "
       "limit"},
      {"hazen-williams-range", "the friction formula is used outside its range",
       "The Hazen-Williams formula was fitted to water near 15 degC in larger pipes at moderate speed. Here "
       "the"
       " bore is under 50 mm, or the Reynolds number under 100,000, or the water faster than 3 m/s.",
       "For cold spring water in small smooth pipe it promises up to 17 % too much flow at C = 150.",
       "Write `friction: darcy-weisbach`, or use a lower C, and see whether the verdict holds.",
       "[hazen-williams-limits; from memory]; Liou 1998 on its narrow range [liou1998; found]"},
      {"friction-transition", "the friction loss is uncertain",
       "The flow is neither smooth nor fully turbulent: its Reynolds number lies between 2000 and 4000, where"
       " turbulence comes and goes in puffs.",
       "No formula is sure there. Ours joins the laminar law to the turbulent one and lies up to about a"
       " quarter below the formula of Churchill, which runs through all regimes: so much more may be lost.",
       "Leave a margin: an ask that is met by less than that is not sure.",
       "Reynolds number from 2000 to 4000; Churchill 1977 [churchill1977; formula secondary]"},
      {"box-spills", "the spring gives more than the pipe takes",
       "The collection box stands at its lip and the rest runs over.",
       "That is how a healthy box works. The overflow must be able to carry it, also in the wettest month.",
       "Lead it away over stone or pipe so that it does not undermine the box. If the water is wanted below,"
       " a larger pipe would carry it.",
       "physics: the box stands at its lip and spills what the line does not carry"},
      {"box-top-part-full", "the top of the line runs part-full",
       "The pipe could carry more than the spring gives, so the water line stands below the outlet's crown "
       "and"
       " the top of the pipe is partly filled with air.",
       "It is no fault. But no level can be given for the box, and air travels with the water.",
       "Vent the line just below the box and lay its top with an even fall, so that air finds its way back.",
       "physics: below the outlet's crown the grade line at the box is not a level"},
      {"shallow-box", "too little water over the outlet",
       "To get into the pipe the water needs its velocity head and the entrance loss; the depth of water over"
       " the outlet is less than three times that.",
       "The entrance may govern instead of the pipe, and a whirl draws air into the line. The velocity head,"
       " which is neglected at places, is not small here.",
       "Lower the outlet, raise the lip, or start the line in a larger pipe.",
       "own rule; no published limit used"},
      {"mouth-governs", "the mouth in the box holds the flow back",
       "A mouth that is hardly covered lets water in over a weir, or through a hole once its crown is "
       "drowned, as"
       " the inlet of a culvert does. Here that asks for more water over the pipe than the line behind it "
       "does.",
       "The line carries less than its length and fall would let it, and the head behind the mouth is lost. "
       "The"
       " formulas are fitted to culverts: good to 10 % at best, and untested below 0.1 m of bore.",
       "Lay the mouth deeper under the lip, or begin the line in a larger pipe.",
       "inlet control of culverts [hds-5]; untested below 0.1 m from memory"},
      {"thin-cover", "the lip stands less than a bore over the outlet",
       "Elevations are of the middle of the pipe. Below some one and a half bores of cover the mouth itself "
       "decides"
       " how much gets in.",
       "What the survey or the mason misses by a little changes the flow by much, and a whirl may draw air "
       "in.",
       "Lay the outlet deeper, or raise the lip.",
       "common practice, no source; where the mouth governs: [hds-5]"},
      {"thin-fall", "a line falls less than its own bore",
       "Elevations are of the middle of the pipe. Taken at its top or its bottom they are half a bore off, "
       "and that"
       " is much of such a fall, or all of it.",
       "The flow may be far from what was worked out, or nothing may flow.",
       "Measure both ends again, to the middle of the pipe, or give the line more fall.",
       "common practice, no source"},
      {"velocity-high", "the water runs fast", "The mean velocity is above 5 ft/s (1.5 m/s), or above 3 m/s.",
       "A valve that shuts quickly on fast water makes it hammer; above 3 m/s grit wears pipe and fittings.",
       "A larger pipe on that stretch, or valves that shut slowly.",
       "5 ft/s [nrcs-430; from memory]; 3.0 m/s [jordan1980; from memory]"},
      {"velocity-low", "the water runs slowly", "The mean velocity is below 0.7 m/s.",
       "Sand and silt settle in the low points, and air bubbles are not carried along.",
       "Keep grit out at the box, and put a washout at each low point.",
       "0.7 to 3.0 m/s [jordan1980; from memory]"},
      {"no-answer", "the calculation did not settle",
       "After all its steps the balances of water and head do not close, or a number left the range of the"
       " machine.",
       "Numbers that do not balance are no answer, so none is given.",
       "Check the model for lengths or bores far out of the ordinary. If they are right, send it to us: this"
       " should not happen.",
       "both balances must close before an answer is given"},
      {"check-failed", "the answer failed its own check",
       "Every answer is worked out a second time from the raw laws by a part that shares nothing with the"
       " first. The two do not agree here.",
       "One of them is wrong.", "Do not rely on the answer, and send us the model.",
       "the independent checker"},
  };
}

}  // namespace runnel::verdict
