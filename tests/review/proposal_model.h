#pragma once
// Proposals for the tests, as text: sound ones of many sizes, and the same with one thing done badly.
// Invented.
#include <algorithm>
#include <map>
#include <random>
#include <stdexcept>
#include <string>

#include "runnel/input/read_model.h"
#include "support/resolved.h"

namespace proposal {

/// A model read from a text that a test means to be right.
inline runnel::network::System read(const std::string& text) {
  const auto model = runnel::input::read_model(text, "proposal.yaml");
  if (!model) {
    for (const auto& f : model.findings)
      if (f.severity == runnel::Severity::error)
        throw std::runtime_error(f.code + " in line " + std::to_string(f.mark.line) + ": " + f.message);
  }
  return support::resolved(*model.value);
}

/// A model as it is written, with its settings.
inline runnel::network::Model model(const std::string& text) { return read(text).model(); }

/// The figures a proposal is written with. All lengths in metres, flows in litres a second.
struct Figures {
  double yield = 0.4, dry_yield = 0.3, ask = 0.25, top = 200.0, crest = 188.0, low = 165.0, end = 172.0;
  double dip = 6.0;      ///< of the last low point below the end
  double reach = 120.0;  ///< plan length between two points of the survey
  std::string pipe = "PE100 SDR17 40 mm";
  bool air_valve = true, washout = true, valve = true, surveyed = true, season = true;
  double cover = 0.9, frost = 0.5, overflow_bore = 0.1, claimed = 0.0, stone_d15 = 2.0;
  std::string own_pipes;
  bool screened = true;
  int cattle = 40;
};

inline std::string metres(double m) { return std::to_string(m) + " m"; }
inline std::string litres(double ls) { return std::to_string(ls) + " L/s"; }

/// Spring, one line over a dip and a rise and a second dip, tank.
inline std::string text_of(const Figures& f) {
  std::string t =
      "runnel: 1\nname: Invented proposal\nsite: {altitude: 600 m, water: 9 degC}\n" + f.own_pipes;
  t += "boxes:\n  spring: {yield: " + litres(f.yield) + ", outlet: " + metres(f.top) +
       ", lip: " + metres(f.top + 0.5) + ", floor: " + metres(f.top - 0.4) + ", rim: " + metres(f.top + 0.7) +
       ", overflow: {standpipe: {bore: " + metres(f.overflow_bore) + "}}, plan: {length: 2 m, width: 1 m}}\n";
  t += "tanks:\n  tank:\n    shape: {upright_cylinder: {diameter: 4 m}}\n    floor: " + metres(f.end - 2.4) +
       "\n    lip: " + metres(f.end + 0.1) + "\n    inlet: " + metres(f.end) +
       "\n    draws: [{for: beef cattle, head: " + std::to_string(f.cattle) + "}]\n";
  t += "pipelines:\n  main:\n    from: spring\n    to: tank\n    pipe: " + f.pipe + "\n";
  const auto point = [](double station, double elevation) {
    return "[" + std::to_string(station) + ", " + std::to_string(elevation) + "]";
  };
  if (f.surveyed)
    t += "    survey_error: 0.1 m\n    survey: {unit: m, points: [" + point(0.0, f.top) + ", " +
         point(f.reach, f.low) + ", " + point(2 * f.reach, f.crest) + ", " +
         point(3 * f.reach, f.end - f.dip) + ", " + point(3.2 * f.reach, f.end) + "]}\n";
  else
    t += "    length: " + metres(3.2 * f.reach + 5.0) + "\n    to_elevation: " + metres(f.end) + "\n";
  std::string parts;
  if (f.valve) parts += "      - {ball_valve: V1, at: 2 m}\n";
  if (f.surveyed && f.washout) parts += "      - {washout: W1, at: " + metres(f.reach) + "}\n";
  if (f.surveyed && f.air_valve) parts += "      - {air_valve: A1, at: " + metres(2 * f.reach) + "}\n";
  if (f.surveyed && f.washout) parts += "      - {washout: W2, at: " + metres(3 * f.reach) + "}\n";
  if (!parts.empty()) t += "    parts:\n" + parts;
  t += "asks:\n  - {at: tank, flow: " + litres(f.ask) + "}\n";
  if (f.claimed > 0.0) t += "claims:\n  - {at: tank, flow: " + litres(f.claimed) + ", from: sheet 1}\n";
  if (f.season)
    t += "log:\n  - {at: spring, date: 2025-08-30, yield: " + litres(f.dry_yield) +
         "}\n  - {at: spring, date: 2026-03-02, yield: " + litres(f.yield) + "}\n";
  t += "ground:\n  frost: " + metres(f.frost) + "\n  cover: {main: " + metres(f.cover) + "}\n";
  const auto mm = [](double v) { return std::to_string(v) + " mm"; };
  t += "collection:\n  spring:\n    base_soil: {sieves: [[0.075 mm, 8 %], [0.15 mm, 15 %], [0.6 mm, 60 %], "
       "[1.5 mm, 85 %], [4 mm, 100 %]]}\n    layers:\n      - sieves: [[0.075 mm, 0 %], [" +
       mm(0.75 * f.stone_d15) + ", 10 %], [" + mm(f.stone_d15) + ", 15 %], [" + mm(2 * f.stone_d15) +
       ", 60 %], [" + mm(5 * f.stone_d15) + ", 85 %], [" + mm(6 * f.stone_d15) +
       ", 100 %]]\n    drilled_pipe: {bore: 97 mm, length: 2 m, holes_per_metre: 80, hole: 4 mm, head: 0.2 "
       "m}\n"
       "    overflow_screened: " +
       std::string(f.screened ? "yes" : "no") + "\n    vent: 40 mm\n";
  return t;
}

/// A sound proposal of its own size.
inline Figures sound(std::mt19937& random) {
  const auto of = [&](double low, double high) {
    return std::uniform_real_distribution<double>(low, high)(random);
  };
  Figures f;
  f.top = of(150.0, 900.0);
  f.low = f.top - of(28.0, 40.0);
  f.crest = f.top - of(9.0, 12.0);
  f.end = f.top - of(22.0, 27.0);
  f.reach = of(80.0, 160.0);
  f.yield = of(0.35, 0.5);
  f.dry_yield = of(0.22, 0.32);
  f.ask = std::min(of(0.15, 0.3), 0.9 * f.dry_yield);  // sound in the dry season as well
  f.cover = of(0.8, 1.2);
  f.frost = of(0.2, 0.6);
  f.stone_d15 = of(1.5, 3.0);
  f.cattle = std::uniform_int_distribution<int>(20, 60)(random);
  return f;
}

}  // namespace proposal
