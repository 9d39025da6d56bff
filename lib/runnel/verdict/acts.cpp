#include "runnel/verdict/acts.h"

#include <algorithm>
#include <iterator>

#include "runnel/verdict/digging.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {
namespace {

void say_places(const std::vector<AirPlace>& places, Sentence& s) {
  for (auto place = places.begin(); place != places.end(); ++place) {
    const auto next = std::next(place);
    if (place != places.begin()) s.say(next == places.end() ? " and " : ", ");
    s.figure(Kind::length, place->station_m);
    // The line is named once for all its places.
    if (next == places.end() || next->pipeline != place->pipeline) s.say(" of ").name(place->pipeline);
  }
}

/// Air valves, or one high point dug down, for a way that does not surely start.
Sentence start_act(const PathAir& way) {
  Sentence s;
  if (way.vents && !way.vents->crests.empty()) {
    std::vector<AirPlace> places;
    for (const int crest : way.vents->crests)
      places.push_back({line_of(way.profile, crest), station_of(way.profile, crest)});
    s.say(places.size() == 1 ? "Put an air valve at " : "Put air valves at ");
    say_places(places, s);
    return s.say(". Then ")
        .name(way.path.end)
        .say(" starts with ")
        .figure(Kind::head, way.vents->after.margin_m)
        .say(" to spare.");
  }
  if (way.dig && way.dig->depth_m <= most_dug_m) {
    s.say("Dig the high point at ").figure(Kind::length, station_of(way.profile, way.dig->crest)).say(" of ");
    s.name(line_of(way.profile, way.dig->crest)).say(" down by ").figure(Kind::head, way.dig->depth_m);
    return s.say(". Then ").name(way.path.end).say(" starts.");
  }
  return s.say("Lead the line to ")
      .name(way.path.end)
      .say(" another way, or raise its source: no air valve and no single trench is enough.");
}

/// What to do about air that stays in a line that runs.
Sentence vent_act(const AskResult& r) {
  Sentence s;
  if (r.air->held.empty()) return s.say("Let the air out through air valves at the high points.");
  s.say(r.air->held.size() == 1 ? "Put an air valve at " : "Put air valves at ");
  say_places(r.air->held, s);
  s.say(". Then ").name(r.ask.at).say(r.ask.kind == network::AskKind::flow ? " gets " : " has ");
  return s.figure(*r.air->without).say(".");
}

void add_starts(const FlowVerdict& verdict, std::vector<Sentence>& acts) {
  if (!verdict.air) return;
  for (const PathAir& way : verdict.air->paths) {
    const bool air =
        way.start.verdict == air::StartVerdict::doubtful ||
        (way.start.verdict == air::StartVerdict::blocked && way.start.reason == air::StartReason::air);
    if (air) acts.push_back(start_act(way));
  }
}

void add_needs(const FlowVerdict& verdict, std::vector<Sentence>& acts) {
  for (const AskResult& r : verdict.asks) {
    if (r.held_by_air())
      acts.push_back(vent_act(r));
    else if (verdict.asked_beyond && r.judged && !r.met && r.ask.kind == network::AskKind::flow)
      continue;  // no opening and no pipe helps every tap: their finding says what does
    else if (r.judged && !r.met && r.reason && !act_on(*r.reason).empty())
      acts.push_back(act_on(*r.reason));
  }
}

/// A remark on a figure begins in lower case, without a full stop, as it stands beside its line of the model.
std::string as_sentence(std::string text) {
  if (text.empty()) return text;
  if (text[0] >= 'a' && text[0] <= 'z') text[0] = static_cast<char>(text[0] - 'a' + 'A');
  return text.back() == '.' || text.back() == '?' ? text : text + ".";
}

/// The advice of a finding as a sentence. Where it has no figures, those of the message are left out, so that
/// it can be said once for all its places.
Sentence advice_of(const Finding& f) {
  Finding advised = f;
  advised.message = f.mark.known() ? as_sentence(f.advice) : f.advice;
  if (f.advice.find('{') == std::string::npos) advised.figures.clear();
  return sentence_of(advised);
}

bool told_above(const Finding& f, const FlowVerdict& verdict) {
  if (f.code == "air-start-blocked" || f.code == "air-start-doubtful" || f.code == "air-held-flow")
    return true;
  if (f.code != "ask-not-met" || verdict.asked_beyond) return false;
  return std::any_of(verdict.asks.begin(), verdict.asks.end(), [&](const AskResult& r) {
    return r.ask.at == f.where.place && ((r.reason && !act_on(*r.reason).empty()) || r.met_only_primed);
  });
}

/// One piece of advice, and the lines or places that it is for.
struct Advised {
  Sentence advice;
  std::vector<std::string> lines;
};

void say_lines(const std::vector<std::string>& lines, Sentence& s) {
  constexpr std::size_t named = 4;
  for (std::size_t i = 0; i < lines.size() && i < named; ++i) s.say(i > 0 ? ", " : "").name(lines[i]);
  if (lines.size() > named) s.say(" and " + std::to_string(lines.size() - named) + " more");
  if (!lines.empty()) s.say(": ");
}

void add_advice(const FlowVerdict& verdict, std::vector<Sentence>& acts) {
  std::vector<Advised> all;
  Said said;
  for (const Ruling weight : {Ruling::fails, Ruling::cannot_be_said, Ruling::only_if})
    for (const Finding& f : verdict.findings) {
      if (bearing(f) != weight || f.advice.empty() || told_above(f, verdict)) continue;
      Sentence advice = advice_of(f);
      const auto [number, first] = said.number(advice);
      if (first) all.push_back({std::move(advice), {}});
      if (!f.where.pipeline.empty()) all[number].lines.push_back(f.where.pipeline);
      // Advice about a figure in the model does not name what it is a figure of.
      if (f.mark.known() && !f.where.place.empty()) all[number].lines.push_back(f.where.place);
    }
  for (const Advised& one : all) {
    Sentence s;
    say_lines(one.lines, s);
    acts.push_back(s.append(one.advice));
  }
}

void add_washouts(const FlowVerdict& verdict, std::vector<Sentence>& acts) {
  if (!verdict.air) return;
  std::vector<AirPlace> places;
  for (const air::LineAir& line : verdict.air->lines)
    for (const air::WashoutAdvice& low : line.washouts) places.push_back({line.pipeline, low.station_m});
  if (places.empty()) return;
  Sentence s;
  s.say(places.size() == 1 ? "Put a washout at the low point, " : "Put washouts at the low points, ");
  say_places(places, s);
  acts.push_back(s.say("."));
}

}  // namespace

std::vector<Sentence> acts_of(const FlowVerdict& verdict) {
  std::vector<Sentence> all, acts;
  if (!has_figures(verdict.ruling)) return acts;
  add_starts(verdict, all);
  add_needs(verdict, all);
  add_advice(verdict, all);
  add_washouts(verdict, all);
  Said said;
  for (Sentence& act : all)
    if (said.number(act).second) acts.push_back(std::move(act));
  return acts;
}

}  // namespace runnel::verdict
