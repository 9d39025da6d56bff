#include "runnel/review/works_facts.h"

#include <chrono>
#include <cmath>

#include "runnel/losses/overflow.h"
#include "runnel/network/change.h"
#include "runnel/review/works_terms.h"
#include "runnel/springs/bucket_yield.h"
#include "runnel/springs/yield_log.h"
#include "runnel/steady/state.h"
#include "runnel/works/chlorine.h"
#include "runnel/works/seepage.h"
#include "runnel/works/settling.h"
#include "runnel/works/stone_amount.h"

namespace runnel::review {

namespace {

using network::Collection;

// Household bleach as most instructions take it [virginia-356-487].
constexpr double usual_bleach_percent = 5.25;

void add_stone(const Collection& works, std::vector<Fact>& out) {
  for (std::size_t i = 0; i < works.layers.size(); ++i) {
    const network::FilterLayer& layer = works.layers[i];
    const bool measured = layer.length > Length{} && layer.width > Length{} && layer.thickness > Length{};
    if (layer.sieves.empty() || !measured) continue;
    const works::StoneAmount amount = works::layer_amount(layer.length, layer.width, layer.thickness);
    Fact fact;
    fact.said.name(layer.name.empty() ? "layer " + std::to_string(i + 1) : layer.name).say(": ");
    fact.said.figure(Kind::volume, amount.volume.si()).say(" of stone, about ");
    fact.said.figure(Kind::number, amount.mass_kg / 1000.0).say(" tonnes.");
    fact.source = "1500 kg in a loose cubic metre, common practice, no source";
    out.push_back(std::move(fact));
  }
}

void add_ground(const Collection& works, std::vector<Fact>& out) {
  const auto soil = works.soil ? grading_of(works.soil->sieves) : std::nullopt;
  const auto d10 = soil ? soil->size_at(10.0) : std::nullopt;
  const auto k = d10 ? works::hazen_range(*d10) : std::nullopt;
  if (!k) return;
  Fact fact;
  // By the day: in metres a second it would be all zeros.
  constexpr double day_s = 86400.0;
  fact.said.say("At a slope of one, water goes through the soil by ");
  fact.said.figure(Kind::length, k->low.si() * day_s).say(" to ");
  fact.said.figure(Kind::length, k->high.si() * day_s).say(" a day.");
  fact.source = "[hazen1911], C from 40 to 150 [fetter-hydrogeology; from memory]";
  out.push_back(std::move(fact));
  if (!works.seepage) return;
  const works::FlowRange gives =
      works::darcy_seepage(*k, works.seepage->slope, works.seepage->width, works.seepage->height);
  Fact seepage;
  seepage.said.say("By the soil alone the face gives ").figure(Kind::flow, gives.low.si()).say(" to ");
  seepage.said.figure(Kind::flow, gives.high.si()).say("; what the bucket says goes before that.");
  seepage.source = "Darcy's law with the conductivity above";
  out.push_back(std::move(seepage));
}

void add_bleach(const Collection& works, const network::Box& box, std::vector<Fact>& out) {
  if (!(box.plan_length > Length{}) || !box.floor) return;
  const double percent = works.bleach_percent > 0.0 ? works.bleach_percent : usual_bleach_percent;
  const Volume holds =
      Volume::from_si(box.plan_length.metres() * box.plan_width.metres() * (box.lip - *box.floor).metres());
  for (const works::PublishedDose& dose : works::published_doses()) {
    if (dose.what != works::Disinfects::spring_box && dose.what != works::Disinfects::tank) continue;
    const Volume bleach = works::chlorine_for(dose.dose_mgl, holds, works::Product::liquid, percent).liquid;
    Fact fact;
    fact.said.name(box.name)
        .say(", full, takes ")
        .figure(Kind::number, bleach.litres())
        .say(" litres of bleach of ");
    fact.said.figure(Kind::percent, percent / 100.0).say(" for ").figure(Kind::number, dose.dose_mgl);
    fact.said.say(" mg/L");
    if (dose.stand > Duration{}) fact.said.say(", to stand ").figure(Kind::duration, dose.stand.si());
    fact.said.say(".");
    fact.source = "[" + std::string(dose.source) + "]; local health authorities decide";
    out.push_back(std::move(fact));
  }
}

void add_bucket_tests(const network::Box& box, std::vector<Fact>& out) {
  if (!box.bucket_tests) return;
  const springs::BucketYield yield = springs::bucket_yield(box.bucket_tests->volume, box.bucket_tests->times);
  Fact fact;
  fact.said.name(box.name).say(" gave ").figure(Kind::flow, yield.mean.si());
  if (yield.interval) {
    fact.said.say(" on the day of the test, between ").figure(Kind::flow, yield.interval->low.si());
    if (yield.interval->high) fact.said.say(" and ").figure(Kind::flow, yield.interval->high->si());
  }
  fact.said.say(": ").figure(Kind::volume, yield.per_day.si()).say(" a day.");
  if (yield.tests < springs::least_tests) fact.said.say(" Fewer than three fillings are too few.");
  if (yield.outlying) fact.said.say(" One of the times does not belong to the others: time it again.");
  fact.source = "volume over the mean time; interval by [student1908]";
  out.push_back(std::move(fact));
}

std::chrono::sys_days day_of(const network::LoggedYield& entry) {
  return std::chrono::year{entry.year} / static_cast<int>(entry.month) / static_cast<int>(entry.day);
}

/// Pairs of entries from the same time of different years, and whether their changes, taken together, go the
/// way of the trend. A log that begins in the wet season and ends in the dry one falls without any trend.
bool seasons_agree(const std::vector<springs::LogEntry>& log, springs::Trend trend) {
  constexpr double year_days = 365.25, same_season_days = 45.0;
  int pairs = 0;
  double sum = 0.0;
  for (std::size_t i = 0; i < log.size(); ++i)
    for (std::size_t k = 0; k < log.size(); ++k) {
      const double days = static_cast<double>((log[k].date - log[i].date).count());
      const double years = std::round(days / year_days);
      if (years < 1.0 || std::fabs(days - years * year_days) > same_season_days) continue;
      ++pairs;
      sum += (log[k].yield - log[i].yield).si() / years;
    }
  return pairs >= 2 && (trend == springs::Trend::falling ? sum < 0.0 : sum > 0.0);
}

Fact trend_fact(const std::string& box, const std::vector<springs::LogEntry>& log) {
  const springs::YieldTrend trend = springs::yield_trend(log);
  const bool moves = trend.trend == springs::Trend::falling || trend.trend == springs::Trend::rising;
  Fact fact;
  fact.said.name(box);
  if (trend.trend == springs::Trend::too_few)
    fact.said.say(" has too few entries in its log to show a trend");
  else if (!moves || trend.within_a_year || !seasons_agree(log, trend.trend))
    fact.said.say(" shows no trend");
  else
    fact.said.say(trend.trend == springs::Trend::falling ? " is falling" : " is rising");
  if (trend.change_low && trend.change_high) {
    fact.said.say(": its yield changes by ").figure(Kind::flow, trend.change_low->si()).say(" to ");
    fact.said.figure(Kind::flow, trend.change_high->si()).say(" a year");
  }
  fact.said.say(".");
  if (trend.within_a_year && trend.trend != springs::Trend::too_few)
    fact.said.say(" The log is shorter than a year, so that season and trend cannot be told apart.");
  else if (moves && !seasons_agree(log, trend.trend))
    fact.said.say(" Entries of the same season do not bear that out: season and trend cannot be told apart.");
  fact.source = "least squares, interval of the slope by [student1908]; entries of the same season compared";
  return fact;
}

/// Settling, and which grains something else must take.
void add_settling(const SeenWorks& seen, std::vector<Fact>& out) {
  const bool basin = seen.box.plan_length > Length{} && seen.works.depth > Length{};
  if (!basin || !(seen.greatest > Flow{})) return;
  const works::SettlingAnswer kept = works::settle(
      {seen.box.plan_length, seen.box.plan_width, seen.works.depth}, seen.greatest, seen.system.site().water);
  Fact fact;
  fact.said.name(seen.box.name).say(" holds its water for ").figure(Kind::duration, kept.stay.si());
  if (kept.kept) fact.said.say(" and keeps back grains down to ").figure(Kind::bore, kept.kept->metres());
  fact.said.say("; what is finer a strainer, a second box or the washouts must take.");
  fact.source = "surface load [hazen1904], settling [ferguson-church2004; from memory]";
  out.push_back(std::move(fact));
}

/// How high the greatest flow stands over the lip when all of it spills.
void add_overflow(const SeenWorks& seen, std::vector<Fact>& out) {
  if (!seen.box.overflow || !(seen.greatest > Flow{})) return;
  const auto head = losses::overflow_head(*seen.box.overflow, seen.greatest.si());
  if (!head) return;
  Fact fact;
  fact.said.say("When all of ").figure(Kind::flow, seen.greatest.si()).say(" spills, ");
  fact.said.name(seen.box.name).say(" stands ").figure(Kind::bore, head->head_m).say(" over its lip.");
  fact.source = "its weir, pipe or holes, as the model draws them";
  out.push_back(std::move(fact));
}

/// What its lines take of the greatest flow, and what is left to the overflow.
void add_outlet(const SeenWorks& seen, std::vector<Fact>& out) {
  if (!(seen.greatest > Flow{})) return;
  network::Model model = seen.system.model();
  for (network::Box& box : model.boxes)
    for (const Collection& works : model.collections)
      if (works.box == box.name && works.greatest_flow && box.yield > Flow{})
        box.yield = *works.greatest_flow, box.bucket_tests.reset();
  const auto system = network::resolve(model);
  if (!system) return;
  const steady::State state = steady::solve(*system.value);
  if (!state.proved()) return;
  double leaves_m3s = 0.0;
  for (std::size_t i = 0; i < state.lines.size(); ++i)
    if (system.value->lines()[i].from == system.value->find_place(seen.box.name))
      leaves_m3s += state.lines[i].flow_m3s;
  const steady::PlaceState* box = state.place(seen.box.name);
  Fact fact;
  fact.said.say("At the spring's greatest flow the outlet of ").name(seen.box.name).say(" takes ");
  fact.said.figure(Kind::flow, leaves_m3s);
  if (box) fact.said.say(", and ").figure(Kind::flow, box->spill_m3s).say(" spills");
  fact.said.say(".");
  fact.source = "the steady state at that flow";
  out.push_back(std::move(fact));
}

Fact change_fact(const std::string& box, const network::LoggedYield& from, const network::LoggedYield& to) {
  const auto date = [](const network::LoggedYield& entry) {
    const auto two = [](unsigned n) { return (n < 10 ? "0" : "") + std::to_string(n); };
    return std::to_string(entry.year) + "-" + two(entry.month) + "-" + two(entry.day);
  };
  const double days = static_cast<double>((day_of(to) - day_of(from)).count());
  constexpr double month_days = 30.44;
  Fact fact;
  fact.said.name(box).say(" from " + date(from) + " to " + date(to) + ": ");
  fact.said.figure(Kind::flow, (to.yield - from.yield).si() / days * month_days).say(" a month.");
  fact.source = "difference of two entries of the log over the days between them";
  return fact;
}

}  // namespace

void add_facts(const SeenWorks& seen, std::vector<Fact>& out) {
  add_settling(seen, out);
  add_outlet(seen, out);
  add_overflow(seen, out);
  add_bucket_tests(seen.box, out);
  add_ground(seen.works, out);
  add_stone(seen.works, out);
  add_bleach(seen.works, seen.box, out);
}

std::vector<Fact> log_facts(const network::System& system) {
  std::vector<Fact> out;
  for (const network::SpringLog& log : system.model().logs) {
    std::vector<springs::LogEntry> entries;
    for (const network::LoggedYield& entry : log.entries) entries.push_back({day_of(entry), entry.yield});
    out.push_back(trend_fact(log.box, entries));
    for (std::size_t i = 1; i < log.entries.size(); ++i)
      if (day_of(log.entries[i - 1]) < day_of(log.entries[i]))
        out.push_back(change_fact(log.box, log.entries[i - 1], log.entries[i]));
  }
  return out;
}

}  // namespace runnel::review
