// Works at a spring, yield logs, cover: at boxes and lines that exist, with figures that can be meant.
#include "runnel/network/complaints.h"

namespace runnel::network {

namespace {

class CollectionCheck {
 public:
  CollectionCheck(const Model& model, const NameIndex& index, Complaints& complaints)
      : model_(model), index_(index), complaints_(complaints) {}

  void box(const std::string& name, const Mark& mark, const char* member = "") {
    if (name.empty() || index_.box(name)) return;
    std::vector<std::string> boxes;
    for (const Box& one : model_.boxes) boxes.push_back(one.name);
    complaints_.error("no-such-box", mark, member, "there is no box named " + quoted(name), {},
                      complaints_.suggest(name, boxes));
  }

  void sieves(const std::vector<Sieve>& sieves, const Mark& mark, const std::string& what) {
    for (const Sieve& sieve : sieves)
      if (!complaints_.positive(mark, "sieves", {Kind::bore, sieve.size.metres()}, "a sieve of " + what))
        return;
    for (std::size_t i = 1; i < sieves.size(); ++i) {
      const bool rises = sieves[i].size > sieves[i - 1].size && sieves[i].finer >= sieves[i - 1].finer;
      if (rises) continue;
      complaints_.error("sieves-not-rising", mark, "sieves",
                        "the sieves of " + what + " must rise in size, and no coarser sieve passes less", {},
                        "write them from the finest to the coarsest: [[0.25 mm, 40 %], [1 mm, 85 %]]");
      return;
    }
  }

  void collection(const Collection& works) {
    box(works.box, works.mark);
    const std::string of = "the works at " + quoted(works.box);
    if (works.greatest_flow)
      complaints_.positive(works.mark, "greatest_flow", {Kind::flow, works.greatest_flow->si()},
                           "the greatest flow of " + of, flow_bounds_m3s);
    if (works.soil) sieves(works.soil->sieves, works.soil->mark, "the soil");
    for (const FilterLayer& layer : works.layers) sieves(layer.sieves, layer.mark, "this layer");
    if (!complaints_.whole(works.mark)) return;
    if (works.seepage)
      complaints_.positive(works.mark, "seepage.slope", {Kind::slope, works.seepage->slope},
                           "the slope of the water table", {1e-6, 10.0});
    if (!works.pipe) return;
    const Mark& mark = works.mark;
    complaints_.positive(mark, "drilled_pipe.bore", {Kind::bore, works.pipe->bore.metres()},
                         "the bore of the drilled pipe", bore_bounds_m);
    complaints_.positive(mark, "drilled_pipe.length", {Kind::length, works.pipe->drilled.metres()},
                         "the length of the drilled pipe", measure_bounds_m);
    complaints_.positive(mark, "drilled_pipe.holes_per_metre", {Kind::number, works.pipe->holes_a_metre},
                         "the number of its holes", {1e-3, 1e6});
    complaints_.positive(mark, works.pipe->slots ? "drilled_pipe.slot" : "drilled_pipe.hole",
                         {Kind::bore, works.pipe->hole.metres()}, "a hole of the drilled pipe",
                         bore_bounds_m);
  }

  void log(const SpringLog& log) {
    box(log.box, log.mark, "at");
    for (const LoggedYield& entry : log.entries)
      if (complaints_.whole(entry.mark))
        complaints_.not_negative(entry.mark, "yield", {Kind::flow, entry.yield.si()},
                                 "the yield of " + quoted(log.box), flow_bounds_m3s);
  }

  void ground(const Ground& ground) {
    if (ground.frost)
      complaints_.not_negative(ground.mark, "frost", {Kind::length, ground.frost->metres()},
                               "the depth of frost", measure_bounds_m);
    for (const Cover& cover : ground.covers) {
      complaints_.not_negative(cover.mark, "", {Kind::length, cover.depth.metres()},
                               "the cover of " + quoted(cover.pipeline), measure_bounds_m);
      if (model_.pipeline(cover.pipeline)) continue;
      std::vector<std::string> lines;
      for (const Pipeline& line : model_.pipelines) lines.push_back(line.name);
      complaints_.error("no-such-pipeline", cover.mark, "",
                        "there is no pipeline named " + quoted(cover.pipeline), {},
                        complaints_.suggest(cover.pipeline, lines));
    }
  }

 private:
  const Model& model_;
  const NameIndex& index_;
  Complaints& complaints_;
};

}  // namespace

void validate_collections(const Model& model, const NameIndex& index, Complaints& complaints) {
  CollectionCheck check(model, index, complaints);
  for (const Collection& works : model.collections) check.collection(works);
  for (const SpringLog& log : model.logs) check.log(log);
  if (model.ground) check.ground(*model.ground);
}

}  // namespace runnel::network
