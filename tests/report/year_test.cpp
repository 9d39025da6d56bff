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

runnel::network::Model read(const std::string& name) {
  std::ifstream in(RUNNEL_SOURCE_DIR "/tests/input/good/" + name, std::ios::binary);
  const std::string text{std::istreambuf_iterator<char>(in), {}};
  auto model = runnel::input::read_model(text, name);
  REQUIRE(model);
  return std::move(*model.value);
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
