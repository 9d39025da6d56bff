#include "runnel/verdict/store_cures.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <span>
#include <type_traits>
#include <vector>

#include "runnel/network/drawn_needs.h"
#include "runnel/network/draws.h"
#include "runnel/network/floats.h"
#include "runnel/verdict/digging.h"
#include "runnel/verdict/next_size.h"

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

/// Names of the places that `which` is true of.
template <class Places, class Which>
std::vector<std::string> names_of(const Places& places, Which which) {
  std::vector<std::string> some;
  for (const auto& place : places)
    if (which(place)) some.push_back(place.name);
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
  if (const auto late = names_of(model.tanks, opens_late); !late.empty())
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
  if (const auto without = names_of(model.tanks, has_none); !without.empty())
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
  const auto takes_more = [&model](const network::Outlet& tap) {
    return !tap.shut && tap.draws.empty() && network::flow_asked_at(model, tap.name) > Flow{};
  };
  if (const auto open_taps = names_of(model.outlets, takes_more); !open_taps.empty())
    all.push_back({Sentence()
                       .say("Throttle ")
                       .names(open_taps)
                       .say(", so that no more runs there than is asked")
                       .say(then_all),
                   [takes_more](Model& tried) {
                     for (network::Outlet& tap : tried.outlets)
                       if (takes_more(tap))
                         tap.draws = {network::drawn_always(network::flow_asked_at(tried, tap.name))};
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
  return all;
}

// Whoever lays more lines anew than this asks for another plan. A judgement.
constexpr std::size_t most_lines_tried = 6;
constexpr std::size_t most_digs_tried = 8;
constexpr std::array shallow_m{0.5, 1.0};
constexpr std::array deep_m{2.0, most_dug_m};

/// The lines through which a tank gives, as drawn, up to other tanks.
std::vector<std::size_t> lines_below(const Model& model, const std::string& tank) {
  std::vector<std::size_t> lines;
  std::vector<std::string> open{tank};
  for (std::size_t next = 0; next < open.size(); ++next)
    for (std::size_t l = 0; l < model.pipelines.size(); ++l) {
      const network::Pipeline& line = model.pipelines[l];
      const bool seen = std::find(lines.begin(), lines.end(), l) != lines.end();
      if (line.from != open[next] || seen) continue;
      lines.push_back(l);
      if (!model.tank(line.to)) open.push_back(line.to);
    }
  return lines;
}

/// Larger pipe in one of the lines below a tank.
std::vector<Cure> larger_pipes(const Model& model, const std::string& tank) {
  std::vector<Cure> all;
  for (const std::size_t l : lines_below(model, tank)) {
    if (all.size() == most_lines_tried) break;
    std::vector<pipes::Pipe> wider;
    for (const auto& laid : model.pipelines[l].pipes)
      if (auto next = next_size(laid.pipe)) wider.push_back(std::move(*next));
    if (wider.empty() || wider.size() < model.pipelines[l].pipes.size()) continue;
    Sentence act = Sentence().say("Lay ").name(wider.front().name);
    act.say(wider.size() > 1 ? " and so on, one size larger, in " : " in ").name(model.pipelines[l].name);
    all.push_back({act.say(then_all), [l, wider](Model& tried) {
                     for (std::size_t p = 0; p < wider.size(); ++p)
                       tried.pipelines[l].pipes[p].pipe = wider[p];
                   }});
  }
  return all;
}

/// The high points of the lines below a tank, dug down: a tank that sinks to them gives no more.
std::vector<Cure> humps_dug(const Model& model, const std::string& tank, std::span<const double> digs_m) {
  std::vector<Cure> all;
  for (const std::size_t l : lines_below(model, tank)) {
    const auto& survey = model.pipelines[l].survey;
    for (std::size_t i = 1; i + 1 < survey.size(); ++i) {
      const bool high =
          survey[i].elevation > survey[i - 1].elevation && !(survey[i].elevation < survey[i + 1].elevation);
      if (!high || all.size() >= most_digs_tried) continue;
      for (const double dug_m : digs_m)
        all.push_back({Sentence()
                           .say("Dig the high point at ")
                           .figure(Kind::length, survey[i].station.metres())
                           .say(" of ")
                           .name(model.pipelines[l].name)
                           .say(" down by ")
                           .figure(Kind::head, dug_m)
                           .say(then_all),
                       [l, i, dug_m](Model& tried) {
                         auto& point = tried.pipelines[l].survey[i];
                         point.elevation = point.elevation - Length::metres(dug_m);
                       }});
    }
  }
  return all;
}

/// A tank that fills fast takes the head of those before it while its float valve is open.
std::vector<Cure> throttled_floats(const Model& model, const std::string& tank) {
  std::vector<Cure> all;
  const Tank* filled = model.tank(tank);
  if (!filled || !filled->float_valve) return all;
  for (const double loss : {100.0, 1000.0, 10000.0}) {
    if (filled->float_valve->loss >= loss) continue;
    all.push_back({Sentence()
                       .say("Throttle the way into ")
                       .name(tank)
                       .say(" before its float valve, to a loss K of " + fmt::format("{:.0f}", loss))
                       .say(then_all),
                   [tank, loss](Model& tried) {
                     for (Tank& t : tried.tanks)
                       if (t.name == tank && t.float_valve) t.float_valve->loss = loss;
                   }});
  }
  return all;
}

struct MoreWater {
  double times;
  const char* than_now;
};
// Rounded: a spring is not known to a tenth.
constexpr std::array less_than_twice{MoreWater{1.1, "a tenth more than"},
                                     MoreWater{1.25, "a quarter more than"},
                                     MoreWater{1.5, "half as much again as"}};

/// How much more water is enough, up to twice what the springs give; none where even that is not.
std::optional<Sentence> more_water(const Model& model, const std::function<bool(const Model&)>& all_comes) {
  const auto comes_with = [&](double times) {
    Model tried = model;
    for (network::Box& box : tried.boxes) box.yield = box.yield * times;
    return all_comes(tried);
  };
  if (!comes_with(2.0)) return std::nullopt;
  const auto least = std::find_if(less_than_twice.begin(), less_than_twice.end(),
                                  [&](const MoreWater& more) { return comes_with(more.times); });
  return Sentence()
      .say("Only more water helps: with ")
      .say(least == less_than_twice.end() ? "twice what" : least->than_now)
      .say(" the springs give all that is wanted comes.");
}

std::optional<Sentence> first_that_helps(const Model& model, const std::vector<Cure>& some,
                                         const std::function<bool(const Model&)>& all_comes) {
  for (const Cure& cure : some) {
    Model tried = model;
    cure.change(tried);
    if (all_comes(tried)) return cure.act;
  }
  return std::nullopt;
}

}  // namespace

std::optional<Sentence> low_water_cure(const Model& model, const std::string& tank,
                                       const std::function<bool(const Model&)>& all_comes) {
  std::vector<Cure> some = humps_dug(model, tank, shallow_m);
  const auto then = [&some](std::vector<Cure> more) {
    std::move(more.begin(), more.end(), std::back_inserter(some));
  };
  then(larger_pipes(model, tank));
  then(throttled_floats(model, tank));
  then(humps_dug(model, tank, deep_m));
  then(cures(model, tank));
  if (auto cure = first_that_helps(model, some, all_comes)) return cure;
  return more_water(model, all_comes);
}

Sentence store_cure(const Model& model, const std::string& tank,
                    const std::function<bool(const Model&)>& all_comes) {
  if (const auto cure = first_that_helps(model, cures(model, tank), all_comes)) return *cure;
  if (const auto more = more_water(model, all_comes)) return *more;
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
