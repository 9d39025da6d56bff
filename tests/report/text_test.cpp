// The text answer, on answers written by hand.
#include "runnel/report/text.h"

#include <catch2/catch.hpp>
#include <sstream>

#include "runnel/report/harmless.h"
#include "runnel/report/text_parts.h"
#include "support/rooms.h"
#include "verdict/sample.h"

using runnel::report::TextOptions;
using sample::Sample;
namespace steady = runnel::steady;

namespace {

std::string answer(const Sample& s, const TextOptions& options = {}, const std::string& setting = "normal") {
  const auto verdict = runnel::verdict::judge_flow(s.system, s.state);
  return runnel::report::flow_text({support::kept(s.system), s.state, verdict, setting}, options);
}

int widest(const std::string& text) {
  std::istringstream lines(text);
  int width = 0;
  for (std::string line; std::getline(lines, line);)
    width = std::max(width, runnel::report::display_width(line));
  return width;
}

// A saw of 200 points: a crest at every tenth.
Sample long_line() {
  Sample s = sample::make();
  auto& points = s.state.lines[0].points;
  auto& reaches = s.state.lines[0].reaches;
  points.clear();
  reaches.clear();
  for (int i = 0; i < 200; ++i) {
    const double z = 100.0 - 0.3 * i + (i % 10 == 0 && i > 0 ? 5.0 : 0.0);
    points.push_back({10.0 * i, z, z + 20.0, 20.0, 110.0 - z});
    if (i > 0) {
      steady::Reach r;
      r.from_m = 10.0 * (i - 1);
      r.to_m = 10.0 * i;
      r.velocity_ms = 0.8;
      reaches.push_back(r);
    }
  }
  return s;
}

}  // namespace

TEST_CASE("the verdict comes first, then places, line, findings, basis") {
  Sample s = sample::make();
  s.system.asks = {sample::ask_flow("trough", 0.5)};
  const std::string text = answer(s);
  CHECK_THAT(text,
             Catch::StartsWith(
                 "It delivers: 0.800 L/s reach trough, 0.300 L/s more than asked.\nsample, as drawn.\n"));
  std::size_t at = 0;
  for (const char* heading : {"\nWhere the water goes\n", "\nStarting from empty\n", "\nAlong main\n",
                              "\nGood to know\n", "\nWorked out with\n", "\nChecked\n", "\nMind\n"}) {
    INFO(heading);
    const std::size_t next = text.find(heading);
    REQUIRE(next != std::string::npos);
    CHECK(next > at);
    at = next;
  }
  CHECK_THAT(text, Catch::Contains("spring gives 1.00 L/s, 0.200 L/s over the lip"));
  CHECK_THAT(text, Catch::Contains("asked 0.500 L/s - met"));
}

TEST_CASE("units follow the reader") {
  const Sample s = sample::make();
  TextOptions us;
  us.units = runnel::units::UnitSystem::us;
  CHECK_THAT(answer(s, us), Catch::Contains("12.7 gal/min"));  // 0.8e-3 m3/s * 60 / 3.785411784e-3
  CHECK_THAT(answer(s, us), Catch::Contains("psi") && !Catch::Contains("kPa"));
  CHECK_THAT(answer(s), Catch::Contains("kPa") && !Catch::Contains("psi"));
}

TEST_CASE("no line is wider than the width, whatever the names") {
  Sample s = long_line();
  s.system.asks = {sample::ask_flow("trough", 0.9)};
  CHECK(widest(answer(s)) <= 100);
  s.system.name = std::string(300, 'x') + " y";
  s.system.boxes[0].name = s.system.pipelines[0].from = s.state.boxes[0].name = std::string(60, 'b');
  TextOptions narrow;
  narrow.width = 80;
  const std::string text = answer(s, narrow);
  std::istringstream lines(text);
  for (std::string line; std::getline(lines, line);) {
    INFO(line);
    const bool one_word = line.find(' ', line.find_first_not_of(' ')) == std::string::npos;
    CHECK((one_word || runnel::report::display_width(line) <= 80));
  }
}

TEST_CASE("a long survey is shortened, but no crest or low is lost") {
  const Sample s = long_line();
  const auto chosen = runnel::report::points_to_show(s.state.lines[0], false);
  CHECK(chosen.size() < 70);
  for (std::size_t i = 10; i < 199; i += 10) {
    CHECK(std::count(chosen.begin(), chosen.end(), i) == 1);      // the crests of the saw
    CHECK(std::count(chosen.begin(), chosen.end(), i - 1) == 1);  // and the lows before them
  }
  CHECK(chosen.front() == 0);
  CHECK(chosen.back() == 199);
  CHECK(std::is_sorted(chosen.begin(), chosen.end()));
  CHECK(runnel::report::points_to_show(s.state.lines[0], true).size() == 200);
  CHECK_THAT(answer(s), Catch::Contains("points between are left out"));
  TextOptions all;
  all.every_point = true;
  CHECK_THAT(answer(s, all), !Catch::Contains("left out"));
}

TEST_CASE("hostile names do no harm") {
  Sample s = sample::make();
  s.system.name = "a\x1b[2J{0}\n[forged]";
  s.system.pipelines[0].name = s.state.lines[0].name = "m\x1b]0;t\x07\xe2\x80\xae";
  const std::string text = answer(s);
  CHECK(text.find('\x1b') == std::string::npos);
  CHECK(text.find('\x07') == std::string::npos);
  CHECK(text.find("\xe2\x80\xae") == std::string::npos);
  CHECK(text.find("\n[forged]") == std::string::npos);
  CHECK_THAT(text, Catch::Contains("a\\x1b[2J{0}"));
}

TEST_CASE("colours only by the flag") {
  const Sample s = sample::make();
  TextOptions colour;
  colour.colour = true;
  CHECK(answer(s, colour).find("\x1b[") != std::string::npos);
  CHECK(answer(s).find("\x1b[") == std::string::npos);
}

TEST_CASE("a state that did not settle shows no figures") {
  Sample s = sample::make();
  s.state.outcome = steady::Outcome::iteration_limit;
  const std::string text = answer(s);
  CHECK_THAT(text, Catch::StartsWith("No answer"));
  CHECK_THAT(text, !Catch::Contains("Where the water goes") && !Catch::Contains("Checked"));
}

TEST_CASE("input findings show their line and a caret") {
  runnel::Finding f;
  f.code = "unknown-key";
  f.message = "\"boxs\" is not known";
  f.advice = "did you mean boxes?";
  f.mark = {"m.yaml", 2, 1, 4};
  const std::string text = runnel::report::input_text({f}, {{"m.yaml", "runnel: 1\nboxs: {}\n"}}, {});
  CHECK_THAT(text, Catch::Contains("m.yaml:2:1") && Catch::Contains("boxs: {}") && Catch::Contains("^~~~"));
  f.mark = {};
  CHECK_THAT(runnel::report::input_text({f}, {}, {}), Catch::StartsWith("error: \"boxs\" is not known"));
}
