#include <algorithm>
#include <limits>

#include "runnel/document/tree.h"
#include "runnel/report/brief.h"
#include "runnel/report/harmless.h"
#include "runnel/report/text.h"
#include "runnel/report/text_parts.h"
#include "runnel/report/words.h"

namespace runnel::report {

std::string heading(const std::string& words, const TextOptions& options) {
  return "\n" + Paint{options.colour}.bold(words) + "\n";
}

std::string shown(Kind kind, double si, const TextOptions& options) {
  return units::show({kind, si}, options.units);
}

std::string short_name(const std::string& name) { return cut(harmless(name), 28); }

std::string listed(const std::vector<std::string>& names) {
  std::string text;
  for (const std::string& name : names) text += (text.empty() ? "" : ", ") + harmless(name);
  return text;
}

std::string way_of_running(const std::string& setting, const std::string& before) {
  return setting == verdict::as_drawn ? "as drawn" : before + harmless(setting);
}

std::string setting_words(const std::string& setting) {
  const std::string words = way_of_running(setting, "setting \"");
  return setting == verdict::as_drawn ? words : words + "\"";
}

namespace {

std::string settings_text(const verdict::Answer& whole, const TextOptions& options) {
  std::string out = heading("Settings", options);
  for (const verdict::Run& run : whole.runs) {
    const verdict::Sentence& said = run.verdict.sentence;
    out += paragraph(way_of_running(run.setting) + ": " +
                         harmless(units::render(said.text(), said.figures(), options.units)),
                     2, 4, options.width);
  }
  return out;
}

}  // namespace

std::string flow_text(const FlowAnswer& answer, const TextOptions& wanted) {
  TextOptions options = wanted;
  options.width = std::max(60, options.width);
  const Paint paint{options.colour};
  const verdict::Sentence& said = answer.whole ? answer.whole->sentence : answer.verdict.sentence;
  const std::string sentence =
      paragraph(harmless(units::render(said.text(), said.figures(), options.units)), 0, 0, options.width);
  std::string out = answer.verdict.good() ? paint.good(sentence) : paint.bad(sentence);
  std::string about = answer.system.name().empty() ? "This model" : harmless(answer.system.name());
  about += ", " + setting_words(answer.setting) + ".";
  if (!answer.system.note().empty()) about += " " + harmless(answer.system.note());
  out += paragraph(about, 0, 0, options.width);
  if (answer.whole && answer.whole->runs.size() > 1) out += settings_text(*answer.whole, options);
  const bool figures = verdict::has_figures(answer.verdict.ruling);
  if (figures) {
    out += acts_text(answer, std::numeric_limits<int>::max(), options);
    out += places_text(answer, options);
    out += air_text(answer, options);
    out += lines_text(answer, options);
    out += air_lines_text(answer, options);
  }
  out += findings_text(answer.verdict.findings, options);
  if (figures) out += basis_text(answer, options);
  return out;
}

namespace {

/// The finding with its figures in the reader's units. `excerpt` wants a person's own braces still doubled.
Finding in_words(const Finding& finding, units::System units) {
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
