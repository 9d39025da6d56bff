#include "runnel/sizing/split.h"

#include <algorithm>
#include <numeric>

#include "runnel/network/course.h"
#include "runnel/proof/check_choice.h"
#include "runnel/sizing/split_program.h"

namespace runnel::sizing {
namespace {

using network::Model;
using network::TreeChoice;

// Head kept back for what a change of bore costs, which no share knows of; more is tried until it does.
constexpr double kept_back_m[] = {0.0, 0.02, 0.05, 0.1, 0.2, 0.5, 1.0};
// A shorter piece is not worth a reducer.
constexpr double least_piece_m = 1.0;

std::size_t at(int i) { return static_cast<std::size_t>(i); }

/// Only lines that may be split keep their options; the others are what was chosen for them.
TreeChoice only_split(const Model& model, const SizeAnswer& answer, std::vector<std::vector<int>>& sizes) {
  TreeChoice choice = answer.tree.choice;
  for (std::size_t b = 0; b < choice.branches.size(); ++b) {
    const DesignLine& design = answer.tree.lines[b];
    sizes.push_back(design.sizes);
    if (design.line < 0) continue;
    const auto& open = model.pipelines[at(design.line)].choice;
    if (!open || open->sizes > 1) continue;
    for (std::size_t k = 0; k < design.sizes.size(); ++k)
      if (open->among[at(design.sizes[k])].name == answer.lines[at(design.line)].pipe) {
        choice.branches[b].options = {choice.branches[b].options[k]};
        sizes[b] = {design.sizes[k]};
        break;
      }
  }
  return choice;
}

/// The station where so much of a line's slope length lies behind.
double station_at(const network::Course& course, double length_m) {
  for (const auto& point : course.points()) {
    if (length_m <= point.length_m || &point == &course.points().back()) {
      const std::size_t next = static_cast<std::size_t>(&point - course.points().data()) + 1;
      if (next >= course.points().size()) return point.station_m;
      return point.station_m +
             (course.points()[next].station_m - point.station_m) * length_m / point.length_m;
    }
    length_m -= point.length_m;
  }
  return course.last_m();
}

class Layer {
 public:
  Layer(const Model& model, const SizeAnswer& answer) : model_(model), answer_(answer), laid_(model) {}

  /// False if a line would have more sizes than it may.
  bool lay(const std::vector<std::vector<double>>& shares, const std::vector<std::vector<int>>& sizes,
           const TreeChoice& choice) {
    for (std::size_t b = 0; b < shares.size(); ++b)
      if (answer_.tree.lines[b].line >= 0 && !lay_branch(b, shares[b], sizes[b], choice.branches[b]))
        return false;
    return true;
  }

  const Model& laid() const { return laid_; }
  const std::vector<SplitPiece>& pieces() const { return pieces_; }

 private:
  bool lay_branch(std::size_t b, const std::vector<double>& shares, const std::vector<int>& sizes,
                  const network::TreeBranch& branch) {
    const DesignLine& design = answer_.tree.lines[b];
    const auto& open = model_.pipelines[at(design.line)].choice;
    if (!open) return true;
    network::Pipeline& line = laid_.pipelines[at(design.line)];
    const network::Course course(line.survey, line.parts, {line.pipes.front()}, line.along);
    const double length_m = answer_.lines[at(design.line)].length_m;
    std::vector<std::size_t> used;
    for (std::size_t k = 0; k < shares.size(); ++k)
      if (shares[k] * length_m >= least_piece_m) used.push_back(k);
    if (used.empty() || static_cast<int>(used.size()) > open->sizes) return false;
    // Wide where the water comes from; a line may be surveyed against its flow.
    std::sort(used.begin(), used.end(), [&](std::size_t a, std::size_t c) {
      return design.forward == (branch.options[a].loss_m < branch.options[c].loss_m);
    });
    double whole = 0.0, behind_m = 0.0;
    for (const std::size_t k : used) whole += shares[k];
    line.pipes.clear();
    line.choice.reset();
    for (const std::size_t k : used) {
      const pipes::Pipe& pipe = open->among[at(sizes[k])];
      const double piece_m = shares[k] / whole * length_m, from_m = station_at(course, behind_m);
      line.pipes.push_back({pipe, Length::metres(from_m), {}, {}});
      pieces_.push_back({line.name, pipe.name, from_m, piece_m, branch.options[k].cost * shares[k] / whole});
      behind_m += piece_m;
    }
    return true;
  }

  const Model& model_;
  const SizeAnswer& answer_;
  Model laid_;
  std::vector<SplitPiece> pieces_;
};

}  // namespace

std::optional<SplitDesign> split(const Model& model, const SizeAnswer& answer) {
  const bool any = std::any_of(model.pipelines.begin(), model.pipelines.end(),
                               [](const auto& line) { return line.choice && line.choice->sizes > 1; });
  if (!any || answer.outcome != SizeOutcome::chosen || answer.loops) return std::nullopt;
  std::vector<std::vector<int>> sizes;
  const TreeChoice choice = only_split(model, answer, sizes);
  double bound = -1.0;
  for (const double kept_m : kept_back_m) {
    TreeChoice higher = choice;
    for (auto& branch : higher.branches) branch.floor_m += kept_m;
    const SplitAnswer shares = cheapest_split(higher);
    if (!shares.found) return std::nullopt;
    if (bound < 0.0 && proof::check(choice, shares.proof).empty()) bound = shares.proof.cost;
    Layer layer(model, answer);
    if (!layer.lay(shares.shares, sizes, higher)) continue;
    SplitDesign design;
    design.bound = std::max(0.0, bound);
    design.pieces = layer.pieces();
    for (const SplitPiece& piece : design.pieces) design.cost += piece.cost;
    if (!(design.cost < answer.cost)) return std::nullopt;
    design.trial = try_out(layer.laid());
    if (design.trial.good) return design;
  }
  return std::nullopt;
}

}  // namespace runnel::sizing
