#include "runnel/review/works_facts.h"

#include <chrono>

#include "runnel/review/works_terms.h"
#include "runnel/springs/bucket_yield.h"
#include "runnel/springs/yield_log.h"
#include "runnel/works/chlorine.h"
#include "runnel/works/seepage.h"
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
  fact.said.say("The soil lets ").figure(Kind::velocity, k->low.si()).say(" to ");
  fact.said.figure(Kind::velocity, k->high.si()).say(" of water through at a slope of one.");
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

Fact trend_fact(const std::string& box, const springs::YieldTrend& trend) {
  Fact fact;
  fact.said.name(box);
  switch (trend.trend) {
    case springs::Trend::falling:
      fact.said.say(" is falling");
      break;
    case springs::Trend::rising:
      fact.said.say(" is rising");
      break;
    case springs::Trend::not_shown:
    case springs::Trend::too_few:
      fact.said.say(trend.trend == springs::Trend::too_few ? " has too few entries in its log to show a trend"
                                                           : " shows no trend");
      break;
  }
  if (trend.change_low && trend.change_high) {
    fact.said.say(": its yield changes by ").figure(Kind::flow, trend.change_low->si()).say(" to ");
    fact.said.figure(Kind::flow, trend.change_high->si()).say(" a year");
  }
  fact.said.say(".");
  if (trend.within_a_year && trend.trend != springs::Trend::too_few)
    fact.said.say(" The log is shorter than a year, so that season and trend cannot be told apart.");
  fact.source = "least squares, interval of the slope by [student1908]";
  return fact;
}

}  // namespace

Fact settling_fact(const std::string& box, const works::SettlingAnswer& kept) {
  Fact fact;
  fact.said.name(box).say(" holds its water for ").figure(Kind::duration, kept.stay.si());
  if (kept.kept) fact.said.say(" and keeps back grains down to ").figure(Kind::bore, kept.kept->metres());
  fact.said.say("; what is finer a strainer, a second box or the washouts must take.");
  fact.source = "surface load [hazen1904], settling [ferguson-church2004; from memory]";
  return fact;
}

void add_facts(const network::System&, const Collection& works, const network::Box& box,
               std::vector<Fact>& out) {
  add_bucket_tests(box, out);
  add_ground(works, out);
  add_stone(works, out);
  add_bleach(works, box, out);
}

std::vector<Fact> log_facts(const network::System& system) {
  std::vector<Fact> out;
  for (const network::SpringLog& log : system.model().logs) {
    std::vector<springs::LogEntry> entries;
    for (const network::LoggedYield& entry : log.entries) entries.push_back({day_of(entry), entry.yield});
    out.push_back(trend_fact(log.box, springs::yield_trend(entries)));
  }
  return out;
}

}  // namespace runnel::review
