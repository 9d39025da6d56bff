#include "runnel/report/compare.h"

#include <fmt/format.h>

#include <algorithm>

#include "runnel/report/json_parts.h"
#include "runnel/report/render_text.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {
namespace {

using verdict::AskResult;
using verdict::Ruling;

const char* comes_to(Ruling ruling) {
  switch (ruling) {
    case Ruling::holds:
      return "does";
    case Ruling::only_if:
      return "does, if ...";
    case Ruling::cannot_be_said:
      return "cannot be said";
    case Ruling::fails:
      return "FAILS";
    case Ruling::no_answer:
      return "no answer";
    case Ruling::unproved:
      break;
  }
  return "not proved";
}

/// A row of the table: what it is about, and a cell for each candidate.
using Row = std::vector<std::string>;

/// What a candidate gives to a need. Where the candidate itself asks for another amount, the cell says so,
/// since that is what it was judged on.
std::string got_words(const AskResult* ask, const Figure& asked, const TextOptions& options) {
  if (!ask) return "not asked";
  if (!ask->judged) return "not judged";
  const std::string got = ask->got ? shown(ask->got->kind, ask->got->si, options) : "nothing";
  const bool other = ask->asked.si != asked.si;
  return got + (ask->met ? "" : " NO") +
         (other ? " (asks " + shown(ask->asked.kind, ask->asked.si, options) + ")" : "");
}

/// Whether a candidate asks for less than another: a smaller amount, a longer time, or nothing.
bool asks_less(const AskResult* own, const AskResult& other) {
  if (!own) return true;
  return other.ask.kind == network::AskKind::full_within ? own->asked.si > other.asked.si
                                                         : own->asked.si < other.asked.si;
}

const AskResult* find_ask(const Candidate& candidate, const network::Ask& ask) {
  for (const AskResult& result : candidate.run->verdict.asks)
    if (result.ask.at == ask.at && result.ask.kind == ask.kind) return &result;
  return nullptr;
}

/// Every need of any candidate, each once.
std::vector<const AskResult*> all_asks(const std::vector<Candidate>& candidates) {
  std::vector<const AskResult*> all;
  for (const Candidate& candidate : candidates)
    for (const AskResult& result : candidate.run->verdict.asks) {
      const bool known = std::any_of(all.begin(), all.end(), [&](const AskResult* other) {
        return other->ask.at == result.ask.at && other->ask.kind == result.ask.kind;
      });
      if (!known) all.push_back(&result);
    }
  return all;
}

/// What a candidate comes to, with ", asks less" where some other candidate asks for more.
std::string comes_to(const Candidate& candidate, const std::vector<Candidate>& all) {
  const std::string word = comes_to(candidate.run->verdict.ruling);
  if (!verdict::is_good(candidate.run->verdict.ruling)) return word;
  if (candidate.run->verdict.asks.empty()) return "asks nothing";
  for (const Candidate& other : all)
    for (const AskResult& ask : other.run->verdict.asks)
      if (asks_less(find_ask(candidate, ask.ask), ask)) return word + ", asks less";
  return word;
}

/// The pipes of each line, as far as they differ.
void add_pipes(const std::vector<Candidate>& candidates, std::vector<Row>& rows) {
  for (const network::Line& line : candidates.front().run->system.lines()) {
    Row row{short_name(line.name)};
    for (const Candidate& candidate : candidates) {
      const network::Line* own = candidate.run->system.line(line.name);
      std::string pipes;
      if (own)
        for (const auto& laid : own->pipes) pipes += (pipes.empty() ? "" : ", ") + laid.pipe.name;
      row.push_back(own ? pipes : "-");
    }
    rows.push_back(std::move(row));
  }
}

std::vector<Row> rows_of(const std::vector<Candidate>& candidates, const TextOptions& options) {
  std::vector<Row> rows;
  for (const AskResult* ask : all_asks(candidates)) {
    Row row{
        fmt::format("{} asks {}", short_name(ask->ask.at), shown(ask->asked.kind, ask->asked.si, options))};
    for (const Candidate& candidate : candidates)
      row.push_back(got_words(find_ask(candidate, ask->ask), ask->asked, options));
    rows.push_back(std::move(row));
  }
  add_pipes(candidates, rows);
  Row length{"pipe in all"}, cost{"pipe costs"};
  for (const Candidate& candidate : candidates) {
    length.push_back(shown(Kind::length, candidate.pipe_m, options));
    cost.push_back(candidate.pipe_cost ? fmt::format("{:.2f}", *candidate.pipe_cost) : "-");
  }
  rows.push_back(std::move(length));
  rows.push_back(std::move(cost));
  return rows;
}

bool differs(const Row& row) {
  return std::any_of(row.begin() + 1, row.end(), [&](const std::string& cell) { return cell != row[1]; });
}

/// What is wrong with a candidate, by code; `runnel explain` explains the codes.
std::string failures(const Candidate& candidate, const TextOptions& options) {
  std::vector<std::string> codes;
  for (const Finding& finding : candidate.run->verdict.findings)
    if (finding.severity == Severity::error &&
        std::find(codes.begin(), codes.end(), finding.code) == codes.end())
      codes.push_back(finding.code);
  const verdict::Run& run = *candidate.run;
  const verdict::Sentence sentence =
      verdict::flow_sentence(run.system, run.state, run.verdict, /*listed_below=*/false);
  std::string text = candidate.name + ": " + rendered(sentence, options);
  for (const std::string& code : codes) text += (code == codes.front() ? " [" : ", ") + code;
  return text + (codes.empty() ? "" : "]");
}

}  // namespace

Document compare_document(const std::vector<Candidate>& candidates, const TextOptions& options) {
  std::vector<Column> columns{{}};
  std::vector<Cell> verdicts{"all that is asked"};
  for (const Candidate& candidate : candidates) {
    columns.push_back({short_name(candidate.name), Align::right});
    verdicts.push_back(comes_to(candidate, candidates));
  }
  Table table(columns);
  table.row(verdicts);
  std::size_t alike = 0;
  for (const Row& row : rows_of(candidates, options)) {
    const bool show = options.every_point || differs(row);
    if (show) table.row({row.begin(), row.end()});
    alike += !show;
  }
  if (alike > 0)
    table.note(fmt::format("{} more {} alike in all of them (-v shows them)", alike,
                           alike == 1 ? "row is" : "rows are"));
  Document out;
  out.add(table).section("In a sentence");
  for (const Candidate& candidate : candidates) out.line(failures(candidate, options));
  return out;
}

std::string compare_text(const std::vector<Candidate>& candidates, const TextOptions& options) {
  return render_text(compare_document(candidates, options), options);
}

std::string compare_json(const std::vector<Candidate>& candidates) {
  Json all = Json::array();
  for (const Candidate& candidate : candidates) {
    Json asks = Json::array();
    for (const AskResult& ask : candidate.run->verdict.asks)
      asks.push_back({{"at", ask.ask.at},
                      {"asked", figure_json(ask.asked)},
                      {"got", ask.got ? figure_json(*ask.got) : Json(nullptr)},
                      {"judged", ask.judged},
                      {"met", ask.met}});
    all.push_back({{"name", candidate.name},
                   {"setting", candidate.run->setting},
                   {"good", candidate.run->verdict.good()},
                   {"pipe_m", number(candidate.pipe_m, "pipe_m")},
                   {"pipe_cost", number(candidate.pipe_cost, "pipe_cost")},
                   {"asks", asks},
                   {"findings", findings_json(candidate.run->verdict.findings)}});
  }
  return dumped(Json{{"runnel", RUNNEL_VERSION}, {"candidates", all}});
}

}  // namespace runnel::report
