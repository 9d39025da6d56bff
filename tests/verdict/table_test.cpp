// A table of models, each broken in one way somebody might or sound in a way that looks odd, and what the
// answer to each must be: the ruling, what the first sentence says, and a finding.
#include <catch2/catch.hpp>
#include <chrono>
#include <cstdlib>
#include <fstream>
#include <iterator>
#include <set>
#include <sstream>

#include "runnel/document/tree.h"
#include "runnel/input/read_model.h"
#include "runnel/report/words.h"
#include "runnel/units/print.h"
#include "runnel/verdict/acts.h"
#include "runnel/verdict/answer.h"
#include "runnel/verdict/fill_answer.h"
#include "runnel/verdict/sizes_tried.h"
#include "runnel/verdict/year_states.h"
#include "verdict/stays.h"

namespace {

namespace verdict = runnel::verdict;
using runnel::document::Node;

std::string slurp(const std::string& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// The text with every line that numbers something (`{n}`, and `{n+1}` for the next) as often as `times`.
std::string repeated(const std::string& text, int times) {
  const auto numbered = [](std::string line, const std::string& mark, int number) {
    for (auto at = line.find(mark); at != std::string::npos; at = line.find(mark))
      line.replace(at, mark.size(), std::to_string(number));
    return line;
  };
  std::istringstream lines(text);
  std::string all;
  for (std::string line; std::getline(lines, line);) {
    const bool once = line.find("{n") == std::string::npos;
    for (int n = 1; n <= (once ? 1 : times); ++n)
      all += numbered(numbered(line, "{n}", n), "{n+1}", n + 1) + "\n";
  }
  return all;
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
  if (const Node* times = c.find("times")) text = repeated(text, std::stoi(times->text));
  return text;
}

/// One text, or a list of them; none if the key is not there.
std::vector<std::string> texts(const Node* node) {
  std::vector<std::string> all;
  if (!node) return all;
  if (node->items.empty()) return {node->text};
  for (const auto& item : node->items) all.push_back(item->text);
  return all;
}

std::string si(const std::string& text, const std::vector<runnel::Figure>& figures) {
  return runnel::units::render(text, figures, runnel::units::UnitSystem::si);
}

/// What to do about an answer, an act a line; or that nothing is.
std::string acts(const verdict::Answer& answer) {
  std::string told;
  for (const auto& act : verdict::acts_of(answer.leading().verdict))
    told += "- " + si(act.text(), act.figures()) + "\n";
  return told.empty() ? "nothing" : told;
}

/// What each finding weighs, a finding a line: its severity and code, where it is, and its figure against its
/// limit.
std::string weighed(const verdict::Answer& answer) {
  std::string told;
  for (const auto& f : answer.leading().verdict.findings) {
    told += std::string(runnel::report::word(f.severity)) + " " + f.code + ": " + f.where.place +
            f.where.pipeline;
    if (f.where.station_m) told += si(" at {0}", {{runnel::Kind::length, *f.where.station_m}});
    if (f.figure && f.limit) told += si(", {0} against {1}", {*f.figure, *f.limit});
    told += "\n";
  }
  return told;
}

/// What the findings rest on, a source a line.
std::string sources(const verdict::Answer& answer) {
  std::string told;
  for (const auto& f : answer.leading().verdict.findings) told += f.source + "\n";
  return told;
}

/// When the first water comes, from the soonest to the latest: on every way the end of each line, and the
/// end.
std::string arrivals(const verdict::Answer& answer) {
  std::string told;
  if (!answer.leading().verdict.air) return told;
  for (const auto& way : answer.leading().verdict.air->paths) {
    if (!way.first_water) continue;
    const auto& ends = way.first_water->ends;
    for (const auto& end : ends) {
      told += way.path.end;
      if (&end != &ends.back()) told += si(" past {0}", {{runnel::Kind::length, end.station_m}});
      told += si(" after {0} to {1}", {{runnel::Kind::duration, end.earliest_s.value_or(0.0)},
                                       {runnel::Kind::duration, end.full_bore_s}}) +
              "\n";
    }
  }
  return told;
}

/// The pipe of the model in its next sizes, a size a line: what comes, whether that is enough, how it starts,
/// and what presses at most against the rating.
std::string sizes(const verdict::Answer& answer) {
  std::string told;
  for (const auto& size : verdict::next_sizes(answer.leading().system, answer.leading().verdict)) {
    const auto starts = static_cast<int>(size.starts);
    told += size.pipe + si(" {0}, ", {size.gets}) + (size.met ? "enough" : "too little") +
            (starts == 0   ? ", starts"
             : starts == 1 ? ", doubtful"
                           : ", blocked") +
            si(", {0}", {{runnel::Kind::pressure, size.most_pa}}) + "\n";
  }
  return told;
}

/// What following the tanks for three days says, and its findings, in one text.
std::string filled(const runnel::network::Model& model, verdict::FillAsked asked) {
  asked.options.duration_s = 3.0 * 86400.0;
  const auto answered = verdict::fill_model(model, asked);
  CHECK(answered);
  if (!answered) return "";
  std::string told =
      runnel::units::render(answered.value->sentence.text(), answered.value->sentence.figures(),
                            runnel::units::UnitSystem::si) +
      "\n";
  for (const auto& run : answered.value->runs)
    for (const auto& f : run.verdict.findings)
      told += runnel::units::render(f.message, f.figures, runnel::units::UnitSystem::si) + "\n";
  return told;
}

/// The setting whose year leads.
std::string year_of(const runnel::network::Model& model) {
  const auto answered = verdict::answer_year(model, std::nullopt);
  CHECK(answered);
  return answered ? answered.value->leading().setting : "";
}

/// A key that nobody reads would be a row that cannot fail.
void check_keys(const Node& c) {
  static const std::set<std::string> known{
      "name",  "base",    "change",  "append", "times",       "ruling",           "says",
      "lacks", "finds",   "spares",  "tells",  "acts",        "weighs",           "rests_on",
      "sizes", "arrives", "year_of", "fills",  "fills_lacks", "fills_from_empty", "fills_without_springs"};
  for (const auto& entry : c.entries) {
    INFO(entry.key);
    CHECK(known.count(entry.key) == 1);
  }
}

void check(const Node& bases, const Node& c) {
  check_keys(c);
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
      runnel::units::render(answer.sentence.text(), answer.sentence.figures(), runnel::units::UnitSystem::si);
  INFO(sentence);
  CHECK(std::string(runnel::report::word(answer.ruling())) == c.find("ruling")->text);
  for (const std::string& piece : texts(c.find("says"))) CHECK_THAT(sentence, Catch::Contains(piece));
  // What leads may be a setting or a turn of the taps, which is named before the sentence.
  const bool named = sentence.starts_with("Under the setting") || sentence.starts_with("In the hours");
  const std::string said = named ? sentence.substr(sentence.find(": ") + 2) : sentence;
  const bool favourable = said.starts_with("It delivers") || said.starts_with("Water arrives") ||
                          said.starts_with("No water runs, because");
  CHECK(favourable == answer.good());
  if (const Node* lacks = c.find("lacks")) CHECK_THAT(sentence, !Catch::Contains(lacks->text));
  std::string told;
  for (const auto& f : answer.leading().verdict.findings)
    for (const std::string& piece : {f.message, f.advice})
      told += runnel::units::render(piece, f.figures, runnel::units::UnitSystem::si) + "\n";
  for (const std::string& piece : texts(c.find("tells"))) CHECK_THAT(told, Catch::Contains(piece));
  const auto stands_in = [&](const char* key, const auto& text_of) {
    if (!c.find(key)) return;
    const std::string all = text_of();
    for (const std::string& piece : texts(c.find(key))) CHECK_THAT(all, Catch::Contains(piece));
  };
  if (const Node* lacks = c.find("fills_lacks"))
    CHECK_THAT(filled(*model.value, {}), !Catch::Contains(lacks->text));
  stands_in("year_of", [&] { return year_of(*model.value); });
  stands_in("fills", [&] { return filled(*model.value, {}); });
  stands_in("fills_from_empty", [&] { return filled(*model.value, {.options = {.from_empty = true}}); });
  stands_in("fills_without_springs", [&] { return filled(*model.value, {.springs_stop = true}); });
  stands_in("acts", [&] { return acts(answer); });
  stands_in("arrives", [&] { return arrivals(answer); });
  stands_in("weighs", [&] { return weighed(answer); });
  stands_in("rests_on", [&] { return sources(answer); });
  stands_in("sizes", [&] { return sizes(answer); });
  for (const verdict::Run& run : answer.runs) CHECK_FALSE(run.verdict.sentence.empty());
  if (answer.good())
    for (const verdict::Run& run : answer.runs) runnel::test::check_that_it_stays(run);
  std::set<std::string> codes;
  for (const auto& f : answer.leading().verdict.findings) codes.insert(f.code);
  for (const std::string& code : texts(c.find("finds"))) {
    INFO(code);
    CHECK(codes.count(code) == 1);
  }
  for (const std::string& code : texts(c.find("spares"))) {
    INFO(code);
    CHECK(codes.count(code) == 0);
  }
}

const Node& table() {
  static const auto tree =
      runnel::document::read(slurp(RUNNEL_SOURCE_DIR "/tests/verdict/table/cases.yaml"), "cases.yaml");
  for (const auto& f : tree.findings) UNSCOPED_INFO(f.mark.line << ": " << f.message);
  REQUIRE(tree);
  return **tree.value;
}

}  // namespace

TEST_CASE("every model of the table is answered as it must be") {
  const Node &bases = *table().find("bases"), &cases = *table().find("cases");
  CHECK(cases.items.size() >= 80);
  for (const auto& c : cases.items) {
    INFO(c->mark.line << " " << c->find("name")->text);
    check(bases, *c);
  }
}

TEST_CASE("no filling of the table passes what the steady answer fails", "[many]") {
  for (const auto& c : table().find("cases")->items) {
    const auto ruling = c->find("ruling")->text;
    if (ruling == "holds" || ruling == "only if") continue;
    const auto model = runnel::input::read_model(model_of(*table().find("bases"), *c), "case.yaml");
    REQUIRE(model);
    const auto filled = verdict::fill_model(*model.value, {.options = {.duration_s = 86400.0}});
    INFO(c->mark.line << " " << c->find("name")->text);
    REQUIRE(filled);
    CHECK_FALSE(verdict::is_good(filled.value->ruling()));
  }
}

#ifdef RUNNEL_MUTANTS
// For tests/mutants/run.py: rows by their number in the table, and which comparisons of the rules each asks
// for.
TEST_CASE("rows of the table by number", "[.]") {
  const Node &bases = *table().find("bases"), &cases = *table().find("cases");
  std::set<int> rows;
  std::istringstream chosen(std::getenv("RUNNEL_ROWS") ? std::getenv("RUNNEL_ROWS") : "");
  for (int row = 0; chosen >> row;) rows.insert(row);
  std::ofstream log(std::getenv("RUNNEL_MUTANT_LOG") ? std::getenv("RUNNEL_MUTANT_LOG") : "/dev/null");
  int row = 0;
  for (const auto& c : cases.items) {
    if (++row; !rows.empty() && rows.count(row) == 0) continue;
    auto& reached = runnel_mutants::the_switch.reached;
    reached.reset();
    const auto began = std::chrono::steady_clock::now();
    check(bases, *c);
    log << row << ' ' << std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
    for (std::size_t number = 0; number < reached.size(); ++number)
      if (reached.test(number)) log << ' ' << number;
    log << std::endl;
  }
}
#endif
