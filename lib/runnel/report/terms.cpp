#include "runnel/report/terms.h"

namespace runnel::report {

const std::vector<Term>& terms() {
  static const std::vector<Term> all{
      {"air pocket", "trapped air, airlock, air lock",
       "Air that is shut in at a high point between two bodies of water. Water must climb over each high "
       "point "
       "without the help of the leg behind it, so several pockets together can stop a line that has plenty "
       "of "
       "fall."},
      {"air valve", "vent",
       "A valve at a high point. It lets air out while the line fills and in while it empties, and keeps the "
       "water in. An open pipe that stands up above the grade line does the same."},
      {"altitude", "", "Height above the sea. The higher the site, the less the air presses on the water."},
      {"bacteria", "germs",
       "Life too small to see. Some of it makes people ill, and clear water may hold it: only a test tells."},
      {"bore", "inside diameter", "The inside diameter of a pipe, the one the water feels."},
      {"break-pressure box", "break pressure tank",
       "A box open to the air on a long fall. The pressure ends there, so that the pipe below need not bear "
       "the whole height."},
      {"bucket test", "timed bucket",
       "How a yield is measured: the time a bucket of known volume takes to fill, several times over."},
      {"bypass", "",
       "A pipe with a valve that leads round a box, so that the box can be cleaned while the water runs on."},
      {"capacity", "", "The most that a line can carry, whatever the spring gives."},
      {"catchment", "spring box, collection box",
       "What gathers the spring: a wall across the seep or a box around it, with a pipe out and an "
       "overflow."},
      {"chlorine", "bleach",
       "What boxes, tanks and pipes are disinfected with, as a strong mix that stands for a day and is then "
       "washed out."},
      {"culvert", "",
       "A short pipe under a road or a bank. How it takes in water has been measured for all depths, and the "
       "mouth of a pipe in a box does the same."},
      {"datum", "",
       "The mark from which all elevations of a model are counted. Any mark will do, but only one."},
      {"derating", "", "Taking a rating down because the water is warm: plastic bears less then."},
      {"draw", "demand", "What is taken from a tank or at a joint."},
      {"elevation", "", "Height above the one mark that the whole model uses; of a pipe, that of its axis."},
      {"first water", "",
       "The time from opening the box until water stands at a place, if the lines were empty. It is told "
       "from the "
       "shortest to the longest, since nobody knows how much runs ahead in a pipe that is not yet full."},
      {"float valve", "float",
       "A valve at a tank or a trough that a float shuts as the water rises, and opens as it sinks."},
      {"friction", "friction loss, head loss, headloss",
       "The height that moving water loses along the pipe. It grows nearly with the square of the flow."},
      {"froude number", "froude",
       "How fast the water in a part-full pipe runs, against how fast a ripple on it travels. Above 1 no "
       "ripple "
       "climbs back up; where such water meets a full pipe it makes a hydraulic jump."},
      {"grade line", "hydraulic grade line, water up to",
       "The line through the heights to which water would rise in open tubes set along the pipe. How far it "
       "lies above the pipe is the pressure. Where it would sink below the pipe, air gathers or water "
       "stops."},
      {"head", "",
       "A height of water. It is the pressure of that much water standing still: 10 m make about 98 kPa, "
       "10 ft about 4.3 psi. In `draws`, `head` is how many animals or persons drink."},
      {"high point", "crest, summit",
       "A place on the line from which the pipe falls both ways. Air gathers there, and water must get over "
       "it."},
      {"hydrant", "",
       "A valve on a standing pipe, to draw much water at once. Shut quickly it strikes the line hard."},
      {"hydraulic jump", "jump",
       "The sudden step where fast water in a part-full pipe strikes slow or standing water. It beats air "
       "into "
       "the water."},
      {"invert", "", "The lowest line inside a pipe."},
      {"joint", "tee",
       "A place where pipelines meet: a tee, a reducer, a plain end. Nothing is stored there."},
      {"k", "loss, loss coefficient, coefficient, local loss",
       "How much height a part takes from the water, counted in velocity heads. A bend has less than one, a "
       "valve nearly shut has hundreds."},
      {"laminar flow", "laminar, turbulent, turbulent flow, turbulence",
       "Slow water in a narrow pipe slides along in layers: that is laminar. Faster water whirls, which is "
       "turbulent and takes more height. Between the two nobody can say exactly what is lost."},
      {"level book", "backsight, foresight",
       "The notes of who levels: a backsight reads the staff on a point whose height is known, a foresight "
       "on one that is wanted."},
      {"lip", "overflow, spillway",
       "The edge over which a box or a tank spills. The water stands no higher."},
      {"low point", "sag",
       "A place on the line from which the pipe rises both ways. Sand and silt settle there."},
      {"margin", "",
       "What is left between a figure and its limit, or between what comes and what is asked. Where what "
       "nobody "
       "knows exactly could use it up, an answer names that as a condition."},
      {"need", "ask",
       "What the owner wants at a place: a flow, a pressure, a tank full in time. Written under `asks`."},
      {"opening", "", "How wide a tap or a valve stands open; of an outlet, the bore of its opening."},
      {"orifice", "orifices",
       "A hole that water runs through. What it lets out grows with the root of the height of water over "
       "it."},
      {"outfall", "", "Where a drain or an overflow lets its water go."},
      {"part-full", "",
       "A pipe that does not run full: water below, air above. It drains as fast as it is fed, and holds no "
       "pressure."},
      {"polyethylene", "pe, hdpe, pex, poly",
       "A tough plastic for pipe, sold in coils. It bears surges well and heat badly."},
      {"pressure", "gauge pressure",
       "How hard the water presses, counted from the air around. Running water presses less than standing "
       "water, because friction takes some."},
      {"pressure class", "sdr, dr, schedule",
       "How thick the wall of a pipe is for its size, and so what it bears. With SDR and DR a smaller number "
       "is a stronger pipe; with schedules, a larger one."},
      {"pvc", "", "A stiff plastic for pipe, sold in lengths. It bears surges badly."},
      {"range", "",
       "What comes from the bad end of all that nobody knows exactly to its good end: old or new pipe, the "
       "least or the greatest bore. The spring gives the least and the most that its bucket tests leave "
       "open."},
      {"rating", "rated, pressure rating",
       "The pressure a pipe may bear for its whole life, at a stated temperature. Warm plastic bears less."},
      {"reducer", "reducers", "A short piece that leads from one bore to another."},
      {"reducing valve", "pressure reducing valve",
       "A valve that keeps the pressure behind it at a set figure, however high it is before it."},
      {"refill", "refill point",
       "Where a pipe that runs part-full fills again: below it the pressure counts, above it air stands over "
       "the "
       "water."},
      {"residual", "",
       "What is left over when an answer is worked out a second time. It should be nothing but rounding."},
      {"reynolds number", "reynolds",
       "Speed times bore over how thick the water is. Where it is small the flow is laminar, where it is "
       "great "
       "it is turbulent."},
      {"roughness", "",
       "How rough the wall of a pipe is, as the height of grains of sand that would act alike."},
      {"running", "running pressure",
       "The pressure while the water runs. It is less than the static pressure, because friction takes "
       "some."},
      {"sealed line", "sealed, airtight",
       "A line into which no air can get: every joint is tight, and no air valve stands on its high points. "
       "Only a line that must run as a siphon needs to be one; write `air: sealed`."},
      {"seep", "seepage", "Water that comes out of the ground over some width and not at one point."},
      {"sequent peak", "sequent",
       "A way to find the least storage for a year: the greatest want of water that piles up between one "
       "full tank and the next."},
      {"setting", "",
       "A named way of running the system: which valves are shut, how much the spring gives, where a tank "
       "stands. `normal` is the system as drawn."},
      {"siphon", "",
       "A pipe that climbs above the water it starts from and falls again. It runs while it is full and "
       "tight; "
       "air that gathers on top stops it."},
      {"spill", "", "Water that runs over a lip."},
      {"static pressure", "static, shut pressure, all shut",
       "The pressure with everything shut and the water at rest. It depends on the height below the water "
       "level above and on nothing else, and the pipe must bear it."},
      {"station", "chainage",
       "The distance along a line on the level, as on a map, from its start. A tape on a slope reads more."},
      {"suction", "", "Less pressure than that of the air around: the pipe draws in what it can, air too."},
      {"surge", "water hammer, hammer",
       "The blow that running water gives when it is stopped quickly. It comes on top of the static "
       "pressure, "
       "and is the smaller the slower a valve is shut."},
      {"survey", "levels", "The ground along a line as it was measured: stations and elevations."},
      {"tap", "outlet, hose",
       "Where water leaves the system: an opening in the air at the end of a line or on a joint. In a model "
       "it "
       "stands under `outlets`, and may be shut."},
      {"tapstand", "", "A post with one or more taps for a group of houses."},
      {"throttle", "",
       "A narrow opening or a valve partly shut, put there to hold water back from one place for another."},
      {"trench", "", "The ditch the pipe is laid in. To lower a high point, the trench is dug deeper there."},
      {"trough", "", "What stock drinks from. In a model it is a tank, as a rule with a float valve."},
      {"vapour pressure", "vapour",
       "The pressure under which water boils even when cold. It is what sets the limit to how high a siphon "
       "climbs."},
      {"velocity", "", "How fast the water runs in the pipe: the flow over the area of the bore."},
      {"velocity head", "",
       "The height that the speed of the water is worth: its square over twice gravity. Losses of parts are "
       "counted in it."},
      {"viscosity", "",
       "How thick the water is to its own flow. Cold water is thicker: near freezing nearly twice as thick "
       "as "
       "in summer."},
      {"washout", "flush valve, drain",
       "A valve at a low point through which sand is flushed out and the line is emptied."},
      {"yield", "", "What a spring gives, as a flow. It changes through the year; the driest weeks count."},
  };
  return all;
}

std::string plain_word(std::string_view word) {
  std::string plain;
  for (const char c : word)
    plain += c == '-' || c == '_' ? ' ' : c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
  return plain;
}

const Term* find_term(std::string_view word) {
  const std::string wanted = plain_word(word);
  if (wanted.empty()) return nullptr;
  for (const Term& term : terms()) {
    if (plain_word(term.word) == wanted) return &term;
    const std::string others = ", " + plain_word(term.others) + ",";
    if (wanted.find(',') == std::string::npos && others.find(", " + wanted + ",") != std::string::npos)
      return &term;
  }
  return nullptr;
}

}  // namespace runnel::report
