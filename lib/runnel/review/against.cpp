#include "runnel/review/against.h"

#include <algorithm>

#include "runnel/review/claim_reasons.h"

namespace runnel::review {

namespace {

using network::Model;

double pipe_length_m(const Model& model) {
  const auto system = network::resolve(model);
  double sum = 0.0;
  if (system)
    for (const network::Line& line : system.value->lines())
      for (const network::CoursePoint& point : line.course.points()) sum += point.length_m;
  return sum;
}

/// Taps and tanks, by name.
std::vector<std::string> places_of_use(const Model& model) {
  std::vector<std::string> names;
  for (const network::Outlet& outlet : model.outlets) names.push_back(outlet.name);
  for (const network::Tank& tank : model.tanks) names.push_back(tank.name);
  return names;
}

const SettingOutcome* outcome_of(const Review& review, const std::string& setting) {
  for (const SettingOutcome& outcome : review.settings)
    if (outcome.setting == setting) return &outcome;
  return nullptr;
}

std::vector<SettingBeside> settings_of_both(const Review& first, const Review& second) {
  std::vector<SettingBeside> all;
  for (const SettingOutcome& outcome : first.settings)
    all.push_back({outcome.setting, &outcome, outcome_of(second, outcome.setting)});
  for (const SettingOutcome& outcome : second.settings)
    if (!outcome_of(first, outcome.setting)) all.push_back({outcome.setting, nullptr, &outcome});
  return all;
}

std::optional<double> arrives(const Model& drawn, const std::string& setting, const std::string& place) {
  const auto run = network::under_setting(drawn, setting);
  return run ? reckoned(*run.value, {ClaimKind::flow, place}) : std::nullopt;
}

void add_new(std::vector<std::string>& all, const std::string& name) {
  if (std::find(all.begin(), all.end(), name) == all.end()) all.push_back(name);
}

/// Names of all rules that have a ruling in either, in the order of the first and then the second.
std::vector<std::string> rules_of_both(const Review& first, const Review& second) {
  std::vector<std::string> names;
  for (const Review* review : {&first, &second}) {
    for (const Ruling& ruling : review->rulings) add_new(names, ruling.rule);
    for (const WorksReview& works : review->works)
      for (const Ruling& ruling : works.rulings) add_new(names, ruling.rule);
  }
  return names;
}

/// The worst ruling of a rule, of the lines or of the works.
const Ruling* worst_in(const Review& review, const std::string& rule) {
  if (const Ruling* worst = worst_of_rule(review.rulings, rule)) return worst;
  for (const WorksReview& works : review.works)
    if (const Ruling* worst = worst_of_rule(works.rulings, rule)) return worst;
  return nullptr;
}

bool worth_showing(const Ruling* first, const Ruling* second) {
  if (!first || !second) return (first && fails(*first)) || (second && fails(*second));
  return first->verdict != second->verdict || (fails(*first) && fails(*second));
}

}  // namespace

Comparison compare(const Reviewed& first, const Reviewed& second) {
  Comparison out;
  for (const std::string& rule : rules_of_both(first.review, second.review)) {
    const Ruling* a = worst_in(first.review, rule);
    const Ruling* b = worst_in(second.review, rule);
    if (worth_showing(a, b)) out.rules.push_back({rule, a ? a->text : b->text, a, b});
  }
  out.settings = settings_of_both(first.review, second.review);
  std::vector<std::string> places = places_of_use(first.drawn);
  for (const std::string& name : places_of_use(second.drawn)) add_new(places, name);
  for (const SettingBeside& setting : out.settings)
    for (const std::string& name : places)
      out.places.push_back({setting.setting, name,
                            setting.first ? arrives(first.drawn, setting.setting, name) : std::nullopt,
                            setting.second ? arrives(second.drawn, setting.setting, name) : std::nullopt});
  out.first_pipe_m = pipe_length_m(first.drawn);
  out.second_pipe_m = pipe_length_m(second.drawn);
  return out;
}

}  // namespace runnel::review
