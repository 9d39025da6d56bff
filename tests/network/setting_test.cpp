// Running a system under a setting: valves turn, and their losses with them.
#include <catch2/catch.hpp>

#include "runnel/losses/fittings.h"
#include "runnel/network/part_loss.h"
#include "support/resolved.h"

using namespace runnel;
using namespace runnel::network;

namespace {

constexpr double bore_m = 0.04;
const std::string valve_name = "V1";  // (a literal here makes g++ 12 warn of nothing)

/// One line with a gate valve V1, drawn as given.
Model with_valve(double open, double loss, std::optional<double> open_loss) {
  Model system;
  Box spring;
  spring.name = "spring";
  spring.outlet = Length::metres(10.0);
  spring.lip = Length::metres(11.0);
  system.boxes = {spring};
  Outlet end;
  end.name = "end";
  system.outlets = {end};
  Pipeline line;
  line.name = "line";
  line.from = "spring";
  line.to = "end";
  pipes::Pipe pipe;
  pipe.bore = Length::metres(bore_m);
  line.pipes.push_back({pipe, Length{}, std::nullopt, {}});
  line.survey = {{Length{}, Length::metres(10.0)}, {Length::metres(100.0), Length{}}};
  Part valve;
  valve.kind = PartKind::valve;
  valve.type = "gate_valve";
  valve.name = valve_name;
  valve.open = open;
  valve.loss = loss;
  valve.open_loss = open_loss;
  line.parts.push_back(valve);
  system.pipelines.push_back(line);
  return system;
}

Part under(Model system, const Setting& setting) {
  system.settings.push_back(setting);
  auto run = under_setting(system, setting.name);
  REQUIRE(run);
  // As it is built in: what the model leaves to the tables is filled in.
  const FittedPart fitted = support::resolved(*run.value).lines()[0].parts[0];
  Part part = fitted;
  part.loss = fitted.k;
  return part;
}

Setting turning(double open, std::optional<double> loss = {}) {
  Setting setting;
  setting.name = "s";
  setting.partly.push_back({"V1", open, {}, loss});
  return setting;
}

}  // namespace

TEST_CASE("a valve that a setting turns takes the published loss of where it is") {
  const Model system = with_valve(1.0, 0.2, std::nullopt);
  const Part half = under(system, turning(0.5));
  CHECK(half.open == 0.5);
  CHECK(half.loss == losses::published_loss("gate_valve", bore_m, 0.5)->k);
  CHECK(under(system, turning(0.5, 33.0)).loss == 33.0);  // unless the setting says it
}

TEST_CASE("a valve drawn part open gets its open loss back when it is opened") {
  const Model system = with_valve(0.4, 12.0, 0.2);
  Setting open;
  open.name = "open";
  open.open.emplace_back("V1", Mark{});
  CHECK(under(system, open).open == 1.0);
  CHECK(under(system, open).loss == 0.2);
  CHECK(under(system, turning(0.4)).loss == 12.0);  // as drawn, not as published
}

TEST_CASE("a valve drawn shut opens with its own loss") {
  Setting open;
  open.name = "open";
  open.open.emplace_back("V1", Mark{});
  CHECK(under(with_valve(0.0, 0.3, 0.3), open).loss == 0.3);
}

TEST_CASE("what a setting does not name stays as drawn") {
  Setting other;
  other.name = "other";
  const Part part = under(with_valve(0.4, 12.0, 0.2), other);
  CHECK(part.open == 0.4);
  CHECK(part.loss == 12.0);
}

TEST_CASE("the pipe at a station is the last that begins at or before it") {
  Model system = with_valve(1.0, 0.2, std::nullopt);
  Pipeline& line = system.pipelines[0];
  pipes::Pipe thin;
  thin.bore = Length::metres(0.02);
  line.pipes.push_back({thin, Length::metres(50.0), std::nullopt, {}});
  CHECK(pipe_at(line, Length::metres(49.9)).pipe.bore.metres() == bore_m);
  CHECK(pipe_at(line, Length::metres(50.0)).pipe.bore.metres() == 0.02);
  CHECK(pipe_at(line, Length::metres(-1.0)).pipe.bore.metres() == bore_m);
}

TEST_CASE("an unknown setting is a finding that names the known ones") {
  Model system = with_valve(1.0, 0.2, std::nullopt);
  system.settings.push_back(turning(0.5));
  const auto run = under_setting(system, "t");
  CHECK_FALSE(run);
  REQUIRE(run.findings.size() == 1);
  CHECK(run.findings[0].code == "unknown-setting");
  CHECK(run.findings[0].advice.find("s") != std::string::npos);
  CHECK(under_setting(system, "normal"));
}
