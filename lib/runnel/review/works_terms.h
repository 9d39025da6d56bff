#pragma once
// From what is written of the works to the laws of room `works`, and back from its judgements to rulings.
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/collection.h"
#include "runnel/review/judge.h"
#include "runnel/works/filter_rules.h"
#include "runnel/works/layers.h"
#include "runnel/works/wall.h"

namespace runnel::review {

/// The curve of the sieves; none unless they make one.
std::optional<works::GradingCurve> grading_of(const std::vector<network::Sieve>& sieves);
/// The edition of the filter rules; NRCS 2017 where the model names none.
works::FilterEdition edition_of(const std::string& words);
/// The kind of ground; none where the model names none.
std::optional<works::Ground> ground_of(const std::string& word);

/// "filter-retention", and the name of its measure.
struct WorksRule {
  const char* id;
  const char* measure;
};
WorksRule words_of(works::Rule rule);

/// The ruling by the set's own rule of that id, which gives its weight and how much of the printed limit may
/// be taken up; none if the set has no such rule.
std::optional<Ruling> ruling_of(const RuleSet& rules, const works::Judgement& judgement, const Where& where);

}  // namespace runnel::review
