#include "runnel/network/working_copy.h"

#include <algorithm>
#include <stdexcept>
#include <utility>

#include "runnel/base/index.h"
#include "runnel/network/part_loss.h"
#include "runnel/network/validate.h"

namespace runnel::network {
namespace {

bool has_loss(const Pipeline& line, const Part& part) {
  return part.loss || published_loss_of(line, part, part.open > 0.0 ? part.open : 1.0);
}

}  // namespace

WorkingCopy::WorkingCopy(const System& system)
    : model_(std::make_shared<Model>(system.model())),
      system_(System(std::shared_ptr<const Model>(model_))) {}

bool WorkingCopy::computable(int line) const {
  const Pipeline& l = model_->pipelines[at(line)];
  const auto known = [&](const Part& part) { return has_loss(l, part); };
  if (!std::all_of(l.parts.begin(), l.parts.end(), known)) return false;
  const Outlet* outlet = system_.outlet(system_.lines()[at(line)].to);
  return !outlet || !wider_than_pipe(*outlet, l.pipes.back().pipe);
}

void WorkingCopy::refit(int line) {
  Line& old = system_.lines_[at(line)];
  old = system_.resolved(pipeline(line), old.from, old.to);
  system_.pay_tees(line);
}

bool WorkingCopy::lay(int line, int pipe, const pipes::Pipe& by) {
  pipes::Pipe& laid = pipeline(line).pipes.at(at(pipe)).pipe;
  if (!(by.bore > Length{})) return false;
  pipes::Pipe before = std::exchange(laid, by);
  if (!computable(line)) {
    laid = std::move(before);
    return false;
  }
  refit(line);
  return true;
}

void WorkingCopy::raise(int line, int point, Length by) {
  auto& survey = pipeline(line).survey;
  if (point < 1 || at(point) + 1 >= survey.size())
    throw std::out_of_range("only a point between the ends of a survey can be raised");
  survey[at(point)].elevation = survey[at(point)].elevation + by;
  refit(line);
}

bool WorkingCopy::set_valve(int line, int part, double open) {
  Part& valve = pipeline(line).parts.at(at(part));
  if (valve.kind != PartKind::valve) throw std::out_of_range("this part is no valve");
  if (!(open >= 0.0 && open <= 1.0)) return false;
  const double before = std::exchange(valve.open, open);
  if (!has_loss(pipeline(line), valve)) {
    valve.open = before;
    return false;
  }
  refit(line);
  return true;
}

void WorkingCopy::yield(int box, Flow flow) { model_->boxes.at(at(box)).yield = flow; }
void WorkingCopy::level(int tank, Length level) { model_->tanks.at(at(tank)).level = level; }
void WorkingCopy::draw(int joint, Flow flow) { model_->joints.at(at(joint)).draw = flow; }
void WorkingCopy::shut(int outlet, bool shut) { model_->outlets.at(at(outlet)).shut = shut; }
void WorkingCopy::open(int outlet, std::optional<Flow> to) { system_.lets_out_.at(at(outlet)) = to; }

}  // namespace runnel::network
