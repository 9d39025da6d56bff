// Every code that the program can say is explained, and every explanation is of a code it can say.
#include "runnel/report/finding_codes.h"

#include <catch2/catch.hpp>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <regex>
#include <set>

namespace {

namespace fs = std::filesystem;

// Codes are the only texts in these rooms that are lower-case words joined by hyphens, but for these.
const std::set<std::string> other_words = {"darcy-weisbach", "hazen-williams", "acre-ft", "acre-foot",
                                           "acre-feet"};

// A rule's text stands beside the rule as a constant that begins with its code. That is no proof that anybody
// says it, so the constants are cut out here, and a use of a constant counts as its code.
std::string without_rule_texts(std::string text) {
  const std::regex constant(R"re(constexpr Code (\w+)\{\s*"([a-z0-9-]+)"[^;]*\};)re");
  std::map<std::string, std::string> code_of;
  for (std::smatch m; std::regex_search(text, m, constant);) {
    code_of[m[1]] = m[2];
    text.erase(static_cast<std::size_t>(m.position()), static_cast<std::size_t>(m.length()));
  }
  const std::size_t rules = text.find("std::vector<Code> ");
  const std::string used = text.substr(0, rules);
  for (const auto& [name, code] : code_of)
    if (used.find(name) != std::string::npos) text += '"' + code + '"';
  return text;
}

std::set<std::string> codes_in_sources() {
  const std::regex literal(R"re("([a-z]+(?:-[a-z0-9]+)+)")re");
  std::set<std::string> codes{"usage"};
  for (const char* room :
       {"lib/runnel/document", "lib/runnel/pipes", "lib/runnel/network", "lib/runnel/input",
        "lib/runnel/steady", "lib/runnel/verdict", "lib/runnel/review", "lib/runnel/sizing", "cli"})
    for (const auto& entry : fs::directory_iterator(fs::path(RUNNEL_SOURCE_DIR) / room)) {
      const std::string file = entry.path().filename().string();
      // The works at a spring have rules, whose names are no codes.
      if (entry.path().extension() != ".cpp" || file.rfind("codes_", 0) == 0 || file.rfind("works_", 0) == 0)
        continue;
      std::ifstream in(entry.path());
      const std::string text = without_rule_texts({std::istreambuf_iterator<char>(in), {}});
      for (auto at = std::sregex_iterator(text.begin(), text.end(), literal); at != std::sregex_iterator();
           ++at)
        if (!other_words.count((*at)[1])) codes.insert((*at)[1]);
    }
  return codes;
}

}  // namespace

TEST_CASE("every code in the sources is explained") {
  const auto codes = codes_in_sources();
  CHECK(codes.size() > 100);
  for (const std::string& code : codes) {
    INFO(code);
    CHECK(runnel::report::find_code(code) != nullptr);
  }
}

TEST_CASE("every explanation is of a code in the sources") {
  const auto codes = codes_in_sources();
  for (const auto& code : runnel::report::finding_codes()) {
    INFO(code.code);
    CHECK(codes.count(std::string(code.code)) == 1);
  }
}

TEST_CASE("explanations are complete, sorted and unique") {
  const auto& all = runnel::report::finding_codes();
  for (std::size_t i = 0; i < all.size(); ++i) {
    INFO(all[i].code);
    if (i > 0) CHECK(all[i - 1].code < all[i].code);
    CHECK(all[i].title.size() > 5);
    CHECK(all[i].meaning.size() > 15);
    CHECK(all[i].why.size() > 10);
    CHECK(all[i].remedy.size() > 6);
  }
  CHECK(runnel::report::find_code("no-such-code") == nullptr);
  CHECK(runnel::report::find_code("") == nullptr);
}
