// Pipes that a person describes: in a model, or in a file of their own.
#include "runnel/pipes/read_pipe.h"

#include <catch2/catch.hpp>

#include "runnel/pipes/catalogue.h"

using namespace runnel;
using namespace runnel::pipes;

namespace {

struct Read {
  std::optional<Pipe> pipe;
  std::vector<Finding> findings;
};

Read read(const std::string& text) {
  auto document = document::read(text, "m.yaml");
  REQUIRE(document);
  Read out;
  out.pipe = read_pipe(**document.value, out.findings);
  return out;
}

std::string code(const std::string& text) {
  const Read out = read(text);
  CHECK_FALSE(out.pipe);
  REQUIRE(out.findings.size() == 1);
  CHECK(out.findings[0].mark.known());
  CHECK_FALSE(out.findings[0].message.empty());
  return out.findings[0].code;
}

}  // namespace

TEST_CASE("a pipe described on the spot") {
  const Read out =
      read("{bore: 38.1 mm, roughness: 0.0015 mm, C: 150, wall: 3 mm, rating: 10 bar, modulus: 900 MPa}");
  REQUIRE(out.pipe);
  CHECK(out.findings.empty());
  // Exact conversions, but for the last bit.
  CHECK(out.pipe->bore.metres() == Approx(0.0381).epsilon(1e-15));
  CHECK(out.pipe->roughness.metres() == Approx(1.5e-6).epsilon(1e-15));
  CHECK(out.pipe->hazen_c == 150.0);
  CHECK(out.pipe->wall.metres() == Approx(0.003).epsilon(1e-15));
  CHECK(out.pipe->rating.bar() == Approx(10.0).epsilon(1e-15));
  CHECK(out.pipe->modulus_pa == Approx(9e8).epsilon(1e-15));
  CHECK(out.pipe->bore_convention == BoreConvention::stated);
  CHECK(out.pipe->certainty == Certainty::user);
}

TEST_CASE("a bore follows from outside and wall, and says so") {
  const Read out = read("{outside: 50 mm, wall: 4.6 mm, roughness: 0.01 mm}");
  REQUIRE(out.pipe);
  CHECK(out.pipe->bore.millimetres() == Approx(40.8).epsilon(1e-12));
  CHECK(out.pipe->bore_convention == BoreConvention::outside_less_two_minimum_walls);
}

TEST_CASE("a rating may be written as a height of water") {
  const Read out = read("{bore: 50 mm, roughness: 0 mm, rating: 100 m}");
  REQUIRE(out.pipe);
  // 100 m of water at 999.97 kg/m3 and 9.80665 m/s2.
  CHECK(out.pipe->rating.pascals() == Approx(100.0 * 999.97 * 9.80665).epsilon(1e-12));
}

TEST_CASE("without roughness a pipe with a C counts as smooth, and a note says so") {
  const Read out = read("{bore: 50 mm, C: 140}");
  REQUIRE(out.pipe);
  REQUIRE(out.findings.size() == 1);
  CHECK(out.findings[0].code == "pipe-taken-as-smooth");
  CHECK(out.findings[0].severity == Severity::note);
}

TEST_CASE("wrong descriptions are refused, each with its code") {
  CHECK(code("{roughness: 0.01 mm}") == "missing-key");
  CHECK(code("{bore: 50 mm}") == "missing-key");
  CHECK(code("{bore: 50, roughness: 0.01 mm}") == "missing-unit");
  CHECK(code("{bore: 50 psi, roughness: 0.01 mm}") == "not-a-quantity");
  CHECK(code("{bore: 0 mm, roughness: 0.01 mm}") == "not-positive");
  CHECK(code("{bore: -50 mm, roughness: 0.01 mm}") == "not-positive");
  CHECK(code("{bore: 50 mm, roughness: -0.01 mm}") == "negative");
  CHECK(code("{bore: 50 mm, roughness: 0.01 mm, C: 0}") == "not-positive");
  CHECK(code("{bore: 50 mm, roughness: 0.01 mm, C: high}") == "bad-number");
  CHECK(code("{bore: , roughness: 0.01 mm, outside: 60 mm, wall: 2 mm}") == "empty-value");
  CHECK(code("{bore: [50 mm], roughness: 0.01 mm}") == "not-a-value");
  CHECK(code("{bore: 50 mm, roughness: 0.01 mm, bore_convention: inside}") == "unknown-word");
  CHECK(code("{bore: 50 mm, roughness: 0.01 mm, temperature_factors: pfc}") == "unknown-word");
  CHECK(code("{bore: 50 mm, roughness: 0.01 mm, outside: 50 mm}") == "pipe-does-not-fit");
  CHECK(code("{bore: 50 mm, roughness: 0.01 mm, outside: 55 mm, wall: 5 mm}") == "pipe-does-not-fit");
  CHECK(code("{roughness: 0.01 mm, outside: 50 mm, wall: 25 mm}") == "not-positive");
}

TEST_CASE("a mistyped name is pointed at, with what was probably meant") {
  const Read out = read("bore: 50 mm\nrougness: 0.01 mm\nroughness: 0.01 mm\n");
  REQUIRE(out.findings.size() == 1);
  CHECK(out.findings[0].code == "unknown-key");
  CHECK(out.findings[0].mark.line == 2);
  CHECK(out.findings[0].mark.length == 8);
  CHECK(out.findings[0].advice.find("roughness") != std::string::npos);
}

TEST_CASE("the trouble within a value is pointed at") {
  const Read out = read("bore: 50 furlong\nroughness: 0.01 mm\n");
  REQUIRE(out.findings.size() == 1);
  CHECK(out.findings[0].mark.line == 1);
  CHECK(out.findings[0].mark.column == 10);
}

TEST_CASE("a list is no pipe") {
  auto document = document::read("pipe: [1, 2]", "m.yaml");
  REQUIRE(document);
  std::vector<Finding> findings;
  CHECK_FALSE(read_pipe(*(*document.value)->find("pipe"), findings));
  REQUIRE(findings.size() == 1);
  CHECK(findings[0].code == "not-a-block");
}

TEST_CASE("a person's own file of pipes") {
  const auto out = read_catalogue(
      "catalogue: pipes\n"
      "description: Hoses in the shed, measured\n"
      "common: {roughness: 0.01 mm, C: 140}\n"
      "pipes:\n"
      "  green hose 3/4 in: {bore: 19 mm}\n"
      "  black hose 1 in: {bore: 26 mm, roughness: 0.02 mm}\n",
      "own.yaml");
  for (const Finding& f : out.findings) UNSCOPED_INFO(f.message);
  REQUIRE(out);
  const Pipe* green = out.value->find("Green Hose 3/4\"");
  REQUIRE(green != nullptr);
  CHECK(green->name == "green hose 3/4 in");
  CHECK(green->hazen_c == 140.0);
  CHECK(green->roughness.millimetres() == Approx(0.01).epsilon(1e-12));
  CHECK(green->certainty == Certainty::user);
  CHECK(green->source == "own.yaml");
  CHECK(out.value->find("black hose 1 in")->roughness.millimetres() == Approx(0.02).epsilon(1e-12));
}

TEST_CASE("a wrong file of pipes names every fault") {
  const auto out = read_catalogue(
      "catalogue: hoses\n"
      "pipes:\n"
      "  hose 1 in: {bore: 19 mm, C: 140, roughness: 0 mm}\n"
      "  Hose 1\": {bore: 19 mm, C: 140, roughness: 0 mm}\n"
      "  hose 2 in: {C: 140, roughness: 0 mm}\n"
      "extra: 1\n",
      "own.yaml");
  CHECK_FALSE(out);
  std::vector<std::string> codes;
  for (const Finding& f : out.findings) codes.push_back(f.code);
  CHECK(codes == std::vector<std::string>{"unknown-word", "pipe-named-twice", "missing-key", "unknown-key"});
  CHECK(out.findings[1].mark.line == 4);
}

TEST_CASE("a file of pipes that holds none is refused") {
  CHECK_FALSE(read_catalogue("catalogue: pipes\n", "own.yaml"));
  CHECK_FALSE(read_catalogue("catalogue: pipes\npipes: {}\n", "own.yaml"));
  CHECK_FALSE(read_catalogue("pipes: {a: {bore: 1 mm, C: 140}}\n", "own.yaml"));
  CHECK_FALSE(read_catalogue("", "own.yaml"));
}
