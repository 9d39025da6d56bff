// Reasons that were tried, in words.
#include <fmt/format.h>

#include <algorithm>

#include "runnel/verdict/rules.h"

namespace runnel::verdict {
namespace {

/// `place`: where, if that is not plain.
Sentence with(const char* lead, const Reason& reason, std::string_view place = {}) {
  Sentence s;
  s.say(lead).figure(reason.with);
  const bool pressure = reason.with.kind == Kind::pressure;
  if (place.empty())
    s.say(pressure ? " would stand there" : " would come");
  else
    s.say(pressure ? " would stand at " : " would come to ").name(place);
  const bool filled = reason.once_filled && reason.bound != Bound::other_taps;
  return s.say(filled ? " once the tanks have filled" : reason.at_first || reason.for_now ? " at first" : "");
}

/// Whether it would be enough until a store is drawn down.
bool lasts_a_while(const Reason& reason) {
  return !reason.cures && (reason.for_now || reason.enough_at_first);
}

/// "twice", "4 times".
std::string multiple(double times) { return times == 2.0 ? "twice" : fmt::format("{:.0f} times", times); }

bool one_spring(const network::System& system) {
  return std::count_if(system.boxes().begin(), system.boxes().end(),
                       [](const network::Box& box) { return box.yield.si() > 0.0; }) == 1;
}

/// Whether a valve that is not fully open lets anything through.
bool part_open(const network::System& system, const Reason& reason) {
  for (const network::Line& line : system.lines())
    for (const network::FittedPart& part : line.parts)
      if (line.name == reason.line && part.name == reason.part) return part.open > 0.0;
  return false;
}

}  // namespace

Sentence because_of(const network::System& system, const Reason& reason, bool of_several) {
  Sentence s;
  switch (reason.bound) {
    case Bound::shut_tap:
      if (of_several) return s.name(reason.place).append(with(" is shut; open, ", reason));
      return s.append(with("its tap is shut; open, ", reason));
    case Bound::opening:
      if (of_several)
        s.say("the opening of ").name(reason.place);
      else
        s.say("its opening");
      s.say(" is narrow; made ").figure(Kind::bore, reason.dug_m);
      return s.append(with(" wide ", reason));
    case Bound::open_tanks:
      s.names(reason.taps)
          .say(reason.taps.size() == 1 ? " has no float valve and takes" : " have no float valve and take");
      return s.append(with(" the water; full, behind one, ", reason));
    case Bound::other_taps:
      s.names(reason.taps).say(reason.taps.size() == 1 ? " takes" : " take");
      s.say(" the water first; ");
      return s.append(with(reason.once_filled ? "throttled, and once the tanks have filled by that, "
                           : reason.throttled ? "throttled to what is asked there, "
                                              : "shut, ",
                           reason));
    case Bound::shut_valve:
      s.name(reason.part).say(" on ").name(reason.line);
      return s.append(
          with(part_open(system, reason) ? " is only part open; with it open " : " is shut; with it open ",
               reason));
    case Bound::held_valve:
      s.name(reason.part).say(" on ").name(reason.line);
      if (reason.set_pa)
        return s.say(" is set too low; set to ")
            .figure(Kind::pressure, *reason.set_pa)
            .append(with(" ", reason));
      return s.append(with(" holds it back; without it ", reason));
    case Bound::spring: {
      const network::Box* box = system.box(reason.place);
      if (one_spring(system))
        s.say("the spring");
      else
        s.name(reason.place);
      s.say(" gives only ").figure(Kind::flow, box ? box->yield.si() : 0.0);
      return s.append(with(("; with " + multiple(reason.times) + " as much ").c_str(), reason));
    }
    case Bound::pipe:
      return s.name(reason.line).say(" carries no more; in ").name(reason.pipe).append(with(" ", reason));
    case Bound::high_point:
      s.say("the high point at ").figure(Kind::length, reason.from_m).say(" of ").name(reason.line);
      return s.say(" holds it; dug down by ").figure(Kind::head, reason.dug_m).append(with(" ", reason));
    case Bound::mouth:
      s.say("the mouth of ").name(reason.line).say(" lies too close under the lip of ").name(reason.place);
      return s.say("; ").figure(Kind::head, reason.dug_m).append(with(" deeper ", reason));
    case Bound::free_end:
      s.say("the water runs freely into ").name(reason.place);
      return s.append(with("; throttled there ", reason));
    case Bound::float_valve:
      return s.say("the float valve of ").name(reason.place).append(with(" is shut; open, ", reason));
    case Bound::tank_level:
      return s.say("the water in ")
          .name(reason.place)
          .append(with(" stands too low; full to its lip ", reason));
    case Bound::draws:
      s.names(reason.taps).say(reason.taps.size() == 1 ? " is" : " are");
      return s.say(" drawn from while it fills; else it would be full after ").figure(reason.with);
    case Bound::lower_lip:
      s.name(reason.place).say(" runs over first; with its lip at ");
      return s.figure(Kind::elevation, reason.dug_m).say(" that takes ").figure(reason.with);
  }
  return s;
}

Sentence act_on(const Reason& reason, std::string_view place) {
  Sentence s;
  const char* then = ": ";
  switch (reason.bound) {
    case Bound::shut_tap:
      s.say("Open ").name(reason.place).say(", or say which setting opens it");
      break;
    case Bound::opening:
      s.say("Make the opening of ").name(reason.place).say(" ").figure(Kind::bore, reason.dug_m).say(" wide");
      break;
    case Bound::open_tanks:
      s.say("Put a float valve on ").names(reason.taps);
      then = reason.taps.size() == 1 ? ": once it is full " : ": once they are full ";
      break;
    case Bound::other_taps:
      if (!reason.throttled) {
        s.say("Shut or throttle ").names(reason.taps).append(with(then, reason, place));
        return s.say(reason.taps.size() == 1 ? " with it shut" : " with them shut")
            .say(reason.cures || lasts_a_while(reason) ? "." : ", which is not yet enough.");
      }
      s.say("Throttle ").names(reason.taps).say(", so that no more runs there than is asked");
      if (reason.once_filled) then = ". Once the tanks have filled by that ";
      break;
    case Bound::shut_valve:
      s.say("Open ").name(reason.part).say(" on ").name(reason.line);
      break;
    case Bound::held_valve:
      if (reason.set_pa) {
        s.say("Set ")
            .name(reason.part)
            .say(" on ")
            .name(reason.line)
            .say(" to ")
            .figure(Kind::pressure, *reason.set_pa);
        break;
      }
      s.say("See how ").name(reason.part).say(" on ").name(reason.line);
      s.say(" is set and which way round it stands. Without it").append(with(" ", reason, place));
      return s.say(reason.cures ? "." : ", which is not yet enough.");
    case Bound::spring:
      if (reason.pipe_cures)
        s.say("Catch more of the spring, or lay larger pipe. ");
      else if (reason.cures)
        s.say(
            "Only more water helps, not a larger pipe: catch more of the spring, or store the night's "
            "flow. ");
      else
        s.say("More water is needed, and a larger pipe or opening as well. ");
      if (reason.no_more && !reason.pipe_cures) {
        s.say("However much ").name(reason.place);
        return s.append(with(" gave, no more than ", reason, place)).say(".");
      }
      s.say("With " + multiple(reason.times) + " the yield of ");
      return s.name(reason.place).append(with(" ", reason, place)).say(".");
    case Bound::pipe:
      s.say("Lay ").name(reason.pipe).say(" from ").figure(Kind::length, reason.from_m).say(" to ");
      s.figure(Kind::length, reason.to_m).say(" of ").name(reason.line);
      break;
    case Bound::high_point:
      s.say("Dig the high point at ").figure(Kind::length, reason.from_m).say(" of ").name(reason.line);
      s.say(" down by ").figure(Kind::head, reason.dug_m);
      break;
    case Bound::mouth:
      s.say("Lay the mouth of ").name(reason.line).say(" ").figure(Kind::head, reason.dug_m);
      s.say(" deeper in ").name(reason.place);
      break;
    case Bound::free_end:
      s.say("Throttle the end of ").name(reason.line).say(" before ").name(reason.place);
      s.say(", to a loss K of " + fmt::format("{:.0f}", reason.loss));
      break;
    case Bound::float_valve:
      s.say("Wait until the float of ").name(reason.place).say(" opens");
      break;
    case Bound::tank_level:
      s.say("Keep ").name(reason.place).say(" full");
      break;
    case Bound::draws:
      s.say("Draw nothing from ").names(reason.taps).say(" while it fills: it would be full after ");
      return s.figure(reason.with).say(".");
    case Bound::lower_lip:
      s.say("Set ").name(reason.place).say(" higher, so that its lip stands at ");
      s.figure(Kind::elevation, reason.dug_m)
          .say(": ")
          .say(std::string(place))
          .say(place.empty() ? "it" : "");
      return s.say(" would be full after ").figure(reason.with).say(".");
  }
  s.append(with(then, reason, place));
  if (lasts_a_while(reason))
    s.say(", until the store is drawn down: it needs more water or a larger tank as well");
  else if (!reason.cures)
    s.say(", which is not yet enough");
  if (reason.starts == DugStart::once_primed) s.say(", once the line is filled with water by hand");
  if (reason.starts == DugStart::once_vented)
    s.say(", once air valves let out the air behind its other high points");
  if (!reason.leaves_short.empty() && reason.bound != Bound::other_taps)
    s.say("; but then ").name(reason.leaves_short).say(" gets too little");
  return s.say(".");
}

}  // namespace runnel::verdict
