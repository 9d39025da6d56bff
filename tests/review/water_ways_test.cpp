// Which valves to shut, against trying every set of valves.
#include "runnel/review/water_ways.h"

#include <bit>
#include <catch2/catch.hpp>
#include <deque>
#include <random>

#include "proposal_model.h"
#include "runnel/review/service_plan.h"
#include "runnel/steady/state.h"

namespace {

using namespace runnel::review;
using runnel::network::PartKind;
using runnel::network::System;

/// A random system of boxes, joints and taps with valves, some shut, and check valves. Invented.
std::string random_text(std::mt19937& random) {
  const auto below = [&](int n) { return std::uniform_int_distribution<int>(0, n - 1)(random); };
  const auto n = [](double v) { return std::to_string(v); };
  const int joints = 2 + below(4), boxes = 1 + below(2);
  std::string places = "boxes:\n", lines, inner = "joints:\n";
  for (int i = 0; i < boxes; ++i)
    places += "  b" + std::to_string(i) + ": {yield: 0.5 L/s, outlet: 100 m, lip: 101 m}\n";
  for (int i = 0; i < joints; ++i)
    inner += "  j" + std::to_string(i) + ": {elevation: " + n(80 - 5 * i) + " m}\n";
  int valves = 0, count = 0;
  const auto line = [&](const std::string& from, double top, const std::string& to, double bottom) {
    std::string parts;
    double at = 1.0;
    for (int k = below(3); k > 0 && valves < 8; --k, at += 2.0) {
      const int kind = below(5);
      if (kind == 0)
        parts += "      - {check_valve: C" + std::to_string(count) + "x" + std::to_string(k) +
                 ", at: " + n(at) + " m}\n";
      else if (kind == 1)
        parts += "      - {union: U" + std::to_string(count) + "x" + std::to_string(k) + ", at: " + n(at) +
                 " m}\n";
      else
        parts += "      - {ball_valve: V" + std::to_string(valves++) + ", at: " + n(at) + " m" +
                 (below(4) == 0 ? ", set: shut" : "") + "}\n";
    }
    lines += "  l" + std::to_string(count++) + ":\n    from: " + from + "\n    to: " + to +
             "\n    pipe: PE100 SDR17 40 mm\n    survey: {unit: m, points: [[0, " + n(top) + "], [50, " +
             n(bottom) + "]]}\n" + (parts.empty() ? "" : "    parts:\n" + parts);
  };
  for (int i = 0; i < boxes; ++i) line("b" + std::to_string(i), 100, "j0", 80);
  for (int i = 1; i < joints; ++i) {
    const int up = below(i);
    line("j" + std::to_string(up), 80 - 5 * up, "j" + std::to_string(i), 80 - 5 * i);
    if (below(3) == 0) line("j" + std::to_string(up), 80 - 5 * up, "j" + std::to_string(i), 80 - 5 * i);
  }
  line("j" + std::to_string(joints - 1), 80 - 5 * (joints - 1), "tap", 40);
  return "runnel: 1\n" + places + "outlets:\n  tap: {elevation: 40 m}\n" + inner + "pipelines:\n" + lines;
}

struct Slow {
  const WaterWays& ways;
  const Target& target;
  Bypasses bypasses;
  std::vector<std::size_t> movable;  // ways with a valve that may be shut and is not the target

  Slow(const WaterWays& w, const Target& t, Bypasses b) : ways(w), target(t), bypasses(b) {
    for (std::size_t i = 0; i < w.ways().size(); ++i)
      if (w.ways()[i].valve && !fixed(w.ways()[i]) && w.ways()[i].valve != t.valve) movable.push_back(i);
  }

  bool fixed(const Way& way) const { return way.drawn_shut && bypasses == Bypasses::stay_shut; }

  bool dry(const std::vector<char>& shut) const {
    std::vector<char> wet(ways.nodes(), 0);
    std::deque<std::size_t> next;
    for (const std::size_t water : ways.water())
      if (water != target.node) wet[water] = 1, next.push_back(water);
    while (!next.empty()) {
      const std::size_t at = next.front();
      next.pop_front();
      for (std::size_t i = 0; i < ways.ways().size(); ++i) {
        const Way& way = ways.ways()[i];
        const bool itself = way.valve && way.valve == target.valve;
        if (!itself && (shut[i] || fixed(way))) continue;
        const auto go = [&](std::size_t other) {
          if (!wet[other]) wet[other] = 1, next.push_back(other);
        };
        if (way.from == at) go(way.to);
        if (way.to == at && way.both) go(way.from);
      }
    }
    return !wet[target.node];
  }

  /// The fewest valves that do it, by trying all sets.
  std::optional<int> fewest() const {
    std::optional<int> best;
    for (unsigned set = 0; set < (1U << movable.size()); ++set) {
      std::vector<char> shut(ways.ways().size(), 0);
      for (std::size_t i = 0; i < movable.size(); ++i) shut[movable[i]] = (set >> i) & 1U;
      const int count = std::popcount(set);
      if ((!best || count < *best) && dry(shut)) best = count;
    }
    return best;
  }

  bool dry_with(const std::vector<ValveRef>& valves) const {
    std::vector<char> shut(ways.ways().size(), 0);
    for (std::size_t i = 0; i < ways.ways().size(); ++i)
      for (const ValveRef& valve : valves)
        if (ways.ways()[i].valve == valve) shut[i] = 1;
    return dry(shut);
  }
};

}  // namespace

TEST_CASE("the valves of a plan are as few as any set that does it, on 1,000 random systems") {
  std::mt19937 random(21);
  int possible = 0, impossible = 0, several = 0;
  for (int i = 0; i < 1000; ++i) {
    const std::string text = random_text(random);
    const System system = proposal::read(text);
    const WaterWays ways(system);
    std::vector<Target> targets;
    for (int l = 0; l < static_cast<int>(system.lines().size()); ++l) {
      const auto& parts = system.lines()[static_cast<std::size_t>(l)].parts;
      for (std::size_t p = 0; p < parts.size(); ++p) {
        if (parts[p].kind == PartKind::union_)
          targets.push_back({ways.node_at(l, parts[p].at.metres()), std::nullopt});
        if (parts[p].kind == PartKind::valve) targets.push_back({ways.node_before({l, p}), ValveRef{l, p}});
      }
    }
    for (int b = 0; b < static_cast<int>(system.boxes().size()); ++b)
      targets.push_back({ways.node_of_place(system.box_place(b)), std::nullopt});
    const Bypasses bypasses = i % 2 == 0 ? Bypasses::stay_shut : Bypasses::may_open;
    for (const Target& target : targets) {
      INFO(text);
      const Slow slow(ways, target, bypasses);
      const Isolation isolation = isolate(ways, target, bypasses);
      const auto fewest = slow.fewest();
      REQUIRE(isolation.possible == fewest.has_value());
      if (!fewest) {
        CHECK(isolation.fed_by.has_value());
        ++impossible;
        continue;
      }
      std::vector<ValveRef> all = isolation.shut;
      all.insert(all.end(), isolation.stay_shut.begin(), isolation.stay_shut.end());
      if (bypasses == Bypasses::stay_shut) all = isolation.shut;
      CHECK(static_cast<int>(all.size()) == *fewest);
      CHECK(slow.dry_with(all));
      ++possible;
      several += *fewest > 1;
    }
  }
  CHECK(possible > 1000);
  CHECK(impossible > 500);
  CHECK(several > 100);
}

namespace {

void set_valve(runnel::network::Model& model, const std::string& name, double open) {
  for (auto& line : model.pipelines)
    for (auto& part : line.parts)
      if (part.name == name) part.open = open;
}

/// What comes out of the tap with some valves shut and others opened, by the solver alone.
std::optional<double> tap_flow(runnel::network::Model model, const std::vector<std::string>& shut,
                               const std::vector<std::string>& opened) {
  for (const std::string& name : shut) set_valve(model, name, 0.0);
  for (const std::string& name : opened) set_valve(model, name, 1.0);
  const auto system = runnel::network::resolve(model);
  if (!system) return std::nullopt;
  const auto state = runnel::steady::solve(*system.value);
  if (state.outcome != runnel::steady::Outcome::settled) return std::nullopt;
  return state.place("tap")->flow_m3s;
}

}  // namespace

TEST_CASE("who is served while a part is out is what the solver says, on random systems") {
  std::mt19937 random(22);
  constexpr double no_flow_m3s = 1e-9;
  int without = 0, served = 0, round = 0;
  for (int i = 0; i < 1000; ++i) {
    const std::string text = random_text(random);
    const System system = proposal::read(text);
    const auto as_drawn = tap_flow(system.model(), {}, {});
    REQUIRE(as_drawn);
    for (const ServiceItem& item : plan_service(system).items) {
      if (!item.possible) continue;
      INFO(text << "\nout: " << item.name);
      REQUIRE(item.solved);
      const auto now = tap_flow(system.model(), item.shut, item.opened);
      REQUIRE(now);
      const bool dry = std::find(item.without.begin(), item.without.end(), "tap") != item.without.end();
      if (dry) {
        CHECK(*as_drawn > no_flow_m3s);
        ++without;
      }
      for (const StillServed& one : item.served) {
        if (one.place != "tap") continue;
        CHECK_FALSE(dry);
        // Bypasses that carry nothing are not opened here, and were there: the flow is the same.
        CHECK(one.flow_m3s == Approx(*now).epsilon(1e-6));
        CHECK(one.as_drawn_m3s == Approx(*as_drawn).epsilon(1e-6));
        ++served;
        round += !item.opened.empty();
      }
    }
  }
  CHECK(without > 100);
  CHECK(served > 100);
  CHECK(round > 10);
}

TEST_CASE("a box is taken out while its bypass serves, by the solver's own flows") {
  const System system = proposal::read(R"(
runnel: 1
boxes:
  spring: {yield: 0.3 L/s, outlet: 100 m, lip: 100.4 m}
  sand box: {outlet: 98 m, lip: 98.6 m}
joints:
  upper tee: {elevation: 99.5 m}
  lower tee: {elevation: 97.5 m}
outlets:
  tap: {elevation: 70 m}
pipelines:
  inlet: {from: spring, to: upper tee, pipe: PE100 SDR17 63 mm, survey: {unit: m, points: [[0, 100], [4, 99.5]]}}
  box inlet: {from: upper tee, to: sand box, pipe: PE100 SDR17 63 mm, survey: {unit: m, points: [[0, 99.5], [4, 98.8]]}, parts: [{ball_valve: V1, at: 1 m}]}
  box outlet: {from: sand box, to: lower tee, pipe: PE100 SDR17 63 mm, survey: {unit: m, points: [[0, 98], [4, 97.5]]}, parts: [{ball_valve: V2, at: 1 m}]}
  bypass: {from: upper tee, to: lower tee, pipe: PE100 SDR17 63 mm, survey: {unit: m, points: [[0, 99.5], [6, 97.5]]}, parts: [{ball_valve: B, at: 1 m, set: shut}]}
  main: {from: lower tee, to: tap, pipe: PE100 SDR17 40 mm, survey: {unit: m, points: [[0, 97.5], [200, 70]]}, parts: [{union: U, at: 2 m}, {washout: W, at: 190 m}]}
)");
  const ServicePlan plan = plan_service(system);
  const auto item = [&](const std::string& name) {
    for (const ServiceItem& one : plan.items)
      if (one.name == name) return one;
    throw std::runtime_error("not planned: " + name);
  };
  SECTION("the box") {
    const ServiceItem box = item("sand box");
    REQUIRE(box.possible);
    CHECK(box.shut == std::vector<std::string>{"V1", "V2"});
    CHECK(box.opened == std::vector<std::string>{"B"});
    CHECK(box.without.empty());
    REQUIRE(box.served.size() == 1);
    CHECK(box.served[0].place == "tap");
    CHECK(box.served[0].flow_m3s == Approx(3e-4).epsilon(1e-9));  // all that the spring gives
  }
  SECTION("a union below both valves") {
    const ServiceItem u = item("U");
    REQUIRE(u.possible);
    CHECK(u.shut.size() == 1);  // V2 alone, since the bypass is shut
    CHECK(u.without == std::vector<std::string>{"tap"});
    CHECK(u.drains_to == "W");
    CHECK(u.drains_m3 > 0.0);
  }
  SECTION("the valve before the box has only the spring before it") {
    const ServiceItem v = item("V1");
    CHECK_FALSE(v.possible);
    CHECK(v.fed_by == "spring");
  }
}
