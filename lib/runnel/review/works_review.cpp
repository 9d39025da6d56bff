#include "runnel/review/works_review.h"

#include <cmath>

#include "runnel/losses/air_valve.h"
#include "runnel/losses/overflow.h"
#include "runnel/review/works_facts.h"
#include "runnel/review/works_terms.h"
#include "runnel/works/drilled_pipe.h"
#include "runnel/works/settling.h"

namespace runnel::review {

namespace {

using network::Collection;

/// A rule of its own about one figure of the works.
Ruling own_rule(const Where& where, const char* id, const char* text, const char* source, Sense sense,
                Figure figure, double limit_si, Weight weight = Weight::must) {
  Rule rule;
  rule.id = id;
  rule.text = text;
  rule.sense = sense;
  rule.limit = {figure.kind, limit_si};
  rule.weight = weight;
  Ruling out = rule_on(rule, figure.kind, exactly(where, figure.si));
  out.source = source;
  return out;
}

void judge_filter(const Collection& works, const Where& where, std::vector<Ruling>& out) {
  const auto soil = works.soil ? grading_of(works.soil->sieves) : std::nullopt;
  if (works.layers.empty() && !works.pipe) return;
  if (!soil) {
    Ruling ruling{"filter-retention", words_of(works::Rule::retention).text};
    ruling.where = where;
    ruling.missing = "the sieves of the soil at " + works.box;
    out.push_back(ruling);
    return;
  }
  std::vector<works::Layer> layers;
  for (const network::FilterLayer& layer : works.layers) {
    const auto curve = grading_of(layer.sieves);
    if (curve)
      layers.emplace_back(works::GradingBand::of(*curve));
    else
      layers.emplace_back(works::Cloth{layer.cloth_opening, layer.cloth_permittivity_ps, std::nullopt});
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
    out.push_back(ruling_of(one.judgement, at));
  }
}

works::DrilledPipe drilled_of(const network::GatheringPipe& pipe) {
  return {pipe.bore, pipe.drilled, pipe.holes_a_metre, pipe.hole};
}

void judge_intake(const Collection& works, const network::Box& box, Flow greatest, const Where& where,
                  std::vector<Ruling>& out) {
  if (works.pipe && !works.pipe->slots) {
    const works::DrilledPipe pipe = drilled_of(*works.pipe);
    if (works.pipe->head > Length{})
      out.push_back(
          own_rule(where, "drilled-pipe-capacity", "The drilled pipe takes in what the spring gives.",
                   "orifices, half of them shut by stone: common practice, no source", Sense::at_least,
                   {Kind::flow, works::intake_of(pipe, works.pipe->head).capacity.si()}, greatest.si()));
    if (const auto velocity = works::entrance_velocity(pipe, greatest))
      out.push_back(own_rule(
          where, "entrance-velocity", "Water enters the holes so slowly that sand stays at rest.",
          "[driscoll1986; from memory]", Sense::at_most, {Kind::velocity, velocity->metres_per_second()},
          works::careful_entrance.metres_per_second(), Weight::advice));
  }
  if (works.riser.empty()) return;
  std::vector<losses::HoleRow> rows;
  for (const network::RiserRow& row : works.riser)
    rows.push_back({row.elevation.metres(), row.hole.metres(), static_cast<int>(std::lround(row.count))});
  out.push_back(own_rule(where, "riser-capacity",
                         "The drilled riser takes in what the spring gives below the lip.",
                         "orifices under their own depth [britannica1911; found]", Sense::at_least,
                         {Kind::flow, works::riser_intake(rows, box.lip, 1.0).si()}, greatest.si()));
}

Ruling not_given(const Where& where, const char* id, const char* text, const char* source,
                 std::string missing) {
  Ruling ruling{id, text};
  ruling.where = where;
  ruling.source = source;
  ruling.missing = std::move(missing);
  return ruling;
}

void judge_overflow(const Collection& works, const network::Box& box, Flow greatest, const Where& where,
                    std::vector<Ruling>& out) {
  constexpr const char* text =
      "The overflow passes the spring's greatest flow before water leaves elsewhere.";
  constexpr const char* source = "[private-supplies-uk; found]";
  if (!box.overflow || !box.rim) {
    out.push_back(not_given(where, "overflow-capacity", text, source,
                            (box.overflow ? "the rim of " : "the overflow of ") + works.box));
  } else {
    const auto head = losses::overflow_head(*box.overflow, greatest.si());
    constexpr double out_of_reach_m = 100.0;  // overflow_head looks no further
    out.push_back(own_rule(where, "overflow-capacity", text, source, Sense::at_most,
                           {Kind::head, head ? head->head_m : out_of_reach_m},
                           (*box.rim - box.lip).metres()));
  }
  constexpr const char* screened = "The overflow is screened against animals.";
  constexpr const char* screen_source = "[wisconsin-nr-812-33; found]";
  if (!works.overflow_screened)
    out.push_back(not_given(where, "overflow-screened", screened, screen_source,
                            "whether the overflow of " + works.box + " is screened"));
  else
    out.push_back(own_rule(where, "overflow-screened", screened, screen_source, Sense::at_least,
                           {Kind::number, *works.overflow_screened ? 1.0 : 0.0}, 1.0));
}

void judge_vent(const Collection& works, const network::System& system, Flow greatest, const Where& where,
                std::vector<Ruling>& out) {
  losses::SiteAir air;
  air.pressure_pa = system.site().air_pressure_pa;
  out.push_back(
      own_rule(where, "box-vent", "The box has a vent that lets in the air that its water leaves room for.",
               "air through a hole [isentropic-flow], suction of 5 psi [valve-notes]", Sense::at_least,
               {Kind::bore, works.vent.metres()}, losses::draining_vent_bore_m(greatest.si(), air)));
}

void judge_basin(const Collection& works, const network::Box& box, const network::System& system,
                 Flow greatest, const Where& where, WorksReview& out) {
  if (!(box.plan_length > Length{}) || !(works.depth > Length{})) return;
  const works::SettlingAnswer kept =
      works::settle({box.plan_length, box.plan_width, works.depth}, greatest, system.site().water);
  out.facts.push_back(settling_fact(box.name, kept));
  if (kept.kept && works.strainer > Length{})
    out.rulings.push_back(own_rule(where, "strainer", "The strainer keeps what the box lets pass.",
                                   "[hazen1904], [ferguson-church2004; from memory]", Sense::at_most,
                                   {Kind::bore, works.strainer.metres()}, kept.kept->metres(),
                                   Weight::advice));
}

void judge_wall(const Collection& works, const Where& where, std::vector<Ruling>& out) {
  if (!works.wall) return;
  const network::SpringWall& drawn = *works.wall;
  const works::Wall wall{drawn.spring,         drawn.water_behind, drawn.water_in_front, drawn.top,
                         drawn.highest_ground, drawn.depth_behind, drawn.depth_in_front, drawn.width};
  const auto ground = ground_of(drawn.ground);
  for (const works::Judgement& judgement :
       works::judge_wall(wall, ground.value_or(works::Ground::fine_sand))) {
    if (judgement.rule == works::Rule::creep && !ground) continue;
    Ruling ruling = ruling_of(judgement, where);
    if (judgement.rule == works::Rule::creep) ruling.weight = Weight::advice;
    out.push_back(std::move(ruling));
  }
}

void judge_distances(const Collection& works, const Where& where, std::vector<Ruling>& out) {
  for (const network::KeptDistance& kept : works.distances) {
    const auto what = keeps_of(kept.from);
    if (!what) continue;
    for (const works::DistanceJudgement& judgement : works::judge_distance(*what, kept.distance)) {
      Ruling ruling{"distance", "The spring lies far enough from what fouls it."};
      ruling.weight = Weight::advice;
      ruling.where = where;
      ruling.where.part = kept.from;
      ruling.sense = Sense::at_least;
      ruling.verdict = judgement.verdict;
      ruling.figure = Figure{Kind::length, kept.distance.metres()};
      ruling.low_si = ruling.high_si = kept.distance.metres();
      ruling.limit = Figure{Kind::length, judgement.published.better.metres()};
      ruling.margin_si = ruling.figure->si - ruling.limit->si;
      ruling.source = "[" + std::string(judgement.published.source) + "]";
      out.push_back(std::move(ruling));
    }
  }
}

WorksReview review_one(const network::System& system, const Collection& works, const network::Box& box) {
  WorksReview out{works.box, {}, {}};
  const Where where{works.box, "", "", std::nullopt};
  const Flow greatest = works.greatest_flow.value_or(box.yield);
  judge_filter(works, where, out.rulings);
  if (greatest > Flow{}) {
    judge_intake(works, box, greatest, where, out.rulings);
    judge_overflow(works, box, greatest, where, out.rulings);
    judge_vent(works, system, greatest, where, out.rulings);
    judge_basin(works, box, system, greatest, where, out);
  }
  judge_wall(works, where, out.rulings);
  judge_distances(works, where, out.rulings);
  add_facts(system, works, box, out.facts);
  return out;
}

}  // namespace

std::vector<WorksReview> review_works(const network::System& system) {
  std::vector<WorksReview> out;
  for (const Collection& works : system.model().collections)
    if (const network::Box* box = system.box(works.box)) out.push_back(review_one(system, works, *box));
  return out;
}

bool overflow_fails(const std::vector<WorksReview>& works, const std::string& box) {
  for (const WorksReview& one : works)
    for (const Ruling& ruling : one.rulings)
      if (ruling.rule == "overflow-capacity" && ruling.where.place == box && fails(ruling)) return true;
  return false;
}

}  // namespace runnel::review
