#include "runnel/verdict/year_parts.h"

#include <algorithm>

#include "runnel/verdict/codes.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/dry_needs.h"
#include "runnel/verdict/flow_verdict.h"
#include "runnel/verdict/period_words.h"
#include "runnel/verdict/rounding.h"

namespace runnel::verdict {
namespace {

constexpr Code tank_dry_in_year_rule{
    "tank-dry-in-year",
    "a tank that runs dry in its year",
    "Over the model's `year` less reaches the tank than is drawn from it, for longer than it lasts.",
    "A tank that is full today promises nothing for the dry months.",
    "Draw less, store more, or find more water. `runnel fill --year` shows every period.",
    "the model's own year; storage by the sequent peak [sequent-peak]"};

constexpr Code taps_left_running_rule{
    "taps-left-running",
    "a year that lasts only with the taps shut",
    "With the taps below the tank shut when nobody uses them the year brings enough. Left running as drawn "
    "they take more, and the tank runs dry.",
    "An open trough takes water day and night.",
    "Put a float valve on it, or write as its `draws` what is taken there.",
    "the model's own year; storage by the sequent peak [sequent-peak]"};

constexpr Code store_runs_over_rule{
    "store-runs-over",
    "a store that runs away through another tank",
    "With the tanks below shut when they are full the year brings enough. Some tank that others feed has no "
    "float valve: it runs over day and night, and what is stored above it for the dry time runs away.",
    "A tank above is no store as long as nothing holds its water back.",
    "Put a float valve on the tank that runs over.",
    "the model's own year; storage by the sequent peak [sequent-peak]"};

using filling::YearPart;
using network::System;

Finding dry_in_year(const YearPart& part, std::size_t periods) {
  Draft d(tank_dry_in_year_rule, Severity::error);
  d.at_place(part.tanks.front());
  const auto& dry = part.coverage.dry_s;
  const auto first = static_cast<std::size_t>(
      std::find_if(dry.begin(), dry.end(), [](double s) { return s > 0.0; }) - dry.begin());
  d.message.name(part.tanks.front())
      .say(part.tanks.size() == 1 ? " runs dry in " : " and the tanks joined with it run dry in ")
      .say(period_words(first, periods))
      .say(": ")
      .figure(Kind::volume, part.coverage.missing_total_m3())
      .say(" a year are missing of what is drawn, over ")
      .figure(Kind::duration, part.coverage.dry_days() * 86400.0)
      .say(".");
  d.advice.say("Draw less from ").name(part.tanks.front()).say(", store more, or find more water. ");
  d.advice.say("`runnel fill --year` shows every period.");
  return d.done();
}

Finding left_running(const YearPart& part, std::size_t periods) {
  Draft d(taps_left_running_rule, Severity::warning);
  const filling::LeftRunning& running = *part.running;
  d.at_place(part.tanks.front());
  d.message.say("Left running as drawn, the taps below ")
      .name(part.tanks.front())
      .say(" take up to ")
      .figure(Kind::flow, *std::max_element(running.taken_m3s.begin(), running.taken_m3s.end()))
      .say(": then the first water is missing in ")
      .say(period_words(*running.first_dry, periods))
      .say(". Shut when nobody uses them, the year brings enough.");
  d.advice.say("Put a float valve or a tap that shuts by itself on what runs below ")
      .name(part.tanks.front())
      .say(". `runnel fill --year` shows every period.");
  return d.done();
}

Finding runs_over(const YearPart& part, std::size_t periods) {
  Draft d(store_runs_over_rule, Severity::error);
  const filling::LeftRunning& spilling = *part.spilling;
  d.at_place(part.spill_at.front());
  d.message.names(part.spill_at)
      .say(part.spill_at.size() == 1 ? " has no float valve and takes up to "
                                     : " have no float valve and take up to ")
      .figure(Kind::flow, *std::max_element(spilling.taken_m3s.begin(), spilling.taken_m3s.end()))
      .say(" more than is drawn, which runs over: then the first water is missing in ")
      .say(period_words(*spilling.first_dry, periods))
      .say(". Shut when full, the year brings enough.");
  d.advice.say("Put a float valve on ").names(part.spill_at).say(".");
  return d.done();
}

Finding unreached(const YearPart& part) {
  Draft d("no-answer", Severity::error);
  d.at_place(part.tanks.front());
  d.message.say("No answer was reached for the year of ").name(part.tanks.front()).say(".");
  d.advice.say("Please send us the model: this should not happen.");
  d.source("both balances must close before an answer is given");
  return d.done();
}

/// Whether some period brings less than what is counted on now, or takes more.
bool some_time_is_drier(const System& system) {
  if (!system.year()->demands.empty()) return true;
  const std::vector<Flow> now = dry::yields_now(system);
  for (const std::size_t p : dry::unlike_periods(system)) {
    const std::vector<Flow> then = dry::yields_in(system, p);
    for (std::size_t b = 0; b < now.size(); ++b)
      if (then[b].si() < now[b].si() * (1.0 - rounding)) return true;
  }
  return false;
}

}  // namespace

void judge_year_parts(const System& system, const std::vector<YearPart>& parts, FlowVerdict& verdict) {
  const std::size_t periods = system.year()->periods();
  const bool some_drier = some_time_is_drier(system);
  for (const YearPart& part : parts) {
    if (part.unsettled)
      verdict.findings.push_back(unreached(part));
    else if (!part.lasts())
      verdict.findings.push_back(dry_in_year(part, periods));
    if (part.unsettled || !part.lasts() || !some_drier) continue;
    if (!part.lasts_spilling()) verdict.findings.push_back(runs_over(part, periods));
    if (part.lasts_running()) continue;
    verdict.findings.push_back(left_running(part, periods));
    Sentence condition;
    condition.say("if the taps below ").name(part.tanks.front()).say(" are not left running in the dry time");
    verdict.dry_conditions.push_back(std::move(condition));
  }
}

std::vector<Code> year_parts_codes() {
  return {tank_dry_in_year_rule, taps_left_running_rule, store_runs_over_rule};
}

}  // namespace runnel::verdict
