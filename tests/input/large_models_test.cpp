// Models of a size that no person writes: read as a whole, and told of in few words if they are wrong.
#include <catch2/catch.hpp>

#include "support.h"
#include "support/big_model.h"

using namespace runnel;
using namespace runnel::input;
using namespace runnel::input::test;
using runnel::test::big_model_of_slips;
using runnel::test::big_model_text;
using runnel::test::Shape;

namespace {

/// Told as to a person: a hundred findings of a kind.
ReadModel read_briefly(const std::string& text) {
  ReadOptions options;
  options.most_told = 100;
  return read_model(text, "m.yaml", options);
}

}  // namespace

TEST_CASE("a hundred thousand places with their lines are read") {
  for (const Shape shape : {Shape::chain, Shape::boxes}) {
    const auto read = read_model(big_model_text(shape, 100'000), "m.yaml");
    INFO(told(read.findings, "m.yaml"));
    REQUIRE(read.value);
    CHECK(read.findings.empty());
    CHECK(read.value->pipelines.size() == 100'001);
    CHECK(read.value->joints.size() + read.value->boxes.size() == 100'001);
  }
}

TEST_CASE("stars and grids of made-up models are sound") {
  for (const Shape shape : {Shape::star, Shape::grid}) {
    const auto read = read_briefly(big_model_text(shape, 2'500));
    INFO(told(read.findings, "m.yaml"));
    REQUIRE(read.value);
    CHECK(read.findings.size() <= 101);
    CHECK(read.value->joints.size() == 2'500);
  }
}

TEST_CASE("of very many errors the first hundred are told, and how many more there are") {
  const auto read = read_briefly(big_model_of_slips(3'000));
  CHECK_FALSE(read.value);
  std::size_t told_errors = 0, told_warnings = 0;
  for (const Finding& f : read.findings)
    if (f.code != "more-findings") ++(f.severity == Severity::error ? told_errors : told_warnings);
  CHECK(told_errors == 100);
  CHECK(told_warnings <= 100);
  REQUIRE_FALSE(read.findings.empty());
  const Finding& rest = read.findings.back();
  CHECK(rest.code == "more-findings");
  CHECK(rest.severity == Severity::error);
  CHECK(rest.mark.known());
  // Each of 2,999 lines has its wrong end, and each of their lengths cannot be laid; the first is told.
  CHECK(rest.message.find("not shown") != std::string::npos);
  for (std::size_t i = 2; i + 1 < read.findings.size(); ++i)
    CHECK(read.findings[i - 1].mark.line <= read.findings[i].mark.line);
}

TEST_CASE("very many warnings do not make a model wrong") {
  std::string text = "runnel: 1\nboxes:\n  spring: {yield: 1 L/s, outlet: 9 m, lip: 10 m}\njoints:\n";
  for (int i = 0; i < 12'000; ++i) text += "  j" + std::to_string(i) + ": {elevation: 5 m}\n";
  const auto read = read_briefly(text);
  CHECK(read.value);
  REQUIRE(read.findings.size() == 101);
  CHECK(read.findings.back().severity == Severity::warning);
  // One for each joint and one for the box stand alone, and a hundred are told.
  CHECK(read.findings.back().message.rfind("11901 more findings", 0) == 0);
}

TEST_CASE("no more is told than there is") {
  std::string text = "runnel: 1\nboxes:\n  spring: {yield: 1 L/s, outlet: 9 m, lip: 10 m}\njoints:\n";
  for (int i = 0; i < 99; ++i) text += "  j" + std::to_string(i) + ": {elevation: 5 m}\n";
  CHECK(read_briefly(text).findings.size() == 100);
  text += "  last: {elevation: 5 m}\n";
  const auto read = read_briefly(text);
  REQUIRE(read.findings.size() == 101);
  CHECK(read.findings.back().message.rfind("1 more finding is", 0) == 0);
}

TEST_CASE("the reader tells which units elevations are written in") {
  const auto units_of = [](const std::string& lip) {
    return read_model("runnel: 1\nboxes:\n  minster inn: {outlet: 90.5 m, lip: " + lip + "}\n", "m.yaml")
        .written_in;
  };
  const auto us = units::UnitSystem::us, si = units::UnitSystem::si;
  // The outlet stands first.
  CHECK(units_of("300 ft") == si);
  const auto first = [](const std::string& text) { return read_model(text, "m.yaml").written_in; };
  CHECK(first("runnel: 1\nboxes:\n  b: {lip: 300 ft, outlet: 90 m}\n") == us);
  CHECK(first("runnel: 1\nboxes:\n  b: {lip: 300', outlet: 90 m}\n") == us);
  CHECK(first("runnel: 1\nboxes:\n  b: {lip: 299 ft 6 in, outlet: 90 m}\n") == us);
  CHECK(first("runnel: 1\nboxes:\n  b: {lip: 300 feet, outlet: 90 m}\n") == us);
  CHECK(first("runnel: 1\nboxes:\n  b: {lip: 100m, outlet: 90 ft}\n") == si);
  CHECK(first("runnel: 1\nboxes:\n  b: {lip: 1000 in, outlet: 9 m}\n") == us);
  // The order of the text counts, not that of reading: lines are read after boxes.
  CHECK(first("runnel: 1\npipelines:\n  l: {from: b, to: b, survey: {unit: ft, points: [[0, 1]]}}\n"
              "boxes:\n  b: {lip: 100 m, outlet: 90 m}\n") == us);
  // An error elsewhere does not hide it, and without elevations it is SI.
  CHECK(first("runnel: 1\nnmae: x\nboxes:\n  b: {lip: 300 ft, outlet: 200 ft}\n") == us);
  CHECK(first("runnel: 1\nnote: in feet\n") == si);
}

TEST_CASE("the models of the repository are told in the units they are written in") {
  // Its elevations are in feet.
  CHECK(read_file(std::string(RUNNEL_SOURCE_DIR) + "/models/seep_box/model.yaml").findings.empty());
  CHECK(read_model(*text_of(std::string(RUNNEL_SOURCE_DIR) + "/models/seep_box/model.yaml"), "m.yaml")
            .written_in == units::UnitSystem::us);
}
