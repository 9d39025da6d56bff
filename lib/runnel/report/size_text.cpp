#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "runnel/report/harmless.h"
#include "runnel/report/size.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {
namespace {

using sizing::SizeAnswer;
using sizing::SizeOutcome;

std::string money(double cost, bool by_weight) {
  return by_weight ? fmt::format("{:.1f} kg", cost) : fmt::format("{:.2f}", cost);
}

/// Of what was proved: splits are another question.
std::string proved_words(const SizeReport& report) {
  if (report.split) return "Of whole pipelines nothing cheaper does: proved; split lines below cost less";
  const auto& lines = report.model.pipelines;
  const bool asked = std::any_of(lines.begin(), lines.end(),
                                 [](const auto& line) { return line.choice && line.choice->sizes > 1; });
  return std::string("Of whole pipelines nothing cheaper does: proved") +
         (asked ? "" : ". Lines that change size on the way were not looked at (`split: 2`)");
}

/// ", with every tap throttled as listed, and only if ...".
std::string conditions(const SizeReport& report, const TextOptions& options) {
  const sizing::Trial& trial = report.answer.trial;
  std::string text;
  if (!trial.throttles.empty()) text = ", with every tap throttled as listed";
  if (!trial.condition.empty())
    text += (text.empty() ? ", but only " : " and only ") + rendered(trial.condition, options);
  return text;
}

std::string tried_fail(int tried) {
  return tried == 1 ? "the one choice tried fails" : fmt::format("each of the {} choices tried fails", tried);
}

std::string sentence(const SizeReport& report, const TextOptions& options) {
  const SizeAnswer& answer = report.answer;
  const std::string of = harmless(report.model.name);
  switch (answer.outcome) {
    case SizeOutcome::chosen: {
      const std::string cost = money(answer.cost, answer.by_weight);
      if (answer.proved)
        return fmt::format("{}: the pipe below does, for {}{}. {}.", of, cost, conditions(report, options),
                           proved_words(report));
      return fmt::format(
          "{}: the pipe below does, for {}{}. It is the best found{}, not proved to be the cheapest; nothing "
          "below {} does, so at most {:.0f} % could still be saved.",
          of, cost, conditions(report, options), answer.stopped ? " before the search was stopped" : "",
          money(answer.bound, answer.by_weight),
          std::ceil(100.0 * (answer.cost - answer.bound) / answer.cost));
    }
    case SizeOutcome::out_of_reach:
      if (!answer.shortfalls.empty() && answer.shortfalls.front().crest)
        return fmt::format("{}: no choice of these pipes does what is asked. With the widest: {}", of,
                           rendered(answer.trial.sentence, options));
      if (answer.shortfalls.empty())
        return fmt::format("{}: no choice of these pipes does what is asked, not even the widest.", of);
      return fmt::format("{}: no choice of these pipes does what is asked. {} is {} short with the widest.",
                         of, harmless(answer.shortfalls.front().place),
                         shown(Kind::head, answer.shortfalls.front().short_m, options));
    case SizeOutcome::none_does:
      break;
  }
  if (answer.tried == 0)
    return fmt::format("{}: the search was stopped before any choice was tried; nothing is said.", of);
  if (answer.trial.reason == "not-sure-enough")
    return fmt::format("{}: heads and flows would do, but {} something: {}.", of, tried_fail(answer.tried),
                       listed(answer.failed));
  return fmt::format(
      "{}: heads and flows would do, but {} something. {} {}", of, tried_fail(answer.tried),
      answer.tried == 1 ? "That one:" : "The widest:",
      answer.trial.sentence.empty() ? "No answer was reached." : rendered(answer.trial.sentence, options));
}

std::string lines(const SizeReport& report, const TextOptions& options) {
  using enum Align;
  const bool by_weight = report.answer.by_weight;
  Columns rows({left, left, right, right, right, right});
  rows.row({"", "pipe", "length", "designed for", by_weight ? "weight a metre" : "price a metre",
            by_weight ? "weight" : "cost"});
  for (const auto& line : report.answer.lines)
    rows.row({short_name(line.line), harmless(line.pipe), shown(Kind::length, line.length_m, options),
              shown(Kind::flow, line.flow_m3s, options),
              line.per_metre ? fmt::format("{:.3g}", *line.per_metre) : "is laid",
              line.per_metre ? money(line.cost, by_weight) : "-"});
  return heading("Pipe", options) + rows.text(2);
}

std::string throttle_rows(const std::vector<sizing::Throttle>& throttles, const TextOptions& options) {
  if (throttles.empty()) return {};
  using enum Align;
  Columns rows({left, right, right, right});
  rows.row({"", "opening", "loss K to set there", "or a plate with a hole of"});
  for (const auto& throttle : throttles)
    rows.row({short_name(throttle.outlet), shown(Kind::bore, throttle.opening_m, options),
              fmt::format("{:.12g}", throttle.loss), shown(Kind::bore, throttle.orifice_m, options)});
  return rows.text(2);
}

std::string split(const SizeReport& report, const TextOptions& options) {
  if (!report.split) return {};
  using enum Align;
  const bool by_weight = report.answer.by_weight;
  Columns rows({left, left, right, right, right});
  rows.row({"", "pipe", "from", "length", by_weight ? "weight" : "cost"});
  for (const auto& piece : report.split->pieces)
    rows.row({short_name(piece.line), harmless(piece.pipe), shown(Kind::length, piece.from_m, options),
              shown(Kind::length, piece.length_m, options), money(piece.cost, by_weight)});
  return heading(fmt::format("Cheaper with lines that change size on the way: {}",
                             money(report.split->cost, by_weight)),
                 options) +
         rows.text(2) +
         paragraph(
             std::string("It passes the same trial") +
                 (report.split->trial.throttles.empty() ? ". " : ", with its own throttles. ") +
                 (report.split->bound
                      ? fmt::format("No split of these lines costs less than {}, the other lines as above.",
                                    money(*report.split->bound, by_weight))
                      : "It is the best found, not proved to be the cheapest: flows depend on the sizes."),
             2, 2, options.width) +
         throttle_rows(report.split->trial.throttles, options);
}

std::string throttles(const SizeReport& report, const TextOptions& options) {
  if (report.answer.trial.throttles.empty()) return {};
  return heading("Throttles, so that no tap takes the water of another", options) +
         throttle_rows(report.answer.trial.throttles, options);
}

std::string shortfalls(const SizeReport& report, const TextOptions& options) {
  std::string text;
  for (const auto& shortfall : report.answer.shortfalls) {
    if (shortfall.crest) continue;  // neither lower nor less helps over a high point
    std::string change = fmt::format("{}: {} short. It would do set {} lower", harmless(shortfall.place),
                                     shown(Kind::head, shortfall.short_m, options),
                                     shown(Kind::head, shortfall.short_m, options));
    if (shortfall.flow_m3s) change += ", or asked for " + shown(Kind::flow, *shortfall.flow_m3s, options);
    if (shortfall.second_line_m)
      change += *shortfall.second_line_m >= 0.0 ? ", or with a second line beside the whole way"
                                                : "; a second line beside the whole way would not be enough";
    text += paragraph(change + ".", 2, 4, options.width);
  }
  return text.empty() ? text : heading("What would mend it, each by itself", options) + text;
}

/// What would cure the widest pipes, where no choice does.
std::string acts(const SizeReport& report, const TextOptions& options) {
  const SizeAnswer& answer = report.answer;
  const bool crest = !answer.shortfalls.empty() && answer.shortfalls.front().crest;
  if (answer.outcome == SizeOutcome::chosen || (answer.outcome == SizeOutcome::out_of_reach && !crest))
    return {};
  std::string text;
  int number = 0;
  for (const auto& act : answer.trial.acts)
    text += paragraph(fmt::format("{}. {}", ++number, rendered(act, options)), 2, 5, options.width);
  return text.empty() ? text : heading("Do this", options) + text;
}

std::string trade_off(const SizeReport& report, const TextOptions& options) {
  if (report.frontier.size() < 2) return {};
  using enum Align;
  Columns rows({right, right, right, left, left});
  rows.row({"all asks together", "of what is asked", report.answer.by_weight ? "weight" : "cost",
            "tried in full", ""});
  for (const auto& row : report.frontier)
    rows.row({shown(Kind::flow, row.flow_m3s, options), fmt::format("{:.0f} %", 100.0 * row.share),
              money(row.cost, report.answer.by_weight), row.fails.empty() ? "does" : "fails " + row.fails,
              std::string(row.chosen ? "<- chosen" : "") + (row.present ? "<- laid now" : "")});
  return heading("The trade-off", options) + rows.text(2) +
         paragraph("What a choice carries goes by flows and heads; the trial is that of what is asked.", 2, 4,
                   options.width);
}

std::string with_stop(std::string text) {
  if (!text.empty() && text.back() != '.') text += '.';
  return text;
}

/// A margin that is thinner than what books print for the constant of the formula.
std::string remarks(const SizeReport& report, const TextOptions& options) {
  std::string text;
  for (const Finding& finding : report.answer.remarks)
    text +=
        paragraph(with_stop(harmless(units::render(finding.message, finding.figures, options.units))) + " " +
                      with_stop(harmless(units::render(finding.advice, finding.figures, options.units))) +
                      " [" + finding.code + "]",
                  0, 0, options.width);
  return text.empty() ? text : "\n" + text;
}

/// What to measure again, as an order: "level the high point at 410 m of main again".
std::string to_measure(const network::Model& model, const sizing::Measurement& next,
                       const TextOptions& options) {
  using What = sizing::Unknown::Kind;
  const sizing::Unknown& unknown = next.influence.unknown;
  if (unknown.kind == What::yield)
    return "time the bucket at " + short_name(model.boxes[unknown.index].name) + " again";
  const network::Pipeline& line = model.pipelines[unknown.index];
  const std::string name = short_name(line.name);
  if (unknown.kind == What::bore) return "measure the bore of the pipe for " + name;
  if (unknown.kind == What::roughness) return "find out how rough the pipe of " + name + " will grow";
  if (next.point.line >= 0)
    return "level the high point at " + shown(Kind::length, next.point.station_m, options) + " of " + name +
           " again";
  return "level " + name + " again, from " + short_name(line.from) + " to " + short_name(line.to);
}

/// All or none of the samples tell that the rest is rarer than three in all of them (95 %).
std::string chance_words(const sizing::Chance& chance, int samples) {
  const double rare = 300.0 / samples;
  if (chance.chance >= 1.0) return fmt::format("over {:.5g} %", 100.0 - rare);
  if (chance.chance <= 0.0) return fmt::format("under {:.2g} %", rare);
  return fmt::format("{:.1f} +- {:.1f} %", 100.0 * chance.chance, 100.0 * chance.error);
}

std::string sureness(const SizeReport& report, const TextOptions& options) {
  if (!report.sureness) return {};
  using enum Align;
  const sizing::Sureness& sure = *report.sureness;
  Columns rows({left, right, right, right, right, left});
  rows.row({"", "chance", "head to spare", "at the bad corner", "flow as set, 9 in 10", ""});
  for (const auto& place : sure.places)
    rows.row(
        {short_name(place.chance.place), chance_words(place.chance, sure.samples),
         shown(Kind::head, place.chance.margin_m, options), shown(Kind::head, place.bad_margin_m, options),
         place.high_m3s > 0.0
             ? shown(Kind::flow, place.low_m3s, options) + " to " + shown(Kind::flow, place.high_m3s, options)
             : "-",
         place.certain() ? "certain within what was stated" : ""});
  std::string text =
      heading(fmt::format("How sure, from {} samples (seed {})", sure.samples, sure.seed), options) +
      rows.text(2);
  std::string most;
  for (const auto& next : sure.next)
    if (next.influence.share >= 0.05)
      most += fmt::format("{}{} ({:.0f} % of the scatter)", most.empty() ? "" : "; then ",
                          to_measure(report.model, next, options), 100.0 * next.influence.share);
  if (!most.empty()) text += paragraph("To know it better: " + most + ".", 2, 4, options.width);
  text += paragraph(
      "Chance and head to spare: flows and heads alone, taps set anew. Air, surge and time are not sampled.",
      2, 4, options.width);
  if (sure.full_within)
    text += paragraph("An ask of the time until a tank is full is not among them.", 2, 4, options.width);
  if (sure.velocity) text += paragraph("How fast water may run is not among them.", 2, 4, options.width);
  return text;
}

std::string piece_words(const sizing::PipeItem& item, const TextOptions& options) {
  return fmt::format(
      "{} {} of {}", item.pieces,
      item.coils ? (item.pieces == 1 ? "coil" : "coils") : (item.pieces == 1 ? "stick" : "sticks"),
      shown(Kind::length, item.piece_m, options));
}

std::string parts(const sizing::PartsList& list, const TextOptions& options) {
  using enum Align;
  Columns pipes({left, right, left, right, right});
  pipes.row({"", "as it lies", "to buy", "left over", list.cost ? "cost" : ""});
  for (const auto& item : list.pipes)
    pipes.row({harmless(item.pipe), shown(Kind::length, item.length_m, options), piece_words(item, options),
               shown(Kind::length, item.waste_m, options),
               item.cost ? fmt::format("{:.2f}", *item.cost) : ""});
  std::string text = heading("To buy", options) + pipes.text(2);
  Columns pieces({left, left, left, right, right});
  for (const auto& item : list.parts)
    pieces.row({fmt::format("{} {}", item.count, item.part), harmless(item.name),
                item.line.empty() ? "" : "on " + short_name(item.line),
                item.station_m ? shown(Kind::length, *item.station_m, options) : "",
                item.cost ? fmt::format("{:.2f}", *item.cost) : ""});
  if (!pieces.empty()) text += pieces.text(2);
  std::string sum = "Trench: " + shown(Kind::length, list.trench_m, options);
  if (list.trench_m3) sum += ", " + shown(Kind::volume, *list.trench_m3, options) + " to dig";
  if (list.cost)
    sum +=
        fmt::format(". Together {:.2f}{}", *list.cost, list.all_priced ? "" : ", without what has no price");
  return text + paragraph(sum + ".", 2, 4, options.width);
}

std::string basis(const SizeReport& report, const TextOptions& options) {
  const SizeAnswer& answer = report.answer;
  std::string text;
  if (answer.by_weight)
    text += "The model gives no prices, so the weight of the pipe at its least wall stands in for its cost. ";
  if (answer.outcome == SizeOutcome::chosen) {
    text += answer.loops
                ? fmt::format("Flows depend on the sizes here: {} choices were solved, {} tried in full",
                              answer.solved, answer.tried)
                : fmt::format("{} {} tried in full, in the order of cost", answer.tried,
                              answer.tried == 1 ? "choice was" : "choices were");
    if (answer.loops && !answer.proved)
      text +=
          "; the bound counts only what must get through the lines that part places from the springs, with "
          "all "
          "the head there is";
    if (answer.passed_over > 0)
      text += fmt::format(", {} passed over as not sure enough", answer.passed_over);
    if (!answer.failed.empty()) text += "; cheaper ones fail " + listed(answer.failed);
    text += ". ";
  }
  if (!answer.tree.unpriced.empty())
    text += fmt::format("Passed over, because they have no price: {} of the pipes to choose from. ",
                        answer.tree.unpriced.size());
  return text.empty() ? text : "\n" + paragraph(text, 0, 0, options.width);
}

}  // namespace

std::string size_text(const SizeReport& report, const TextOptions& options) {
  const Paint paint{options.colour};
  const bool chosen = report.answer.outcome == SizeOutcome::chosen;
  const std::string first = paragraph(sentence(report, options), 0, 0, options.width);
  std::string text = chosen ? paint.good(first) : paint.bad(first);
  if (chosen) text += lines(report, options) + split(report, options) + throttles(report, options);
  text += acts(report, options) + remarks(report, options) + sureness(report, options) +
          shortfalls(report, options) + trade_off(report, options);
  if (report.parts) text += parts(*report.parts, options);
  return text + basis(report, options);
}

}  // namespace runnel::report
