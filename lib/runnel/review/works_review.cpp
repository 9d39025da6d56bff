#include "runnel/review/works_review.h"

#include <algorithm>

#include "runnel/review/measure.h"
#include "runnel/review/works_facts.h"
#include "runnel/review/works_terms.h"
#include "runnel/review/yields.h"

namespace runnel::review {

namespace {

using network::Collection;

void add(std::optional<Ruling> ruling, std::vector<Ruling>& out) {
  if (ruling) out.push_back(std::move(*ruling));
}

/// The permittivity of a cloth is its conductivity over its thickness.
works::Cloth cloth_of(const network::FilterLayer& layer) {
  works::Cloth cloth{layer.cloth_opening, layer.cloth_permittivity_ps, std::nullopt};
  if (layer.cloth_permittivity_ps && layer.thickness > Length{})
    cloth.conductivity = Velocity::from_si(*layer.cloth_permittivity_ps * layer.thickness.metres());
  return cloth;
}

void judge_filter(const Collection& works, const RuleSet& rules, const Where& where,
                  std::vector<Ruling>& out) {
  const auto soil = works.soil ? grading_of(works.soil->sieves) : std::nullopt;
  if (works.layers.empty() && !works.pipe) return;
  if (!soil) {
    works::Judgement unknown;
    unknown.rule = works::Rule::retention;
    auto ruling = ruling_of(rules, unknown, where);
    if (ruling) ruling->missing = "the sieves of the soil at " + works.box;
    add(std::move(ruling), out);
    return;
  }
  std::vector<works::Layer> layers;
  for (const network::FilterLayer& layer : works.layers) {
    const auto curve = grading_of(layer.sieves);
    if (curve)
      layers.emplace_back(works::GradingBand::of(*curve));
    else
      layers.emplace_back(cloth_of(layer));
  }
  std::optional<works::PipeOpening> opening;
  if (works.pipe)
    opening = works::PipeOpening{works.pipe->slots ? works::OpeningShape::slot : works::OpeningShape::hole,
                                 works.pipe->hole};
  const works::Soil base{works::GradingBand::of(*soil), works.soil->dispersive};
  for (const works::LayerJudgement& one :
       works::judge_layers(base, layers, opening, edition_of(works.filter_rules))) {
    Where at = where;
    at.part = one.layer < works.layers.size() ? works.layers[one.layer].name : "drilled pipe";
    if (at.part.empty()) at.part = "layer " + std::to_string(one.layer + 1);
    add(ruling_of(rules, one.judgement, at), out);
  }
}

void judge_wall(const Collection& works, const RuleSet& rules, const Where& where, std::vector<Ruling>& out) {
  if (!works.wall) return;
  const network::SpringWall& drawn = *works.wall;
  const works::Wall wall{drawn.spring,         drawn.water_behind, drawn.water_in_front, drawn.top,
                         drawn.highest_ground, drawn.depth_behind, drawn.depth_in_front, drawn.width};
  const auto ground = ground_of(drawn.ground);
  for (const works::Judgement& judgement : works::judge_wall(wall, ground.value_or(works::Ground::fine_sand)))
    if (judgement.rule != works::Rule::creep || ground) add(ruling_of(rules, judgement, where), out);
}

WorksReview review_one(const RuleSet& rules, const SeenWorks& seen) {
  WorksReview out{seen.works.box, {}, {}};
  const Where where{seen.works.box, "", "", std::nullopt};
  judge_filter(seen.works, rules, where, out.rulings);
  for (const Rule& rule : rules.rules) {
    const Measure* measure = find_measure(rule.measure);
    const auto measured = measure && measure->of_works ? measure->of_works(seen) : std::nullopt;
    if (measured) out.rulings.push_back(rule_on(rule, measure->kind, *measured));
  }
  judge_wall(seen.works, rules, where, out.rulings);
  add_facts(seen, out.facts);
  return out;
}

/// The greatest flow as written, but no less than the spring is known to give.
Flow greatest_of(const network::System& system, const Collection& works, const network::Box& box) {
  const auto seasons = seasons_of(system, box);
  const Flow known = std::max(box.yield, seasons ? Flow::from_si(seasons->high_m3s) : Flow{});
  return std::max(works.greatest_flow.value_or(known), known);
}

}  // namespace

std::vector<WorksReview> review_works(const network::System& system, const RuleSet& rules) {
  std::vector<WorksReview> out;
  for (const Collection& works : system.model().collections)
    if (const network::Box* box = system.box(works.box))
      out.push_back(review_one(rules, {system, works, *box, greatest_of(system, works, *box)}));
  return out;
}

bool overflow_fails(const std::vector<WorksReview>& works, const std::string& box) {
  for (const WorksReview& one : works)
    for (const Ruling& ruling : one.rulings)
      if (ruling.rule == "overflow-capacity" && ruling.where.place == box && fails(ruling)) return true;
  return false;
}

}  // namespace runnel::review
