#include "runnel/steady/solver.h"

#include <algorithm>
#include <stdexcept>

#include "runnel/base/index.h"
#include "runnel/steady/datum.h"
#include "runnel/steady/written_state.h"

namespace runnel::steady {
namespace {}  // namespace

Solver::Solver(const network::System& system, const Options& options)
    : options_{.floors = options.floors, .room_for_changes = true},
      copy_(system),
      assembly_(assemble(copy_.system(), options_)),
      datum_m_(local_datum_m(assembly_.kernel)),
      kernel_(above(assembly_.kernel, datum_m_), {.max_iterations = options.max_iterations}) {
  for (const auto& nodes : assembly_.kind_nodes)
    node_of_place_.insert(node_of_place_.end(), nodes.begin(), nodes.end());
  for (std::size_t o = 0; o < system.outlets().size(); ++o)  // one that hangs on a joint has that one's head
    if (const int on = system.hangs_on(static_cast<int>(o)); on >= 0)
      node_of_place_[at(system.outlet_place(static_cast<int>(o)))] = node_of_place_[at(on)];
  flows_.head_m.resize(node_of_place_.size());
  flows_.hold.resize(node_of_place_.size());
  flows_.surplus_m3s.resize(node_of_place_.size());
  flows_.line_m3s.resize(assembly_.line_link.size());
  flows_.outlet_m3s.resize(assembly_.outlet_link.size());
}

/// Takes over a line that was changed, with as many controls and pipes as before.
void Solver::refit(int line) {
  current_ = false;
  Assembly fresh = assemble_line(system(), line, options_);
  const int k = assembly_.line_link[at(line)];
  Kernel& kernel = assembly_.kernel;
  const Kernel& from = fresh.kernel;
  Link& link = kernel.links[at(k)];
  const Link& to = from.links.front();
  if (to.forwards != link.forwards || to.backwards != link.backwards || to.terms != link.terms)
    throw std::logic_error("a line was changed in more than its figures");
  for (std::uint32_t t = 0; t < link.terms; ++t) {
    kernel.terms[link.term + t] = from.terms[t];
    kernel_.set_pipe(k, static_cast<int>(t), from.terms[t]);
  }
  for (std::uint32_t c = 0; c < link.forwards + link.backwards; ++c) {
    Control& old = kernel.controls[link.forward + c];
    const std::uint32_t lengths = old.lengths;
    const int mouth = old.mouth;
    const double* lengths_m = from.lengths_m.data() + from.controls[c].lengths;
    std::copy(lengths_m, lengths_m + link.terms, kernel.lengths_m.begin() + lengths);
    old = from.controls[c];
    old.lengths = lengths;
    old.mouth = mouth;
    kernel_.set_control(k, link.forward + c, above(old, datum_m_), lengths_m);
  }
  for (const bool forward : {true, false}) {
    if (link.mouth(forward) < 0) continue;
    const LinkMouth& mouth = from.mouths[at(from.controls[at(to.mouth(forward))].mouth)];
    kernel.mouths[at(kernel.controls[at(link.mouth(forward))].mouth)] = mouth;
    kernel_.set_mouth(k, forward, mouth);
  }
  link.start_m3s = to.start_m3s;
  link.smooth_m3s = to.smooth_m3s;
  link.most_m3s = to.most_m3s;
  link.shut = to.shut;
  kernel_.set_start(k, to.start_m3s, to.smooth_m3s);
  kernel_.set_most(k, to.most_m3s);
  kernel_.set_shut(k, to.shut);
  assembly_.plans[at(line)] = std::move(fresh.plans.front());
}

bool Solver::lay(int line, int pipe, const pipes::Pipe& by) {
  if (!copy_.lay(line, pipe, by)) return false;
  refit(line);
  return true;
}

void Solver::raise(int line, int point, Length by) {
  copy_.raise(line, point, by);
  refit(line);
}

bool Solver::set_valve(int line, int part, double open) {
  if (!copy_.set_valve(line, part, open)) return false;
  refit(line);
  return true;
}

void Solver::yield(int box, Flow flow) {
  copy_.yield(box, flow);
  const int node = assembly_.nodes_of(network::PlaceKind::box)[at(box)];
  assembly_.kernel.nodes[at(node)].inflow_m3s = flow.si();
  kernel_.set_inflow(node, flow.si());
  current_ = false;
}

void Solver::level(int tank, Length level) {
  copy_.level(tank, level);
  const int node = assembly_.nodes_of(network::PlaceKind::tank)[at(tank)];
  assembly_.kernel.nodes[at(node)].head_m = level.metres();
  kernel_.set_head(node, level.metres() - datum_m_);
  current_ = false;
  for (const int line : system().lines_at(system().tank_place(tank)))
    if (system().lines()[at(line)].float_valve) refit(line);
}

void Solver::draw(int joint, Flow flow) {
  copy_.draw(joint, flow);
  const int node = assembly_.nodes_of(network::PlaceKind::joint)[at(joint)];
  KernelNode& there = assembly_.kernel.nodes[at(node)];
  there.draw_m3s = flow.si();
  kernel_.set_draw(node, flow.si(), there.draw_floor_m - datum_m_);
  current_ = false;
}

void Solver::shut(int outlet, bool shut) {
  copy_.shut(outlet, shut);
  turn(outlet);
}

void Solver::open(int outlet, std::optional<Flow> to) {
  copy_.open(outlet, to);
  turn(outlet);
}

/// Takes over how far a tap is open.
void Solver::turn(int outlet) {
  current_ = false;
  const int k = assembly_.outlet_link[at(outlet)];
  if (assembly_.nodes_of(network::PlaceKind::outlet)[at(outlet)] < 0 && system().hangs_on(outlet) < 0) {
    for (const int line : system().lines_at(system().outlet_place(outlet))) refit(line);
  } else if (k >= 0) {
    Link& link = assembly_.kernel.links[at(k)];
    set_tap(system(), outlet, link);
    kernel_.set_most(k, link.most_m3s);
    kernel_.set_shut(k, link.shut);
  }
}

const Flows& Solver::solve() {
  if (!current_) {
    kernel_.solve_near();
    read();
    current_ = true;
  }
  return flows_;
}

void Solver::read() {
  const KernelState& solved = kernel_.state();
  flows_.outcome = solved.outcome;
  flows_.found_near = kernel_.found_near();
  for (std::size_t place = 0; place < node_of_place_.size(); ++place) {
    const int node = node_of_place_[place];
    const network::Outlet* outlet = system().outlet(static_cast<int>(place));
    // An outlet without a node is an end in the open air.
    flows_.head_m[place] = node >= 0 ? solved.head_m[at(node)] + datum_m_ : outlet->elevation.metres();
    flows_.hold[place] = node >= 0 ? solved.hold[at(node)] : Hold::free;
    flows_.surplus_m3s[place] = node >= 0 ? solved.surplus_m3s[at(node)] : 0.0;
  }
  for (std::size_t l = 0; l < flows_.line_m3s.size(); ++l)
    flows_.line_m3s[l] = solved.flow_m3s[at(assembly_.line_link[l])];
  for (std::size_t o = 0; o < flows_.outlet_m3s.size(); ++o)
    flows_.outlet_m3s[o] = assembly_.outlet_link[o] < 0 ? 0.0 : solved.flow_m3s[at(assembly_.outlet_link[o])];
}

State Solver::answer() {
  solve();
  KernelState solved = kernel_.state();
  raise_heads(solved, datum_m_);
  return write_proved(system(), assembly_, solved);
}

}  // namespace runnel::steady
