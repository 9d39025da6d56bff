#include "runnel/review/proposal.h"

#include <algorithm>
#include <cmath>
#include <initializer_list>
#include <set>

#include "runnel/pipes/best_known.h"
#include "runnel/pipes/catalogue.h"
#include "runnel/pipes/name_key.h"
#include "runnel/review/yields.h"
#include "runnel/springs/bucket_yield.h"
#include "runnel/verdict/draft.h"

namespace runnel::review {

namespace {

using network::System;
using pipes::Pipe;
using verdict::Draft;

// Makers' tolerances are finer than this; a bore that differs by more is another pipe. Our own limit.
constexpr double same_pipe = 0.01;

/// True of a pipe that is not in the catalogue just so; how sure the model says it is does not count.
bool described(const Pipe& pipe) {
  const auto& rows = pipes::standard_catalogue().pipes();
  return std::none_of(rows.begin(), rows.end(), [&](const Pipe& row) {
    return row.name == pipe.name && row.bore == pipe.bore && row.rating == pipe.rating &&
           row.roughness == pipe.roughness && row.hazen_c == pipe.hazen_c;
  });
}

/// The standard pipe that a described one passes itself off as: by its name, or by its standard and size.
const Pipe* stands_for(const Pipe& pipe) {
  if (!described(pipe)) return nullptr;
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

/// One property of a pipe, as written and as it should be.
struct Wrong {
  const char* what;
  Figure written, right;
};

std::optional<Wrong> better_than_standard(const Pipe& pipe, const Pipe& row) {
  // Printed roughness is rounded: only a pipe that is a third smoother counts as another.
  constexpr double as_smooth = 1.5;
  if (pipe.bore.metres() > row.bore.metres() * (1.0 + same_pipe))
    return Wrong{"a bore of ", {Kind::bore, pipe.bore.metres()}, {Kind::bore, row.bore.metres()}};
  if (row.rating > Pressure{} && pipe.rating.si() > row.rating.si() * (1.0 + same_pipe))
    return Wrong{"a rating of ", {Kind::pressure, pipe.rating.si()}, {Kind::pressure, row.rating.si()}};
  if (pipe.roughness > Length{} && pipe.roughness * as_smooth < row.roughness)
    return Wrong{
        "a roughness of ", {Kind::bore, pipe.roughness.metres()}, {Kind::bore, row.roughness.metres()}};
  if (row.hazen_c > 0.0 && pipe.hazen_c > row.hazen_c * (1.0 + same_pipe))
    return Wrong{"a C of ", {Kind::number, pipe.hazen_c}, {Kind::number, row.hazen_c}};
  return std::nullopt;
}

void redefined(const network::Line& line, const Pipe& pipe, const Pipe& row, std::vector<Finding>& out) {
  const auto wrong = better_than_standard(pipe, row);
  if (!wrong) return;
  Draft d("standard-pipe-redefined", Severity::error);
  d.on_line(line.name);
  d.message.say("The proposal writes ").name(row.name).say(" with ").say(wrong->what);
  d.message.figure(wrong->written.kind, wrong->written.si).say(" where the standard has ");
  d.message.figure(wrong->right.kind, wrong->right.si).say(".");
  d.against(wrong->written, wrong->right);
  d.advice.say("Take the pipe from the catalogue, or ask for the maker's sheet.");
  d.source(row.source);
  out.push_back(d.done());
}

/// What a pipe says it is made of, by the words that people use; the grade may be left out.
bool made_of(const Pipe& pipe, std::initializer_list<const char*> words) {
  const std::string key = pipes::name_key(pipe.material);
  return std::any_of(words.begin(), words.end(),
                     [&](const char* word) { return key.find(word) != std::string::npos; });
}

bool polyethylene(const Pipe& pipe) { return made_of(pipe, {"pe", "hdpe", "poly"}); }

/// Long-term strength of a wall, for a rating of 2 S / (SDR - 1); that of the strongest grade where the word
/// does not tell the grade. None for other materials.
std::optional<Pressure> wall_strength(const Pipe& pipe) {
  if (made_of(pipe, {"pvc"})) return Pressure::psi(2000);     // [astm-d2241]
  if (made_of(pipe, {"pe3608"})) return Pressure::psi(800);   // [astm-d3035]
  if (made_of(pipe, {"pe4710"})) return Pressure::psi(1000);  // [astm-d3035]
  if (polyethylene(pipe)) return Pressure::pascals(8e6);      // PE100: MRS 10 MPa over 1.25 [iso-4427-2]
  return std::nullopt;
}

/// A described pipe rated for more than its wall bears. Whether its bore fits its wall is checked where the
/// model is read.
void against_itself(const network::Line& line, const Pipe& pipe, std::vector<Finding>& out) {
  const auto strength = wall_strength(pipe);
  if (!described(pipe) || !strength || !(pipe.wall > Length{}) || !(pipe.outside > pipe.wall * 2.0)) return;
  constexpr double rounding_of_print = 1.05;
  const double bears_pa = 2.0 * strength->si() / (pipe.outside / pipe.wall - 1.0);
  if (!(pipe.rating.si() > bears_pa * rounding_of_print)) return;
  Draft d("pipe-against-itself", Severity::error);
  d.on_line(line.name);
  d.message.say("The proposal rates ").name(pipe.name).say(" for ").figure(Kind::pressure, pipe.rating.si());
  d.message.say("; a wall like that of ").say(pipe.material).say(" bears ").figure(Kind::pressure, bears_pa);
  d.message.say(".");
  d.against({Kind::pressure, pipe.rating.si()}, {Kind::pressure, bears_pa});
  d.advice.say("Ask for the maker's sheet.");
  d.source("rating 2 S / (SDR - 1) [iso-4427-2]");
  out.push_back(d.done());
}

/// Plastic rated higher than any that is made, where no wall is given to reckon the rating from.
void beyond_any(const network::Line& line, const Pipe& pipe, std::vector<Finding>& out) {
  const Pressure strongest = Pressure::bar(pipes::strongest_bar);
  if (!described(pipe) || !polyethylene(pipe) || !pipes::stronger_than_any(pipe)) return;
  Draft d("pipe-against-itself", Severity::error);
  d.on_line(line.name);
  d.message.say("The proposal rates ").name(pipe.name).say(" for ").figure(Kind::pressure, pipe.rating.si());
  d.message.say("; the strongest polyethylene that the standards know bears ");
  d.message.figure(Kind::pressure, strongest.si()).say(".");
  d.against({Kind::pressure, pipe.rating.si()}, {Kind::pressure, strongest.si()});
  d.advice.say("Ask for the maker's sheet.");
  d.source("PE100 of SDR 7.4 [iso-4427-2]");
  out.push_back(d.done());
}

/// A described pipe whose rating cannot be reckoned from its wall.
void without_wall(const network::Line& line, const Pipe& pipe, std::vector<Finding>& out) {
  const bool known = pipe.wall > Length{} && wall_strength(pipe);
  if (!described(pipe) || known || !(pipe.rating > Pressure{})) return;
  Draft d("pipe-on-its-word", Severity::warning);
  d.on_line(line.name);
  d.message.say("What ").name(pipe.name).say(
      " carries and bears stands on the proposal's word: it is no standard ");
  d.message.say("pipe, and its wall and material are not given.");
  d.advice.say("Ask for the maker's sheet.");
  d.source("common practice, no source");
  out.push_back(d.done());
}

/// A described pipe that is smoother than any in the catalogue.
void too_smooth(const network::Line& line, const Pipe& pipe, std::vector<Finding>& out) {
  if (!described(pipe) || !pipes::smoother_than_any(pipe)) return;
  Draft d("pipe-too-smooth", Severity::error);
  d.on_line(line.name);
  d.message.say("The proposal takes ").name(pipe.name).say(" to be smoother than any pipe in the catalogue.");
  d.advice.say("Work it out with 0.0015 mm or C = 150 at most, and with an aged pipe beside it.");
  d.source("[binder1973], [illinois-77-906; from memory]");
  out.push_back(d.done());
}

void look_at_own(const network::Line& line, const Pipe& pipe, std::vector<Finding>& out) {
  against_itself(line, pipe, out);
  if (!(pipe.wall > Length{})) beyond_any(line, pipe, out);
  too_smooth(line, pipe, out);
  without_wall(line, pipe, out);
}

void look_at_pipes(const System& system, std::vector<Finding>& out) {
  std::set<std::string> unrated;
  for (const network::Line& line : system.lines())
    for (const network::FittedPipe& laid : line.pipes) {
      if (const Pipe* row = stands_for(laid.pipe))
        redefined(line, laid.pipe, *row, out);
      else
        look_at_own(line, laid.pipe, out);
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
    if (!(box.yield > Flow{}) || dry_season_of(system, box)) continue;
    Draft d("proposal-without-season", Severity::warning);
    d.at_place(box.name);
    d.message.say("The proposal gives one yield of ").name(box.name).say(", ");
    d.message.figure(Kind::flow, box.yield.si()).say(", and no season.");
    d.advice.say("Ask when it was measured, and measure at the end of the dry season: `log:` or `year:`.");
    d.source("size on the yield at the end of the dry season [nzdl-handbook; found]");
    out.push_back(d.done());
  }
}

/// A bucket timed once or twice does not show how sure its figure is.
void look_at_buckets(const System& system, std::vector<Finding>& out) {
  for (const network::Box& box : system.boxes()) {
    if (!box.bucket_tests || box.bucket_tests->times.size() >= springs::least_tests) continue;
    Draft d("too-few-buckets", Severity::warning);
    d.at_place(box.name);
    d.message.say("The yield of ").name(box.name).say(" rests on fewer than three timed buckets.");
    d.advice.say("Time five, one after the other.");
    d.source("common practice, no source");
    out.push_back(d.done());
  }
}

/// A claim under a setting that lays other pipe belongs to another proposal than the one drawn.
void look_at_claims(const System& system, std::vector<Finding>& out) {
  const network::Model& model = system.model();
  for (const network::Claim& claim : system.claims())
    for (const network::Setting& setting : model.settings) {
      if (setting.name != claim.setting || !setting.instead) continue;
      Draft d("claim-of-other-works", Severity::warning);
      d.at_place(claim.at);
      d.message.say("What is claimed at ").name(claim.at).say(" under ").name(setting.name);
      d.message.say(" is not of what is drawn: that setting changes what is built.");
      d.advice.say("Draw what is to be built, and claim under settings that only turn valves.");
      d.source("common practice, no source");
      out.push_back(d.done());
    }
}

/// Without a need nothing can be too little.
void look_at_needs(const System& system, std::vector<Finding>& out) {
  if (!system.asks().empty() || need_m3s(system) > 0.0) return;
  Draft d("proposal-without-needs", Severity::warning);
  d.message.say("Nobody says what is needed: no flow is asked, and nothing is drawn.");
  d.advice.say("Write what the stock or the people need under `asks:` or as `draws:` of a tank.");
  d.source("common practice, no source");
  out.push_back(d.done());
}

}  // namespace

std::vector<Finding> read_between_lines(const System& system) {
  std::vector<Finding> out;
  look_at_pipes(system, out);
  look_at_survey(system, out);
  look_at_seasons(system, out);
  look_at_buckets(system, out);
  look_at_claims(system, out);
  look_at_needs(system, out);
  return out;
}

}  // namespace runnel::review
