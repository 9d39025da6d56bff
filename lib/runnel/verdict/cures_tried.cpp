#include "runnel/verdict/cures_tried.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <iterator>
#include <span>
#include <type_traits>
#include <utility>

#include "runnel/network/change.h"
#include "runnel/network/course.h"
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

// Whoever lays more lines anew than this asks for another plan. A judgement.
constexpr std::size_t most_lines_laid = 6;
constexpr std::size_t most_digs_tried = 8;
constexpr std::array shallow_m{0.5, 1.0};
constexpr std::array deep_m{2.0, most_dug_m};

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

/// The lines from a tank on, as drawn, up to other tanks; `up`: those that bring it water, back to other
/// tanks.
std::vector<std::size_t> lines_from(const Model& model, const std::string& tank, bool up) {
  std::vector<std::size_t> lines;
  std::vector<std::string> open{tank};
  for (std::size_t next = 0; next < open.size(); ++next)
    for (std::size_t l = 0; l < model.pipelines.size(); ++l) {
      const network::Pipeline& line = model.pipelines[l];
      const bool seen = std::find(lines.begin(), lines.end(), l) != lines.end();
      const std::string &here = up ? line.to : line.from, &there = up ? line.from : line.to;
      if (here != open[next] || seen) continue;
      lines.push_back(l);
      if (!model.tank(there)) open.push_back(there);
    }
  return lines;
}

/// A high point between the ends of a line.
struct Hump {
  std::size_t line, point;
};

std::vector<Hump> humps_of(const Model& model, const std::vector<std::size_t>& lines) {
  std::vector<Hump> humps;
  for (const std::size_t l : lines) {
    const auto& survey = model.pipelines[l].survey;
    for (std::size_t i = 1; i + 1 < survey.size(); ++i)
      if (survey[i].elevation > survey[i - 1].elevation && !(survey[i].elevation < survey[i + 1].elevation))
        humps.push_back({l, i});
  }
  return humps;
}

void say_hump(const Model& model, const Hump& hump, Sentence& s) {
  const network::Pipeline& line = model.pipelines[hump.line];
  s.figure(Kind::length, line.survey[hump.point].station.metres()).say(" of ").name(line.name);
}

std::vector<Cure> dug_by(const Model& model, std::vector<Hump> humps, std::span<const double> digs_m) {
  if (humps.size() > most_digs_tried / digs_m.size()) humps.resize(most_digs_tried / digs_m.size());
  std::vector<Cure> all;
  for (const Hump& hump : humps)
    for (const double dug_m : digs_m) {
      Sentence what = Sentence().say(" the high point at ");
      say_hump(model, hump, what);
      all.push_back({"dig", what.say(" down by ").figure(Kind::head, dug_m), [hump, dug_m](Model& tried) {
                       network::dig_down(tried.pipelines[hump.line], hump.point, Length::metres(dug_m));
                     }});
    }
  return all;
}

/// Those of the lines below a tank and of those that bring it water.
std::vector<Hump> humps_about(const Model& model, const std::string& tank) {
  std::vector<Hump> humps = humps_of(model, lines_from(model, tank, false));
  const std::vector<Hump> before = humps_of(model, lines_from(model, tank, true));
  humps.insert(humps.end(), before.begin(), before.end());
  return humps;
}

/// Each of some lines in pipe so many sizes larger.
std::vector<Cure> laid_wider(const Model& model, const std::vector<std::size_t>& lines, int sizes) {
  std::vector<Cure> all;
  for (const std::size_t l : lines) {
    if (all.size() == most_lines_laid) break;
    std::vector<pipes::Pipe> wider;
    for (const auto& laid : model.pipelines[l].pipes) {
      std::optional<pipes::Pipe> next = laid.pipe;
      for (int size = 0; size < sizes && next; ++size) next = next_size(*next);
      if (next) wider.push_back(std::move(*next));
    }
    if (wider.empty() || wider.size() < model.pipelines[l].pipes.size()) continue;
    Sentence what = Sentence().say(" ").name(wider.front().name);
    if (wider.size() > 1)
      what.say(sizes == 1 ? " and so on, one size larger," : " and so on, two sizes larger,");
    what.say(" in ").name(model.pipelines[l].name);
    all.push_back({"lay", std::move(what), [l, wider](Model& tried) {
                     for (std::size_t p = 0; p < wider.size(); ++p)
                       tried.pipelines[l].pipes[p].pipe = wider[p];
                   }});
  }
  return all;
}

bool vented(const Model& model, const Hump& hump) {
  const network::Pipeline& line = model.pipelines[hump.line];
  const double station_m = line.survey[hump.point].station.metres();
  return std::any_of(line.parts.begin(), line.parts.end(), [&](const network::Part& part) {
    return part.kind == network::PartKind::air_valve &&
           std::abs(part.at.metres() - station_m) < network::same_station_m;
  });
}

}  // namespace

bool gives_to(const Model& model, const std::string& tank, const std::string& place) {
  const network::Outlet* tap = model.outlet(place);
  const std::string& end = tap ? tap->levelled_with() : place;
  std::vector<std::string> reached{tank};
  for (std::size_t next = 0; next < reached.size(); ++next)
    for (const std::size_t l : lines_from(model, reached[next], false)) {
      const std::string& to = model.pipelines[l].to;
      if (to == end) return true;
      if (std::find(reached.begin(), reached.end(), to) == reached.end()) reached.push_back(to);
    }
  return false;
}

std::vector<Cure> floats_sooner(const Model& model) {
  const auto late = names_of(model.tanks, opens_late);
  if (late.empty()) return {};
  return {{"let", Sentence().say(" the float valve of ").names(late).say(" open just below where it shuts"),
           [](Model& tried) {
             for (Tank& t : tried.tanks)
               if (opens_late(t))
                 t.float_valve->opens_at =
                     t.float_valve->shuts_at - Length::metres(network::least_float_band_m);
           }}};
}

std::vector<Cure> floats_on_others(const Model& model, const std::string& tank) {
  const auto without = names_of(model.tanks, [&](const Tank& t) {
    return !t.held && t.name != tank && network::floats_of(model, t).empty();
  });
  if (without.empty()) return {};
  return {
      {"put",
       Sentence().say(" a float valve on ").names(without).say(", so that it takes no more than it needs"),
       [without](Model& tried) {
         for (Tank& t : tried.tanks) {
           if (std::find(without.begin(), without.end(), t.name) == without.end()) continue;
           t.float_valve = network::usual_float(t);
           t.level = std::min(t.level, t.float_valve->shuts_at);
         }
       }}};
}

std::vector<std::string> taps_that_take_more(const Model& model) {
  return names_of(model.outlets, [&](const network::Outlet& tap) {
    return !tap.shut && tap.draws.empty() && network::flow_asked_at(model, tap.name) > Flow{};
  });
}

void throttle(Model& model, const std::vector<std::string>& taps) {
  for (network::Outlet& tap : model.outlets)
    if (std::find(taps.begin(), taps.end(), tap.name) != taps.end())
      tap.draws = {network::drawn_always(network::flow_asked_at(model, tap.name))};
}

std::vector<Cure> taps_throttled(const Model& model) {
  const auto open_taps = taps_that_take_more(model);
  if (open_taps.empty()) return {};
  return {{"throttle", Sentence().say(" ").names(open_taps).say(", so that no more runs there than is asked"),
           [open_taps](Model& tried) { throttle(tried, open_taps); }}};
}

std::vector<Cure> larger_tanks(const Model&, const std::string& tank) {
  std::vector<Cure> all;
  for (const double times : {2.0, 4.0})
    all.push_back(
        {"make", Sentence().say(" ").name(tank).say(times > 2.0 ? " four times as large" : " twice as large"),
         [tank, times](Model& tried) {
           for (Tank& t : tried.tanks)
             if (t.name == tank) t.shape = larger(t.shape, times);
         }});
  return all;
}

std::vector<Cure> larger_pipes(const Model& model, const std::string& tank) {
  return laid_wider(model, lines_from(model, tank, false), 1);
}

std::vector<Cure> larger_pipes_to(const Model& model, const std::string& tank) {
  const auto lines = lines_from(model, tank, true);
  std::vector<Cure> all = laid_wider(model, lines, 1), wider = laid_wider(model, lines, 2);
  std::move(wider.begin(), wider.end(), std::back_inserter(all));
  return all;
}

std::vector<Cure> humps_vented(const Model& model, const std::string& tank) {
  std::vector<Hump> humps = humps_about(model, tank);
  std::erase_if(humps, [&](const Hump& hump) { return vented(model, hump); });
  if (humps.empty()) return {};
  Sentence what = Sentence().say(humps.size() == 1 ? " an air valve at " : " air valves at ");
  for (std::size_t i = 0; i < humps.size(); ++i) {
    if (i > 0) what.say(i + 1 == humps.size() ? " and " : ", ");
    say_hump(model, humps[i], what);
  }
  return {{"put", std::move(what), [humps](Model& tried) {
             for (const Hump& hump : humps)
               network::put_air_valve(tried.pipelines[hump.line],
                                      tried.pipelines[hump.line].survey[hump.point].station.metres());
           }}};
}

std::vector<Cure> humps_dug(const Model& model, const std::string& tank) {
  return dug_by(model, humps_about(model, tank), shallow_m);
}

std::vector<Cure> humps_dug_deep(const Model& model, const std::string& tank) {
  return dug_by(model, humps_about(model, tank), deep_m);
}

std::vector<Cure> humps_before_dug(const Model& model, const std::string& tank) {
  const std::vector<Hump> humps = humps_of(model, lines_from(model, tank, true));
  std::vector<Cure> all = dug_by(model, humps, shallow_m), deep = dug_by(model, humps, deep_m);
  std::move(deep.begin(), deep.end(), std::back_inserter(all));
  return all;
}

std::vector<Cure> throttled_floats(const Model& model, const std::string& tank) {
  std::vector<Cure> all;
  const Tank* filled = model.tank(tank);
  if (!filled || !filled->float_valve) return all;
  for (const double loss : {1e2, 1e3, 1e4, 1e5, 1e6}) {
    if (filled->float_valve->loss >= loss) continue;
    all.push_back({"throttle",
                   Sentence()
                       .say(" the way into ")
                       .name(tank)
                       .say(" before its float valve, to a loss K of " + fmt::format("{:.0f}", loss)),
                   [tank, loss](Model& tried) {
                     for (Tank& t : tried.tanks)
                       if (t.name == tank && t.float_valve) t.float_valve->loss = loss;
                   }});
  }
  return all;
}

}  // namespace runnel::verdict
