// What is told of other years than the one that was measured: the chance of a dry year, in the text and in
// the JSON, wherever something is known of the years, and nowhere else.
#include "runnel/report/year.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <nlohmann/json.hpp>
#include <stdexcept>

#include "runnel/input/read_model.h"
#include "runnel/network/system.h"

using nlohmann::json;
namespace report = runnel::report;

namespace {

runnel::network::Model model_of(const std::string& text, const std::string& name) {
  auto model = runnel::input::read_model(text, name);
  REQUIRE(model);
  return std::move(*model.value);
}

runnel::network::Model read(const std::string& name) {
  std::ifstream in(RUNNEL_SOURCE_DIR "/tests/input/good/" + name, std::ios::binary);
  return model_of({std::istreambuf_iterator<char>(in), {}}, name);
}

struct Told {
  runnel::network::System system;
  std::vector<runnel::filling::YearPart> parts;
  std::string text;
  json object;

  explicit Told(const runnel::network::Model& model)
      : system(*runnel::network::resolve(model).value), parts(runnel::filling::look_at_year(system)) {
    report::TextOptions wide;
    wide.width = 2000;  // a paragraph is a line
    text = report::year_text({system, parts}, wide);
    object = json::parse(report::year_json({system, parts}));
  }
  const json& part(const std::string& tank) const {
    for (const json& one : object.at("parts"))
      if (one.at("tanks").at(0) == tank) return one;
    throw std::runtime_error("no such part");
  }
};

}  // namespace

TEST_CASE("the chance of a dry year stands in the text and in the JSON with its interval and its method") {
  const Told told(read("years_of_a_spring.yaml"));
  int known = 0;
  for (const auto& part : told.parts)
    for (const auto& spring : part.years) {
      const json& all = told.part(part.tanks[0]).at("dry_years");
      const auto at =
          std::find_if(all.begin(), all.end(), [&](const json& one) { return one.at("box") == spring.box; });
      REQUIRE(at != all.end());
      REQUIRE(spring.dry);
      ++known;
      CHECK(at->at("chance").get<double>() == spring.dry->chance);
      CHECK(at->at("low").get<double>() == spring.dry->interval.low);
      CHECK(at->at("high").get<double>() == spring.dry->interval.high);
      CHECK(at->at("need_m3s").get<double>() == spring.need->si());
      CHECK(at->at("years").get<std::size_t>() == spring.years);
      CHECK(at->at("low").get<double>() < at->at("chance").get<double>());
      CHECK(at->at("chance").get<double>() < at->at("high").get<double>());
      CHECK_THAT(told.text, Catch::Contains("The year is dry if " + spring.box + " gives less than"));
    }
  CHECK(known == 2);
  CHECK(told.part("cistern").at("dry_years")[0].at("method") == "lognormal_years");
  CHECK(told.part("trough").at("dry_years")[0].at("method") == "lognormal_stated");
  CHECK_THAT(told.text, Catch::Contains("with 95 % confidence"));
  CHECK_THAT(told.text, !Catch::Contains("no chance of a dry year is given"));
}

TEST_CASE("years of which one ran dry are counted") {
  runnel::network::Model model = read("years_of_a_spring.yaml");
  model.boxes[0].history.years.back().least = runnel::Flow{};
  const Told told(model);
  const json& dry = told.part("cistern").at("dry_years")[0];
  CHECK(dry.at("method") == "counted_years");
  CHECK(dry.at("chance").get<double>() >= 0.25);
}

TEST_CASE("where nothing is known of other years no chance is told") {
  runnel::network::Model model = read("years_of_a_spring.yaml");
  for (auto& box : model.boxes) box.history = {};
  const Told none(model);
  for (const json& part : none.object.at("parts")) CHECK(part.at("dry_years").empty());
  CHECK_THAT(none.text, Catch::Contains("no chance of a dry year is given"));
  CHECK_THAT(none.text, !Catch::Contains("with 95 % confidence"));
  // Bucket tests say how well a day was measured, and nothing of other years.
  const Told month(read("year_in_months.yaml"));
  CHECK_THAT(month.text, Catch::Contains("no chance of a dry year is given"));
  for (const json& part : month.object.at("parts")) CHECK(part.at("dry_years").empty());
}

TEST_CASE("a store that runs away through a tank below it is told to run dry, in the text and in the JSON") {
  const std::string model = R"(runnel: 1
boxes:
  spring: {yield: 0.3 L/s, outlet: 100 m, lip: 100.6 m}
tanks:
  upper: {shape: {upright_cylinder: {diameter: 40 m}}, floor: 80 m, lip: 82 m, inlet: 81.9 m}
  lower: {shape: {upright_cylinder: {diameter: 2 m}}, floor: 60 m, lip: 62 m, inlet: 61.9 m, draws: [{flow: 0.1 L/s}]}
pipelines:
  a: {from: spring, to: upper, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 100], [200, 81.9]]}}
  b: {from: upper, to: lower, pipe: PE100 SDR11 32 mm, survey: {unit: m, points: [[0, 80.1], [200, 61.9]]}}
year:
  yields: {spring: [0.5 L/s, 0.5 L/s, 0.5 L/s, 0.5 L/s, 0.5 L/s, 0.4 L/s, 0.2 L/s, 0.1 L/s, 0.02 L/s, 0.05 L/s, 0.2 L/s, 0.4 L/s]}
)";
  const Told open(model_of(model, "test.yaml"));
  CHECK(
      open.text.starts_with("Runs dry: lower has no float valve and runs over, so that what is stored above "
                            "runs away. With one the year brings enough."));
  CHECK(open.part("upper").at("lasts") == false);
  CHECK_FALSE(open.parts.at(0).good());
  const std::string lower = "inlet: 61.9 m, ";
  std::string with_float = model;
  with_float.insert(model.find(lower) + lower.size(),
                    "float_valve: {shuts_at: 61.8 m, opens_at: 61.5 m, loss: 6}, ");
  const Told shut(model_of(with_float, "test.yaml"));
  CHECK(shut.text.starts_with("Lasts all year: upper, lower hold"));
  CHECK(shut.part("upper").at("lasts") == true);
}
