#pragma once
// The worked lines under tests/data/lines; their README says how they were computed.
#include <fstream>
#include <nlohmann/json.hpp>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace runnel::test {

struct WorkedLine {
  nlohmann::json inputs, expected;

  /// A figure of `expected`; a name that is not there ends the test.
  double operator()(const char* figure) const { return expected.at(figure).get<double>(); }
  double operator()(const char* group, const char* figure) const {
    return expected.at(group).at(figure).get<double>();
  }
  double input(const char* figure) const { return inputs.at(figure).get<double>(); }
  /// Station and elevation of each surveyed point [m].
  std::vector<std::pair<double, double>> points() const {
    return inputs.at("points").get<std::vector<std::pair<double, double>>>();
  }
};

/// `name`: the file without its folder and ending.
inline WorkedLine worked_line(const std::string& name) {
  std::ifstream in(std::string(RUNNEL_SOURCE_DIR) + "/tests/data/lines/" + name + ".json");
  if (!in) throw std::runtime_error("no worked line " + name);
  nlohmann::json file = nlohmann::json::parse(in);
  return {file.at("inputs"), file.at("expected")};
}

}  // namespace runnel::test
