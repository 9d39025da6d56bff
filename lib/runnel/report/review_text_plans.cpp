// The works at the spring, how each part is taken out, and what to do when.
#include <algorithm>

#include "runnel/report/render_text.h"
#include "runnel/report/review.h"
#include "runnel/report/review_parts.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {

namespace {

std::string fact_words(const review::Fact& fact, const TextOptions& options) {
  const std::string said = units::render(fact.said.text(), fact.said.figures(), options.units);
  return said + " (" + fact.source + ")";
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
  std::string said = word_of(item.kind) + item.name + ": ";
  if (!item.possible) return said + "cannot be parted from the water of " + item.fed_by + ".";
  said += item.shut.empty() ? "no valve has to be shut" : "shut " + listed(item.shut);
  if (!item.opened.empty()) said += ", open " + listed(item.opened);
  said += ".";
  if (!item.solved) said += " Who gets water meanwhile could not be worked out.";
  if (!item.without.empty()) said += " Without water: " + listed(item.without) + ".";
  for (const review::StillServed& served : item.served)
    if (!item.without.empty() || !item.opened.empty())
      said += " " + served.place + " gets " + shown(Kind::flow, served.flow_m3s, options) + ".";
  constexpr double a_cup_m3 = 2e-4;
  if (item.drains_m3 > a_cup_m3)
    said += " " + shown(Kind::volume, item.drains_m3, options) + " runs out" +
            (item.drains_to.empty() ? " there." : " at " + item.drains_to + ".");
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

Document logs_section(const review::Review& review, const TextOptions& options) {
  if (review.logs.empty()) return {};
  Document out;
  out.section("Yield over the years");
  for (const review::Fact& fact : review.logs) out.item(fact_words(fact, options));
  return out;
}

Document works_section(const review::Review& review, const TextOptions& options) {
  Document out;
  for (const review::WorksReview& works : review.works) {
    out.section("The works at " + works.box);
    for (const review::Ruling& ruling : works.rulings)
      out.item(std::string(verdict_word(ruling.verdict)) + ": " + ruling_words(ruling, options) + " (" +
               ruling.source + ")");
    for (const review::Fact& fact : works.facts) out.item(fact_words(fact, options));
  }
  return out.append(logs_section(review, options));
}

Document service_section(const review::Review& review, const TextOptions& options) {
  if (review.service.items.empty()) return {};
  Document out;
  out.section("To take a part out");
  for (const review::ServiceItem& item : review.service.items) out.item(item_words(item, options));
  if (review.service.left_out > 0)
    out.line(std::to_string(review.service.left_out) + " more parts were not planned.");
  return out.append(findings_sections(review.service.findings, options));
}

Document maintenance_section(const review::Review& review) {
  if (review.maintenance.empty()) return {};
  Document out;
  out.section("Upkeep");
  const review::Task* before = nullptr;
  for (const review::Task& task : review.maintenance) {
    if (!before || before->often != task.often) out.line(std::string(word_of(task.often)) + ":");
    out.item(task.what + " (" + task.source + ")", 2);
    before = &task;
  }
  return out;
}

Document upkeep_document(const ReviewAnswer& answer, const TextOptions& options) {
  Document out;
  out.paragraph("Upkeep of " + (answer.drawn.name.empty() ? "this line" : answer.drawn.name));
  out.append(maintenance_section(answer.review)).append(logs_section(answer.review, options));
  return out.section().paragraph(
      "Names are those of the model. Local codes and a licensed engineer have the last word.");
}

std::string upkeep_text(const ReviewAnswer& answer, const TextOptions& options) {
  return render_text(upkeep_document(answer, options), options);
}

}  // namespace runnel::report
