// The short answer of `fill`: one screen for a person who has to act on it.
#include "runnel/report/fill_brief.h"

#include <fmt/format.h>

#include <algorithm>
#include <iterator>

#include "runnel/losses/law_table.h"
#include "runnel/report/brief.h"
#include "runnel/report/emptying.h"
#include "runnel/report/fill_end.h"
#include "runnel/report/render_text.h"
#include "runnel/report/text_parts.h"
#include "runnel/verdict/acts.h"
#include "runnel/verdict/rules.h"
#include "runnel/verdict/ruling.h"

namespace runnel::report {
namespace {

constexpr int most_of_events = 11;  // more would leave no room for a chart

/// What each setting comes to; the one that leads has been told above.
Document settings_in_short(const verdict::FillAnswered& whole, int most_lines, const TextOptions& options) {
  Document out;
  out.section("Settings");
  std::vector<std::string> outcomes;
  for (const verdict::FillRun& run : whole.runs)
    outcomes.push_back(&run == &whole.leading() ? way_of_running(run.setting) + ": as said above."
                                                : outcome_words(run.setting, run.verdict.sentence, options));
  if (const std::size_t left = list_outcomes(outcomes, most_lines, options, out); left > 0)
    out.line(more_of(left) + "; -v shows all, and `--setting` one of them.");
  return out;
}

/// What is to be done about the air of the start: a run over time knows only the findings about it.
bool about_air(const Finding& f) { return f.code == "air-start-blocked" || f.code == "air-start-doubtful"; }

/// Advice on places says for which it is, and the same advice on several is told once.
std::vector<Finding> naming_places(std::vector<Finding> findings) {
  const auto of_place = [](const Finding& f) {
    return !f.where.place.empty() && f.where.pipeline.empty() && !f.mark.known() && !f.advice.empty() &&
           f.advice.find(f.where.place) == std::string::npos;
  };
  for (auto f = findings.begin(); f != findings.end(); ++f) {
    if (verdict::bearing(*f) == verdict::Ruling::holds || !of_place(*f)) continue;
    std::vector<std::string> places{f->where.place};
    for (auto other = std::next(f); other != findings.end(); ++other) {
      if (other->advice != f->advice || verdict::bearing(*other) != verdict::bearing(*f)) continue;
      if (!of_place(*other) || f->advice.find('{') != std::string::npos) continue;
      if (std::find(places.begin(), places.end(), other->where.place) == places.end())
        places.push_back(other->where.place);
      other->advice.clear();
    }
    constexpr std::size_t most_named = 5;
    verdict::Sentence names;
    f->advice = names.names(places, most_named).say(": ").text() + f->advice;
  }
  return findings;
}

std::vector<verdict::Sentence> fill_acts(const verdict::FillVerdict& verdict) {
  std::vector<verdict::Sentence> acts;
  for (const Finding& f : verdict.findings) {
    if (!about_air(f) || f.advice.empty()) continue;
    Finding advised = f;
    advised.message = f.advice;
    acts.push_back(verdict::sentence_of(advised));
  }
  verdict::FlowVerdict seen;
  seen.ruling = verdict.ruling;
  seen.asks = verdict.asks;
  seen.findings = naming_places(verdict.findings);
  for (verdict::Sentence& act : verdict::acts_of(seen)) acts.push_back(std::move(act));
  return acts;
}

/// What is wrong beside what the sentence on top says.
Document also_wrong(const FillAnswer& answer, const std::string& said, int most_lines,
                    const TextOptions& options) {
  std::vector<Document> items;
  for (const Finding& f : answer.verdict.findings) {
    if (f.severity != Severity::error) continue;
    const std::string text = first_sentence(units::render(f.message, f.figures, options.units));
    if (!said_already(said, text)) items.push_back(Document().item(text));
  }
  if (items.empty()) return {};
  return fitted(items, 0, most_lines, "Also wrong", "thing is wrong; -v tells it.",
                "things are wrong; -v tells them.", options);
}

Document assumed(const FillAnswer& answer, const TextOptions& options) {
  const filling::FillHistory& history = answer.history;
  Document out;
  out.section();
  if (history.storages.empty()) return out.paragraph("-v tells all that was found.");
  out.paragraph(fmt::format(
      "Assumed: springs give {} all the time, lines are full of water at the start, the clock starts at {:g} "
      "o'clock, friction by {}.{} Not looked at: frost, soil, water quality. -v shows all that "
      "happens, the course of every level, every source and check.",
      answer.springs_stopped ? "nothing" : "what the model says", answer.options.start_hour,
      losses::law_row(answer.system.friction().law).name,
      history.record.empty() ? ""
                             : " What runs in, runs out and is stored was summed a second time and closes."));
  return out.append(dry_lines(answer, options));
}

Document head_of(const FillAnswer& answer, const std::string& said, const TextOptions& options) {
  Document out;
  out.statement(said, answer.verdict.good());
  std::string about = about_words(answer.system.name(), answer.setting);
  if (answer.history.duration_s > 0.0)
    about += ", over " + shown(Kind::duration, answer.history.duration_s, options);
  return out.paragraph(about + ".");
}

}  // namespace

Document brief_fill_document(const FillAnswer& answer, const TextOptions& options) {
  const std::string said = rendered(answer.whole ? answer.whole->sentence : answer.verdict.sentence, options);
  const auto lines = [&](const Document& part) { return lines_of(part, options); };
  Document head = head_of(answer, said, options);
  const Document tail = assumed(answer, options);
  Document settings;
  if (answer.whole && answer.whole->runs.size() > 1) settings = settings_in_short(*answer.whole, 8, options);
  const int most = one_line(answer.system) ? most_brief_one : most_brief_all;
  // Above it stands how long each tank lasts.
  const int above =
      answer.springs_stopped ? lines(springs_stop_document(answer.history, answer.options, options)) + 1 : 0;
  int left = most - above - lines(head) - lines(settings) - lines(tail);
  const auto take = [&](Document part) {
    left -= lines(part);
    return part;
  };
  // Each leaves the next ones a little room. Only what happens and the chart have to do without.
  const Document acts = take(
      acts_section(fill_acts(answer.verdict),
                   answer.verdict.good() ? "Nothing needs changing." : "Ask `runnel flow` what would help.",
                   std::max(4, left / 3), options));
  const Document tanks = take(brief_tanks(answer, std::max(4, left / 2), options));
  const Document taps = take(brief_taps(answer, std::max(4, left / 2), options));
  const Document wrong = left < 3 ? Document() : take(also_wrong(answer, said, left / 2, options));
  const Document watch =
      left < 3 ? Document() : take(watch_section(answer.verdict.findings, left / 2, options));
  const Document events =
      left < 3 ? Document() : take(brief_events(answer.history, std::min(left, most_of_events), options));
  const Document chart = take(brief_chart(answer, left, options));
  return head + acts + settings + tanks + taps + chart + events + wrong + watch + tail;
}

}  // namespace runnel::report
