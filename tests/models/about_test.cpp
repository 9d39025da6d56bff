// Every ABOUT.md says what its example comes to in the words of runnel: below `$ build/runnel ...` each item
// is a piece of what that command prints, however its lines are broken. Figures elsewhere in the page come
// from those pieces or from a model of that folder, so none can stay behind when the model or the program
// changes.
#include <algorithm>
#include <catch2/catch.hpp>
#include <filesystem>
#include <iterator>
#include <regex>
#include <set>
#include <sstream>
#include <vector>

#include "support/examples.h"
#include "support/run_runnel.h"

namespace {

namespace fs = std::filesystem;

std::string slurp(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// The words with one blank between them.
std::string flat(const std::string& text) {
  std::istringstream in(text);
  std::string all;
  for (std::string word; in >> word;) all += (all.empty() ? "" : " ") + word;
  return all;
}

struct Shown {
  std::string command;              ///< "flow models/siphon/model.yaml"
  std::vector<std::string> pieces;  ///< of what it prints
};

struct Page {
  std::string prose;
  std::vector<Shown> shown;
};

/// One fence of commands with their items; a line that is neither breaks the page.
Page read_page(const fs::path& path) {
  static const std::string prompt = "$ build/runnel ";
  Page page;
  bool fenced = false;
  std::istringstream in(slurp(path));
  for (std::string line; std::getline(in, line);) {
    INFO(path << ": " << line);
    if (line.starts_with("```")) {
      fenced = !fenced;
    } else if (!fenced) {
      page.prose += line + "\n";
    } else if (line.starts_with(prompt)) {
      page.shown.push_back({line.substr(prompt.size()), {}});
    } else if (!line.empty()) {
      REQUIRE(!page.shown.empty());
      auto& pieces = page.shown.back().pieces;
      if (line.starts_with("- "))
        pieces.push_back(line.substr(2));
      else if (line.starts_with("  ") && !pieces.empty())
        pieces.back() += line.substr(1);
      else
        FAIL_CHECK("neither a command nor a piece of an answer");
    }
  }
  CHECK_FALSE(fenced);
  return page;
}

std::set<std::string> figures(const std::string& text) {
  static const std::regex figure("[0-9]+([.,][0-9]+)?");
  std::set<std::string> all;
  for (std::sregex_iterator at(text.begin(), text.end(), figure), end; at != end; ++at) all.insert(at->str());
  return all;
}

}  // namespace

TEST_CASE("every page about an example quotes what runnel prints") {
  REQUIRE(support::examples().size() >= 13);
  for (const fs::path& folder : support::examples()) {
    INFO(folder.filename().string());
    const Page page = read_page(folder / "ABOUT.md");
    CHECK(!page.shown.empty());
    for (const Shown& shown : page.shown) {
      INFO(shown.command);
      CHECK(shown.command.find("models/" + folder.filename().string() + "/") != std::string::npos);
      CHECK(!shown.pieces.empty());
      const auto ran = support::run_runnel(shown.command, RUNNEL_SOURCE_DIR);
      CHECK((ran.exit == 0 || ran.exit == 1));
      const std::string out = flat(ran.out);
      for (const std::string& piece : shown.pieces) {
        INFO(piece);
        CHECK(out.find(flat(piece)) != std::string::npos);
      }
    }
  }
}

TEST_CASE("a page about an example has no figure of its own, and says that the example is invented") {
  for (const fs::path& folder : support::examples()) {
    INFO(folder.filename().string());
    const Page page = read_page(folder / "ABOUT.md");
    CHECK(page.prose.find("invented") != std::string::npos);
    std::set<std::string> known;
    for (const auto& entry : fs::directory_iterator(folder))
      if (entry.path().extension() == ".yaml") known.merge(figures(slurp(entry.path())));
    for (const Shown& shown : page.shown)
      for (const std::string& piece : shown.pieces) known.merge(figures(piece));
    for (const std::string& figure : figures(page.prose)) {
      INFO(figure);
      CHECK(known.contains(figure));
    }
  }
}
