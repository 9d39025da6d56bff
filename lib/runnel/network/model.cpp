#include "runnel/network/model.h"

#include <utility>

#include "runnel/base/constants.h"
#include "runnel/network/draws.h"

namespace runnel::network {

Model::Model() = default;
Model::Model(const Model&) = default;
Model::Model(Model&&) noexcept = default;
Model& Model::operator=(const Model&) = default;
Model& Model::operator=(Model&&) noexcept = default;
Model::~Model() = default;

double Site::specific_weight_nm3() const { return water.density_kgm3 * gravity_ms2; }

namespace {

template <class T>
T* named(std::vector<T>& all, const std::string& name) {
  return const_cast<T*>(of_name(std::as_const(all), name));
}

/// Turns a valve. Its loss becomes `loss` if the setting gives one, else that drawn or that of the tables.
void turn(Part& part, double open, std::optional<double> loss) {
  const bool as_drawn = open == part.open || open == 0.0;
  if (!part.open_loss && part.open == 1.0) part.open_loss = part.loss;
  part.open = open;
  if (loss)
    part.loss = loss;
  else if (open == 1.0 && part.open_loss)
    part.loss = part.open_loss;
  else if (!as_drawn)
    part.loss.reset();
}

void set_open(Model& system, const std::string& name, double open, std::optional<double> loss = {}) {
  for (Pipeline& line : system.pipelines)
    for (Part& part : line.parts)
      if (part.name == name) turn(part, open, loss);
  if (Outlet* outlet = named(system.outlets, name)) outlet->shut = open == 0.0;
}

/// A steady draw in place of the `draws` there.
void set_draw(Model& model, const std::string& place, Flow draw) {
  if (Joint* joint = named(model.joints, place)) {
    joint->draw = draw;
    joint->draws.clear();
    if (draw.si() > 0.0) joint->draws = {drawn_always(draw)};
  }
  if (Outlet* outlet = named(model.outlets, place)) outlet->draws = {drawn_always(draw)};
}

}  // namespace

const Pipeline* Model::pipeline(const std::string& n) const { return of_name(pipelines, n); }

std::optional<PlaceKind> Model::place_kind(const std::string& n) const {
  std::optional<PlaceKind> found;
  each_place(*this, [&](const auto& place) {
    if (!found && place.name == n) found = place.kind;
  });
  return found;
}

Checked<Model> under_setting(const Model& system, const std::string& name) {
  if (const Setting* setting = of_name(system.settings, name)) {
    Model run = setting->instead ? *setting->instead : system;
    if (setting->instead) run.settings = system.settings;
    for (const auto& [part, mark] : setting->shut) set_open(run, part, 0.0);
    for (const auto& [part, mark] : setting->open) set_open(run, part, 1.0);
    for (const auto& part : setting->partly) set_open(run, part.name, part.open, part.loss);
    for (const auto& y : setting->yields)
      if (Box* box = named(run.boxes, y.box)) box->yield = y.yield;
    for (const auto& l : setting->levels)
      if (Tank* tank = named(run.tanks, l.tank)) tank->level = l.level;
    for (const auto& d : setting->draws) set_draw(run, d.joint, d.draw);
    return {std::move(run), {}};
  }
  if (name == "normal") return {system, {}};
  Finding finding;
  finding.code = "unknown-setting";
  finding.message = "this model has no setting named \"" + name + "\"";
  finding.advice = "settings here: normal";
  for (const Setting& s : system.settings)
    if (s.name != "normal") finding.advice += ", " + s.name;
  return {std::nullopt, {finding}};
}

}  // namespace runnel::network
