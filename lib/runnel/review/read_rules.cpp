#include "runnel/review/read_rules.h"

#include <algorithm>
#include <stdexcept>

#include "runnel/base/embedded.h"
#include "runnel/document/quote.h"
#include "runnel/document/tree.h"
#include "runnel/pipes/fields.h"
#include "runnel/review/measure.h"
#include "runnel/units/parse.h"

namespace runnel::review {

namespace {

using document::Node;
using pipes::Fields;

units::Dimension dimension_of(Kind kind) {
  switch (kind) {
    case Kind::percent:
      return units::Dimension::ratio;
    case Kind::length:
    case Kind::bore:
    case Kind::elevation:
    case Kind::head:
      return units::Dimension::length;
    case Kind::pressure:
      return units::Dimension::pressure;
    case Kind::flow:
      return units::Dimension::flow;
    case Kind::velocity:
      return units::Dimension::velocity;
    case Kind::volume:
      return units::Dimension::volume;
    case Kind::duration:
      return units::Dimension::duration;
    case Kind::temperature:
      return units::Dimension::temperature;
    case Kind::slope:
      return units::Dimension::slope;
    case Kind::number:
      break;
  }
  return units::Dimension::number;
}

std::vector<std::string> measure_names() {
  std::vector<std::string> names;
  for (const Measure& measure : measures()) names.emplace_back(measure.name);
  return names;
}

const Measure* read_measure(Fields& fields, const std::string& what) {
  const auto name = fields.text("measures");
  if (!name) return nullptr;
  if (const Measure* measure = find_measure(*name)) return measure;
  const std::string near = document::nearest(*name, measure_names());
  std::string hint = near.empty() ? "there are " : "did you mean " + document::quote(near) + "?";
  if (near.empty())
    for (const std::string& one : measure_names()) hint += (hint.size() > 10 ? ", " : "") + one;
  fields.error("rule-measures-nothing", fields.mark("measures"),
               document::quote(*name) + " of " + what + " is nothing that is measured", hint);
  return nullptr;
}

void read_limit(Fields& fields, const Measure& measure, const std::string& what, Rule& rule) {
  const units::Dimension dimension = dimension_of(measure.kind);
  const bool says_most = fields.find("at_most") != nullptr, says_least = fields.find("at_least") != nullptr;
  const auto most = says_most ? fields.quantity("at_most", dimension) : std::nullopt;
  const auto least = says_least ? fields.quantity("at_least", dimension) : std::nullopt;
  if (most && least)
    fields.error("rule-two-limits", fields.mark("at_least"), what + " has two limits",
                 "make two rules of it, or keep one of at_most and at_least");
  if (!says_most && !says_least) fields.missing("at_most", "at_most: 72 %");
  rule.sense = most ? Sense::at_most : Sense::at_least;
  rule.limit = {measure.kind, most ? *most : least.value_or(0.0)};
}

void read_source(Fields& fields, std::vector<Finding>& findings, Rule& rule) {
  if (const Node* node = fields.find("source")) {
    Fields source(*node, findings, "the source");
    rule.source.title = source.text("title").value_or("");
    rule.source.year = source.text("year").value_or("");
    rule.source.section = source.text("section").value_or("");
    rule.source.key = source.text("key").value_or("");
    std::erase_if(rule.source.key, [](char c) { return c == '[' || c == ']'; });
    source.close();
  }
  static const std::vector<std::string> words = {"found", "secondary", "from memory", "computed", "user"};
  if (fields.find("certainty"))
    if (const auto word = fields.word("certainty", words))
      rule.certainty = static_cast<pipes::Certainty>(*word);
}

struct ReadRule {
  Rule rule;
  std::string reason, left_out;
  bool good = false;
};

/// `known`: the rule of that name in the set to be changed, if any; what is not written stays as it is there.
ReadRule read_rule(const document::Entry& entry, const Rule* known, std::vector<Finding>& findings) {
  const std::string what = "the rule " + document::quote(entry.key);
  ReadRule out;
  const std::size_t before = findings.size();
  if (known) out.rule = *known;
  out.rule.id = entry.key;
  out.rule.mark = entry.key_mark;
  Fields fields(*entry.value, findings, what);
  out.left_out = fields.text("leave_out").value_or("");
  out.reason = fields.text("reason").value_or("");
  const Measure* measure = known ? find_measure(known->measure) : read_measure(fields, what);
  if (!known && !fields.find("measures")) fields.missing("measures", "measures: velocity");
  if (measure) out.rule.measure = std::string(measure->name);
  if (const auto text = fields.text("text")) out.rule.text = *text;
  if (!known && out.rule.text.empty()) fields.missing("text", "text: Water runs no faster than this.");
  if (measure && out.left_out.empty()) read_limit(fields, *measure, what, out.rule);
  if (fields.find("weight"))
    if (const auto word = fields.word("weight", {"must", "advice"}))
      out.rule.weight = *word == 0 ? Weight::must : Weight::advice;
  read_source(fields, findings, out.rule);
  if (measure || known) fields.close();
  out.good = findings.size() == before;
  return out;
}

Finding& add_error(std::vector<Finding>& findings, std::string code, const Mark& mark, std::string message,
                   std::string advice) {
  Finding finding;
  finding.code = std::move(code);
  finding.message = std::move(message);
  finding.advice = std::move(advice);
  finding.mark = mark;
  findings.push_back(std::move(finding));
  return findings.back();
}

/// One word ("yes", "ok") is no reason.
bool says_why(const std::string& reason) {
  const std::size_t word = reason.find_first_not_of(' ');
  const std::size_t gap = word == std::string::npos ? word : reason.find(' ', word);
  return gap != std::string::npos && reason.find_first_not_of(' ', gap) != std::string::npos;
}

void no_reason(std::vector<Finding>& findings, const Mark& mark, std::string message) {
  add_error(
      findings, "relaxed-without-reason", mark, std::move(message),
      "say why in a few words (`reason:` or `leave_out:`), so that whoever reads the verdict can weigh it");
}

/// Puts a read rule into a set, or says why it may not stand there.
void place(ReadRule read, RuleSet& set, std::vector<Finding>& findings) {
  const auto at =
      std::find_if(set.rules.begin(), set.rules.end(), [&](const Rule& r) { return r.id == read.rule.id; });
  const std::string what = "the rule " + document::quote(read.rule.id);
  if (!read.left_out.empty()) {
    if (at != set.rules.end() && !says_why(read.left_out))
      no_reason(findings, read.rule.mark, what + " is left out");
    else if (at != set.rules.end()) {
      set.left_out.push_back({at->id, read.left_out});
      set.rules.erase(at);
    } else
      add_error(findings, "no-such-rule", read.rule.mark, "there is no rule to leave out: " + what,
                "`runnel review MODEL -v` lists those that hold");
    return;
  }
  if (at == set.rules.end()) {
    read.rule.changed = "added";
    set.rules.push_back(std::move(read.rule));
    return;
  }
  const bool other_sense = at->sense != read.rule.sense;
  const bool looser =
      at->sense == Sense::at_most ? read.rule.limit.si > at->limit.si : read.rule.limit.si < at->limit.si;
  const bool lighter = at->weight == Weight::must && read.rule.weight == Weight::advice;
  if ((looser || lighter || other_sense) && !says_why(read.reason)) {
    no_reason(findings, read.rule.mark, what + " is less strict than the set");
    return;
  }
  if (looser || lighter || other_sense)
    read.rule.changed = "relaxed: " + read.reason;
  else if (read.rule.limit.si != at->limit.si || read.rule.weight != at->weight)
    read.rule.changed = read.reason.empty() ? "tightened" : "tightened: " + read.reason;
  else if (read.rule.text != at->text || read.rule.source.title != at->source.title ||
           read.rule.source.key != at->source.key)
    read.rule.changed = "in the reader's own words";
  *at = std::move(read.rule);
}

void read_all(const Node& root, RuleSet& set, bool own, std::vector<Finding>& findings) {
  Fields fields(root, findings, "the file of rules");
  const auto name = fields.text("rules_for");
  const auto about = fields.text("about");
  if (!own) set.name = name.value_or(""), set.about = about.value_or("");
  const Node* rules = fields.find("rules");
  if (!rules) fields.missing("rules", "rules: {velocity: {measures: velocity, at_most: 5 ft/s}}");
  fields.close();
  if (!rules) return;
  if (rules->kind != Node::Kind::map) {
    add_error(findings, "not-a-block", rules->mark, "`rules` must be a block of rules by name",
              "velocity: {{measures: velocity, at_most: 5 ft/s}}");
    return;
  }
  for (const document::Entry& entry : rules->entries) {
    ReadRule read = read_rule(entry, own ? set.find(entry.key) : nullptr, findings);
    if (!read.good) continue;
    place(std::move(read), set, findings);
    if (!own) set.rules.back().changed.clear();
  }
}

Checked<RuleSet> read_into(RuleSet set, bool own, std::string_view text, const std::string& file) {
  Checked<RuleSet> out;
  auto document = document::read(text, file);
  out.findings = std::move(document.findings);
  if (!document) return out;
  read_all(**document.value, set, own, out.findings);
  for (Finding& finding : out.findings)
    if (finding.mark.file.empty()) finding.mark.file = file;
  if (!any_error(out.findings)) out.value = std::move(set);
  return out;
}

}  // namespace

Checked<RuleSet> read_rules(std::string_view text, const std::string& file) {
  return read_into({}, false, text, file);
}

Checked<RuleSet> with_own_rules(const RuleSet& base, std::string_view text, const std::string& file) {
  return read_into(base, true, text, file);
}

const std::vector<RuleSet>& standard_rule_sets() {
  static const std::vector<RuleSet> sets = [] {
    std::vector<RuleSet> all;
    std::vector<Rule> everywhere;  // on the works at a spring, whoever the water is for
    for (const base::EmbeddedFile& file : base::rule_files()) {
      auto read = read_rules(file.text, file.name);
      if (!read) throw std::logic_error(file.name + ": " + read.findings.front().message);
      if (read.value->name == "works")
        everywhere = std::move(read.value->rules);
      else
        all.push_back(std::move(*read.value));
    }
    for (RuleSet& set : all) set.rules.insert(set.rules.end(), everywhere.begin(), everywhere.end());
    return all;
  }();
  return sets;
}

const RuleSet* find_rule_set(std::string_view name) {
  for (const RuleSet& set : standard_rule_sets())
    if (set.name == name) return &set;
  return nullptr;
}

}  // namespace runnel::review
