// Systems made by hand, without a text: what `validate` says of them.
#include "runnel/network/validate.h"

#include <catch2/catch.hpp>
#include <cmath>

using namespace runnel;
using namespace runnel::network;

namespace {

pipes::Pipe plain_pipe() {
  pipes::Pipe pipe;
  pipe.name = "plain";
  pipe.bore = Length::millimetres(25.0);
  pipe.roughness = Length::millimetres(0.0015);
  pipe.hazen_c = 150.0;
  return pipe;
}

/// A box at 100 m, an open end at 80 m, 200 m of pipe with a gate valve on it.
Model small() {
  Model system;
  system.site.water = water::at(Temperature::celsius(10.0));
  Box box;
  box.name = "box";
  box.yield = Flow::litres_per_second(0.2);
  box.outlet = Length::metres(100.0);
  box.lip = Length::metres(100.5);
  system.boxes.push_back(box);
  Outlet outlet;
  outlet.name = "end";
  outlet.elevation = Length::metres(80.0);
  system.outlets.push_back(outlet);
  Pipeline line;
  line.name = "line";
  line.from = "box";
  line.to = "end";
  line.exit_loss = 1.0;  // the jet's own
  line.pipes.push_back({plain_pipe(), Length{}, std::nullopt, {}});
  line.survey = {{Length{}, Length::metres(100.0)}, {Length::metres(200.0), Length::metres(80.0)}};
  Part& valve = line.parts.emplace_back();
  valve.kind = PartKind::valve;
  valve.type = "gate_valve";
  valve.name = "V1";
  valve.at = Length::metres(10.0);
  valve.loss = 0.2;
  system.pipelines.push_back(line);
  return system;
}

std::vector<std::string> codes(const Model& system) {
  std::vector<std::string> all;
  for (const Finding& f : validate(system)) all.push_back(f.code);
  return all;
}

using Codes = std::vector<std::string>;

}  // namespace

TEST_CASE("a right system has no finding") { CHECK(codes(small()).empty()); }

TEST_CASE("defects that only a system made by hand can have") {
  Model system = small();
  SECTION("no pipe") {
    system.pipelines[0].pipes.clear();
    CHECK(codes(system) == Codes{"no-pipe"});
  }
  SECTION("no survey") {
    system.pipelines[0].survey.clear();
    CHECK(codes(system) == Codes{"short-survey"});
  }
  SECTION("one name for two pipelines") {
    system.pipelines.push_back(system.pipelines[0]);
    system.pipelines[1].parts.clear();
    CHECK(codes(system) == Codes{"same-name", "outlet-fed-twice"});
  }
  SECTION("figures that are no numbers") {
    system.boxes[0].yield = Flow::cubic_metres_per_second(std::nan(""));
    system.pipelines[0].pipes[0].pipe.bore = Length::metres(std::nan(""));
    CHECK(codes(system) == Codes{"negative", "not-positive"});
  }
  SECTION("an elevation that is no number") {
    system.boxes[0].lip = Length::metres(std::nan(""));
    CHECK(codes(system) == Codes{"absurd-elevation"});
  }
}

TEST_CASE("ends that do not meet: nothing within half a metre, a warning, an error beyond 5 m") {
  const auto severity_at = [](double start_m) {
    Model system = small();
    system.pipelines[0].survey[0].elevation = Length::metres(start_m);
    const auto findings = validate(system);
    if (findings.empty()) return std::string("quiet");
    REQUIRE(findings.size() == 1);
    CHECK(findings[0].code == "ends-do-not-meet");
    CHECK(findings[0].message.find("\"box\"") != std::string::npos);
    CHECK(findings[0].message.find("\"line\"") != std::string::npos);
    return std::string(findings[0].severity == Severity::error ? "error" : "warning");
  };
  CHECK(severity_at(100.4) == "quiet");
  CHECK(severity_at(99.6) == "quiet");
  CHECK(severity_at(100.6) == "warning");
  CHECK(severity_at(95.1) == "warning");
  CHECK(severity_at(105.1) == "error");
  CHECK(severity_at(94.9) == "error");
}

TEST_CASE("the Origin is asked where things stand, and which of them are whole") {
  Model system = small();
  system.boxes[0].mark = {"m.yaml", 3, 5, 3};
  system.boxes[0].lip = Length::metres(99.0);
  Origin origin;
  origin.member = [](const Mark& object, std::string_view member) {
    return member == "lip" ? Mark{object.file, object.line + 1, 9, 2} : object;
  };
  auto findings = validate(system, origin);
  REQUIRE(findings.size() == 1);
  CHECK(findings[0].code == "lip-below-outlet");
  CHECK(findings[0].mark.line == 4);
  CHECK(findings[0].mark.column == 9);
  origin.incomplete = [](const Mark& object) { return object.line == 3; };
  CHECK(validate(system, origin).empty());
}
