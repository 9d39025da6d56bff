// Who follows the hint of a bad input to the letter gets a model that reads. fixes.yaml says what following
// it means where the hint does not propose the very word.
#include <catch2/catch.hpp>
#include <map>

#include "runnel/document/tree.h"
#include "support.h"

using namespace runnel;
using namespace runnel::input;
using namespace runnel::input::test;
using runnel::document::Node;

namespace {

struct Fix {
  std::string hint, in;
  std::vector<std::pair<std::string, std::string>> pieces;  ///< what stood there, what is written instead
};

std::map<std::string, Fix> fixes() {
  const std::string path = folder + "fixes.yaml";
  const auto table = document::read(*text_of(path), path);
  REQUIRE(table);
  std::map<std::string, Fix> all;
  for (const document::Entry& entry : (*table.value)->entries) {
    Fix fix;
    if (const Node* hint = entry.value->find("hint")) fix.hint = hint->text;
    if (const Node* in = entry.value->find("in")) fix.in = in->text;
    for (const auto& piece : entry.value->find("fix")->items)
      fix.pieces.emplace_back(piece->items.at(0)->text, piece->items.at(1)->text);
    all.emplace(entry.key, std::move(fix));
  }
  return all;
}

std::string advice_of(const Finding& f) { return units::render(f.advice, f.figures, units::UnitSystem::si); }

/// Between the marks that follow a phrase: `did you mean "x"` gives x.
std::string proposed(const std::string& advice, const std::string& phrase, char mark) {
  const auto at = advice.find(phrase);
  if (at == std::string::npos) return {};
  const auto from = at + phrase.size();
  return advice.substr(from, advice.find(mark, from) - from);
}

/// Where a place of a line stands in the text; columns count bytes from 1.
std::size_t byte_of(const std::string& text, int line, int column) {
  std::size_t at = 0;
  for (int l = 1; l < line; ++l) at = text.find('\n', at) + 1;
  return at + static_cast<std::size_t>(column) - 1;
}

std::string with_word(std::string text, const Mark& mark, const std::string& word) {
  const std::size_t from = byte_of(text, mark.line, mark.column);
  const std::size_t to = byte_of(text, mark.line, mark.column + mark.length);
  return text.replace(from, to - from, word);
}

/// Each piece stands there once.
std::string with_pieces(std::string text, const Fix& fix) {
  for (const auto& [old, fresh] : fix.pieces) {
    INFO(old);
    const auto at = old.empty() ? 0 : text.find(old);
    REQUIRE(at != std::string::npos);
    if (!old.empty()) CHECK(text.find(old, at + 1) == std::string::npos);
    text.replace(at, old.size(), fresh);
  }
  return text;
}

/// Reads a model of which one text, its own or that of a file beside it, is written anew.
Checked<network::Model> read_with(const std::string& path, const std::string& file, const std::string& text) {
  ReadOptions options;
  const auto beside = std::filesystem::path(path).parent_path();
  options.side_file = [&](const std::string& name) -> std::optional<std::string> {
    return name == file ? std::optional(text) : text_of((beside / name).string());
  };
  return read_model(file.empty() ? text : *text_of(path), path, options);
}

}  // namespace

TEST_CASE("who follows the hint of a bad input to the letter gets a model that reads") {
  const auto table = fixes();
  std::size_t followed = 0, proposals = 0;
  for (const std::string& path : models_in(folder + "bad")) {
    INFO(path);
    const auto bad = read_file(path);
    const auto error = std::find_if(bad.findings.begin(), bad.findings.end(),
                                    [](const Finding& f) { return f.severity == Severity::error; });
    REQUIRE(error != bad.findings.end());
    const std::string advice = advice_of(*error);
    INFO(advice);
    std::string file, text;
    const auto fix = table.find(std::filesystem::path(path).stem().string());
    if (fix != table.end()) {
      CHECK(advice == fix->second.hint);
      file = fix->second.in;
      text = with_pieces(*text_of(file.empty() ? path : folder + "bad/" + file), fix->second);
    } else {
      std::string word = proposed(advice, "did you mean \"", '"');
      if (word.empty()) word = proposed(advice, "say which: `", '`');
      REQUIRE_FALSE(word.empty());
      text = with_word(*text_of(path), error->mark, word);
      ++proposals;
    }
    const auto mended = read_with(path, file, text);
    INFO(text << told(mended.findings, path));
    CHECK(mended.value.has_value());
    ++followed;
  }
  CHECK(followed >= 235);
  CHECK(proposals >= 20);
  CHECK(followed == proposals + table.size());  // no row of the table is left over
}
