#include "runnel/verdict/store_cures.h"

#include <algorithm>
#include <cmath>
#include <type_traits>
#include <vector>

#include "runnel/network/floats.h"

namespace runnel::verdict {
namespace {

using network::Model;
using network::Tank;

constexpr double band_m = 0.05;  // what a float opens below that is worth a word

/// The plan of a shape made larger, at the same depth.
network::TankShape larger(network::TankShape shape, double times) {
  std::visit(
      [&](auto& s) {
        using S = std::decay_t<decltype(s)>;
        const double across = std::sqrt(times);
        if constexpr (std::is_same_v<S, network::UprightCylinder>)
          s.diameter = s.diameter * across;
        else if constexpr (std::is_same_v<S, network::LyingCylinder> || std::is_same_v<S, network::Cuboid>)
          s.length = s.length * times;
        else if constexpr (std::is_same_v<S, network::Frustum>)
          s.bottom_diameter = s.bottom_diameter * across, s.top_diameter = s.top_diameter * across;
        else
          for (Volume& volume : s.volume) volume = volume * times;
      },
      shape);
  return shape;
}

bool opens_late(const Tank& tank) {
  return tank.float_valve && tank.float_valve->opens_at < tank.float_valve->shuts_at - Length::metres(band_m);
}

/// Names of the tanks that `which` is true of.
template <class Which>
std::vector<std::string> names_of(const Model& model, Which which) {
  std::vector<std::string> some;
  for (const Tank& tank : model.tanks)
    if (which(tank)) some.push_back(tank.name);
  return some;
}

constexpr const char* then_all = ": then all that is wanted comes.";

/// One thing somebody might do, and how that is said.
struct Cure {
  Sentence act;
  std::function<void(Model&)> change;
};

std::vector<Cure> cures(const Model& model, const std::string& tank) {
  std::vector<Cure> all;
  if (const auto late = names_of(model, opens_late); !late.empty())
    all.push_back({Sentence()
                       .say("Let the float valve of ")
                       .names(late)
                       .say(" open just below where it shuts")
                       .say(then_all),
                   [](Model& tried) {
                     for (Tank& t : tried.tanks)
                       if (opens_late(t))
                         t.float_valve->opens_at =
                             t.float_valve->shuts_at - Length::metres(network::least_float_band_m);
                   }});
  const auto has_none = [&model, tank](const Tank& t) {
    return !t.held && t.name != tank && network::floats_of(model, t).empty();
  };
  if (const auto without = names_of(model, has_none); !without.empty())
    all.push_back({Sentence()
                       .say("Put a float valve on ")
                       .names(without)
                       .say(", so that it takes no more than it needs")
                       .say(then_all),
                   [has_none](Model& tried) {
                     for (Tank& t : tried.tanks) {
                       if (!has_none(t)) continue;
                       t.float_valve = network::usual_float(t);
                       t.level = std::min(t.level, t.float_valve->shuts_at);
                     }
                   }});
  for (const double times : {2.0, 4.0})
    all.push_back({Sentence()
                       .say("Make ")
                       .name(tank)
                       .say(times > 2.0 ? " four times as large" : " twice as large")
                       .say(then_all),
                   [tank, times](Model& tried) {
                     for (Tank& t : tried.tanks)
                       if (t.name == tank) t.shape = larger(t.shape, times);
                   }});
  all.push_back(
      {Sentence().say("Only more water helps: with twice what the springs give all that is wanted comes."),
       [](Model& tried) {
         for (network::Box& box : tried.boxes) box.yield = box.yield * 2.0;
       }});
  return all;
}

}  // namespace

Sentence store_cure(const Model& model, const std::string& tank,
                    const std::function<bool(const Model&)>& all_comes) {
  for (const Cure& cure : cures(model, tank)) {
    Model tried = model;
    cure.change(tried);
    if (all_comes(tried)) return cure.act;
  }
  return Sentence().say(
      "Draw less: neither a larger tank nor twice as much from the springs is enough by itself.");
}

void advise(Finding& finding, const Sentence& advice) {
  Sentence behind;
  for (const Figure& figure : finding.figures) behind.figure(figure);
  const std::size_t before = behind.text().size();
  behind.append(advice);
  finding.advice = behind.text().substr(before);
  finding.figures = behind.figures();
}

}  // namespace runnel::verdict
