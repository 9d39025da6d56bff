#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "runnel/report/render_text.h"
#include "runnel/report/size.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {
namespace {

using sizing::SizeAnswer;
using sizing::SizeOutcome;

std::string money(double cost, bool by_weight) {
  return by_weight ? fmt::format("{:.1f} kg", cost) : fmt::format("{:.2f}", cost);
}

/// What was proved; lines that change size are a separate question.
std::string proved_words(const SizeReport& report) {
  if (report.split) return "Of whole pipelines nothing cheaper does: proved; split lines below cost less";
  const auto& lines = report.model.pipelines;
  const bool asked = std::any_of(lines.begin(), lines.end(),
                                 [](const auto& line) { return line.choice && line.choice->sizes > 1; });
  return std::string("Of whole pipelines nothing cheaper does: proved") +
         (asked ? ". Of lines that change size on the way none was found that costs less and passes"
                : ". Lines that change size on the way were not looked at (`split: 2`)");
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
  const std::string of = report.model.name;
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
      if (answer.trial.good)
        return fmt::format(
            "{}: by heads and flows no choice of these pipes carries what is asked, so only the widest "
            "were tried. They do: {}",
            of, rendered(answer.trial.sentence, options));
      if (!answer.shortfalls.empty() && answer.shortfalls.front().crest)
        return fmt::format("{}: no choice of these pipes does what is asked. With the widest: {}", of,
                           rendered(answer.trial.sentence, options));
      if (answer.shortfalls.empty())
        return fmt::format("{}: no choice of these pipes does what is asked, not even the widest.", of);
      return fmt::format("{}: no choice of these pipes does what is asked. {} is {} short with the widest.",
                         of, answer.shortfalls.front().place,
                         shown(Kind::head, answer.shortfalls.front().short_m, options));
    case SizeOutcome::none_does:
      break;
  }
  if (answer.tried == 0)
    return fmt::format("{}: the search was stopped before any choice was tried; nothing is said.", of);
  if (answer.trial.reason == "not-sure-enough")
    return fmt::format("{}: no choice does. By heads and flows some would do, but {} something: {}.", of,
                       tried_fail(answer.tried), listed(answer.failed));
  return fmt::format(
      "{}: no choice does. By heads and flows some would do, but {} something. {} {}", of,
      tried_fail(answer.tried), answer.tried == 1 ? "That one:" : "The widest:",
      answer.trial.sentence.empty() ? "No answer was reached." : rendered(answer.trial.sentence, options));
}

/// What stands in for the price, where there is none.
const char* cost_title(const SizeReport& report) { return report.answer.by_weight ? "weight" : "cost"; }

Document lines(const SizeReport& report) {
  using enum Align;
  const bool by_weight = report.answer.by_weight;
  Table rows({{},
              {"pipe"},
              {"length", right},
              {"designed for", right},
              {by_weight ? "weight a metre" : "price a metre", right},
              {cost_title(report), right}});
  for (const auto& line : report.answer.lines)
    rows.row({short_name(line.line), line.pipe, Figure{Kind::length, line.length_m},
              Figure{Kind::flow, line.flow_m3s},
              line.per_metre ? fmt::format("{:.3g}", *line.per_metre) : "is laid",
              line.per_metre ? money(line.cost, by_weight) : "-"});
  return Document().section("Pipe").add(rows);
}

Table throttle_rows(const std::vector<sizing::Throttle>& throttles) {
  using enum Align;
  Table rows({{}, {"opening", right}, {"loss K to set there", right}, {"or a plate with a hole of", right}});
  for (const auto& throttle : throttles)
    rows.row({short_name(throttle.outlet), Figure{Kind::bore, throttle.opening_m},
              fmt::format("{:.12g}", throttle.loss), Figure{Kind::bore, throttle.orifice_m}});
  return rows;
}

/// What a split rests on: no bound where flows depend on the sizes.
std::string split_words(const sizing::SplitDesign& split, bool by_weight) {
  return std::string("It passes the same trial") +
         (split.trial.throttles.empty() ? ". " : ", with its own throttles. ") +
         (split.bound ? fmt::format("No split of these lines costs less than {}, the other lines as above.",
                                    money(*split.bound, by_weight))
                      : "It is the best found, not proved to be the cheapest: flows depend on the sizes.");
}

Document split(const SizeReport& report) {
  if (!report.split) return {};
  using enum Align;
  const bool by_weight = report.answer.by_weight;
  Table rows({{}, {"pipe"}, {"from", right}, {"length", right}, {cost_title(report), right}});
  for (const auto& piece : report.split->pieces)
    rows.row({short_name(piece.line), piece.pipe, Figure{Kind::length, piece.from_m},
              Figure{Kind::length, piece.length_m}, money(piece.cost, by_weight)});
  Document out;
  out.section("Cheaper with lines that change size on the way: " + money(report.split->cost, by_weight))
      .add(rows)
      .paragraph(split_words(*report.split, by_weight), 1);
  if (!report.split->trial.throttles.empty()) out.add(throttle_rows(report.split->trial.throttles));
  return out;
}

Document throttles(const SizeReport& report) {
  if (report.answer.trial.throttles.empty()) return {};
  return Document()
      .section("Throttles, so that no tap takes the water of another")
      .add(throttle_rows(report.answer.trial.throttles));
}

Document shortfalls(const SizeReport& report, const TextOptions& options) {
  Document text;
  for (const auto& shortfall : report.answer.shortfalls) {
    if (shortfall.crest) continue;  // over a high point, neither a lower place nor a smaller flow helps
    std::string change = fmt::format("{}: {} short. It would do set {} lower", shortfall.place,
                                     shown(Kind::head, shortfall.short_m, options),
                                     shown(Kind::head, shortfall.short_m, options));
    if (shortfall.flow_m3s) change += ", or asked for " + shown(Kind::flow, *shortfall.flow_m3s, options);
    if (shortfall.second_line_m)
      change += *shortfall.second_line_m >= 0.0 ? ", or with a second line beside the whole way"
                                                : "; a second line beside the whole way would not be enough";
    text.line(change + ".");
  }
  return text.empty() ? text : Document().section("What would mend it, each by itself").append(text);
}

/// What would cure the fault with the widest pipes, where no choice of pipe does.
Document acts(const SizeReport& report, const TextOptions& options) {
  const SizeAnswer& answer = report.answer;
  const bool crest = !answer.shortfalls.empty() && answer.shortfalls.front().crest;
  if (answer.outcome == SizeOutcome::chosen || (answer.outcome == SizeOutcome::out_of_reach && !crest))
    return {};
  Document text;
  int number = 0;
  for (const auto& act : answer.trial.acts) text.act(++number, rendered(act, options));
  return text.empty() ? text : Document().section("Do this").append(text);
}

/// What the full trial of a choice came to: where it misses a need, or the code of what fails it.
std::string tried(const sizing::FrontierRow& row) {
  if (row.fails.empty()) return "does";
  if (row.fails == "ask-not-met" && !row.fails_at.empty()) return "misses the need of " + row.fails_at;
  return "fails " + row.fails + (row.fails_at.empty() ? "" : " at " + row.fails_at);
}

Document trade_off(const SizeReport& report) {
  if (report.frontier.size() < 2) return {};
  using enum Align;
  Table rows({{"all needs together", right},
              {"of what is asked", right},
              {cost_title(report), right},
              {"tried in full"},
              {}});
  for (const auto& row : report.frontier)
    rows.row({Figure{Kind::flow, row.flow_m3s}, fmt::format("{:.0f} %", 100.0 * row.share),
              money(row.cost, report.answer.by_weight), tried(row),
              std::string(row.chosen ? "<- chosen" : "") + (row.present ? "<- laid now" : "")});
  return Document()
      .section("The trade-off")
      .add(rows)
      .line("What a choice carries goes by flows and heads; the trial is that of what is asked.");
}

std::string with_stop(std::string text) {
  if (!text.empty() && text.back() != '.') text += '.';
  return text;
}

/// Remarks on the choice: a margin thinner than the spread of the formula's constant in books.
Document remarks(const SizeReport& report, const TextOptions& options) {
  Document text;
  for (const Finding& finding : report.answer.remarks)
    text.paragraph(with_stop(units::render(finding.message, finding.figures, options.units)) + " " +
                   with_stop(units::render(finding.advice, finding.figures, options.units)) + " [" +
                   finding.code + "]");
  return text.empty() ? text : Document().section().append(text);
}

/// What to measure again, as an instruction: "level the high point at 410 m of main again".
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

/// If all or none of the samples hold, the opposite is rarer than three in their number (95 %).
std::string chance_words(const sizing::Chance& chance, int samples) {
  const double rare = 300.0 / samples;
  if (chance.chance >= 1.0) return fmt::format("over {:.5g} %", 100.0 - rare);
  if (chance.chance <= 0.0) return fmt::format("under {:.2g} %", rare);
  return fmt::format("{:.1f} +- {:.1f} %", 100.0 * chance.chance, 100.0 * chance.error);
}

/// What to measure again, the greatest share of the scatter first.
std::string most_worth_knowing(const SizeReport& report, const TextOptions& options) {
  std::string most;
  for (const auto& next : report.sureness->next)
    if (next.influence.share >= 0.05)
      most += fmt::format("{}{} ({:.0f} % of the scatter)", most.empty() ? "" : "; then ",
                          to_measure(report.model, next, options), 100.0 * next.influence.share);
  return most;
}

/// A choice that does what is asked under conditions may meet them seldom: then the first sentence says so.
std::string hardly_ever(const SizeReport& report) {
  if (!report.sureness) return {};
  const sizing::PlaceSureness* least = nullptr;
  for (const auto& place : report.sureness->places)
    if (place.sampled() && (!least || place.chance.chance < least->chance.chance)) least = &place;
  constexpr double as_likely_as_not = 0.5;
  if (!least || least->chance.chance >= as_likely_as_not) return {};
  return fmt::format(" That is unlikely: the samples give {} a chance of {}; ask for more with --sure.",
                     short_name(least->chance.place), chance_words(least->chance, report.sureness->samples));
}

Document sureness(const SizeReport& report, const TextOptions& options) {
  if (!report.sureness) return {};
  using enum Align;
  const sizing::Sureness& sure = *report.sureness;
  Table rows({{},
              {"chance", right},
              {"head to spare", right},
              {"at the bad corner", right},
              {"flow as set, 9 in 10", right},
              {}});
  for (const auto& place : sure.places) {
    const std::string flows = place.high_m3s > 0.0 ? shown(Kind::flow, place.low_m3s, options) + " to " +
                                                         shown(Kind::flow, place.high_m3s, options)
                                                   : "-";
    if (!place.sampled())
      rows.row({short_name(place.chance.place), "-", "-", "-", flows, "what is asked of it is not sampled"});
    else
      rows.row({short_name(place.chance.place),
                place.certain() ? "certain" : chance_words(place.chance, sure.samples),
                Figure{Kind::head, place.chance.margin_m}, Figure{Kind::head, place.bad_margin_m}, flows,
                place.certain() ? "within what was stated" : ""});
  }
  Document text;
  text.section(fmt::format("How sure, from {} samples (seed {})", sure.samples, sure.seed)).add(rows);
  if (const std::string most = most_worth_knowing(report, options); !most.empty())
    text.line("To know it better: " + most + ".");
  text.line(
      "Chance and head to spare: flows and heads alone, taps set anew. Air, surge, time and drier years are "
      "not "
      "sampled.");
  if (sure.full_within) text.line("A need for a tank to be full in time is not among them.");
  if (sure.velocity) text.line("How fast water may run is not among them.");
  return text;
}

std::string piece_words(const sizing::PipeItem& item, const TextOptions& options) {
  return fmt::format(
      "{} {} of {}", item.pieces,
      item.coils ? (item.pieces == 1 ? "coil" : "coils") : (item.pieces == 1 ? "stick" : "sticks"),
      shown(Kind::length, item.piece_m, options));
}

Cell price(const std::optional<double>& cost) { return cost ? fmt::format("{:.2f}", *cost) : ""; }

Document parts(const sizing::PartsList& list, const TextOptions& options) {
  using enum Align;
  Table pipes(
      {{}, {"as it lies", right}, {"to buy"}, {"left over", right}, {list.cost ? "cost" : "", right}});
  for (const auto& item : list.pipes)
    pipes.row({item.pipe, Figure{Kind::length, item.length_m}, piece_words(item, options),
               Figure{Kind::length, item.waste_m}, price(item.cost)});
  Document text;
  text.section("To buy").add(pipes);
  Table pieces({{}, {}, {}, {"", right}, {"", right}});
  for (const auto& item : list.parts)
    pieces.row({fmt::format("{} {}", item.count, item.part), item.name,
                item.line.empty() ? "" : "on " + short_name(item.line),
                figure_or(item.station_m, Kind::length, ""), price(item.cost)});
  if (!pieces.empty()) text.add(pieces);
  std::string sum = "Trench: " + shown(Kind::length, list.trench_m, options);
  if (list.trench_m3) sum += ", " + shown(Kind::volume, *list.trench_m3, options) + " to dig";
  if (list.cost)
    sum +=
        fmt::format(". Together {:.2f}{}", *list.cost, list.all_priced ? "" : ", without what has no price");
  return text.line(sum + ".");
}

Document basis(const SizeReport& report) {
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
    if (!answer.failed.empty()) text += "; cheaper ones fail: " + listed(answer.failed);
    text += ". ";
  }
  if (!answer.tree.unpriced.empty())
    text += fmt::format("Passed over, because they have no price: {} of the pipes to choose from. ",
                        answer.tree.unpriced.size());
  if (text.empty()) return {};
  return Document().section().paragraph(text);
}

}  // namespace

Document size_document(const SizeReport& report, const TextOptions& options) {
  const bool chosen = report.answer.outcome == SizeOutcome::chosen;
  Document out;
  out.statement(sentence(report, options) + hardly_ever(report), chosen);
  if (chosen) out.append(lines(report)).append(split(report)).append(throttles(report));
  out.append(acts(report, options)).append(remarks(report, options)).append(sureness(report, options));
  out.append(shortfalls(report, options)).append(trade_off(report));
  if (report.parts) out.append(parts(*report.parts, options));
  return out.append(basis(report));
}

std::string size_text(const SizeReport& report, const TextOptions& options) {
  return render_text(size_document(report, options), options);
}

}  // namespace runnel::report
