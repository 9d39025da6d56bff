// A full tank on a weak spring: what is promised, and for how long.
#include "runnel/verdict/store_rules.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "runnel/report/json.h"
#include "runnel/units/print.h"
#include "support/rooms.h"

using namespace runnel;
using namespace runnel::network;

namespace {

Length m(double v) { return Length::metres(v); }

Pipeline line(const std::string& name, const std::string& from, const std::string& to, double length_m,
              double from_m, double to_m, double bore_m) {
  Pipeline l;
  l.name = name;
  l.from = from;
  l.to = to;
  pipes::Pipe pipe;
  pipe.name = "test pipe";
  pipe.bore = m(bore_m);
  pipe.roughness = m(7e-6);
  pipe.rating = Pressure::bar(10);
  l.pipes.push_back({pipe, m(0.0), {}, {}});
  l.survey = {{m(0.0), m(from_m)}, {m(length_m), m(to_m)}};
  l.entrance_loss = 0.5;
  l.exit_loss = 1.0;
  return l;
}

/// A spring of 0.02 L/s, a full tank of 2 m3 below it, and an open trough far below that.
Model weak_spring() {
  Model s;
  s.name = "weak spring";
  Box box;
  box.name = "spring";
  box.yield = Flow::from_si(2e-5);
  box.outlet = m(110);
  box.lip = m(111);
  s.boxes = {box};
  Tank tank;
  tank.name = "barn tank";
  tank.shape = Cuboid{m(2), m(1)};
  tank.floor = m(90);
  tank.lip = tank.inlet = tank.level = m(91);
  s.tanks = {tank};
  Outlet end;
  end.name = "trough";
  end.elevation = m(60);
  s.outlets = {end};
  s.pipelines = {line("in", "spring", "barn tank", 200, 110, 91, 0.04),
                 line("out", "barn tank", "trough", 100, 90, 60, 0.03)};
  return s;
}

Ask asks(double m3s) {
  Ask ask;
  ask.at = "trough";
  ask.flow = Flow::from_si(m3s);
  return ask;
}

struct Judged {
  const System& system;
  steady::State state;
  verdict::FlowVerdict verdict;

  explicit Judged(const Model& model)
      : system(support::kept(model)),
        state(steady::solve(system)),
        verdict(verdict::judge_flow(system, state)) {}
  std::string sentence() const {
    return units::render(verdict.sentence.text(), verdict.sentence.figures(), units::UnitSystem::si);
  }
  const Finding* finding(const std::string& code) const {
    for (const Finding& f : verdict.findings)
      if (f.code == code) return &f;
    return nullptr;
  }
};

bool contains(const std::string& text, const std::string& part) {
  INFO(text);
  return text.find(part) != std::string::npos;
}

}  // namespace

TEST_CASE("what a full tank gives for a while is no delivery") {
  Model s = weak_spring();
  s.asks = {asks(2e-4)};
  const Judged j(s);
  const double gives = j.state.place("trough")->flow_m3s;
  REQUIRE(gives > 1e-3);
  CHECK_FALSE(j.verdict.good());
  REQUIRE(j.verdict.asks.size() == 1);
  CHECK_FALSE(j.verdict.asks[0].met);
  CHECK(j.verdict.asks[0].got->si == Approx(2e-5).epsilon(1e-6));
  // As its level falls it gives less, so it lasts longer than at the first rate (closed forms: lasting_test).
  CHECK(*j.verdict.asks[0].met_until_s > 2.0 / (gives - 2e-5));
  CHECK(*j.verdict.asks[0].met_until_s == Approx(j.verdict.lasting->from_s()));
  CHECK(contains(j.sentence(), "It does not deliver for long: barn tank lasts "));
  CHECK(contains(j.sentence(), "trough gets 0.0200 L/s of the 0.200 L/s asked"));
  REQUIRE(j.finding("tank-gives-out"));
  CHECK(j.finding("tank-gives-out")->severity == Severity::warning);
  CHECK(contains(j.finding("tank-gives-out")->message, "Then trough gets"));
  REQUIRE(j.finding("ask-not-met"));
  CHECK(contains(j.finding("ask-not-met")->message, "once barn tank is empty"));
}

TEST_CASE("what the spring itself gives is delivered, and the store is told") {
  Model s = weak_spring();
  s.asks = {asks(1.9e-5)};
  const Judged j(s);
  CHECK(j.verdict.asks[0].met);
  CHECK_FALSE(j.verdict.asks[0].met_until_s);
  CHECK(contains(j.sentence(), "It delivers"));
  CHECK(contains(j.sentence(), "But barn tank lasts "));
  CHECK(j.finding("tank-gives-out"));
  CHECK_FALSE(j.finding("ask-not-met"));
}

TEST_CASE("a tank that no spring fills is said to be taken as a store") {
  Model s = weak_spring();
  s.boxes.clear();
  s.pipelines.erase(s.pipelines.begin());
  SECTION("nothing is asked") {
    const Judged j(s);
    CHECK(contains(j.sentence(), "Water arrives"));
    CHECK(contains(j.sentence(), "and no spring fills it again"));
    CHECK(contains(j.finding("tank-gives-out")->message, "taken as a store"));
    CHECK(contains(j.finding("tank-gives-out")->message, "trough gets nothing"));
  }
  SECTION("something is asked") {
    s.asks = {asks(2e-4)};
    const Judged j(s);
    CHECK_FALSE(j.verdict.good());
    CHECK(contains(j.sentence(), "then trough gets no water, and 0.200 L/s is asked"));
  }
}

TEST_CASE("what does not even come at first is said as it is") {
  Model s = weak_spring();
  s.asks = {asks(1.0)};
  const Judged j(s);
  CHECK_FALSE(j.verdict.asks[0].met_until_s);
  CHECK(contains(j.sentence(), "It does not deliver: trough gets "));
}

TEST_CASE("a strong spring leaves the tank out of it") {
  Model s = weak_spring();
  s.boxes[0].yield = Flow::from_si(1e-2);
  s.pipelines[0] = line("in", "spring", "barn tank", 200, 110, 91, 0.08);
  s.asks = {asks(2e-4)};
  const Judged j(s);
  CHECK(j.verdict.asks[0].met);
  CHECK_FALSE(j.verdict.lasting);
  CHECK_FALSE(j.finding("tank-gives-out"));
}

TEST_CASE("machines read how long a tank holds out and what is left") {
  Model s = weak_spring();
  s.asks = {asks(2e-4)};
  const Judged j(s);
  const auto json = nlohmann::json::parse(report::flow_json({j.system, j.state, j.verdict}));
  const auto& places = json.at("places");
  CHECK(places.at("barn tank").at("store_m3").get<double>() == Approx(2.0).epsilon(1e-12));
  CHECK(places.at("barn tank").at("holds_out_s").get<double>() ==
        Approx(j.verdict.lasting->stores[0].holds_out_s).epsilon(1e-12));
  CHECK(places.at("trough").at("lasting_m3s").get<double>() == Approx(2e-5).epsilon(1e-6));
  CHECK(json.at("verdict").at("asks").at(0).at("met_until_s").get<double>() > 0.0);
}
