// The words of the trade: in order, each once, plain.
#include "runnel/report/terms.h"

#include <algorithm>
#include <catch2/catch.hpp>
#include <set>

#include "runnel/input/language.h"
#include "runnel/report/value_words.h"

using namespace runnel::report;

TEST_CASE("every term stands once, in order, and ends as a sentence") {
  std::set<std::string> names;
  CHECK(terms().size() >= 40);
  std::string before;
  for (const Term& term : terms()) {
    INFO(term.word);
    CHECK(before < plain_word(term.word));
    before = plain_word(term.word);
    CHECK(names.insert(before).second);
    CHECK(term.meaning.size() > 25);
    CHECK(term.meaning.back() == '.');
    std::string other;
    for (const char c : std::string(term.others) + ",") {
      if (c != ',') {
        if (!other.empty() || c != ' ') other += c;
        continue;
      }
      if (!other.empty()) CHECK(names.insert(other).second);
      if (!other.empty()) CHECK(find_term(other) == &term);
      other.clear();
    }
  }
}

TEST_CASE("a term is found by any of its names, in any spelling, and by nothing else") {
  for (const char* name : {"Grade Line", "grade-line", "hydraulic_grade_line"}) {
    INFO(name);
    REQUIRE(find_term(name) != nullptr);
    CHECK(find_term(name)->word == "grade line");
  }
  for (const char* name : {"", ",", "crest, summit", "grade", "line"}) {
    INFO(name);
    CHECK(find_term(name) == nullptr);
  }
}

TEST_CASE("the sentences of the terms are short") {
  for (const Term& term : terms()) {
    std::size_t blanks = 0;
    for (const char c : term.meaning) {
      blanks = c == '.' ? 0 : blanks + (c == ' ' ? 1u : 0u);
      INFO(term.word);
      CHECK(blanks <= 36);
    }
  }
}

TEST_CASE("explain knows every word that a key takes as its value") {
  CHECK(runnel::input::language_values().size() >= 55);
  std::set<std::string> taken;
  for (const runnel::input::LanguageValue& value : runnel::input::language_values()) {
    INFO("`" << value.key << ": " << value.word << "` in " << value.block);
    CHECK(find_value_word(value.word) != nullptr);
    taken.insert(value.word);
  }
  for (const char* word :
       {"hazen-williams", "beef cattle", "fine sand", "nrcs 2017", "sewer", "sealed", "yes"})
    CHECK(taken.contains(word));
  for (const ValueWord& value : value_words()) {
    INFO(value.word);
    CHECK(taken.contains(value.word));  // nothing is explained that no key takes
    CHECK(value.meaning.back() == '.');
  }
}

TEST_CASE("explain knows the words at the head of the tables") {
  for (const char* word : {"rated", "running", "static", "range", "refill", "bypass", "margin", "station",
                           "high point", "crest"}) {
    INFO(word);
    CHECK(find_term(word) != nullptr);
  }
}
