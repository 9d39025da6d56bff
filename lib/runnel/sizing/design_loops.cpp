#include "runnel/sizing/design_loops.h"

#include <algorithm>
#include <limits>

#include "runnel/base/index.h"
#include "runnel/network/floats.h"
#include "runnel/sizing/bounds.h"
#include "runnel/sizing/codes.h"
#include "runnel/sizing/design_needs.h"
#include "runnel/verdict/draft.h"

namespace runnel::sizing {
namespace {

using network::Model;
using network::System;
using steady::Control;
using steady::Link;
using verdict::Code;

constexpr Code several_pipes_rule{
    "size-not-a-tree",
    "an open line of several pipes in a loop",
    "A line left open lies in a part of the system with loops or several sources, and changes pipe on its "
    "way.",
    "What each line carries there depends on the sizes, and the search lays each open line in one.",
    "Divide the line at a joint where the pipe changes, or lay it.",
    ""};

class LoopDesigner {
 public:
  LoopDesigner(const Model& model, const PriceList& prices)
      : model_(with_levels_to_judge(model)), prices_(prices) {}

  Checked<DesignLoops> run() {
    auto variants = variants_of(model_, {.room_for_changes = true});
    out_.findings = std::move(variants.findings);
    if (!variants) return std::move(out_);
    variants_ = std::move(*variants.value);
    needs_.emplace(system());
    choice().there = variants_.front().assembly.kernel;
    choice().least_head_m.assign(choice().there.nodes.size(), nothing);
    loops_.places.assign(choice().there.nodes.size(), {});
    check_supply();
    draw();
    add_runs();
    loops_.line_link = assembly().line_link;
    if (!any_error(out_.findings)) out_.value = std::move(loops_);
    return std::move(out_);
  }

 private:
  const System& system() const { return variants_.front().system; }
  const steady::Assembly& assembly() const { return variants_.front().assembly; }
  LoopChoice& choice() { return loops_.choice; }

  void check_supply() {
    double asked = 0.0, given = 0.0;
    for (const double flow : needs_->asked_m3s()) asked += flow;
    for (const auto& box : system().boxes()) given += box.yield.si();
    // A tank may pass on what it takes, and one that holds its level gives without end.
    if (!system().tanks().empty() || asked <= given * (1.0 + 1e-6)) return;
    out_.findings.push_back(more_asked_than_given(asked, given));
  }

  /// A draw is met only as far as its head stays, so every choice has a state, and a short draw shows how far
  /// off the choice is.
  void draw_at(int node, double flow_m3s, double head_m) {
    auto& drawn = choice().there.nodes[at(node)];
    double& least_m = choice().least_head_m[at(node)];
    least_m = std::max(least_m, head_m);
    drawn.draw_m3s = flow_m3s;
    drawn.draw_floor_m = flow_m3s > 0.0 ? least_m : -steady::unbounded;
  }

  /// Turns everything that is asked into a draw and a head that must be there.
  void draw() {
    for (std::size_t j = 0; j < system().joints().size(); ++j) {
      const int place = system().joint_place(static_cast<int>(j)),
                node = assembly().nodes_of(network::PlaceKind::joint)[j];
      double taken_m3s = needs_->asked_m3s(place);
      for (const int outlet : outlets_on(system(), place)) taken_m3s += needs_->asked_m3s(outlet);
      draw_at(node, taken_m3s, needs_->floor_m(place, system().joints()[j].elevation.metres(), true));
      loops_.places[at(node)] = system().place_name(place);
    }
    for (std::size_t t = 0; t < system().tanks().size(); ++t)
      want_inflow(assembly().nodes_of(network::PlaceKind::tank)[t], system().tanks()[t].name);
    for (std::size_t b = 0; b < system().boxes().size(); ++b)
      want_inflow(assembly().nodes_of(network::PlaceKind::box)[b], system().boxes()[b].name);
    for (std::size_t o = 0; o < system().outlets().size(); ++o) draw_outlet(o);
  }

  void want_inflow(int node, const std::string& name) {
    loops_.places[at(node)] = name;
    const double flow = needs_->asked_m3s(*system().find_place(name));
    if (flow > 0.0) choice().inflows.push_back({node, flow});
  }

  void draw_outlet(std::size_t o) {
    const network::Outlet& outlet = system().outlets()[o];
    const int place = system().outlet_place(static_cast<int>(o)), link = assembly().outlet_link[o];
    const double asked = needs_->asked_m3s(place), elevation_m = outlet.elevation.metres();
    if (asked <= 0.0 || outlet.shut || link < 0) return;
    Link& out = choice().there.links[at(link)];
    if (const int node = assembly().nodes_of(network::PlaceKind::outlet)[o]; node >= 0) {
      draw_at(node, asked, needs_->floor_m(place, elevation_m, true));
      loops_.places[at(node)] = outlet.name;
      out.shut = true;
    } else if (system().hangs_on(static_cast<int>(o)) >= 0) {
      out.shut = true;  // its joint takes what it asks
    } else {
      end_at_place(out, choice().there, steady::opening_s2m5(outlet));
      out.b = static_cast<int>(choice().there.nodes.size());
      choice().there.nodes.push_back({.head_m = elevation_m});
      choice().least_head_m.push_back(nothing);
      draw_at(out.b, asked, needs_->floor_m(place, elevation_m, true));
      loops_.places.push_back(outlet.name);
      out.most_m3s = steady::unbounded;  // the new place draws what is asked
      ends_.push_back({link, steady::opening_s2m5(outlet)});
    }
  }

  /// Makes a line that ends in the open air end at a place instead, without its opening.
  static void end_at_place(const Link& link, steady::Kernel& kernel, double opening_s2m5) {
    Control& whole = kernel.controls[link.forward];
    whole.to_node = true;
    whole.sink_head_m = 0.0;
    whole.quadratic_s2m5 = std::max(0.0, whole.quadratic_s2m5 - opening_s2m5);
  }

  void add_runs() {
    for (Variant& variant : variants_)
      for (const auto& [link, opening] : ends_)
        end_at_place(variant.assembly.kernel.links[at(link)], variant.assembly.kernel, opening);
    LineSizes sizes(model_, prices_, variants_);
    for (std::size_t l = 0; l < model_.pipelines.size(); ++l)
      if (model_.pipelines[l].choice) add_run(static_cast<int>(l), sizes.of(static_cast<int>(l)));
    loops_.unpriced = sizes.unpriced();
    for (Finding& finding : sizes.findings()) out_.findings.push_back(std::move(finding));
  }

  void add_run(int line, std::vector<LineSizes::Size> sizes) {
    if (sizes.empty()) return;
    const int number = assembly().line_link[at(line)];
    const Link& link = choice().there.links[at(number)];
    LoopRun run{
        link.a, link.b, choice().there.lengths_m[choice().there.controls[link.forward].lengths], {}, number};
    std::stable_sort(sizes.begin(), sizes.end(),
                     [](const auto& a, const auto& b) { return a.cost < b.cost; });
    loops_.lines.push_back(line);
    loops_.sizes.emplace_back();
    for (const LineSizes::Size& size : sizes) {
      const steady::Kernel& kernel = variants_[size.variant].assembly.kernel;
      const Link& as = kernel.links[at(number)];
      if (as.terms != 1 || as.forwards != link.forwards || as.backwards != link.backwards)
        return refuse(line);
      run.options.push_back({size.cost, kernel.terms[as.term], law_of(kernel, as)});
      loops_.sizes.back().push_back(size.size);
    }
    run.most_ms = most_velocity_ms(model_, model_.pipelines[at(line)].name);
    choice().runs.push_back(std::move(run));
  }

  void refuse(int line) {
    const std::string& name = model_.pipelines[at(line)].name;
    verdict::Draft d(several_pipes_rule, Severity::error);
    d.on_line(name);
    d.message.say("in a system with loops ").name(name).say(" cannot be sized: it is laid in several pipes");
    d.advice.say("lay it, or divide it at a joint");
    out_.findings.push_back(d.done());
  }

  const Model model_;
  const PriceList& prices_;
  Checked<DesignLoops> out_;
  DesignLoops loops_;
  std::vector<Variant> variants_;
  std::optional<Needs> needs_;
  struct End {
    int link;
    double opening_s2m5;
  };
  std::vector<End> ends_;  ///< lines that end at a tap
};

}  // namespace

Checked<DesignLoops> design_loops(const Model& model, const PriceList& prices) {
  return LoopDesigner(model, prices).run();
}

Sizes sizes_of(const Model& model, const DesignLoops& loops, const std::vector<int>& options) {
  Sizes sizes(model.pipelines.size(), 0);
  for (std::size_t r = 0; r < options.size(); ++r) sizes[at(loops.lines[r])] = loops.sizes[r][at(options[r])];
  return sizes;
}

std::vector<Code> design_loops_codes() { return {several_pipes_rule}; }

}  // namespace runnel::sizing
