#include "runnel/sizing/sampler.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/index.h"
#include "runnel/network/place_state.h"
#include "runnel/network/system.h"
#include "runnel/sizing/bounds.h"
#include "runnel/sizing/design_needs.h"
#include "runnel/sizing/design_parts.h"
#include "runnel/sizing/design_tree.h"
#include "runnel/sizing/design_turns.h"
#include "runnel/sizing/lane_lines.h"
#include "runnel/steady/state.h"

namespace runnel::sizing {
namespace {

using network::Model;

/// What a lane needs along a line at a flow.
struct Along {
  double end_m = 0.0;         ///< least head that the upper end must have, over all points
  double end_beyond_m = 0.0;  ///< the same without the first point
  std::size_t point = 0;      ///< which point asks for it
};

Along along(const LaneLine& line, const LaneDraw& draw, std::size_t lane, double per_metre, double flow_m3s,
            double share) {
  Along out{-1e300, -1e300, 0};
  const double start_m = line.points.front().station_m;
  for (std::size_t v = 0; v < line.points.size(); ++v) {
    const LanePoint& point = line.points[v];
    const std::size_t i = (line.first_point + v) * together + lane;
    const double need = point.floor_m + draw.rise_m[i] + per_metre * draw.before_m[i] +
                        point.local_s2m5 * share * flow_m3s * flow_m3s;
    out.end_m = std::max(out.end_m, need);
    if (point.station_m == start_m || need <= out.end_beyond_m) continue;
    out.end_beyond_m = need;
    out.point = v;
  }
  return out;
}

/// Local losses of a line vary inversely with the fourth power of its bore.
double local_share(const LaneTree& tree, const LaneDraw& draw, std::size_t line, std::size_t lane) {
  const double ratio = tree.bore_m[line] / draw.in.bore_m[line * together + lane];
  return ratio * ratio * ratio * ratio;
}

LaneTree tree_of(const network::System& system) {
  LaneTree tree;
  tree.law = system.friction();
  tree.viscosity_m2s = system.site().water.kinematic_viscosity_m2s;
  tree.lines = system.lines().size();
  for (const auto& line : system.lines()) tree.bore_m.push_back(line.pipes.front().pipe.bore.metres());
  return tree;
}

std::size_t add_place(LaneTree& tree, bool fixed) {
  tree.fixed.push_back(fixed);
  tree.draw_m3s.push_back(0.0);
  return tree.places++;
}

}  // namespace

/// Every line carries its design flow; the head that is left says whether it can.
struct Sampler::Design {
  LaneTree tree;
  DesignTree design;
  struct Branch {
    int line = -1, end = -1;      ///< pipeline; the place of the system at its lower end
    std::size_t above = 0;        ///< branch before it, counted from 1; 0: none
    std::size_t place = 0;        ///< its lower end in the tree
    std::size_t branch = 0;       ///< in the tree
    int source = -1;              ///< of a source, the place of the system
    double surface_m = 0.0;       ///< of a source
    std::optional<double> air_m;  ///< height of an end in the open air, where the opening costs head
    double opening_s2m5 = 0.0;
  };
  std::vector<Branch> branches;
  std::vector<std::pair<std::size_t, double>> supplies;  ///< boxes, and what is asked of them [m3/s]
  std::vector<std::vector<std::size_t>> ends;            ///< of each place asked, the branches that end there
};

/// All taps as the model has them; the flows are solved for.
struct Sampler::AsLeft {
  LaneTree tree;
  std::vector<std::size_t> branch;                  ///< for each line, its branch in the tree
  std::vector<std::pair<std::size_t, int>> fixed;   ///< places of the tree, and of the system
  std::vector<double> fixed_m;                      ///< their heads as written
  std::vector<std::pair<std::size_t, int>> joints;  ///< likewise, with a draw
  std::vector<std::size_t> outlet_branch;           ///< for each outlet; `none` if it gives nothing
};

namespace {

constexpr std::size_t none = static_cast<std::size_t>(-1);

double surface_of(const network::System& system, int place) {
  const network::Box* box = system.box(place);
  return box ? box->lip.metres() : system.tank(place)->level.metres();
}

}  // namespace

Sampler::Sampler(const Model& model, std::vector<Unknown> unknowns, std::uint64_t seed, Use use)
    : model_(with_levels_to_judge(model)),
      unknowns_(std::move(unknowns)),
      seed_(seed),
      places_(places_asked(model)) {
  const std::vector<Model> turns = design_turns(model_);
  for (std::size_t t = 0; turns.size() > 1 && t < turns.size(); ++t)
    turns_.push_back({std::make_unique<Sampler>(turns[t], unknowns_, seed_, use),
                      numbers_in(places_, places_asked(turns[t]))});
  if (!turns_.empty()) return;
  auto system = network::resolve(model_);
  if (!system) return;
  system_.emplace(std::move(*system.value));
  assembly_.emplace(steady::assemble(*system_));
  lines_ = LaneLines::of(model_, *system_, *assembly_);
  const auto parts = parts_of(*system_);
  if (!lines_ || !parts) return;
  const auto backward = [](const Part& part) {
    return std::any_of(part.lines.begin(), part.lines.end(), [](const auto& line) { return !line.forward; });
  };
  if (std::any_of(parts->begin(), parts->end(), backward)) return;
  for (const Part& part : *parts) datum_m_ = std::max(datum_m_, surface_of(*system_, part.source));
  use == Use::margins ? plan_design(*parts) : plan_as_left(*parts);
}

Sampler::~Sampler() = default;

void Sampler::plan_design(const std::vector<Part>& parts) {
  auto found = design_tree(model_, PriceList(model_), Tanks::as_drawn);
  if (!found) return;
  auto out = std::make_unique<Design>();
  out->design = std::move(*found.value);
  out->tree = tree_of(*system_);
  const auto& choice = out->design.choice.branches;
  std::vector<double> passed(choice.size() + 1, 0.0), taken(system_->boxes().size(), 0.0);
  std::vector<bool> fed(system_->boxes().size(), false);
  std::size_t part = 0;
  for (std::size_t b = 0; b < choice.size(); ++b) {
    const DesignLine& line = out->design.lines[b];
    Design::Branch branch{line.line, out->design.ends[b], at(choice[b].above)};
    branch.place = add_place(out->tree, line.line < 0);
    if (line.line < 0) {
      branch.source = parts[part++].source;
      branch.surface_m = surface_of(*system_, branch.source);
      out->branches.push_back(branch);
      continue;
    }
    const int to = system_->lines()[at(line.line)].to;
    if (const network::Box* box = system_->box(to)) {
      fed[at(to)] = true;
      if (box->yield.si() > 0.0) return;  // what passes on then depends on what it gives
    }
    if (const network::Outlet* outlet = system_->outlet(to);
        outlet && assembly_->nodes_of(network::PlaceKind::outlet)[at(system_->place(to).index)] < 0) {
      branch.air_m = outlet->elevation.metres();
      branch.opening_s2m5 = steady::opening_s2m5(*outlet);
    }
    const int from = system_->lines()[at(line.line)].from;
    if (system_->box(from)) taken[at(from)] += line.flow_m3s;
    passed[branch.above] += line.flow_m3s;
    branch.branch = out->tree.branches.size();
    out->tree.branches.push_back({static_cast<int>(out->branches[branch.above - 1].place),
                                  static_cast<int>(branch.place), line.line,
                                  lines_->lines()[at(line.line)].local_s2m5, 0.0, line.flow_m3s});
    out->branches.push_back(branch);
  }
  for (std::size_t b = 0; b < choice.size(); ++b)
    if (out->branches[b].line >= 0)
      out->tree.draw_m3s[out->branches[b].place] = out->design.lines[b].flow_m3s - passed[b + 1];
  for (std::size_t box = 0; box < taken.size(); ++box)
    if (!fed[box]) out->supplies.emplace_back(box, taken[box]);
  for (const std::string& name : places_) {
    int place = *system_->find_place(name);
    if (system_->outlet(place))
      if (const int on = system_->hangs_on(system_->place(place).index); on >= 0) place = on;
    out->ends.emplace_back();
    for (std::size_t b = 0; b < out->branches.size(); ++b)
      if (out->branches[b].end == place) out->ends.back().push_back(b);
  }
  design_ = std::move(out);
}

void Sampler::plan_as_left(const std::vector<Part>& parts) {
  if (system_->some_tap_held()) return;  // the taps of a tree all stand wide open
  const steady::State state = steady::solve(*system_);
  if (state.outcome != steady::Outcome::settled) return;
  auto out = std::make_unique<AsLeft>();
  out->tree = tree_of(*system_);
  out->branch.assign(system_->lines().size(), none);
  out->outlet_branch.assign(system_->outlets().size(), none);
  std::vector<std::size_t> place(at(system_->places()), none);
  const auto fix = [&](int of, double head_m) {
    const std::size_t p = add_place(out->tree, true);
    out->fixed.emplace_back(p, of);
    out->fixed_m.push_back(head_m);
    return place[at(of)] = p;
  };
  for (std::size_t w = 0; w < system_->boxes().size() + system_->tanks().size(); ++w)
    fix(static_cast<int>(w), surface_of(*system_, static_cast<int>(w)));
  for (const Part& part : parts)
    for (const PartLine& part_line : part.lines) {
      const auto l = at(part_line.line);
      const double flow = state.lines[l].flow_m3s;
      if (flow < 0.0) return;
      const int to = part_line.below;
      double opening = 0.0;
      if (const network::Outlet* outlet = system_->outlet(to)) {
        const auto o = at(system_->place(to).index);
        if (assembly_->nodes_of(network::PlaceKind::outlet)[o] >= 0) return;  // several lines end there
        fix(to, outlet->elevation.metres());
        opening = steady::opening_s2m5(*outlet);
        out->outlet_branch[o] = out->tree.branches.size();
      } else if (const network::Joint* joint = system_->joint(to)) {
        place[at(to)] = add_place(out->tree, false);
        out->tree.draw_m3s[place[at(to)]] = joint->draw.si();
        out->joints.emplace_back(place[at(to)], to);
      }
      out->branch[l] = out->tree.branches.size();
      out->tree.branches.push_back({static_cast<int>(place[at(part_line.above)]),
                                    static_cast<int>(place[at(to)]), part_line.line,
                                    lines_->lines()[l].local_s2m5, opening, flow});
    }
  for (std::size_t o = 0; o < system_->outlets().size(); ++o) {
    const int on = system_->hangs_on(static_cast<int>(o)), link = assembly_->outlet_link[o];
    if (on < 0 || link < 0 || system_->outlets()[o].shut) continue;
    if (!(state.outlets[o].flow_m3s > 0.0)) return;
    const auto& kernel = assembly_->kernel;
    fix(system_->outlet_place(static_cast<int>(o)), system_->outlets()[o].elevation.metres());
    out->outlet_branch[o] = out->tree.branches.size();
    out->tree.branches.push_back({static_cast<int>(place[at(on)]), static_cast<int>(out->fixed.back().first),
                                  -1, 0.0, kernel.controls[kernel.links[at(link)].forward].quadratic_s2m5,
                                  state.outlets[o].flow_m3s});
  }
  start_from_middle(*out);
  as_left_ = std::move(out);
}

/// Newton starts with all that is not known in the middle of its range.
void Sampler::start_from_middle(AsLeft& left) const {
  LaneDraw draw;
  lines_->draw({}, seed_, 0, draw);
  for (const Unknown& unknown : unknowns_) {
    const bool bore = unknown.kind == Unknown::Kind::bore;
    if (!bore && unknown.kind != Unknown::Kind::roughness) continue;
    const auto range = lines_->range(unknown);
    auto& all = bore ? draw.in.bore_m : draw.in.rough;
    std::fill_n(all.begin() + static_cast<std::ptrdiff_t>(unknown.index * together), together,
                0.5 * (range.first + range.second));
  }
  draw.in.head_m.assign(left.tree.places * together, 0.0);
  for (std::size_t f = 0; f < left.fixed.size(); ++f)
    std::fill_n(draw.in.head_m.begin() + static_cast<std::ptrdiff_t>(left.fixed[f].first * together),
                together, left.fixed_m[f] - datum_m_);
  LaneFlows flows;
  solve(left.tree, draw.in, flows);
  for (std::size_t b = 0; b < left.tree.branches.size(); ++b)
    if (flows.settled[0] && flows.flow_m3s[b * together] > 0.0)
      left.tree.branches[b].start_m3s = flows.flow_m3s[b * together];
}

void Sampler::least_margins(std::uint64_t number, SampleBlock& out) const {
  out.margin_m.assign(places_.size() * together, nothing_asked_m);
  out.binding.assign(places_.size() * together, {});
  for (const Turn& turn : turns_) {
    SampleBlock here;
    turn.sampler->run_margins(number, here);
    for (std::size_t i = 0; i < here.margin_m.size(); ++i) {
      const std::size_t all = turn.numbers[i / together] * together + i % together;
      if (!(here.margin_m[i] < out.margin_m[all])) continue;
      out.margin_m[all] = here.margin_m[i];
      out.binding[all] = here.binding[i];
    }
  }
}

void Sampler::least_flows(std::uint64_t number, SampleBlock& out) const {
  out.flow_m3s.assign(places_.size() * together, endless);
  out.one_by_one = 0;
  for (const Turn& turn : turns_) {
    SampleBlock here;
    turn.sampler->run_flows(number, here);
    for (std::size_t i = 0; i < here.flow_m3s.size(); ++i) {
      double& least = out.flow_m3s[turn.numbers[i / together] * together + i % together];
      least = std::min(least, here.flow_m3s[i]);
    }
    out.one_by_one = std::max(out.one_by_one, here.one_by_one);
  }
}

void Sampler::run_margins(std::uint64_t number, SampleBlock& out) const {
  if (!turns_.empty()) return least_margins(number, out);
  out.margin_m.assign(places_.size() * together, hopeless_m);
  out.binding.assign(places_.size() * together, {});
  if (!design_) {
    for (std::size_t lane = 0; lane < together; ++lane) one_margin(number * together + lane, lane, out);
    return;
  }
  LaneDraw draw;
  lines_->draw(unknowns_, seed_, number, draw);
  margins(draw, out);
}

void Sampler::run_flows(std::uint64_t number, SampleBlock& out) const {
  if (!turns_.empty()) return least_flows(number, out);
  out.one_by_one = 0;
  out.flow_m3s.assign(places_.size() * together, -1.0);
  if (!as_left_) {
    for (std::size_t lane = 0; lane < together; ++lane) one_flow(number * together + lane, lane, out);
    out.one_by_one = static_cast<int>(together);
    return;
  }
  LaneDraw draw;
  lines_->draw(unknowns_, seed_, number, draw);
  flows(number, draw, out);
}

void Sampler::margins(const LaneDraw& draw, SampleBlock& out) const {
  const Design& design = *design_;
  LaneInputs in = draw.in;
  in.head_m.assign(design.tree.places * together, 0.0);
  for (const auto& branch : design.branches)
    for (std::size_t lane = 0; branch.line < 0 && lane < together; ++lane)
      in.head_m[branch.place * together + lane] =
          branch.surface_m - datum_m_ + draw.lift_m[at(branch.source) * together + lane];
  LaneFlows flows;
  solve(design.tree, in, flows);
  std::vector<double> left_m(design.branches.size() + 1);
  std::vector<Binding> binding(design.branches.size() + 1);
  for (std::size_t lane = 0; lane < together; ++lane) {
    const bool enough = std::all_of(design.supplies.begin(), design.supplies.end(), [&](const auto& supply) {
      return supply.second <= draw.yield_m3s[supply.first * together + lane] * (1.0 + 1e-6);
    });
    if (!enough) continue;
    left_m[0] = nothing_asked_m;  // as `margins_m` begins
    for (std::size_t b = 0; b < design.branches.size(); ++b) {
      const auto& branch = design.branches[b];
      left_m[b + 1] = left_m[branch.above];
      binding[b + 1] = binding[branch.above];
      if (branch.line < 0) continue;
      const double flow = design.design.lines[b].flow_m3s;
      const std::size_t above = design.branches[branch.above - 1].place;
      const double upper_m = flows.head_m[above * together + lane] + datum_m_;
      const double lower_m = flows.head_m[branch.place * together + lane] + datum_m_;
      const auto note = [&](double margin_m, Binding at) {
        if (margin_m < left_m[b + 1]) left_m[b + 1] = margin_m, binding[b + 1] = at;
      };
      if (flow > 0.0) {
        const LaneLine& line = lines_->lines()[at(branch.line)];
        const double per_metre = flows.per_metre[branch.branch * together + lane];
        const double share = local_share(design.tree, draw, at(branch.line), lane);
        const Along need = along(line, draw, lane, per_metre, flow, share);
        double asked_m = upper_m < need.end_m ? need.end_m : need.end_beyond_m;
        if (branch.air_m) {
          const std::size_t last = line.first_point + line.points.size() - 1;
          const double axis_m = std::max(*branch.air_m + draw.lift_m[at(branch.end) * together + lane],
                                         line.points.back().floor_m + draw.rise_m[last * together + lane]);
          const double lost_m = per_metre * draw.in.length_m[at(branch.line) * together + lane] +
                                (line.local_s2m5 * share + branch.opening_s2m5) * flow * flow;
          asked_m = std::max(asked_m, axis_m + lost_m);
        }
        const bool inside = asked_m == need.end_beyond_m && need.point + 1 < line.points.size();
        note(upper_m - asked_m, inside ? Binding{branch.line, line.points[need.point].station_m} : Binding{});
      }
      note(lower_m - design.design.choice.branches[b].floor_m - draw.lift_m[at(branch.end) * together + lane],
           {});
    }
    for (std::size_t p = 0; p < places_.size(); ++p)
      for (const std::size_t b : design.ends[p]) {
        out.margin_m[p * together + lane] = left_m[b + 1];
        out.binding[p * together + lane] = binding[b + 1];
      }
  }
}

/// Whether the flows of a lane are truly those of full pipes.
bool Sampler::fits(const LaneDraw& draw, const LaneFlows& flows, std::size_t lane) const {
  const AsLeft& left = *as_left_;
  if (!flows.settled[lane]) return false;
  for (std::size_t b = 0; b < left.tree.branches.size(); ++b) {
    const double flow = flows.flow_m3s[b * together + lane];
    if (left.tree.branches[b].start_m3s > 0.0 ? !(flow > 0.0) : flow != 0.0) return false;
  }
  std::vector<double> net_m3s(system_->boxes().size());
  for (std::size_t b = 0; b < net_m3s.size(); ++b) net_m3s[b] = draw.yield_m3s[b * together + lane];
  for (std::size_t l = 0; l < left.branch.size(); ++l) {
    const std::size_t b = left.branch[l];
    const auto& branch = left.tree.branches[b];
    const double flow = flows.flow_m3s[b * together + lane];
    if (flow == 0.0) continue;  // water stands in it
    const double upper_m = flows.head_m[at(branch.above) * together + lane] + datum_m_;
    const LaneLine& line = lines_->lines()[l];
    const Along need = along(line, draw, lane, flows.per_metre[b * together + lane], flow,
                             local_share(left.tree, draw, l, lane));
    if (!(upper_m >= need.end_m)) return false;
    const network::Line& as = system_->lines()[l];
    if (line.start_axis_m) {
      const double* rise = draw.rise_m.data() + line.first_point * together + lane;
      const double fall = line.points[0].elevation_m + rise[0] - line.points[1].elevation_m - rise[together];
      const double run = draw.before_m[(line.first_point + 1) * together + lane];
      const losses::Mouth mouth(as.mouth, draw.in.bore_m[l * together + lane], run > 0.0 ? fall / run : 0.0);
      if (!(upper_m - (*line.start_axis_m + rise[0]) >= mouth.over_axis(flow).head_m)) return false;
    }
    if (system_->box(as.from)) net_m3s[at(as.from)] -= flow;
    if (system_->box(as.to)) net_m3s[at(as.to)] += flow;
  }
  for (const auto& [place, of] : left.joints)
    if (left.tree.draw_m3s[place] > 0.0 &&
        !(flows.head_m[place * together + lane] + datum_m_ >=
          system_->joint(of)->elevation.metres() + draw.lift_m[at(of) * together + lane]))
      return false;
  return std::all_of(net_m3s.begin(), net_m3s.end(), [](double net) { return net >= 0.0; });
}

void Sampler::flows(std::uint64_t number, const LaneDraw& draw, SampleBlock& out) const {
  const AsLeft& left = *as_left_;
  LaneInputs in = draw.in;
  in.head_m.assign(left.tree.places * together, 0.0);
  for (std::size_t f = 0; f < left.fixed.size(); ++f)
    for (std::size_t lane = 0; lane < together; ++lane)
      in.head_m[left.fixed[f].first * together + lane] =
          left.fixed_m[f] - datum_m_ + draw.lift_m[at(left.fixed[f].second) * together + lane];
  LaneFlows flows;
  solve(left.tree, in, flows);
  for (std::size_t lane = 0; lane < together; ++lane) {
    if (!fits(draw, flows, lane)) {
      one_flow(number * together + lane, lane, out);
      ++out.one_by_one;
      continue;
    }
    for (std::size_t p = 0; p < places_.size(); ++p) {
      const int place = *system_->find_place(places_[p]);
      double flow = 0.0;
      if (system_->outlet(place)) {
        const std::size_t b = left.outlet_branch[at(system_->place(place).index)];
        flow = b == none ? 0.0 : flows.flow_m3s[b * together + lane];
      } else if (const network::Joint* joint = system_->joint(place)) {
        flow = joint->draw.si();
      } else {
        for (std::size_t l = 0; l < left.branch.size(); ++l) {
          const double carried = flows.flow_m3s[left.branch[l] * together + lane];
          if (system_->lines()[l].to == place) flow += carried;
          if (system_->tank(place) && system_->lines()[l].from == place) flow -= carried;
        }
        if (system_->box(place)) flow += draw.yield_m3s[at(place) * together + lane];
      }
      out.flow_m3s[p * together + lane] = flow;
    }
  }
}

void Sampler::one_margin(std::uint64_t sample, std::size_t lane, SampleBlock& out) const {
  const std::vector<double> margins = margins_m(sampled(model_, unknowns_, seed_, sample));
  for (std::size_t p = 0; p < places_.size(); ++p) out.margin_m[p * together + lane] = margins[p];
}

void Sampler::one_flow(std::uint64_t sample, std::size_t lane, SampleBlock& out) const {
  const std::vector<double> flows = flows_m3s(sampled(model_, unknowns_, seed_, sample));
  for (std::size_t p = 0; p < places_.size(); ++p) out.flow_m3s[p * together + lane] = flows[p];
}

namespace {

/// While all is drawn at once.
std::vector<double> flows_at_once_m3s(const Model& model) {
  const std::vector<std::string> places = places_asked(model);
  std::vector<double> flows(places.size(), -1.0);
  const auto system = network::resolve(model);
  if (!system) return flows;
  const steady::State state = steady::solve(*system.value, {.depths = false});
  if (state.outcome != steady::Outcome::settled) return flows;
  for (std::size_t p = 0; p < places.size(); ++p) {
    const int place = *system.value->find_place(places[p]);
    flows[p] = network::gets_m3s(network::place_state(*system.value, state, place));
  }
  return flows;
}

}  // namespace

std::vector<double> flows_m3s(const Model& model) {
  return least_of_turns(model, endless, flows_at_once_m3s);
}

}  // namespace runnel::sizing
