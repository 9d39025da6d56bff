#include "runnel/review/proposal.h"

#include <cmath>
#include <set>

#include "runnel/pipes/catalogue.h"
#include "runnel/pipes/name_key.h"
#include "runnel/review/yields.h"
#include "runnel/verdict/draft.h"

namespace runnel::review {

namespace {

using network::System;
using pipes::Pipe;
using verdict::Draft;

// Makers' tolerances are finer than this; a bore that differs by more is another pipe. Ours.
constexpr double same_pipe = 0.01;

/// The standard pipe that a described one gives itself out for: of its name, or of its standard and size.
const Pipe* stands_for(const Pipe& pipe) {
  if (pipe.certainty != pipes::Certainty::user) return nullptr;
  const std::string key = pipes::name_key(pipe.name);
  for (const Pipe& row : pipes::standard_catalogue().pipes()) {
    const bool named = key.find(pipes::name_key(row.name)) != std::string::npos;
    const bool sized = !pipe.nominal.empty() && pipe.nominal == row.nominal &&
                       pipe.standard == row.standard && pipe.material == row.material &&
                       std::fabs((pipe.outside - row.outside).metres()) < same_pipe * row.outside.metres() &&
                       std::fabs((pipe.wall - row.wall).metres()) < 0.1 * row.wall.metres();
    if (named || sized) return &row;
  }
  return nullptr;
}

void redefined(const network::Line& line, const Pipe& pipe, const Pipe& row, std::vector<Finding>& out) {
  const bool wider = pipe.bore.metres() > row.bore.metres() * (1.0 + same_pipe);
  const bool stronger = row.rating > Pressure{} && pipe.rating.si() > row.rating.si() * (1.0 + same_pipe);
  if (!wider && !stronger) return;
  Draft d("standard-pipe-redefined", Severity::error);
  d.on_line(line.name);
  d.message.say("The proposal writes ").name(row.name).say(" with ");
  if (wider) {
    d.message.say("a bore of ").figure(Kind::bore, pipe.bore.metres()).say(" where the standard has ");
    d.message.figure(Kind::bore, row.bore.metres());
    d.against({Kind::bore, pipe.bore.metres()}, {Kind::bore, row.bore.metres()});
  } else {
    d.message.say("a rating of ")
        .figure(Kind::pressure, pipe.rating.pascals())
        .say(" where the standard has ");
    d.message.figure(Kind::pressure, row.rating.pascals());
    d.against({Kind::pressure, pipe.rating.pascals()}, {Kind::pressure, row.rating.pascals()});
  }
  d.message.say(".");
  d.advice.say("Take the pipe from the catalogue, or ask for the maker's sheet.");
  d.source(row.source);
  out.push_back(d.done());
}

void look_at_pipes(const System& system, std::vector<Finding>& out) {
  std::set<std::string> unrated;
  for (const network::Line& line : system.lines())
    for (const network::FittedPipe& laid : line.pipes) {
      if (const Pipe* row = stands_for(laid.pipe)) redefined(line, laid.pipe, *row, out);
      if (laid.pipe.rating > Pressure{} || !unrated.insert(line.name + "\n" + laid.pipe.name).second)
        continue;
      Draft d("proposal-without-rating", Severity::warning);
      d.on_line(line.name);
      d.message.say("The proposal does not say what pressure ").name(laid.pipe.name).say(" on ");
      d.message.name(line.name).say(" is rated for.");
      d.advice.say("Ask for the standard and the class of the pipe.");
      d.source("static pressure must stay below the rating at every point [nrcs-430; found]");
      out.push_back(d.done());
    }
}

void look_at_survey(const System& system, std::vector<Finding>& out) {
  for (const network::Line& line : system.lines()) {
    if (line.surveyed) continue;
    Draft d("proposal-without-survey", Severity::warning);
    d.on_line(line.name);
    d.message.say("The proposal gives no survey of ").name(line.name);
    d.message.say(": a high point on it would not be seen, and trapped air is not judged.");
    d.advice.say("Ask for station and elevation of every rise and dip.");
    d.source("common practice, no source");
    out.push_back(d.done());
  }
}

void look_at_seasons(const System& system, std::vector<Finding>& out) {
  for (const network::Box& box : system.boxes()) {
    if (!(box.yield > Flow{}) || seasons_of(system, box)) continue;
    Draft d("proposal-without-season", Severity::warning);
    d.at_place(box.name);
    d.message.say("The proposal gives one yield of ").name(box.name).say(", ");
    d.message.figure(Kind::flow, box.yield.si()).say(", and no season.");
    d.advice.say("Ask when it was measured, and measure at the end of the dry season: `log:` or `year:`.");
    d.source("size on the yield at the end of the dry season [nzdl-handbook; found]");
    out.push_back(d.done());
  }
}

}  // namespace

std::vector<Finding> read_between_lines(const System& system) {
  std::vector<Finding> out;
  look_at_pipes(system, out);
  look_at_survey(system, out);
  look_at_seasons(system, out);
  return out;
}

}  // namespace runnel::review
