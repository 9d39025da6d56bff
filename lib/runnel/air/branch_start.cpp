#include "runnel/air/branch_start.h"

#include <algorithm>
#include <map>
#include <set>
#include <utility>

#include "runnel/air/air_states.h"
#include "runnel/base/index.h"

namespace runnel::air {
namespace {

using network::System;

std::size_t index_of(const System& system, const network::Line* line) {
  return static_cast<std::size_t>(line - system.lines().data());
}

bool gives_water(const System& system, int joint) {
  const network::Joint* here = system.joint(joint);
  if (here && here->draw.si() > 0.0) return true;
  for (std::size_t o = 0; o < system.outlets().size(); ++o)
    if (system.hangs_on(static_cast<int>(o)) == joint && !system.outlets()[o].shut) return true;
  return false;
}

/// Whether water may leave a way at one of its joints, by another pipeline, a tap or a draw.
bool is_tee(const System& system, int joint) {
  return system.lines_at(joint).size() > 2 || gives_water(system, joint);
}

void shut_line(network::Model& model, std::size_t line) {
  network::Pipeline& pipeline = model.pipelines[line];
  network::Part valve;
  valve.kind = network::PartKind::valve;
  valve.type = "ball_valve";
  valve.at = pipeline.survey.front().station;
  valve.open = 0.0;
  pipeline.parts.push_back(std::move(valve));
}

/// The system with one pipeline shut at its start; the numbering stays the same.
Checked<System> with_shut_line(const System& system, std::size_t line) {
  network::Model model = system.model();
  shut_line(model, line);
  return network::resolve(std::move(model));
}

/// The system with nothing running but one way.
Checked<System> with_only(const System& system, const Way& way) {
  network::Model model = system.model();
  std::set<std::size_t> on_way;
  std::set<int> places;
  for (const PathLeg& leg : way.path.legs) {
    on_way.insert(index_of(system, leg.line));
    places.insert({leg.line->from, leg.line->to});
  }
  for (const int place : places) {
    if (system.kind(place) != network::PlaceKind::joint) continue;
    for (const int line : system.lines_at(place))
      if (!on_way.count(at(line))) shut_line(model, at(line));
    if (system.place_name(place) == way.path.end) continue;
    for (std::size_t o = 0; o < system.outlets().size(); ++o)
      if (system.hangs_on(static_cast<int>(o)) == place) model.outlets[o].shut = true;
    model.joints[at(place - system.joint_place(0))].draw = Flow::from_si(0.0);
  }
  return network::resolve(std::move(model));
}

class Branches {
 public:
  Branches(const System& system, const std::vector<Way>& ways, AirStates& states)
      : system_(system), ways_(ways), states_(states) {}

  std::vector<BranchStart> run(std::size_t most, std::size_t& left_out) {
    for (std::size_t w = 0; w < ways_.size(); ++w)
      if (ways_[w].start.verdict != StartVerdict::blocked) add_way(w);
    left_out = found_.size() > most ? found_.size() - most : 0;
    if (left_out > 0) found_.resize(most);
    for (BranchStart& branch : found_) judge(branch);
    return std::move(found_);
  }

 private:
  /// The first pocket after each tee decides, because its need includes that of the pockets behind it.
  void add_way(std::size_t w) {
    const Way& way = ways_[w];
    std::size_t tee = 0, known = 0;  // legs; 0: no tee yet
    for (const Pocket& pocket : way.start.pockets) {
      if (pocket.vented || pocket.volume_start_m3 <= 0.0) continue;
      const auto leg = at(way.profile.points[at(pocket.crest)].pipeline);
      for (std::size_t l = tee + 1; l <= leg; ++l)
        if (is_tee(system_, first_place(way.path.legs[l]))) tee = l;
      if (tee == known) continue;
      known = tee;
      BranchStart branch;
      branch.way = w;
      branch.line = index_of(system_, way.path.legs[tee].line);
      branch.tee = first_place(way.path.legs[tee]);
      branch.needed_m = pocket.head_at_crest_m;
      found_.push_back(std::move(branch));
    }
  }

  void judge(BranchStart& branch) {
    branch.running_m = head_while_running(branch);
    branch.starts_running = branch.running_m && *branch.running_m > branch.needed_m;
    if (!branch.starts_running) open_first(branch);
  }

  /// The least head at the tee over the states in which the rest may run; none if the tee is dry in one.
  std::optional<double> head_while_running(BranchStart& branch) {
    const auto [known, fresh] = heads_.try_emplace({branch.line, branch.tee});
    if (!fresh) return known->second;
    const Checked<System> built = with_shut_line(system_, branch.line);
    if (!built) return std::nullopt;
    AirStates rest(*built.value, states_.held());
    std::set<Bodies> seen{{}};
    for (const LawCard& card : clearing_laws())
      if (rest.in_range(card.law)) seen.insert(rest.carried_off(card.law, {}));
    std::optional<double> least;
    for (const Bodies& gone : seen) {
      const AirState state = rest.solve(gone, steady::Compression::isothermal);
      branch.proved = branch.proved && state.settled && state.proof.consistent;
      if (!state.settled) return std::nullopt;
      const bool from_start = system_.lines()[branch.line].from == branch.tee;
      const auto& head =
          from_start ? state.runs[branch.line].start_head_m : state.runs[branch.line].end_head_m;
      if (!head) return std::nullopt;
      least = std::min(least.value_or(*head), *head);
    }
    return heads_[{branch.line, branch.tee}] = least;
  }

  void open_first(BranchStart& branch) {
    const Checked<System> built = with_only(system_, ways_[branch.way]);
    if (!built) return;
    AirStates alone(*built.value, states_.held());
    for (const LawCard& card : clearing_laws()) {
      OpenedFirst opened;
      opened.law = card.law;
      opened.in_range = states_.in_range(card.law);
      const Bodies gone = states_.carried_off(card.law, alone.carried_off(card.law, {}));
      opened.state = states_.solve(gone, steady::Compression::isothermal);
      branch.proved = branch.proved && opened.state.settled && opened.state.proof.consistent;
      branch.opened_first.push_back(std::move(opened));
    }
  }

  const System& system_;
  const std::vector<Way>& ways_;
  AirStates& states_;
  std::vector<BranchStart> found_;
  std::map<std::pair<std::size_t, int>, std::optional<double>> heads_;
};

}  // namespace

std::vector<BranchStart> branch_starts(const System& system, const std::vector<Way>& ways, AirStates& states,
                                       std::size_t most, std::size_t& left_out) {
  return Branches(system, ways, states).run(most, left_out);
}

}  // namespace runnel::air
