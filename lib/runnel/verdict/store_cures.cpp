#include "runnel/verdict/store_cures.h"

#include <algorithm>
#include <cmath>
#include <type_traits>

#include "runnel/network/floats.h"

namespace runnel::verdict {
namespace {

using network::Model;
using network::Tank;

constexpr double just_below_shut_m = 0.02;  // a float valve moves by no less
constexpr double band_m = 0.05;             // what a float opens below that is worth a word
constexpr double under_lip_m = 0.1;         // where a float valve is set to shut: common practice, no source

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

/// Names of the tanks that `which` is true of, as "a, b and c".
template <class Which>
Sentence names_of(const Model& model, Which which) {
  std::vector<const Tank*> some;
  for (const Tank& tank : model.tanks)
    if (which(tank)) some.push_back(&tank);
  Sentence s;
  for (std::size_t i = 0; i < some.size(); ++i)
    s.say(i == 0 ? "" : i + 1 == some.size() ? " and " : ", ").name(some[i]->name);
  return s;
}

constexpr const char* then_all = ": then all that is wanted comes.";

}  // namespace

Sentence store_cure(const Model& model, const std::string& tank,
                    const std::function<bool(const Model&)>& all_comes) {
  Model tried = model;
  for (Tank& t : tried.tanks)
    if (opens_late(t)) t.float_valve->opens_at = t.float_valve->shuts_at - Length::metres(just_below_shut_m);
  const bool some_late = std::any_of(model.tanks.begin(), model.tanks.end(), opens_late);
  if (some_late && all_comes(tried))
    return Sentence()
        .say("Let the float valve of ")
        .append(names_of(model, opens_late))
        .say(" open just below where it shuts")
        .say(then_all);

  const auto has_none = [&](const Tank& t) {
    return !t.held && t.name != tank && network::floats_of(model, t).empty();
  };
  tried = model;
  for (Tank& t : tried.tanks)
    if (has_none(t)) {
      const Length shuts = std::max(t.floor, std::min(t.inlet, t.lip - Length::metres(under_lip_m)));
      t.float_valve = network::FloatValve{shuts, shuts - Length::metres(just_below_shut_m)};
      t.level = std::min(t.level, shuts);
    }
  const bool some_without = std::any_of(model.tanks.begin(), model.tanks.end(), has_none);
  if (some_without && all_comes(tried))
    return Sentence()
        .say("Put a float valve on ")
        .append(names_of(model, has_none))
        .say(", so that it takes no more than it needs")
        .say(then_all);

  for (const double times : {2.0, 4.0}) {
    tried = model;
    for (Tank& t : tried.tanks)
      if (t.name == tank) t.shape = larger(t.shape, times);
    if (all_comes(tried))
      return Sentence()
          .say("Make ")
          .name(tank)
          .say(times > 2.0 ? " four times as large" : " twice as large")
          .say(then_all);
  }

  tried = model;
  for (network::Box& box : tried.boxes) box.yield = box.yield * 2.0;
  if (all_comes(tried))
    return Sentence().say(
        "Only more water helps: with twice what the springs give all that is wanted comes.");
  return Sentence().say(
      "Draw less, or for fewer hours: neither a larger tank nor twice as much from the springs is enough by "
      "itself.");
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
