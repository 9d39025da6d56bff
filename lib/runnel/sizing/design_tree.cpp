#include "runnel/sizing/design_tree.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/base/index.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/sizing/bounds.h"
#include "runnel/sizing/codes.h"
#include "runnel/sizing/design_needs.h"
#include "runnel/sizing/design_parts.h"
#include "runnel/sizing/design_turns.h"
#include "runnel/verdict/draft.h"

namespace runnel::sizing {
namespace {

using network::Model;
using network::PlaceKind;
using network::System;
using verdict::Code;
using verdict::Draft;

constexpr Code velocity_rule{
    "velocity-out-of-reach",
    "no pipe is wide enough for the velocity that is asked",
    "With the flow that is asked, water runs faster than `velocity_at_most` in every pipe that the line "
    "may be laid in, or in the one that is laid.",
    "No choice of the other lines changes that.",
    "Add wider pipes to its `choose`, allow a higher velocity, or ask for less.",
    ""};

// A tank that sinks by less in the long run does not sink (filling/lasting.cpp).
constexpr double rounding_of_means = 1e-5;
// A bound that is met exactly is met (verdict/velocity_asks.cpp).
constexpr double velocity_rounding = 1e-6;

double loss_m(const steady::Kernel& kernel, const steady::Link& link, const steady::Control& control,
              double flow_m3s) {
  double loss = control.quadratic_s2m5 * flow_m3s * std::hypot(flow_m3s, link.smooth_m3s);
  for (std::uint32_t p = 0; p < link.terms; ++p)
    loss += kernel.terms[link.term + p].per_metre(flow_m3s).head_m * kernel.lengths_m[control.lengths + p];
  return loss;
}

double length_m(const steady::Kernel& kernel, const steady::Link& link, const steady::Control& control) {
  double length = 0.0;
  for (std::uint32_t p = 0; p < link.terms; ++p) length += kernel.lengths_m[control.lengths + p];
  return length;
}

class Designer {
 public:
  Designer(const Model& model, const PriceList& prices, Tanks tanks)
      : model_(model), prices_(prices), tanks_(tanks) {}

  Checked<DesignTree> run() {
    if (!make_variants() || !cut() || !make_turns()) return std::move(out_);
    gather_flows();
    if (any_error(out_.findings)) return std::move(out_);
    grow();
    if (!any_error(out_.findings)) out_.value = std::move(tree_);
    return std::move(out_);
  }

 private:
  const System& system() const { return variants_.front().system; }

  bool make_variants() {
    auto variants = variants_of(model_);
    out_.findings = std::move(variants.findings);
    if (!variants) return false;
    variants_ = std::move(*variants.value);
    return true;
  }

  bool cut() {
    out_.findings.clear();
    auto parts = parts_of(system());
    if (parts) parts_ = std::move(*parts);
    return parts.has_value();
  }

  /// What is asked in each turn of the taps.
  bool make_turns() {
    const std::vector<Model> turns = design_turns(model_);
    turns_.reserve(turns.size());
    for (std::size_t t = 0; turns.size() > 1 && t < turns.size(); ++t) {
      auto turn = network::resolve(laid(turns[t], sizes_that_fit(model_)));
      if (!turn) return out_.findings = std::move(turn.findings), false;
      turns_.push_back(std::move(*turn.value));
    }
    std::vector<Needs> needs;
    for (const System& turn : turns_) needs.emplace_back(turn);
    needs_.emplace(Needs(system()).least_of(needs));
    return true;
  }

  /// Flows add up from the ends; a part that is fed adds what it takes to the line that feeds it. A line is
  /// designed for the least that it carries while it carries anything, which any pipe must do.
  void gather_flows() {
    feeds_.assign(at(system().places()), 0);
    for (const Part& part : parts_)
      for (const PartLine& line : part.lines) ++feeds_[at(line.below)];
    flow_m3s_.assign(system().lines().size(), 0.0);
    const Needs whole_day(system());
    const Flows daily = add_up([&](int place) { return whole_day.daily_m3s(place); });
    if (turns_.empty()) return design_for(whole_day, daily);
    for (const System& turn : turns_) design_for(Needs(turn), daily);
  }

  /// What the lines carry and the places pass on.
  struct Flows {
    std::vector<double> line_m3s, passed_m3s;
  };

  void design_for(const Needs& needs, const Flows& daily) {
    const Flows flows = add_up([&](int place) { return needs.asked_m3s(place); }, &daily);
    for (std::size_t l = 0; l < flow_m3s_.size(); ++l) {
      const double flow = flows.line_m3s[l];
      if (flow > 0.0) flow_m3s_[l] = flow_m3s_[l] > 0.0 ? std::min(flow_m3s_[l], flow) : flow;
    }
    for (std::size_t b = 0; b < system().boxes().size(); ++b)
      check_supply(static_cast<int>(b), flows.passed_m3s[b]);
  }

  /// `taken`: what a place takes itself. Tanks pass on what they do in the mean of the day, if that is given.
  template <class Taken>
  Flows add_up(Taken taken, const Flows* daily = nullptr) const {
    Flows flows{std::vector<double>(system().lines().size(), 0.0),
                std::vector<double>(at(system().places()), 0.0)};
    for (std::size_t p = parts_.size(); p-- > 0;) {
      const Part& part = parts_[p];
      for (std::size_t i = part.lines.size(); i-- > 0;) {
        const PartLine& line = part.lines[i];
        const bool stored = daily && system().tank(line.below);
        const double passed = (stored ? *daily : flows).passed_m3s[at(line.below)];
        const double flow = taken_at(line.below, taken, passed);
        flows.line_m3s[at(line.line)] = flow;
        flows.passed_m3s[at(line.above)] += flow;
      }
    }
    return flows;
  }

  template <class Taken>
  double taken_at(int place, Taken taken, double passed) const {
    double flow = taken(place);
    if (const network::Box* box = system().box(place)) {
      flow = std::max(0.0, std::max(flow, passed) - box->yield.si());
    } else if (const network::Tank* tank = system().tank(place)) {
      const double leaves = passed + network::daily_mean(tank->draws).si();
      if (!tank->held) flow = std::max(flow, leaves * (1.0 - rounding_of_means));
    } else {
      flow += passed;
      for (const int outlet : outlets_on(system(), place)) flow += taken(outlet);
    }
    const bool several = feeds_[at(place)] > 1 && system().kind(place) != PlaceKind::joint;
    return several ? 0.0 : flow;  // how they share is not known
  }

  void check_supply(int box, double passed) {
    const double yield = system().boxes()[at(box)].yield.si();
    if (feeds_[at(box)] > 0 || passed <= yield * (1.0 + 1e-6)) return;
    out_.findings.push_back(more_asked_than_given(passed, yield, system().boxes()[at(box)].name));
  }

  double surface_m(int place) const {
    const network::Box* box = system().box(place);
    if (box) return box->lip.metres();
    const network::Tank& tank = *system().tank(place);
    const bool fills = tanks_ == Tanks::full && !tank.held;
    return (fills ? std::max(tank.level, network::full_level(model_, tank)) : tank.level).metres();
  }

  /// Joins all parts to one source at the height of the highest.
  void grow() {
    LineSizes sizes(model_, prices_, variants_);
    double top_m = nothing;
    for (const Part& part : parts_) top_m = std::max(top_m, surface_m(part.source));
    tree_.choice.head_m = top_m;
    for (const Part& part : parts_) {
      std::vector<int> node(at(system().places()), -1);
      network::TreeBranch source;
      source.options.push_back({0.0, top_m - surface_m(part.source)});
      add({}, -1, std::move(source));
      node[at(part.source)] = static_cast<int>(tree_.choice.branches.size());
      for (const PartLine& line : part.lines) {
        network::TreeBranch branch;
        branch.above = node[at(line.above)];
        branch.floor_m = floor_m(line);
        DesignLine design{line.line, line.forward, flow_m3s_[at(line.line)], {}, {}};
        add_options(line, sizes.of(line.line), branch, design);
        add(std::move(design), line.below, std::move(branch));
        if (!system().box(line.below) && !system().tank(line.below))
          node[at(line.below)] = static_cast<int>(tree_.choice.branches.size());
      }
    }
    tree_.unpriced = sizes.unpriced();
    for (Finding& finding : sizes.findings()) out_.findings.push_back(std::move(finding));
  }

  void add(DesignLine line, int end, network::TreeBranch branch) {
    tree_.lines.push_back(std::move(line));
    tree_.ends.push_back(end);
    tree_.choice.branches.push_back(std::move(branch));
  }

  /// The head that must stand at the lower end of a line.
  double floor_m(const PartLine& line) const {
    const network::Line& pipe = system().lines()[at(line.line)];
    const double end_m = (line.forward ? pipe.end_elevation() : pipe.start_elevation()).metres();
    return needs_->floor_m(line.below, end_m, flow_m3s_[at(line.line)] > 0.0);
  }

  void add_options(const PartLine& part, const std::vector<LineSizes::Size>& sizes,
                   network::TreeBranch& branch, DesignLine& design) {
    const double most_ms = most_velocity_ms(model_, system().lines()[at(part.line)].name);
    double slowest_ms = std::numeric_limits<double>::infinity();
    for (const LineSizes::Size& size : sizes) {
      const double velocity = velocity_ms(variants_[size.variant], part.line, design.flow_m3s);
      slowest_ms = std::min(slowest_ms, velocity);
      if (velocity > most_ms * (1.0 + velocity_rounding)) continue;
      double crests_m = nothing;
      std::vector<Crest> crests;
      network::PipeOption option = losses(part, variants_[size.variant], design.flow_m3s, crests_m, crests);
      add_crests(crests, branch.options.size(), design.crests);
      option.cost = size.cost;
      branch.options.push_back(option);
      design.sizes.push_back(size.size);
      design.crests_m.push_back(crests_m);
    }
    if (branch.options.empty() && !sizes.empty()) too_fast(part.line, design.flow_m3s, slowest_ms, most_ms);
  }

  /// The design flow's velocity in the narrowest bore of the line; no line of a real design carries less.
  static double velocity_ms(const Variant& variant, int line, double flow_m3s) {
    double bore_m = std::numeric_limits<double>::infinity();
    for (const network::FittedPipe& laid : variant.system.lines()[at(line)].pipes)
      bore_m = std::min(bore_m, laid.pipe.bore.metres());
    return 4.0 * flow_m3s / (pi * bore_m * bore_m);
  }

  void too_fast(int line, double flow_m3s, double slowest_ms, double most_ms) {
    const network::Line& pipe = system().lines()[at(line)];
    Draft d(velocity_rule, Severity::error);
    d.on_line(pipe.name);
    const bool open = model_.pipelines[at(line)].choice.has_value();
    if (open)
      d.message.say("in the widest pipe that ").name(pipe.name).say(" may be laid in ");
    else
      d.message.say("in ").name(pipe.name).say(", which is laid, ");
    d.message.figure(Kind::flow, flow_m3s).say(" runs at ").figure(Kind::velocity, slowest_ms);
    d.message.say(", and at most ").figure(Kind::velocity, most_ms).say(" is asked");
    d.advice.say(open ? "add pipes with a bore of " : "leave it to choice as well, with pipes of ");
    d.advice.figure(Kind::bore, std::sqrt(4.0 * flow_m3s / (pi * most_ms)));
    d.advice.say(open ? " or more to its `choose`, or ask for less" : " bore or more, or ask for less");
    out_.findings.push_back(d.done());
  }

  /// A point that water has to get over, as one option has it.
  struct Crest {
    double along = 0.0, sink_m = 0.0, loss_m = 0.0;
  };

  /// Adds the crests of one more option; one that lacks a crest of the others loses nothing on the way there.
  static void add_crests(const std::vector<Crest>& of_option, std::size_t before,
                         std::vector<SplitCrest>& crests) {
    for (const Crest& crest : of_option) {
      const auto same = [&](const SplitCrest& c) { return std::abs(c.along - crest.along) < 1e-9; };
      auto known = std::find_if(crests.begin(), crests.end(), same);
      if (known == crests.end())
        known = crests.insert(crests.end(), {crest.along, crest.sink_m, std::vector<double>(before, 0.0)});
      known->sink_m = std::min(known->sink_m, crest.sink_m);
      known->loss_m.push_back(crest.loss_m);
    }
    for (SplitCrest& crest : crests) crest.loss_m.resize(before + 1, 0.0);
  }

  /// What a line loses from end to end, and what its upper end must have for crests and for the air at its
  /// end. `crests_m`: the same without what the start of the line itself needs.
  network::PipeOption losses(const PartLine& part, const Variant& variant, double flow_m3s, double& crests_m,
                             std::vector<Crest>& crests) const {
    network::PipeOption option;
    if (flow_m3s <= 0.0) return option;
    const steady::Kernel& kernel = variant.assembly.kernel;
    const steady::Link& link = kernel.links[at(variant.assembly.line_link[at(part.line)])];
    const network::Course& course = variant.assembly.plans[at(part.line)].course;
    const double start_m = part.forward ? course.first_m() : course.last_m();
    const std::uint32_t first = part.forward ? link.forward : link.backward;
    const std::uint32_t count = part.forward ? link.forwards : link.backwards;
    for (std::uint32_t c = first; c < first + count; ++c) {
      const steady::Control& control = kernel.controls[c];
      if (!control.from_node) continue;
      const double loss = loss_m(kernel, link, control, flow_m3s);
      if (c == first) option.loss_m = loss;
      if (control.to_node) continue;
      option.need_m = std::max(option.need_m, control.sink_head_m + loss);
      crests.push_back({length_m(kernel, link, control) / length_m(kernel, link, kernel.controls[first]),
                        control.sink_head_m, loss});
      if (c == first || control.station_m != start_m)
        crests_m = std::max(crests_m, control.sink_head_m + loss);
    }
    if (const auto* outlet = system().outlet(part.below);
        outlet && count > 0 && !kernel.controls[first].to_node)
      option.loss_m -= std::min(option.loss_m, steady::opening_s2m5(*outlet) * flow_m3s * flow_m3s);
    return option;
  }

  const Model& model_;
  const PriceList& prices_;
  const Tanks tanks_;
  Checked<DesignTree> out_;
  DesignTree tree_;
  std::vector<Variant> variants_;
  std::vector<Part> parts_;
  std::vector<System> turns_;   ///< of the taps; none where some hour finds everything drawn
  std::optional<Needs> needs_;  ///< the least of all turns
  std::vector<int> feeds_;      ///< lines that end at each place
  std::vector<double> flow_m3s_;
};

}  // namespace

namespace {

/// A setting that rewrites the model leaves the same lines open: they get the same pipe.
void lay_in_settings(const Model& before, Model& model) {
  for (network::Setting& setting : model.settings) {
    if (!setting.instead) continue;
    Model instead = *setting.instead;
    for (network::Pipeline& line : instead.pipelines) {
      const network::Pipeline* was = before.pipeline(line.name);
      if (!line.choice || !was || !was->choice) continue;
      line.pipes.front().pipe = model.pipeline(line.name)->pipes.front().pipe;
      line.choice.reset();
    }
    setting.instead = std::make_shared<const Model>(std::move(instead));
  }
}

}  // namespace

Model laid(const Model& model, const Sizes& sizes) {
  Model out = model;
  for (std::size_t l = 0; l < out.pipelines.size(); ++l) {
    network::Pipeline& line = out.pipelines[l];
    if (!line.choice) continue;
    const int last = static_cast<int>(line.choice->among.size()) - 1;
    line.pipes.front().pipe = line.choice->among[at(std::clamp(sizes[l], 0, last))];
    line.choice.reset();
  }
  lay_in_settings(model, out);
  return out;
}

Checked<DesignTree> design_tree(const Model& model, const PriceList& prices, Tanks tanks) {
  return Designer(model, prices, tanks).run();
}

Sizes sizes_of(const Model& model, const DesignTree& tree, const std::vector<int>& options) {
  Sizes sizes(model.pipelines.size(), 0);
  for (std::size_t b = 0; b < options.size(); ++b) {
    const DesignLine& line = tree.lines[b];
    if (line.line >= 0) sizes[at(line.line)] = std::max(0, line.sizes[at(options[b])]);
  }
  return sizes;
}

std::vector<Code> design_tree_codes() { return {velocity_rule}; }

}  // namespace runnel::sizing
