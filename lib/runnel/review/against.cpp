#include "runnel/review/against.h"

#include <algorithm>

#include "runnel/review/claim_reasons.h"

namespace runnel::review {

namespace {

using network::System;

double pipe_length_m(const System& system) {
  double sum = 0.0;
  for (const network::Line& line : system.lines())
    for (const network::CoursePoint& point : line.course.points()) sum += point.length_m;
  return sum;
}

/// Taps and tanks, by name.
std::vector<std::string> places_of_use(const System& system) {
  std::vector<std::string> names;
  for (const network::Outlet& outlet : system.outlets()) names.push_back(outlet.name);
  for (const network::Tank& tank : system.tanks()) names.push_back(tank.name);
  return names;
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
  std::vector<std::string> places = places_of_use(first.system);
  for (const std::string& name : places_of_use(second.system)) add_new(places, name);
  for (const std::string& name : places)
    out.places.push_back({name, reckoned(first.system.model(), {ClaimKind::flow, name}),
                          reckoned(second.system.model(), {ClaimKind::flow, name})});
  out.first_pipe_m = pipe_length_m(first.system);
  out.second_pipe_m = pipe_length_m(second.system);
  return out;
}

}  // namespace runnel::review
