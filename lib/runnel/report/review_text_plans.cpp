// The works at the spring, how each part is taken out, and what to do when.
#include <algorithm>

#include "runnel/report/harmless.h"
#include "runnel/report/review.h"
#include "runnel/report/review_parts.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {

namespace {

std::string fact_text(const review::Fact& fact, const TextOptions& options) {
  const std::string said = units::render(fact.said.text(), fact.said.figures(), options.units);
  return paragraph("- " + harmless(said) + " (" + fact.source + ")", 2, 4, options.width);
}

const char* word_of(review::ServedKind kind) {
  switch (kind) {
    case review::ServedKind::union_:
      return "union ";
    case review::ServedKind::valve:
      return "valve ";
    case review::ServedKind::tank:
      return "tank ";
    case review::ServedKind::box:
      break;
  }
  return "box ";
}

std::string item_words(const review::ServiceItem& item, const TextOptions& options) {
  std::string said = word_of(item.kind) + harmless(item.name) + ": ";
  if (!item.possible) return said + "cannot be parted from the water of " + harmless(item.fed_by) + ".";
  said += item.shut.empty() ? "no valve has to be shut" : "shut " + listed(item.shut);
  if (!item.opened.empty()) said += ", open " + listed(item.opened);
  said += ".";
  if (!item.solved) said += " Who gets water meanwhile could not be worked out.";
  if (!item.without.empty()) said += " Without water: " + listed(item.without) + ".";
  for (const review::StillServed& served : item.served)
    if (!item.without.empty() || !item.opened.empty())
      said += " " + harmless(served.place) + " gets " + shown(Kind::flow, served.flow_m3s, options) + ".";
  constexpr double a_cup_m3 = 2e-4;
  if (item.drains_m3 > a_cup_m3)
    said += " " + shown(Kind::volume, item.drains_m3, options) + " runs out" +
            (item.drains_to.empty() ? " there." : " at " + harmless(item.drains_to) + ".");
  return said;
}

const char* word_of(review::Often often) {
  switch (often) {
    case review::Often::each_week:
      return "Each week";
    case review::Often::after_each_flood:
      return "After each flood";
    case review::Often::each_month:
      return "Each month";
    case review::Often::twice_a_year:
      return "Twice a year";
    case review::Often::each_year:
      return "Each year";
    case review::Often::dry_season:
      break;
  }
  return "At the end of the dry season";
}

}  // namespace

std::string logs_text(const review::Review& review, const TextOptions& options) {
  if (review.logs.empty()) return {};
  std::string out = heading("Yield over the years", options);
  for (const review::Fact& fact : review.logs) out += fact_text(fact, options);
  return out;
}

std::string works_text(const review::Review& review, const TextOptions& options) {
  std::string out;
  for (const review::WorksReview& works : review.works) {
    out += heading("The works at " + harmless(works.box), options);
    for (const review::Ruling& ruling : works.rulings)
      out += paragraph("- " + std::string(verdict_word(ruling.verdict)) + ": " +
                           ruling_words(ruling, options) + " (" + ruling.source + ")",
                       2, 4, options.width);
    for (const review::Fact& fact : works.facts) out += fact_text(fact, options);
  }
  return out + logs_text(review, options);
}

std::string service_text(const review::Review& review, const TextOptions& options) {
  if (review.service.items.empty()) return {};
  std::string out = heading("To take a part out", options);
  for (const review::ServiceItem& item : review.service.items)
    out += paragraph("- " + item_words(item, options), 2, 4, options.width);
  if (review.service.left_out > 0)
    out += paragraph(std::to_string(review.service.left_out) + " more parts were not planned.", 2, 4,
                     options.width);
  return out + findings_text(review.service.findings, options);
}

std::string maintenance_text(const review::Review& review, const TextOptions& options) {
  if (review.maintenance.empty()) return {};
  std::string out = heading("Upkeep", options);
  const review::Task* before = nullptr;
  for (const review::Task& task : review.maintenance) {
    if (!before || before->often != task.often)
      out += paragraph(std::string(word_of(task.often)) + ":", 2, 4, options.width);
    out += paragraph("- " + harmless(task.what) + " (" + task.source + ")", 4, 6, options.width);
    before = &task;
  }
  return out;
}

std::string upkeep_text(const ReviewAnswer& answer, const TextOptions& wanted) {
  TextOptions options = wanted;
  options.width = std::max(60, options.width);
  std::string out =
      "Upkeep of " + (answer.drawn.name.empty() ? "this line" : harmless(answer.drawn.name)) + "\n";
  out += maintenance_text(answer.review, options) + logs_text(answer.review, options);
  return out + "\n" +
         paragraph("Names are those of the model. Local codes and a licensed engineer have the last word.", 0,
                   0, options.width);
}

}  // namespace runnel::report
