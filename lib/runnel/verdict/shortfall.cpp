#include "runnel/verdict/shortfall.h"

#include "runnel/network/no_flow.h"

namespace runnel::verdict {

namespace {

Sentence& say_low_water(const AskResult& need, Sentence& s) {
  if (!need.low_water) return s;
  if (need.low_water->tank == need.ask.at)
    return s.say(" with its water at ").figure(Kind::elevation, need.low_water->level_m);
  if (need.low_water->kind == LowWaterKind::float_open)
    return s.say(" while the float valve of ").name(need.low_water->tank).say(" is open");
  if (need.low_water->kind == LowWaterKind::sunk)
    return s.say(" when ")
        .name(need.low_water->tank)
        .say(" has sunk to ")
        .figure(Kind::elevation, need.low_water->level_m);
  return s.say(" when ")
      .name(need.low_water->tank)
      .say(" stands at its lowest, ")
      .figure(Kind::elevation, need.low_water->level_m);
}

}  // namespace

bool begun_at_worst(const AskResult& need) {
  return need.ask.kind == network::AskKind::full_within && need.reason && need.reason->bound == Bound::draws;
}

const char* asked_or_drawn(const network::Ask& ask) { return ask.as_drawn ? "drawn there" : "asked"; }

Sentence shortfall(const AskResult& need) {
  Sentence s;
  const bool flow = need.ask.kind == network::AskKind::flow;
  s.name(need.ask.at);
  if (need.ask.kind == network::AskKind::full_within && need.got)
    return s.say(" is full after ").figure(*need.got).say(", and ").figure(need.asked).say(" is asked");
  if (need.ask.kind == network::AskKind::full_within)
    return s.say(" is not full within the ")
        .figure(need.asked)
        .say(begun_at_worst(need) ? " asked if it starts at the worst hour of the day" : " asked");
  if (!need.got || (flow && need.got->si <= network::no_flow_m3s))
    return say_low_water(
        need, s.say(" gets no water, and ").figure(need.asked).say(" is ").say(asked_or_drawn(need.ask)));
  s.say(flow ? " gets " : " has ").figure(*need.got);
  return say_low_water(need, s.say(" of the ").figure(need.asked).say(" ").say(asked_or_drawn(need.ask)));
}

}  // namespace runnel::verdict
