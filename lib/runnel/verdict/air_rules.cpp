#include "runnel/verdict/air_rules.h"

#include <algorithm>
#include <cmath>

#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"

namespace runnel::verdict {
namespace {

constexpr Code air_start_blocked_rule{
    "air-start-blocked",
    "trapped air stops the water in an empty line",
    "When an empty line is filled, each stretch that falls from a high point to the next low point keeps "
    "its air. The water beyond presses on it. All pockets together need a higher source than there is,"
    " even with the air pressed together.",
    "The line looks right, falls enough from end to end, and yet not a drop comes out.",
    "Put an air valve where the advice says, or dig the high point down. Each remedy given was tried by "
    "working out the start again with it.",
    "statics and Boyle's law, pocket by pocket [start-up-derivation]; rule of the two heads "
    "[air-lock-article; found]",
    Filling::follows};

constexpr Code air_start_doubtful_rule{
    "air-start-doubtful",
    "it starts only if trapped air gives way",
    "With the air pockets pressed together by Boyle's law the water gets through; if they kept their full"
    " height it would not. The truth lies between.",
    "It may start on one day and not on another.",
    "Vent the high point that gains most. Where that cannot be done, fill the line slowly and bleed it.",
    "statics and Boyle's law, and the same without compression [start-up-derivation]",
    Filling::follows};

constexpr Code siphon_needs_filling_rule{
    "siphon-needs-filling",
    "a sealed line must be filled by hand before it runs",
    "The line passes over a point above its source. Sealed and full it can run as a siphon; from empty it"
    " cannot.",
    "Each time air gets in it stops, and somebody has to fill it again.",
    "Plan for filling: a valve at the low end, a filling point at the top. Or dig the point down below "
    "the source.",
    "physics: an empty line fills no higher than its source"};

constexpr Code line_blocked_rule{
    "line-blocked",
    "a high point stands above the water",
    "A point of the line is higher than the water that should flow over it.",
    "Where air can get in, water does not run uphill past the level it came from, however low the far end"
    " lies.",
    "Dig the line down at that point, go round the hill, or raise the source. A sealed siphon can pass a "
    "low rise, but must be filled by hand and loses its water when air gets in.",
    "physics: where air can get in, the grade line cannot lie below the pipe",
    Filling::follows};

using air::StartReason;
using air::StartVerdict;

constexpr const char* boyle =
    "trapped air pressed together by Boyle's law, pocket by pocket [start-up-derivation]";

// Adds the advice: where to vent, or how far to dig, each with what it was found to achieve.
void advise_remedies(const PathAir& way, Sentence& advice) {
  bool said = false;
  if (way.vents && !way.vents->crests.empty()) {
    const auto& crests = way.vents->crests;
    advice.say(crests.size() == 1 ? "With an air valve at " : "With air valves at ");
    for (std::size_t i = 0; i < crests.size() && i < 4; ++i) {
      if (i > 0) advice.say(i + 1 == crests.size() ? " and " : ", ");
      advice.figure(Kind::length, station_of(way.profile, crests[i]))
          .say(" of ")
          .name(line_of(way.profile, crests[i]));
    }
    if (crests.size() > 4) advice.say(" and " + std::to_string(crests.size() - 4) + " more places");
    advice.say(" it starts with ").figure(Kind::head, way.vents->after.margin_m).say(" to spare.");
    said = true;
  }
  if (way.dig) {
    advice.say(said ? " Or dig the high point at " : "Dig the high point at ");
    advice.figure(Kind::length, station_of(way.profile, way.dig->crest)).say(" of ");
    advice.name(line_of(way.profile, way.dig->crest))
        .say(" down by ")
        .figure(Kind::head, way.dig->depth_m)
        .say(".");
    said = true;
  }
  if (!said)
    advice.say("No vent and no single cut is enough: choose another way for the line, or raise the source.");
}

void air_blocks(const PathAir& way, std::vector<Finding>& out) {
  Draft d(air_start_blocked_rule, Severity::error);
  const auto first =
      std::find_if(way.start.pockets.begin(), way.start.pockets.end(), [](auto& p) { return !p.vented; });
  if (first != way.start.pockets.end())
    d.on_line(line_of(way.profile, first->crest), station_of(way.profile, first->crest));
  else
    d.at_place(way.path.end);
  d.against({Kind::elevation, way.path.source_level_m}, {Kind::elevation, way.start.required_level_m});
  d.message
      .say(way.start.under_water ? "Started again with its outlet under water, no water will reach "
                                 : "From empty, no water will reach ")
      .name(way.path.end)
      .say(": the air trapped on the way needs water at ");
  d.message.figure(Kind::elevation, way.start.required_level_m)
      .say(", and ")
      .name(way.path.source)
      .say(" stands at ");
  d.message.figure(Kind::elevation, way.path.source_level_m)
      .say(", ")
      .figure(Kind::head, -way.start.margin_m)
      .say(" too low.");
  advise_remedies(way, d.advice);
  d.source(boyle);
  out.push_back(d.done());
}

void start_is_doubtful(const PathAir& way, std::vector<Finding>& out) {
  Draft d(air_start_doubtful_rule, Severity::warning);
  d.at_place(way.path.end);
  d.against({Kind::head, way.start.margin_m},
            {Kind::head, way.start.margin_m - way.start.uncompressed_margin_m});
  d.message.say("Whether water reaches ")
      .name(way.path.end)
      .say(way.start.under_water ? " when started again with its outlet under water" : " from empty")
      .say(" is doubtful: it does with ");
  d.message.figure(Kind::head, way.start.margin_m).say(" to spare if the trapped air gives way, and lacks ");
  d.message.figure(Kind::head, -way.start.uncompressed_margin_m).say(" if it does not.");
  advise_remedies(way, d.advice);
  d.source(boyle);
  out.push_back(d.done());
}

void point_too_high(const PathAir& way, std::vector<Finding>& out) {
  if (!way.start.too_high) return;
  const int point = *way.start.too_high;
  Draft d(line_blocked_rule, Severity::error);
  const double elevation = way.profile.points[static_cast<std::size_t>(point)].elevation_m;
  d.on_line(line_of(way.profile, point), station_of(way.profile, point));
  d.against({Kind::elevation, elevation}, {Kind::elevation, way.path.source_level_m});
  d.message.say("On the way to ")
      .name(way.path.end)
      .say(" the pipe at ")
      .figure(Kind::length, station_of(way.profile, point));
  d.message.say(" of ").name(line_of(way.profile, point)).say(" lies ");
  d.message.figure(Kind::head, elevation - way.path.source_level_m).say(" above ").name(way.path.source);
  d.message.say(": no water runs over it by itself.");
  d.advice.say("Dig it down below the source, go round it, or seal the line and fill it as a siphon.");
  d.source("physics: an empty line fills no higher than its source");
  out.push_back(d.done());
}

}  // namespace

void start_findings(const network::System& system, const PathAir& way, std::vector<Finding>& out) {
  if (way.start.verdict == StartVerdict::doubtful) return start_is_doubtful(way, out);
  if (way.start.verdict != StartVerdict::blocked) return;
  if (way.start.reason == StartReason::air) air_blocks(way, out);
  const network::Line* line =
      way.start.too_high ? system.line(line_of(way.profile, *way.start.too_high)) : nullptr;
  if (way.start.reason == StartReason::crest_above_source && line) {
    point_too_high(way, out);
    if (line->air == network::Air::sealed && !out.empty()) {
      out.back().code = "siphon-needs-filling";  // it can run, but not from empty by itself
      out.back().severity = Severity::warning;
      out.back().advice =
          "Shut its lower end, fill it with water at its highest point, close that point tight, and only "
          "then "
          "open the lower end. Each time it has lost its water it must be filled again.";
    }
  }
}

std::vector<Code> air_codes() {
  return {air_start_blocked_rule, air_start_doubtful_rule, siphon_needs_filling_rule, line_blocked_rule};
}

}  // namespace runnel::verdict
