// What to do, and what to watch.
#include <algorithm>
#include <map>
#include <string_view>
#include <utility>

#include "runnel/base/capital.h"
#include "runnel/report/brief.h"
#include "runnel/report/render_text.h"
#include "runnel/report/text_parts.h"
#include "runnel/verdict/acts.h"

namespace runnel::report {
namespace {

/// A remark on a figure begins in lower case, without a full stop, as it stands beside its line of the model.
std::string as_sentence(std::string text) {
  if (text.empty() || std::string_view(".?!").find(text.back()) != std::string_view::npos) return text;
  return with_capital(std::move(text)) + ".";
}

}  // namespace

bool said_already(const std::string& said, const std::string& text) {
  constexpr std::size_t telling = 20;  // shorter beginnings may be those of something else
  const std::size_t detail = text.find(", ", telling);
  return said.find(text.substr(0, detail == std::string::npos ? text.size() - 1 : detail)) !=
         std::string::npos;
}

/// A decimal point has no blank after it, so it ends none.
std::string first_sentence(const std::string& text) {
  const std::size_t end = text.find(". ");
  return as_sentence(end == std::string::npos ? text : text.substr(0, end + 1));
}

namespace {

std::string where_of(const Finding& f, const TextOptions& options) {
  std::string text = f.where.place.empty() ? f.where.pipeline : f.where.place;
  if (f.where.station_m && f.where.place.empty())
    text = shown(Kind::length, *f.where.station_m, options) + " of " + text;
  return text;
}

/// The first finding of a kind in its own words, the others only by their places.
std::string told_once(const std::vector<const Finding*>& kind, const TextOptions& options) {
  constexpr std::size_t named = 3;
  const Finding& f = *kind.front();
  std::string text = first_sentence(units::render(f.message, f.figures, options.units));
  std::vector<std::string> others;
  for (std::size_t i = 1; i < kind.size(); ++i)
    if (std::string where = where_of(*kind[i], options); !where.empty()) others.push_back(std::move(where));
  for (std::size_t i = 0; i < others.size() && i < named; ++i)
    text += (i == 0 ? " So too: " : ", ") + others[i];
  if (others.size() > named) text += " and " + std::to_string(others.size() - named) + " more";
  if (!others.empty()) text += ".";
  if (!f.advice.empty()) text += " " + first_sentence(units::render(f.advice, f.figures, options.units));
  return text;
}

}  // namespace

Document fitted(const std::vector<Document>& items, std::size_t least, int most_lines,
                const std::string& title, const std::string& one, const std::string& many,
                const TextOptions& options) {
  Document out;
  out.section(title);
  int used = lines_of(out, options);
  std::size_t shown_items = 0;
  for (const Document& item : items) {
    const bool last = shown_items + 1 == items.size();
    const int more = lines_of(item, options);
    if (shown_items >= least && used + more + (last ? 0 : 1) > most_lines) break;
    out.append(item);
    used += more;
    ++shown_items;
  }
  const std::size_t left = items.size() - shown_items;
  if (left > 0)
    out.paragraph(std::to_string(left) + (shown_items > 0 ? " more " : " ") + (left == 1 ? one : many), 1);
  return out;
}

std::size_t list_outcomes(const std::vector<std::string>& outcomes, int most_lines,
                          const TextOptions& options, Document& out) {
  std::size_t told = 0;
  for (; told < outcomes.size(); ++told) {
    Document with = out;
    with.line(outcomes[told]);
    if (told > 0 && lines_of(with, options) >= most_lines) break;
    out = std::move(with);
  }
  return outcomes.size() - told;
}

std::string more_of(std::size_t left) { return left == 1 ? "One more" : std::to_string(left) + " more"; }

Document acts_section(const std::vector<verdict::Sentence>& acts, const std::string& otherwise,
                      int most_lines, const TextOptions& options) {
  if (acts.empty()) return Document().paragraph(otherwise);
  std::vector<Document> items;
  for (const verdict::Sentence& act : acts)
    items.push_back(Document().act(static_cast<int>(items.size()) + 1, rendered(act, options)));
  return fitted(items, 1, most_lines, "Do this", "thing to do; -v shows it.", "things to do; -v shows them.",
                options);
}

Document acts_section(const FlowAnswer& answer, int most_lines, const TextOptions& options) {
  // Water that comes may still break what is shut on it in haste.
  const auto& all = answer.verdict.findings;
  const bool strikes =
      std::any_of(all.begin(), all.end(), [](const Finding& f) { return f.code == "surge-above-rating"; });
  return acts_section(verdict::acts_of(answer.verdict),
                      answer.verdict.good()
                          ? strikes ? "Nothing needs changing for the water to come; see what to watch."
                                    : "Nothing needs changing."
                          : "No single change that was tried helps; -v tells all that was found.",
                      most_lines, options);
}

namespace {

/// Where trapped air stops or slows the water, the high point stands among the acts already.
bool acted_upon(const Finding& f, const std::vector<Finding>& all) {
  return f.code == "air-crest" && std::any_of(all.begin(), all.end(), [](const Finding& o) {
           return o.code == "air-start-blocked" || o.code == "air-start-doubtful" ||
                  o.code == "air-held-flow";
         });
}

/// Whether the sentence, or the row of a need that is missed, has told it.
bool told_with_needs(const Finding& f, const verdict::FlowVerdict& verdict) {
  return f.code == "ask-not-met" || f.code.rfind("air-", 0) == 0 ||
         std::any_of(verdict.asks.begin(), verdict.asks.end(), [&](const verdict::AskResult& r) {
           return r.judged && !r.met && r.ask.at == f.where.place;
         });
}

}  // namespace

Document wrong_section(const FlowAnswer& answer, int most_lines, const TextOptions& options) {
  const auto& verdict = answer.verdict;
  const bool in_sentence = std::none_of(verdict.asks.begin(), verdict.asks.end(),
                                        [](const verdict::AskResult& r) { return r.judged && !r.met; });
  const std::string said = units::render(verdict.sentence.text(), verdict.sentence.figures(), options.units);
  std::vector<std::string> wrong;
  for (const Finding& f : verdict.findings)
    if (f.severity == Severity::error && !told_with_needs(f, verdict))
      wrong.push_back(first_sentence(units::render(f.message, f.figures, options.units)));
  if (in_sentence) {
    // The sentence tells one of them, the first if in words of its own.
    const auto told = std::find_if(wrong.begin(), wrong.end(),
                                   [&](const std::string& one) { return said_already(said, one); });
    if (!wrong.empty()) wrong.erase(told == wrong.end() ? wrong.begin() : told);
  }
  std::vector<Document> items;
  for (const std::string& one : wrong) items.push_back(Document().item(one));
  if (items.empty()) return {};
  return fitted(items, 0, most_lines, "Also wrong", "thing is wrong; -v tells it.",
                "things are wrong; -v tells them.", options);
}

Document watch_section(const std::vector<Finding>& findings, int most_lines, const TextOptions& options) {
  std::vector<std::string> codes;
  std::map<std::string, std::vector<const Finding*>> kinds;
  for (const Finding& f : findings) {
    if (f.severity != Severity::warning || verdict::bearing(f) != verdict::Ruling::holds) continue;
    if (acted_upon(f, findings)) continue;
    if (!kinds.count(f.code)) codes.push_back(f.code);
    kinds[f.code].push_back(&f);
  }
  if (codes.empty()) return {};
  std::vector<Document> items;
  for (const std::string& code : codes) items.push_back(Document().item(told_once(kinds[code], options)));
  return fitted(items, 0, most_lines, "Watch", "thing to watch; -v tells it.",
                "things to watch; -v tells them.", options);
}

}  // namespace runnel::report
