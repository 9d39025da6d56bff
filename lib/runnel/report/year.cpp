#include "runnel/report/year.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "runnel/network/no_flow.h"
#include "runnel/report/json_parts.h"
#include "runnel/report/render_text.h"
#include "runnel/report/text_parts.h"
#include "runnel/report/words.h"
#include "runnel/verdict/period_words.h"

namespace runnel::report {
namespace {

using filling::YearPart;
using verdict::period_words;

std::string names_of(const std::vector<std::string>& names) {
  constexpr std::size_t most = 4;
  std::string out;
  for (std::size_t i = 0; i < std::min(names.size(), most); ++i)
    out += (i == 0 ? "" : ", ") + short_name(names[i]);
  if (names.size() > most) out += fmt::format(" and {} more", names.size() - most);
  return out;
}

std::string bar(double stored_m3, double capacity_m3) {
  constexpr double columns = 20.0;
  const double share = capacity_m3 > 0.0 ? std::clamp(stored_m3 / capacity_m3, 0.0, 1.0) : 0.0;
  return "|" + std::string(static_cast<std::size_t>(std::lround(share * columns)), '#');
}

Cell or_dash(double m3) {
  if (!(m3 > 0.0)) return "-";
  return Figure{Kind::volume, m3};
}

Table balance_rows(const YearPart& part, const std::vector<double>& demand_m3s,
                   const filling::Coverage& covered) {
  using enum Align;
  Table rows({{},
              {"reaches it", right},
              {"demand", right},
              {"missing", right},
              {"spilled", right},
              {"stored then", right},
              {"of what fits in"}});
  const std::size_t n = part.season.length_s.size();
  for (std::size_t p = 0; p < n; ++p)
    rows.row({period_words(p, n), Figure{Kind::flow, part.season.yield_m3s[p]},
              Figure{Kind::flow, demand_m3s[p]}, or_dash(covered.missing_m3[p]),
              or_dash(covered.spilled_m3[p]), Figure{Kind::volume, covered.end_m3[p]},
              bar(covered.end_m3[p], part.capacity_m3)});
  return rows;
}

Document balances(const YearPart& part) {
  Document out;
  out.section("Year of " + names_of(part.tanks))
      .add(balance_rows(part, part.season.demand_m3s, part.coverage));
  if (!part.running) return out;
  std::vector<double> demand_m3s = part.season.demand_m3s;
  for (std::size_t p = 0; p < demand_m3s.size(); ++p) demand_m3s[p] += part.running->taken_m3s[p];
  return out.section("The same with the taps below " + names_of(part.tanks) + " left running")
      .add(balance_rows(part, demand_m3s, part.running->coverage));
}

/// What the taps below take if nobody shuts them, and what that does.
Document running_told(const YearPart& part, const TextOptions& options) {
  if (!part.running) return {};
  const filling::LeftRunning& running = *part.running;
  const double most_m3s = *std::max_element(running.taken_m3s.begin(), running.taken_m3s.end());
  std::string text =
      fmt::format("Left running as drawn, the taps below {} take up to {} out of {}", names_of(part.tanks),
                  shown(Kind::flow, most_m3s, options), part.tanks.size() == 1 ? "it" : "them");
  if (running.first_dry)
    text += fmt::format(": then the first water is missing in {}, and {} a year over {:.1f} days.",
                        period_words(*running.first_dry, running.taken_m3s.size()),
                        shown(Kind::volume, running.coverage.missing_total_m3(), options),
                        running.coverage.dry_days());
  else
    text += ", and the year brings enough for that too.";
  return Document().line(text, 0);
}

bool any_held_back(const YearPart& part) {
  for (std::size_t p = 0; p < part.season.yield_m3s.size(); ++p)
    if (part.held_back(p)) return true;
  return false;
}

/// The period in which most of the springs' water does not get to the tanks.
Document held_back_told(const YearPart& part, const TextOptions& options) {
  if (!any_held_back(part)) return {};
  const std::size_t n = part.season.yield_m3s.size();
  std::size_t worst = 0;
  const auto lost = [&](std::size_t p) { return part.springs_m3s[p] - part.season.yield_m3s[p]; };
  for (std::size_t p = 1; p < n; ++p)
    if (lost(p) > lost(worst)) worst = p;
  const double reach_m3s = part.season.yield_m3s[worst];
  return Document().line(
      fmt::format(
          "Not all that the springs give reaches the tanks: in {} {} of {}. The rest is more than the "
          "lines carry, held back by trapped air, or taken on the way; `runnel flow` shows where.",
          period_words(worst, n),
          reach_m3s > network::no_flow_m3s ? shown(Kind::flow, reach_m3s, options) : std::string("nothing"),
          shown(Kind::flow, part.springs_m3s[worst], options)),
      0);
}

/// What bucket tests tell, and what they do not.
Document measured_told(const YearPart& part, const TextOptions& options) {
  Document out;
  for (const filling::MeasuredSpring& spring : part.measured) {
    const springs::BucketYield& y = spring.yield;
    std::string text = fmt::format("{} gave {} when it was measured", short_name(spring.box),
                                   shown(Kind::flow, y.mean.si(), options));
    if (y.interval && y.interval->high)
      text += fmt::format(", between {} and {} with 95 % confidence ({} tests)",
                          shown(Kind::flow, y.interval->low.si(), options),
                          shown(Kind::flow, y.interval->high->si(), options), y.tests);
    else if (y.interval)
      text += fmt::format(", more than {} with 95 % confidence ({} tests set no upper bound)",
                          shown(Kind::flow, y.interval->low.si(), options), y.tests);
    else
      text += ", by a single test, which says nothing of how well";
    out.line(text + ".", 0);
  }
  return out;
}

std::string percent(double share) {
  if (share > 0.0 && share < 0.005) return "less than 1 %";
  if (share < 1.0 && share > 0.995) return "more than 99 %";
  return fmt::format("{:.0f} %", 100.0 * share);
}

std::string method_words(const filling::SpringYears& known) {
  const std::string years =
      known.dry->years == 1 ? std::string("one year") : fmt::format("{} years", known.dry->years);
  switch (known.dry->method) {
    case springs::DryYearMethod::lognormal_years:
      return "from the least yields of " + years + ", taken as lognormal";
    case springs::DryYearMethod::lognormal_stated:
      return fmt::format("from {} and the stated spread of {} between years, taken as lognormal", years,
                         percent(*known.spread));
    case springs::DryYearMethod::counted_years:
      return "counted over " + years;
  }
  return {};
}

const char* method_word(springs::DryYearMethod method) {
  switch (method) {
    case springs::DryYearMethod::lognormal_years:
      return "lognormal_years";
    case springs::DryYearMethod::lognormal_stated:
      return "lognormal_stated";
    case springs::DryYearMethod::counted_years:
      return "counted_years";
  }
  return "";
}

/// The chance of a dry year where something is known of the years; otherwise nothing is said.
Document years_told(const YearPart& part, const TextOptions& options) {
  Document out;
  for (const filling::SpringYears& known : part.years) {
    std::string text;
    const std::string name = short_name(known.box);
    if (!known.need)
      text = "No yield of " + name + " would carry the year, so a dry year has no chance of its own";
    else if (!(known.need->si() > 0.0))
      text = "The tanks last without " + name + ", so no year of it is a dry one";
    else if (!known.dry)
      text = fmt::format(
          "The year is dry if {} gives less than {} at its least. How likely that is, is not known: it takes "
          "the "
          "least yields of two years that differ, or `yearly_spread`",
          name, shown(Kind::flow, known.need->si(), options));
    else
      text = fmt::format(
          "The year is dry if {} gives less than {} at its least: a chance of {}, in the long run "
          "between {} and {} with 95 % confidence ({})",
          name, shown(Kind::flow, known.need->si(), options), percent(known.dry->chance),
          percent(known.dry->interval.low), percent(known.dry->interval.high), method_words(known));
    out.line(text + ".", 0);
  }
  return out;
}

/// What is known of other years, and of the rest of this one.
std::string years_basis(const std::vector<YearPart>& parts) {
  std::string out, falling;
  bool chance = false;
  for (const YearPart& part : parts) {
    for (const std::string& box : part.falling) falling += (falling.empty() ? "" : ", ") + short_name(box);
    for (const filling::SpringYears& known : part.years) chance = chance || known.dry.has_value();
  }
  if (!falling.empty())
    out +=
        " From the day it was measured to the end of the year the yield falls by the same share every day "
        "[maillet1905], before that it is as measured: " +
        falling + ".";
  out +=
      chance
          ? " The chance of a dry year takes years as independent and alike, and all springs of the part to "
            "fall together, every month by the same share [hahn-meeker]."
          : " How much dry years differ from this one is not known, so no chance of a dry year is given: "
            "only "
            "the yields of several years could tell (`yearly_yields`), or a spread that is known of springs "
            "like this one (`yearly_spread`).";
  return out;
}

/// What the other settings come to.
std::string settings_told(const verdict::YearAnswered& whole) {
  if (whole.good()) return "So it is under every setting.";
  const auto failing = std::count_if(whole.runs.begin(), whole.runs.end(),
                                     [](const verdict::YearRun& run) { return !run.good(); });
  const std::string where = whole.leading().setting == verdict::as_drawn
                                ? "That is as drawn"
                                : "That is under the setting \"" + whole.leading().setting + "\"";
  if (failing == 1) return where + "; nothing fails otherwise.";
  return fmt::format("{}; it is no better under {} more {}.", where, failing - 1,
                     failing == 2 ? "setting" : "settings");
}

Document basis(const YearAnswer& answer) {
  Document out;
  out.section("Worked out with");
  out.line(
      "Least storage by the sequent peak over two passes of the year [sequent-peak]; what the tanks cover by "
      "the balance of water, period after period, from full until one year is like the next. 12 flows are "
      "months from January, 52 are weeks; within each, flows are steady.");
  const bool measured = std::any_of(answer.parts.begin(), answer.parts.end(),
                                    [](const YearPart& part) { return !part.measured.empty(); });
  if (measured)
    out.line(
        "The interval of a measured yield is that of the mean bucket time, by Student's t with one degree "
        "less "
        "than tests [student1908].");
  out.section("Mind");
  out.line(
      std::string(
          "What reaches the tanks is what the lines carry of each period's yields when the tanks stand low, "
          "after taps and draws of the model on the way have taken theirs. The air of the start stays in the "
          "lines as far as the current leaves it, and a siphon that loses its water runs no more. Taps below "
          "tanks are taken as shut, and where they run as drawn, once more as left running out of a full "
          "tank; a row of `demands` is all that its tank gives to taps of which nothing is asked. Tanks that "
          "lines join are pooled as far as water runs down from one to the next: no tank helps one above it, "
          "and a lower tank gets no more than its line carries from a full one. Boxes store nothing. A box "
          "without a row gives its yield all year, a tank without one its draws.") +
      years_basis(answer.parts));
  return out;
}

Json part_json(const YearPart& part) {
  TextOptions si;
  Json json{{"answer", year_sentence(part, si)},
            {"lasts", part.lasts() && part.lasts_spilling()},
            {"boxes", part.boxes},
            {"tanks", part.tanks}};
  json["capacity_m3"] = number(part.capacity_m3, "capacity_m3");
  json["yield_m3"] = number(part.need.yield_m3, "yield_m3");
  json["demand_m3"] = number(part.need.demand_m3, "demand_m3");
  json["storage_needed_m3"] = number(part.need.storage_m3, "storage_needed_m3");
  json["missing_m3"] = number(part.coverage.missing_total_m3(), "missing_m3");
  json["dry_days"] = number(part.coverage.dry_days(), "dry_days");
  json["lasts_with_taps_running"] = part.lasts_running();
  if (part.running) {
    json["taps_running"] = {{"missing_m3", number(part.running->coverage.missing_total_m3(), "missing_m3")},
                            {"dry_days", number(part.running->coverage.dry_days(), "dry_days")},
                            {"taken_m3s", Json::array()}};
    for (const double taken_m3s : part.running->taken_m3s)
      json["taps_running"]["taken_m3s"].push_back(number(taken_m3s, "taken_m3s"));
    json["taps_running"]["first_dry"] = nullptr;
    if (part.running->first_dry)
      json["taps_running"]["first_dry"] = period_words(*part.running->first_dry, part.season.length_s.size());
  }
  json["periods"] = Json::array();
  for (std::size_t p = 0; p < part.season.length_s.size(); ++p)
    json["periods"].push_back({{"length_s", number(part.season.length_s[p], "length_s")},
                               {"springs_m3s", number(part.springs_m3s[p], "springs_m3s")},
                               {"yield_m3s", number(part.season.yield_m3s[p], "yield_m3s")},
                               {"demand_m3s", number(part.season.demand_m3s[p], "demand_m3s")},
                               {"end_m3", number(part.coverage.end_m3[p], "end_m3")},
                               {"missing_m3", number(part.coverage.missing_m3[p], "missing_m3")},
                               {"spilled_m3", number(part.coverage.spilled_m3[p], "spilled_m3")},
                               {"dry_s", number(part.coverage.dry_s[p], "dry_s")}});
  json["measured"] = Json::array();
  for (const filling::MeasuredSpring& spring : part.measured) {
    Json one{{"box", spring.box}, {"tests", spring.yield.tests}};
    one["mean_m3s"] = number(spring.yield.mean.si(), "mean_m3s");
    one["low_m3s"] = one["high_m3s"] = nullptr;
    if (spring.yield.interval) one["low_m3s"] = number(spring.yield.interval->low.si(), "low_m3s");
    if (spring.yield.interval && spring.yield.interval->high)
      one["high_m3s"] = number(spring.yield.interval->high->si(), "high_m3s");
    json["measured"].push_back(std::move(one));
  }
  json["falling"] = part.falling;
  json["dry_years"] = Json::array();
  for (const filling::SpringYears& known : part.years) {
    Json one{{"box", known.box}, {"years", known.years}};
    one["least_m3s"] = number(known.least.si(), "least_m3s");
    one["need_m3s"] = one["chance"] = one["low"] = one["high"] = one["method"] = nullptr;
    if (known.need) one["need_m3s"] = number(known.need->si(), "need_m3s");
    if (known.dry) {
      one["chance"] = number(known.dry->chance, "chance");
      one["low"] = number(known.dry->interval.low, "low");
      one["high"] = number(known.dry->interval.high, "high");
      one["method"] = method_word(known.dry->method);
    }
    json["dry_years"].push_back(std::move(one));
  }
  return json;
}

}  // namespace

std::string year_sentence(const YearPart& part, const TextOptions& options) {
  const std::size_t n = part.season.length_s.size();
  if (part.unsettled)
    return "No answer: in " + period_words(*part.unsettled, n) + " the calculation of what reaches " +
           names_of(part.tanks) + " did not settle.";
  const auto volume = [&](double m3) { return shown(Kind::volume, m3, options); };
  if (part.lasts() && !part.short_at.empty())
    return "Runs short every day: " + part.short_at +
           " gets less in its hours than is drawn there, though month by month enough comes. `runnel fill` "
           "follows the hours.";
  if (part.lasts() && part.short_unknown)
    return "It cannot be said whether it lasts: the hours of the draws could not be followed.";
  if (part.lasts() && !part.lasts_spilling())
    return "Runs dry: " + names_of(part.spill_at) +
           (part.spill_at.size() == 1 ? " has no float valve and runs over"
                                      : " have no float valve and run over") +
           ", so that what is stored above runs away. With one the year brings "
           "enough.";
  std::string out = part.lasts() ? "Lasts all year" : "Runs dry";
  if (part.lasts() && !part.lasts_running())
    out += " only if the taps below " + names_of(part.tanks) + " are not left running";
  out += ": " + names_of(part.tanks) + (part.tanks.size() == 1 ? " holds " : " hold ") +
         volume(part.capacity_m3) + "; ";
  if (!part.need.storage_m3)
    out += fmt::format("no storage suffices, as {} a year reach it and {} are needed",
                       volume(part.need.yield_m3), volume(part.need.demand_m3));
  else if (*part.need.storage_m3 == 0.0)
    out +=
        fmt::format("from {0} to {0} none is needed, as every {0} brings enough", n == 12 ? "month" : "week");
  else
    out += fmt::format("{} would carry the dry time, from {} to the end of {}", volume(*part.need.storage_m3),
                       period_words(part.need.falls_from, n), period_words(part.need.lowest_at, n));
  if (!part.lasts())
    out += fmt::format(". {} a year are missing, over {:.1f} days", volume(part.coverage.missing_total_m3()),
                       part.coverage.dry_days());
  return out + ".";
}

Document year_document(const YearAnswer& answer, const TextOptions& options) {
  Document out;
  // What fails comes first: a year that lasts in all promises nothing where needs are missed.
  const bool fails = answer.whole && !verdict::is_good(answer.whole->leading().flow);
  const bool lasts =
      std::all_of(answer.parts.begin(), answer.parts.end(), [](const YearPart& part) { return part.good(); });
  if (fails && lasts)
    out.statement(
        "Of the needs `runnel flow` says: " + rendered(answer.whole->leading().flow_sentence, options),
        false);
  for (const YearPart& part : answer.parts) {
    out.statement(year_sentence(part, options), part.good());
    out.append(running_told(part, options));
    out.append(held_back_told(part, options));
    out.append(measured_told(part, options));
    out.append(years_told(part, options));
  }
  if (answer.whole) {
    const verdict::YearRun& run = answer.whole->leading();
    if (fails && !lasts)
      out.statement("Of the needs `runnel flow` says: " + rendered(run.flow_sentence, options), false);
    if (answer.whole->runs.size() > 1) out.line(settings_told(*answer.whole), 0);
  }
  out.paragraph(about_words(answer.system.name(), answer.setting) + ", year after year.");
  for (const YearPart& part : answer.parts) out.append(balances(part));
  return out.append(basis(answer));
}

std::string year_text(const YearAnswer& answer, const TextOptions& options) {
  return render_text(year_document(answer, options), options);
}

verdict::Ruling year_ruling(const verdict::YearRun& run) {
  return run.lasts() ? run.flow : std::max(run.flow, verdict::Ruling::fails);
}

std::string year_json(const YearAnswer& answer) {
  Json json;
  json["runnel"] = version();
  json["model"] = answer.system.name();
  json["setting"] = answer.setting;
  json["good"] = answer.whole ? answer.whole->good()
                              : std::all_of(answer.parts.begin(), answer.parts.end(),
                                            [](const YearPart& part) { return part.good(); });
  if (answer.whole) json["ruling"] = word(year_ruling(answer.whole->leading()));
  json["settings"] = Json::array();
  if (answer.whole)
    for (const verdict::YearRun& run : answer.whole->runs)
      json["settings"].push_back({{"setting", run.setting},
                                  {"lasts", run.lasts()},
                                  {"good", run.good()},
                                  {"ruling", word(year_ruling(run))}});
  json["parts"] = Json::array();
  for (const YearPart& part : answer.parts) json["parts"].push_back(part_json(part));
  return dumped(json);
}

}  // namespace runnel::report
