// Every example and every model that the tests read, under every setting: the state it is judged in by name,
// and what it comes to.
#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>

#include "runnel/document/tree.h"
#include "runnel/input/read_model.h"
#include "runnel/report/words.h"
#include "support/examples.h"
#include "verdict/stays.h"

namespace {

namespace fs = std::filesystem;
namespace verdict = runnel::verdict;

std::string slurp(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// By the name that the table calls it.
std::map<std::string, fs::path> model_files() {
  std::map<std::string, fs::path> all;
  for (const fs::path& folder : support::examples()) all[folder.filename().string()] = folder / "model.yaml";
  for (const auto& entry : fs::directory_iterator(RUNNEL_SOURCE_DIR "/tests/input/good"))
    if (entry.path().extension() == ".yaml") all["test " + entry.path().stem().string()] = entry.path();
  return all;
}

runnel::Checked<runnel::network::Model> read(const fs::path& path) {
  runnel::input::ReadOptions options;
  options.side_file = [folder = path.parent_path()](const std::string& file) -> std::optional<std::string> {
    if (!fs::exists(folder / file)) return std::nullopt;
    return slurp(folder / file);
  };
  return runnel::input::read_model(slurp(path), path.filename().string(), options);
}

/// The later of its two times is never less than the bore over all that its source gives.
void check_first_water(const verdict::Run& run) {
  if (!run.verdict.air) return;
  for (const verdict::PathAir& way : run.verdict.air->paths) {
    if (!way.first_water) continue;
    const double bore_m3 = runnel::air::bore_volume_to_points_m3(way.profile).back();
    CHECK(way.first_water->at_end().full_bore_s >= bore_m3 / way.first_water->rate_m3s * (1.0 - 1e-9));
  }
}

}  // namespace

TEST_CASE("every model is judged in the state that it stays in") {
  const auto tree =
      runnel::document::read(slurp(RUNNEL_SOURCE_DIR "/tests/models/states.yaml"), "states.yaml");
  REQUIRE(tree);
  std::map<std::string, std::string> expected;
  for (const auto& row : (*tree.value)->find("states")->items)
    expected[row->find("model")->text + ", " + row->find("setting")->text] =
        row->find("ruling")->text + ", " + row->find("state")->text;
  std::size_t seen = 0;
  for (const auto& [name, path] : model_files()) {
    const auto model = read(path);
    INFO(name);
    CHECK(model);
    if (!model) continue;
    const auto answer = verdict::answer_model(*model.value);
    if (!answer) {  // a choice of pipes that is still open, or water that runs one way only, has no answer
      CHECK(expected[name + ", none"] == "no answer, none");
      ++seen;
      continue;
    }
    for (const verdict::Run& run : answer.value->runs) {
      const std::string row = name + ", " + run.setting;
      INFO(row);
      CHECK(expected[row] == std::string(runnel::report::word(run.verdict.ruling)) + ", " +
                                 runnel::test::state_of(run.verdict));
      ++seen;
      runnel::test::check_that_it_stays(run);
      check_first_water(run);
    }
  }
  CHECK(seen == (*tree.value)->find("states")->items.size());
}
