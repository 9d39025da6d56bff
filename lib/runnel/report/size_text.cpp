#include <fmt/format.h>

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

std::string sentence(const SizeReport& report, const TextOptions& options) {
  const SizeAnswer& answer = report.answer;
  const std::string of = harmless(report.model.name);
  switch (answer.outcome) {
    case SizeOutcome::chosen: {
      const std::string cost = money(answer.cost, answer.by_weight);
      if (answer.proved)
        return fmt::format("{}: the pipe below does, for {}. Nothing cheaper does: proved.", of, cost);
      return fmt::format(
          "{}: the pipe below does, for {}. It is the best found{}, not proved to be the cheapest; nothing "
          "below {} does, so at most {:.0f} % could still be saved.",
          of, cost, answer.stopped ? " before the search was stopped" : "",
          money(answer.bound, answer.by_weight),
          std::ceil(100.0 * (answer.cost - answer.bound) / answer.cost));
    }
    case SizeOutcome::out_of_reach:
      return fmt::format(
          "{}: no choice of these pipes does what is asked. {} is {} short with the widest.", of,
          answer.shortfalls.empty() ? "A place" : harmless(answer.shortfalls.front().place),
          answer.shortfalls.empty() ? "too" : shown(Kind::head, answer.shortfalls.front().short_m, options));
    case SizeOutcome::none_does:
      break;
  }
  if (answer.tried == 0)
    return fmt::format("{}: the search was stopped before any choice was tried; nothing is said.", of);
  return fmt::format("{}: heads and flows would do, but each of the {} choices tried fails something: {}.",
                     of, answer.tried, listed(answer.failed));
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
             fmt::format(
                 "It passes the same trial. No split of these lines costs less than {}, the other lines "
                 "as above.",
                 money(report.split->bound, by_weight)),
             2, 2, options.width);
}

std::string throttles(const SizeReport& report, const TextOptions& options) {
  if (report.answer.trial.throttles.empty()) return {};
  using enum Align;
  Columns rows({left, right, right, right});
  rows.row({"", "opening", "loss K to set there", "or a plate with a hole of"});
  for (const auto& throttle : report.answer.trial.throttles)
    rows.row({short_name(throttle.outlet), shown(Kind::bore, throttle.opening_m, options),
              fmt::format("{:.4g}", throttle.loss), shown(Kind::bore, throttle.orifice_m, options)});
  return heading("Throttles, so that no tap takes the water of another", options) + rows.text(2);
}

std::string shortfalls(const SizeReport& report, const TextOptions& options) {
  std::string text;
  for (const auto& shortfall : report.answer.shortfalls) {
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

std::string trade_off(const SizeReport& report, const TextOptions& options) {
  if (report.frontier.size() < 2) return {};
  using enum Align;
  Columns rows({right, right, right, left});
  rows.row({"all asks together", "of what is asked", report.answer.by_weight ? "weight" : "cost", ""});
  for (const auto& row : report.frontier)
    rows.row({shown(Kind::flow, row.flow_m3s, options), fmt::format("{:.0f} %", 100.0 * row.share),
              money(row.cost, report.answer.by_weight), row.chosen ? "<- chosen" : ""});
  return heading("The trade-off, by flows and heads alone", options) + rows.text(2);
}

std::string unknown_words(const network::Model& model, const sizing::Unknown& unknown) {
  using Kind = sizing::Unknown::Kind;
  if (unknown.kind == Kind::yield) return "what " + short_name(model.boxes[unknown.index].name) + " gives";
  const std::string line = short_name(model.pipelines[unknown.index].name);
  if (unknown.kind == Kind::survey) return "the levels of " + line;
  return (unknown.kind == Kind::bore ? "the bore of " : "how rough ") + line +
         (unknown.kind == Kind::bore ? "" : " is");
}

std::string sureness(const SizeReport& report, const TextOptions& options) {
  if (!report.sureness) return {};
  using enum Align;
  const Sureness& sure = *report.sureness;
  Columns rows({left, right, right, right});
  rows.row({"", "chance", "head to spare", "give or take"});
  for (const auto& chance : sure.chances)
    rows.row({short_name(chance.place),
              fmt::format("{:.1f} +- {:.1f} %", 100.0 * chance.chance, 100.0 * chance.error),
              shown(Kind::head, chance.margin_m, options), shown(Kind::head, chance.spread_m, options)});
  std::string text =
      heading(fmt::format("How sure, from {} samples (seed {})", sure.samples, sure.seed), options) +
      rows.text(2);
  std::string most;
  for (const auto& influence : sure.influences)
    if (influence.share >= 0.05)
      most += fmt::format("{}{} {:.0f} %", most.empty() ? "" : ", ",
                          unknown_words(report.model, influence.unknown), 100.0 * influence.share);
  if (!most.empty())
    text +=
        paragraph("Of the scatter comes from: " + most + ". Measure the first again.", 2, 4, options.width);
  return text + paragraph("Flows and heads alone, taps set anew; air, surge and time are not sampled.", 2, 4,
                          options.width);
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
                "on " + short_name(item.line), shown(Kind::length, item.station_m, options),
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
  text += sureness(report, options) + shortfalls(report, options) + trade_off(report, options);
  if (report.parts) text += parts(*report.parts, options);
  return text + basis(report, options);
}

}  // namespace runnel::report
