// What runnel says is said in short sentences and in words that a farmer knows, or that `explain` knows. The
// texts are taken from the sources themselves: every literal that holds a blank, the pages that users read,
// and what the rules say that `review` prints.
#include <catch2/catch.hpp>
#include <cctype>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <utility>

#include "runnel/input/language.h"
#include "runnel/report/terms.h"
#include "runnel/verdict/codes.h"

namespace {

const std::string root = RUNNEL_SOURCE_DIR;

std::string text_of(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  REQUIRE(in);
  return {std::istreambuf_iterator<char>(in), {}};
}

std::set<std::string> word_list(const std::string& name) {
  std::ifstream in(root + "/tests/report/words/" + name);
  REQUIRE(in);
  std::set<std::string> words;
  for (std::string line; std::getline(in, line);) {
    std::istringstream cut(line);
    if (!line.starts_with('#')) words.insert(std::istream_iterator<std::string>(cut), {});
  }
  return words;
}

/// The literals of a C++ text; such as stand behind one another are one.
class Literals {
 public:
  explicit Literals(const std::string& source) : source_(source) {
    while (at_ < source_.size()) step();
  }
  std::vector<std::string> all;

 private:
  bool here(const char* what) const { return source_.compare(at_, std::string_view(what).size(), what) == 0; }
  void skip_to(const char* what) {
    const auto end = source_.find(what, at_);
    at_ = end == std::string::npos ? source_.size() : end;
  }

  void step() {
    const char c = source_[at_];
    if (here("//") || c == '#') return skip_to("\n");  // comments, and what is included
    if (here("R\"(")) {
      const auto end = source_.find(")\"", at_);
      all.push_back(source_.substr(at_ + 3, end - at_ - 3));
      at_ = end + 2;
      joined_ = false;
    } else if (c == '"') {
      literal();
    } else if (c == '\'' && at_ + 2 < source_.size() &&
               (source_[at_ + 2] == '\'' || source_[at_ + 1] == '\\')) {
      at_ = source_.find('\'', at_ + 2) + 1;
      joined_ = false;
    } else {
      if (!std::isspace(static_cast<unsigned char>(c))) joined_ = false;
      ++at_;
    }
  }

  void literal() {
    std::string text;
    for (++at_; source_[at_] != '"'; ++at_) {
      if (source_[at_] == '\\') ++at_;
      text += source_[at_ - 1] == '\\' && source_[at_] == 'n' ? '\n' : source_[at_];
    }
    ++at_;
    if (joined_)
      all.back() += text;
    else
      all.push_back(text);
    joined_ = true;
  }

  const std::string& source_;
  std::size_t at_ = 0;
  bool joined_ = false;
};

struct Text {
  std::string file, words;
};

/// Commands, source keys, names of keys and files are no words.
std::string bare(std::string text) {
  static const std::regex quoted("`[^`]*`"), key("\\[[^\\]]*\\]"), name("[A-Za-z0-9.-]*[_/][A-Za-z0-9._/-]*"),
      option("--[a-z-]+");
  for (const std::regex& no_word : {quoted, key, name, option})
    text = std::regex_replace(text, no_word, " x ");
  return text;
}

/// The prose of a page: no code, tables, headings or targets of links. Items and paragraphs end as sentences
/// do.
std::string prose_of(const std::string& page) {
  static const std::regex item(" *(-|[0-9]+[.]) .*"), link("\\]\\([^)]*\\)"), remark("<!--.*-->");
  std::string prose;
  bool fenced = false;
  std::istringstream in(page);
  for (std::string line; std::getline(in, line);) {
    if (line.starts_with("```")) fenced = !fenced;
    const bool prosaic = !fenced && !line.empty() && !line.starts_with("```") && !line.starts_with("|") &&
                         !line.starts_with("#");
    if (!prosaic || std::regex_match(line, item)) prose += ".\n";
    if (prosaic) prose += std::regex_replace(std::regex_replace(line, link, "]"), remark, "") + "\n";
  }
  REQUIRE_FALSE(fenced);
  return prose;
}

std::vector<std::string> pages() {
  std::vector<std::string> all{"/README.md", "/models/README.md"};
  for (const auto& entry : std::filesystem::directory_iterator(root + "/models"))
    if (std::filesystem::exists(entry.path() / "ABOUT.md"))
      all.push_back("/models/" + entry.path().filename().string() + "/ABOUT.md");
  return all;
}

/// What the rules of `review` say, each on a line of its own.
std::vector<Text> rule_texts() {
  static const std::regex said(" *(?:text|about): *(.*)");
  std::vector<Text> all;
  for (const auto& entry : std::filesystem::directory_iterator(root + "/models/rules")) {
    std::istringstream in(text_of(entry.path().string()));
    std::smatch found;
    for (std::string line; std::getline(in, line);)
      if (std::regex_match(line, found, said))
        all.push_back({entry.path().filename().string(), bare(found[1])});
  }
  return all;
}

std::vector<Text> texts() {
  std::vector<Text> all = rule_texts();
  for (const std::string& page : pages()) all.push_back({page, bare(prose_of(text_of(root + page)))});
  for (const char* folder : {"/lib/runnel", "/cli"})
    for (const auto& entry : std::filesystem::recursive_directory_iterator(root + folder)) {
      if (entry.path().extension() != ".cpp" && entry.path().extension() != ".h") continue;
      const std::string source = text_of(entry.path().string());
      for (const std::string& literal : Literals(source).all)
        if (literal.find(' ') != std::string::npos)
          all.push_back({entry.path().filename().string(), bare(literal)});
    }
  return all;
}

std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> words;
  std::string word;
  for (std::size_t i = 0; i <= text.size(); ++i) {
    const char c = i < text.size() ? text[i] : ' ';
    const bool letter = std::isalpha(static_cast<unsigned char>(c)) != 0;
    const bool inside = c == '\'' && !word.empty() && i + 1 < text.size() &&
                        std::islower(static_cast<unsigned char>(text[i + 1]));
    if (letter || inside) {
      word += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    } else if (!word.empty()) {
      words.push_back(std::exchange(word, {}));
    }
  }
  return words;
}

/// A figure, a unit or a sign; the owner's `'s` is no other word.
std::string root_of(const std::string& word) {
  return word.ends_with("'s") ? word.substr(0, word.size() - 2) : word;
}

}  // namespace

TEST_CASE("the texts use common words, and words of the trade that explain knows") {
  std::set<std::string> known = word_list("common.txt");
  known.merge(word_list("trade.txt"));
  known.merge(word_list("names.txt"));
  REQUIRE(known.size() > 1500);
  std::map<std::string, std::string> unknown;
  std::size_t seen = 0;
  for (const Text& text : texts())
    for (const std::string& word : words_of(text.words)) {
      ++seen;
      if (word.size() > 1 && !known.contains(word) && !known.contains(root_of(word)))
        unknown.emplace(word, text.file + ": " + text.words.substr(0, 100));
    }
  CHECK(seen > 20000);  // a fault of this test must not pass for clean texts
  for (const auto& [word, where] : unknown)
    FAIL_CHECK("\"" << word << "\" stands in no list under tests/report/words: " << where);
}

TEST_CASE("explain knows every word of the trade") {
  for (const std::string& word : word_list("trade.txt")) {
    const bool plural = word.ends_with('s');
    const std::string one = plural ? word.substr(0, word.size() - 1) : word;
    INFO(word);
    CHECK((runnel::report::find_term(word) || runnel::report::find_term(one) ||
           !runnel::input::find_keys(word).empty() || !runnel::input::find_keys(one).empty() ||
           !runnel::input::find_keys(word + "s").empty()));
  }
}

TEST_CASE("no sentence is longer than a breath") {
  constexpr std::size_t most_words = 36;
  static const std::regex end("[.?!:;](\\s|$)");
  std::size_t sentences = 0;
  for (const Text& text : texts()) {
    std::sregex_token_iterator at(text.words.begin(), text.words.end(), end, -1);
    for (; at != std::sregex_token_iterator(); ++at) {
      ++sentences;
      INFO(text.file << ": " << at->str());
      CHECK(words_of(at->str()).size() <= most_words);
    }
  }
  CHECK(sentences > 2000);
}

TEST_CASE("the pages and the rules are among the texts") {
  CHECK(pages().size() >= 15);
  CHECK(rule_texts().size() > 80);
  CHECK(prose_of("# A head\n\nOne [link](to/it) of two.\n- item\n  goes on\n```sh\nlost\n```\n| lost |\n") ==
        ".\n.\nOne [link] of two.\n.\n- item\n  goes on\n.\n.\n.\n.\n");
}
