// A table of models, each broken in one way somebody might or sound in a way that looks odd, and what the
// answer to each must be: the ruling, what the first sentence says, and a finding.
#include <catch2/catch.hpp>
#include <fstream>
#include <iterator>
#include <set>

#include "runnel/document/tree.h"
#include "runnel/input/read_model.h"
#include "runnel/report/words.h"
#include "runnel/units/print.h"
#include "runnel/verdict/answer.h"
#include "verdict/stays.h"

namespace {

namespace verdict = runnel::verdict;
using runnel::document::Node;

std::string slurp(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// The base model with the changes of a case; every text that is changed must be there.
std::string model_of(const Node& bases, const Node& c) {
  std::string text = bases.find(c.find("base")->text)->text;
  if (const Node* changes = c.find("change"))
    for (const auto& change : changes->items) {
      const std::string& from = change->items.at(0)->text;
      const std::size_t at = text.find(from);
      INFO(from);
      CHECK(at != std::string::npos);
      if (at == std::string::npos) return "";
      text.replace(at, from.size(), change->items.at(1)->text);
    }
  if (const Node* more = c.find("append")) text += more->text;
  return text;
}

void check(const Node& bases, const Node& c) {
  const std::string text = model_of(bases, c);
  const auto model = runnel::input::read_model(text, "case.yaml");
  for (const auto& f : model.findings) UNSCOPED_INFO(f.code << ": " << f.message);
  INFO(text);
  CHECK(model);
  if (!model) return;
  const auto answered = verdict::answer_model(*model.value);
  for (const auto& f : answered.findings) UNSCOPED_INFO(f.code << ": " << f.message);
  CHECK(answered);
  if (!answered) return;
  const verdict::Answer& answer = *answered.value;
  const std::string sentence =
      runnel::units::render(answer.sentence.text(), answer.sentence.figures(), runnel::units::System::si);
  INFO(sentence);
  CHECK(std::string(runnel::report::word(answer.ruling())) == c.find("ruling")->text);
  CHECK_THAT(sentence, Catch::Contains(c.find("says")->text));
  const bool favourable = sentence.starts_with("It delivers") || sentence.starts_with("Water arrives");
  CHECK(favourable == answer.good());
  if (const Node* lacks = c.find("lacks")) CHECK_THAT(sentence, !Catch::Contains(lacks->text));
  if (const Node* advises = c.find("advises")) {
    std::string advice;
    for (const auto& f : answer.leading().verdict.findings)
      advice += runnel::units::render(f.advice, f.figures, runnel::units::System::si) + "\n";
    CHECK_THAT(advice, Catch::Contains(advises->text));
  }
  if (answer.good())
    for (const verdict::Run& run : answer.runs) runnel::test::check_that_it_stays(run);
  if (!c.find("finds")) return;
  std::set<std::string> codes;
  for (const auto& f : answer.leading().verdict.findings) codes.insert(f.code);
  CHECK(codes.count(c.find("finds")->text) == 1);
}

}  // namespace

TEST_CASE("every model of the table is answered as it must be") {
  const auto tree =
      runnel::document::read(slurp(RUNNEL_SOURCE_DIR "/tests/verdict/table/cases.yaml"), "cases.yaml");
  for (const auto& f : tree.findings) UNSCOPED_INFO(f.mark.line << ": " << f.message);
  REQUIRE(tree);
  const Node& bases = *(*tree.value)->find("bases");
  const Node& cases = *(*tree.value)->find("cases");
  CHECK(cases.items.size() >= 80);
  for (const auto& c : cases.items) {
    INFO(c->mark.line << " " << c->find("name")->text);
    check(bases, *c);
  }
}
