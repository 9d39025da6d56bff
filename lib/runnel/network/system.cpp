#include "runnel/network/system.h"

#include <algorithm>

#include "runnel/base/index.h"
#include "runnel/losses/area_change.h"
#include "runnel/network/complaints.h"
#include "runnel/network/drawn_needs.h"
#include "runnel/network/draws.h"
#include "runnel/network/part_loss.h"
#include "runnel/network/tee_loss.h"
#include "runnel/network/validate.h"

namespace runnel::network {
namespace {

FittedPart fitted(const Pipeline& line, const Part& part) {
  FittedPart out;
  static_cast<Part&>(out) = part;
  if (part.loss) {
    out.k = *part.loss;
    out.k_source = part.loss_source.empty() ? "the model" : part.loss_source;
  } else if (const auto published = published_loss_of(line, part, part.open > 0.0 ? part.open : 1.0)) {
    out.k = published->k;
    out.k_source = published->source;
  }
  return out;
}

std::vector<FittedPipe> fitted_pipes(const Pipeline& line) {
  std::vector<FittedPipe> out;
  for (std::size_t p = 0; p < line.pipes.size(); ++p) {
    const LaidPipe& laid = line.pipes[p];
    FittedPipe pipe{laid.pipe, laid.from, 0.0, 0.0, laid.entry_loss.has_value(), laid.mark};
    // A pipe that begins at the start of the line is entered from the place there, not from another pipe.
    const bool inside = laid.from.metres() > line.survey.front().station.metres() + same_station_m;
    if (p > 0 && inside) {
      const double before_m = line.pipes[p - 1].pipe.bore.metres(), after_m = laid.pipe.bore.metres();
      pipe.change_forward = laid.entry_loss.value_or(losses::area_change_loss(before_m, after_m));
      pipe.change_backward = laid.entry_loss.value_or(losses::area_change_loss(after_m, before_m));
    }
    out.push_back(std::move(pipe));
  }
  return out;
}

}  // namespace

Line System::resolved(const Pipeline& line, int from, int to) const {
  Line out;
  out.name = line.name;
  out.from = from;
  out.to = to;
  out.pipes = fitted_pipes(line);
  out.air = line.air;
  out.along = line.along;
  out.taped_length = line.taped_length;
  out.survey = line.survey;
  out.surveyed = line.surveyed;
  out.survey_error = line.survey_error;
  out.parts.reserve(line.parts.size());
  for (const Part& part : line.parts) out.parts.push_back(fitted(line, part));
  out.entrance_loss = line.entrance_loss;
  out.exit_loss = line.exit_loss;
  out.mouth = line.mouth;
  out.float_valve = line.float_valve;
  if (const Tank* end = tank(to); end && !out.float_valve) out.float_valve = end->float_valve;
  out.mark = line.mark;
  out.course = Course(line.survey, line.parts, line.pipes, line.along);
  return out;
}

void System::pay_tees(int line) {
  Line& own = lines_[at(line)];
  own.entrance_loss += tee_loss(*this, own.from, line);
  own.exit_loss += tee_loss(*this, own.to, line);
}

System::System(const System&) = default;
System::System(System&&) noexcept = default;
System& System::operator=(const System&) = default;
System& System::operator=(System&&) noexcept = default;
System::~System() = default;

System::System(std::shared_ptr<const Model> model) : model_(std::move(model)) {
  each_kind(*model_, [&, kind = std::size_t{0}](const auto& all) mutable {
    first_place_[kind + 1] = first_place_[kind] + static_cast<int>(all.size());
    ++kind;
  });
  auto names = std::make_shared<Names>();
  names->places.reserve(at(places()));
  each_place(*model_,
             [&, next = 0](const auto& place) mutable { names->places.emplace(place.name, next++); });
  lines_at_.resize(at(places()));
  lines_.reserve(model_->pipelines.size());
  names->lines.reserve(model_->pipelines.size());
  for (const Pipeline& line : model_->pipelines) {
    const int number = static_cast<int>(lines_.size());
    const int from = names->places.at(line.from), to = names->places.at(line.to);
    lines_.push_back(resolved(line, from, to));
    lines_at_[at(from)].push_back(number);
    lines_at_[at(to)].push_back(number);
    names->lines.emplace(line.name, number);
  }
  for (std::size_t l = 0; l < lines_.size(); ++l) pay_tees(static_cast<int>(l));
  for (const Outlet& outlet : outlets())
    hangs_on_.push_back(outlet.on.empty() ? -1 : names->places.at(outlet.on));
  names_ = std::move(names);
  open_taps();
}

void System::open_taps() {
  for (const Outlet& outlet : outlets())
    lets_out_.push_back(outlet.opened_to       ? outlet.opened_to
                        : outlet.draws.empty() ? std::nullopt
                                               : std::optional(busiest_hour(outlet.draws)));
  const auto at_least = [&](const std::string& place, Flow asked) {
    const auto number = find_place(place);
    if (!number || kind(*number) != PlaceKind::outlet) return;
    const int o = System::place(*number).index;
    if (auto& most = lets_out_[at(o)]; most && !outlets()[at(o)].opened_to) most = std::max(*most, asked);
  };
  for (const Ask& ask : asks())
    if (ask.kind == AskKind::flow) at_least(ask.at, ask.flow);
}

std::optional<Flow> System::opened_above_draws(int outlet) const {
  const std::vector<Draw>& draws = outlets()[at(outlet)].draws;
  const std::optional<Flow>& most = lets_out(outlet);
  return most && !draws.empty() && *most > busiest_hour(draws) ? most : std::nullopt;
}

bool System::some_tap_held() const {
  return std::any_of(lets_out_.begin(), lets_out_.end(), [](const auto& most) { return most.has_value(); });
}

PlaceRef System::place(int place) const {
  std::size_t kind = place_kinds - 1;
  while (kind > 0 && place < first_place_[kind]) --kind;
  return {static_cast<PlaceKind>(kind), place - first_place_[kind]};
}

const std::string& System::place_name(int place) const {
  const std::string* name = nullptr;
  each_kind(*model_, [&](const auto& all) {
    if (const auto* found = of_kind(all, place)) name = &found->name;
  });
  return *name;
}

std::optional<int> System::find_place(std::string_view name) const {
  const auto found = names_->places.find(name);
  return found == names_->places.end() ? std::nullopt : std::optional(found->second);
}

std::optional<int> System::find_line(std::string_view name) const {
  const auto found = names_->lines.find(name);
  return found == names_->lines.end() ? std::nullopt : std::optional(found->second);
}

const Line* System::line(const std::string& name) const {
  const auto number = find_line(name);
  return number ? &lines_[at(*number)] : nullptr;
}

namespace {

/// A line whose pipe nobody has chosen yet cannot be computed on.
void refuse_open_choices(const Model& model, std::vector<Finding>& findings) {
  for (const Pipeline& line : model.pipelines) {
    if (!line.choice) continue;
    Finding finding;
    finding.code = "pipe-not-chosen";
    finding.message = "which pipe " + quoted(line.name) + " is laid in is left open";
    finding.advice = "`runnel size` chooses the cheapest that does; or write one pipe instead of `choose`";
    finding.mark = line.choice->mark;
    finding.where.pipeline = line.name;
    findings.push_back(std::move(finding));
  }
}

}  // namespace

Checked<System> resolve(Model model, const Origin& origin) {
  Checked<System> out;
  out.findings = validate(model, origin);
  refuse_open_choices(model, out.findings);
  model = with_draws_asked(std::move(model));
  if (!any_error(out.findings)) out.value = System(std::move(model));
  return out;
}

Checked<System> resolve(Model model) { return resolve(std::move(model), Origin{}); }

}  // namespace runnel::network
