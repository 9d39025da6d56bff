#include <algorithm>
#include <limits>

#include "runnel/document/tree.h"
#include "runnel/report/brief.h"
#include "runnel/report/harmless.h"
#include "runnel/report/render_text.h"
#include "runnel/report/text_parts.h"
#include "runnel/report/words.h"

namespace runnel::report {

std::string shown(Kind kind, double si, const TextOptions& options) {
  return units::show({kind, si}, options.units);
}

std::string short_name(const std::string& name) { return cut(harmless(name), 28); }

std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ", ") + name;
  return text;
}

std::string rendered(const verdict::Sentence& s, const TextOptions& options) {
  return units::render(s.text(), s.figures(), options.units);
}

std::string way_of_running(const std::string& setting, const std::string& before) {
  return setting == verdict::as_drawn ? "as drawn" : before + setting;
}

std::string setting_words(const std::string& setting) {
  const std::string words = way_of_running(setting, "setting \"");
  return setting == verdict::as_drawn ? words : words + "\"";
}

std::string about_words(const std::string& model, const std::string& setting) {
  return (model.empty() ? "This model" : model) + ", " + setting_words(setting);
}

std::string outcome_words(const std::string& setting, const verdict::Sentence& sentence,
                          const TextOptions& options) {
  return way_of_running(setting) + ": " + rendered(sentence, options);
}

namespace {

Document settings_section(const verdict::Answer& whole, const TextOptions& options) {
  Document out;
  out.section(whole.by_turns() ? "Settings and hours" : "Settings");
  for (const verdict::Run& run : whole.runs)
    out.line(outcome_words(run.setting, run.verdict.sentence, options));
  return out;
}

}  // namespace

Document flow_document(const FlowAnswer& answer, const TextOptions& options) {
  Document out;
  const verdict::Sentence& said = answer.whole ? answer.whole->sentence : answer.verdict.sentence;
  out.statement(rendered(said, options), answer.verdict.good());
  std::string about = about_words(answer.system.name(), answer.setting) + ".";
  if (!answer.system.note().empty()) about += " " + answer.system.note();
  out.paragraph(about);
  if (answer.whole && answer.whole->runs.size() > 1) out.append(settings_section(*answer.whole, options));
  const bool figures = verdict::has_figures(answer.verdict.ruling);
  if (figures) {
    out.append(acts_section(answer, std::numeric_limits<int>::max(), options));
    out.append(places_section(answer, options));
    out.append(air_section(answer, options));
    out.append(lines_section(answer, options));
    out.append(air_lines_section(answer, options));
  }
  out.append(findings_sections(answer.verdict.findings, options));
  if (figures) out.append(basis_section(answer, options));
  return out;
}

std::string flow_text(const FlowAnswer& answer, const TextOptions& options) {
  return render_text(flow_document(answer, options), options);
}

namespace {

/// The finding with its figures in the reader's units. `excerpt` wants a person's own braces still doubled.
Finding in_words(const Finding& finding, units::UnitSystem units) {
  Finding out = finding;
  for (std::string* text : {&out.message, &out.advice}) {
    std::string doubled;
    for (char c : units::render(*text, finding.figures, units)) {
      doubled += c;
      if (c == '{' || c == '}') doubled += c;
    }
    *text = std::move(doubled);
  }
  return out;
}

}  // namespace

std::string input_text(const std::vector<Finding>& findings, const Texts& texts, const TextOptions& options) {
  std::string out;
  for (const Finding& f : findings) {
    if (!out.empty()) out += "\n";
    std::string said;
    if (f.mark.known()) {
      const auto text = texts.find(f.mark.file);
      said = document::excerpt(in_words(f, options.units),
                               text == texts.end() ? std::string_view() : std::string_view(text->second),
                               options.colour, options.width);
    } else {
      said =
          std::string(word(f.severity)) + ": " + harmless(units::render(f.message, f.figures, options.units));
      if (!f.advice.empty()) said += "\n  " + harmless(units::render(f.advice, f.figures, options.units));
    }
    out += said;
    if (out.back() != '\n') out += "\n";
  }
  return out;
}

}  // namespace runnel::report
