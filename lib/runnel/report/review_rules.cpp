#include "runnel/report/review_rules.h"

#include <algorithm>

#include "runnel/report/json_parts.h"
#include "runnel/report/render_text.h"
#include "runnel/review/measure.h"
#include "runnel/review/read_rules.h"

namespace runnel::report {

namespace {

const char* sense_words(review::Sense sense) {
  return sense == review::Sense::at_most ? "at most" : "at least";
}

}  // namespace

std::string rule_text(const std::string& id, const TextOptions& options) {
  Document out;
  for (const review::RuleSet& set : review::standard_rule_sets()) {
    const review::Rule* rule = set.find(id);
    if (!rule) continue;
    const review::Measure* measure = review::find_measure(rule->measure);
    if (out.empty()) out.add(Prose{.lead = id});
    out.line("For " + set.name + ": " + rule->text, 0);
    out.paragraph(
        "Measured: " + rule->measure + ", " + std::string(measure->meaning) + "; " +
            sense_words(rule->sense) + " " + units::show(rule->limit, options.units) +
            (rule->weight == review::Weight::advice ? " (advice: falling short of it fails nothing)." : "."),
        1);
    out.paragraph("Source: " + source_words(*rule), 1);
  }
  return render_text(out, options);
}

std::string rule_json(const std::string& id) {
  Json all = Json::array();
  for (const review::RuleSet& set : review::standard_rule_sets())
    if (const review::Rule* rule = set.find(id))
      all.push_back({{"rule", id},
                     {"set", set.name},
                     {"text", rule->text},
                     {"measures", rule->measure},
                     {"sense", sense_words(rule->sense)},
                     {"limit", figure_json(rule->limit)},
                     {"weight", rule->weight == review::Weight::must ? "must" : "advice"},
                     {"source", source_words(*rule)}});
  return all.empty() ? std::string() : dumped(all);
}

std::vector<std::string> rule_names() {
  std::vector<std::string> names;
  for (const review::RuleSet& set : review::standard_rule_sets())
    for (const review::Rule& rule : set.rules) names.push_back(rule.id);
  std::sort(names.begin(), names.end());
  names.erase(std::unique(names.begin(), names.end()), names.end());
  return names;
}

}  // namespace runnel::report
