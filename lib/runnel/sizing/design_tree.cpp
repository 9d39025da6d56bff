#include "runnel/sizing/design_tree.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/sizing/design_parts.h"
#include "runnel/steady/assemble.h"
#include "runnel/steady/static_heads.h"
#include "runnel/verdict/rules.h"

namespace runnel::sizing {
namespace {

using network::Model;
using network::PlaceKind;
using network::System;

constexpr double nothing = -std::numeric_limits<double>::infinity();

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// The system with every open line in its k-th size, or in its last if it has fewer.
struct Variant {
  System system;
  steady::Assembly assembly;
};

double loss_m(const steady::Kernel& kernel, const steady::Link& link, const steady::Control& control,
              double flow_m3s) {
  double loss = control.quadratic_s2m5 * flow_m3s * std::hypot(flow_m3s, link.smooth_m3s);
  for (std::uint32_t p = 0; p < link.terms; ++p)
    loss += kernel.terms[link.term + p].per_metre(flow_m3s).head_m * kernel.lengths_m[control.lengths + p];
  return loss;
}

class Designer {
 public:
  Designer(const Model& model, const PriceList& prices) : model_(model), prices_(prices) {}

  Checked<DesignTree> run() {
    if (!make_variants() || !cut()) return std::move(out_);
    ask();
    if (any_error(out_.findings)) return std::move(out_);
    grow();
    if (!any_error(out_.findings)) out_.value = std::move(tree_);
    return std::move(out_);
  }

 private:
  const System& system() const { return variants_.front().system; }

  bool make_variants() {
    std::size_t most = 1;
    for (const auto& line : model_.pipelines)
      if (line.choice) most = std::max(most, line.choice->among.size());
    for (std::size_t k = 0; k < most; ++k) {
      auto system = network::resolve(laid(model_, Sizes(model_.pipelines.size(), static_cast<int>(k))));
      if (!system) {
        out_.findings = std::move(system.findings);
        return false;
      }
      auto assembly = steady::assemble(*system.value);
      variants_.push_back({std::move(*system.value), std::move(assembly)});
    }
    return true;
  }

  bool cut() {
    auto parts = parts_of(system());
    out_.findings = std::move(parts.findings);
    if (parts) parts_ = std::move(*parts.value);
    return parts.value.has_value();
  }

  /// What each place itself takes, and the pressure head that is asked there.
  void ask() {
    tree_.asked_m3s.assign(at(system().places()), 0.0);
    pressure_m_.assign(at(system().places()), nothing);
    for (const auto& ask : system().asks()) {
      const int place = *system().find_place(ask.at);
      double& flow = tree_.asked_m3s[at(place)];
      if (ask.kind == network::AskKind::flow) flow = std::max(flow, ask.flow.si());
      if (ask.kind == network::AskKind::pressure)
        pressure_m_[at(place)] =
            std::max(pressure_m_[at(place)], ask.pressure.si() / system().site().specific_weight_nm3());
    }
    for (std::size_t j = 0; j < system().joints().size(); ++j) {
      double& flow = tree_.asked_m3s[at(system().joint_place(static_cast<int>(j)))];
      flow = std::max(flow, system().joints()[j].draw.si());
    }
    gather_flows();
  }

  /// Flows add up from the ends; a part that is fed passes on what it takes to the line that feeds it.
  void gather_flows() {
    flow_m3s_.assign(system().lines().size(), 0.0);
    std::vector<double> passed(at(system().places()), 0.0);
    std::vector<int> feeds(at(system().places()), 0);
    for (const Part& part : parts_)
      for (const PartLine& line : part.lines) ++feeds[at(line.below)];
    for (std::size_t p = parts_.size(); p-- > 0;) {
      const Part& part = parts_[p];
      for (std::size_t i = part.lines.size(); i-- > 0;) {
        const PartLine& line = part.lines[i];
        flow_m3s_[at(line.line)] = taken_at(line.below, passed[at(line.below)], feeds[at(line.below)]);
        passed[at(line.above)] += flow_m3s_[at(line.line)];
      }
    }
    for (std::size_t b = 0; b < system().boxes().size(); ++b)
      check_supply(static_cast<int>(b), passed[b], feeds[b]);
  }

  double taken_at(int place, double passed, int feeds) const {
    double flow = tree_.asked_m3s[at(place)];
    if (const network::Box* box = system().box(place))
      flow = std::max(0.0, std::max(flow, passed) - box->yield.si());
    else if (const network::Tank* tank = system().tank(place))
      flow += tank->held ? 0.0 : passed;
    else
      flow += passed + hanging_m3s(place);
    const bool several = feeds > 1 && system().kind(place) != PlaceKind::joint;
    return several ? 0.0 : flow;  // how they share is not known
  }

  double hanging_m3s(int place) const {
    double flow = 0.0;
    for (std::size_t o = 0; o < system().outlets().size(); ++o) {
      const int on = system().hangs_on(static_cast<int>(o));
      if (on == place) flow += tree_.asked_m3s[at(system().outlet_place(static_cast<int>(o)))];
    }
    return flow;
  }

  void check_supply(int box, double passed, int feeds) {
    const double yield = system().boxes()[at(box)].yield.si();
    if (feeds > 0 || passed <= yield * (1.0 + 1e-6)) return;
    Finding finding;
    finding.code = "spring-gives-too-little";
    finding.message = "{0} is asked of " + system().boxes()[at(box)].name + ", which gives {1}";
    finding.figures = {{Kind::flow, passed}, {Kind::flow, yield}};
    finding.advice = "ask for {2} less, or find another spring";
    finding.figures.push_back({Kind::flow, passed - yield});
    finding.where.place = system().boxes()[at(box)].name;
    out_.findings.push_back(std::move(finding));
  }

  double surface_m(int place) const {
    const network::Box* box = system().box(place);
    return box ? box->lip.metres() : system().tank(place)->level.metres();
  }

  /// All parts hang on one source at the height of the highest.
  void grow() {
    standing_ = steady::static_heads(system(), variants_.front().assembly);
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
        add_options(line, branch, design);
        add(std::move(design), line.below, std::move(branch));
        if (!system().box(line.below) && !system().tank(line.below))
          node[at(line.below)] = static_cast<int>(tree_.choice.branches.size());
      }
    }
  }

  void add(DesignLine line, int end, network::TreeBranch branch) {
    tree_.lines.push_back(std::move(line));
    tree_.ends.push_back(end);
    tree_.choice.branches.push_back(std::move(branch));
  }

  /// The head that must stand at the lower end of a line.
  double floor_m(const PartLine& line) const {
    const int place = line.below;
    const network::Line& pipe = system().lines()[at(line.line)];
    const double end_m = (line.forward ? pipe.end_elevation() : pipe.start_elevation()).metres();
    double floor = end_m + pressure_m_[at(place)];
    if (flow_m3s_[at(line.line)] <= 0.0) return floor;
    if (const network::Tank* tank = system().tank(place)) floor = std::max(floor, lowest_m(*tank));
    if (const network::Outlet* outlet = system().outlet(place))
      floor = std::max(floor, outlet_floor_m(*outlet, tree_.asked_m3s[at(place)]));
    if (const network::Joint* joint = system().joint(place)) {
      if (joint->draw.si() > 0.0) floor = std::max(floor, joint->elevation.metres());
      for (std::size_t o = 0; o < system().outlets().size(); ++o) {
        const int hanging = system().outlet_place(static_cast<int>(o));
        if (system().hangs_on(static_cast<int>(o)) != place) continue;
        const network::Outlet& outlet = system().outlets()[o];
        if (tree_.asked_m3s[at(hanging)] > 0.0)
          floor = std::max(floor, outlet_floor_m(outlet, tree_.asked_m3s[at(hanging)]));
        floor = std::max(floor, outlet.elevation.metres() + pressure_m_[at(hanging)]);
      }
    }
    return floor;
  }

  /// A flow that is asked of a float valve which is shut at the start is asked for when it opens.
  static double lowest_m(const network::Tank& tank) {
    const double level = tank.level.metres();
    if (!tank.float_valve) return level;
    return std::min({level, tank.float_valve->opens_at.metres(), tank.float_valve->shuts_at.metres()});
  }

  static double outlet_floor_m(const network::Outlet& outlet, double flow_m3s) {
    return outlet.elevation.metres() + steady::opening_s2m5(outlet) * flow_m3s * flow_m3s;
  }

  void add_options(const PartLine& part, network::TreeBranch& branch, DesignLine& design) {
    const auto& choice = model_.pipelines[at(part.line)].choice;
    const std::size_t sizes = choice ? choice->among.size() : 1;
    bool priced = !choice;
    for (std::size_t k = 0; k < sizes; ++k) {
      double crests_m = nothing;
      network::PipeOption option = losses(part, variants_[choice ? k : 0], design.flow_m3s, crests_m);
      if (choice) {
        const pipes::Pipe& pipe = choice->among[k];
        const auto price = prices_.per_metre(pipe);
        if (!price) {
          note_unpriced(pipe);
          continue;
        }
        priced = true;
        if (bursts(part.line, pipe)) continue;
        option.cost = *price * length_m(part.line);
      }
      branch.options.push_back(option);
      design.sizes.push_back(choice ? static_cast<int>(k) : -1);
      design.crests_m.push_back(crests_m);
    }
    if (branch.options.empty()) priced ? none_strong_enough(part.line) : no_price(part.line);
  }

  /// What a line loses from end to end, and what its upper end must have for crests and for the air at its
  /// end.
  /// `crests_m`: the same without what the start of the line itself asks for.
  network::PipeOption losses(const PartLine& part, const Variant& variant, double flow_m3s,
                             double& crests_m) const {
    network::PipeOption option;
    if (flow_m3s <= 0.0) return option;
    const steady::Kernel& kernel = variant.assembly.kernel;
    const steady::Link& link = kernel.links[at(variant.assembly.line_link[at(part.line)])];
    const auto& vertices = variant.assembly.plans[at(part.line)].vertices;
    const double start_m = (part.forward ? vertices.front() : vertices.back()).station_m;
    const std::uint32_t first = part.forward ? link.forward : link.backward;
    const std::uint32_t count = part.forward ? link.forwards : link.backwards;
    for (std::uint32_t c = first; c < first + count; ++c) {
      const steady::Control& control = kernel.controls[c];
      if (!control.from_node) continue;
      const double loss = loss_m(kernel, link, control, flow_m3s);
      if (c == first) option.loss_m = loss;
      if (control.to_node) continue;
      option.need_m = std::max(option.need_m, control.sink_head_m + loss);
      if (c == first || control.station_m != start_m)
        crests_m = std::max(crests_m, control.sink_head_m + loss);
    }
    if (const auto* outlet = system().outlet(part.below);
        outlet && count > 0 && !kernel.controls[first].to_node)
      option.loss_m -= std::min(option.loss_m, steady::opening_s2m5(*outlet) * flow_m3s * flow_m3s);
    return option;
  }

  double length_m(int line) const {
    double length = 0.0;
    for (const auto& point : system().lines()[at(line)].course.points()) length += point.length_m;
    return length;
  }

  /// Standing water does not depend on the sizes.
  bool bursts(int line, const pipes::Pipe& pipe) const {
    const auto allowed_pa = verdict::allowed_pressure_pa(system(), pipe);
    if (!allowed_pa) return false;
    const auto& plan = variants_.front().assembly.plans[at(line)];
    for (std::size_t v = 0; v < plan.vertices.size(); ++v) {
      const auto& head_m = standing_.line_m[at(line)][v];
      if (!head_m) continue;
      const double pressure_pa =
          (*head_m - plan.vertices[v].elevation_m) * system().site().specific_weight_nm3();
      if (pressure_pa > *allowed_pa * (1.0 + 1e-9)) return true;
    }
    return false;
  }

  void note_unpriced(const pipes::Pipe& pipe) {
    auto& names = tree_.unpriced;
    if (std::find(names.begin(), names.end(), pipe.name) == names.end()) names.push_back(pipe.name);
  }

  void no_price(int line) {
    Finding finding;
    finding.code = "no-price";
    finding.message = "no pipe that " + system().lines()[at(line)].name + " may be laid in has a price";
    if (prices_.by_weight()) finding.message += ", nor a wall from which its weight would follow";
    finding.advice = "add them to `prices:`: PE100 SDR11 25 mm: 0.90 per m";
    finding.where.pipeline = system().lines()[at(line)].name;
    out_.findings.push_back(std::move(finding));
  }

  void none_strong_enough(int line) {
    Finding finding;
    finding.code = "static-above-rating";
    finding.message = "no pipe that " + system().lines()[at(line)].name +
                      " may be laid in stands the pressure when everything is shut";
    finding.advice = "add pipes of a higher rating to its `choose`, or put a break-pressure box on the way";
    finding.where.pipeline = system().lines()[at(line)].name;
    out_.findings.push_back(std::move(finding));
  }

  const Model& model_;
  const PriceList& prices_;
  Checked<DesignTree> out_;
  DesignTree tree_;
  std::vector<Variant> variants_;
  std::vector<Part> parts_;
  std::vector<double> pressure_m_, flow_m3s_;
  steady::StaticHeads standing_;
};

}  // namespace

namespace {

/// A setting that writes the model anew leaves the same lines open: they get the same pipe.
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

Checked<DesignTree> design_tree(const Model& model, const PriceList& prices) {
  return Designer(model, prices).run();
}

Sizes sizes_of(const Model& model, const DesignTree& tree, const std::vector<int>& options) {
  Sizes sizes(model.pipelines.size(), 0);
  for (std::size_t b = 0; b < options.size(); ++b) {
    const DesignLine& line = tree.lines[b];
    if (line.line >= 0) sizes[at(line.line)] = std::max(0, line.sizes[at(options[b])]);
  }
  return sizes;
}

}  // namespace runnel::sizing
