// Two proposals side by side.
#include "runnel/report/json_parts.h"
#include "runnel/report/render_text.h"
#include "runnel/report/review.h"
#include "runnel/report/review_parts.h"
#include "runnel/report/text_parts.h"
#include "runnel/report/words.h"

namespace runnel::report {

namespace {

std::string verdict_cell(const review::Ruling* ruling, const TextOptions& options) {
  if (!ruling) return "nothing to say";
  std::string cell(verdict_word(ruling->verdict));
  if (ruling->figure) cell += ", " + figure_words(*ruling->figure, options);
  if (!ruling->setting.empty()) cell += " (" + short_name(ruling->setting) + ")";
  return cell;
}

std::string outcome_cell(const review::SettingOutcome* outcome) {
  if (!outcome) return "not named";
  if (!outcome->settled) return "no answer";
  return outcome->good() ? "holds" : "fails";
}

std::string row_name(const review::PlaceBeside& place) {
  return short_name(place.place) +
         (place.setting == verdict::as_drawn ? "" : ", " + short_name(place.setting));
}

std::string side_name(const ReviewAnswer& answer, const char* instead) {
  return answer.drawn.name.empty() ? instead : short_name(answer.drawn.name);
}

}  // namespace

Document against_document(const ReviewAnswer& first, const ReviewAnswer& second,
                          const review::Comparison& beside, const TextOptions& options) {
  const auto good = [](const ReviewAnswer& a) { return a.review.good ? "holds" : "does not hold"; };
  const std::string a = side_name(first, "the first"), b = side_name(second, "the second");
  Document out;
  out.paragraph(a + " " + good(first) + "; " + b + " " + good(second) + ".");
  Table rows({{}, {a}, {b}});
  for (const review::RuleBeside& rule : beside.rules)
    rows.row({rule.rule, verdict_cell(rule.first, options), verdict_cell(rule.second, options)});
  for (const review::SettingBeside& setting : beside.settings)
    rows.row({short_name(way_of_running(setting.setting, "under ")), outcome_cell(setting.first),
              outcome_cell(setting.second)});
  // Arrivals under a setting that only one proposal has compare with nothing; JSON has them.
  for (const review::PlaceBeside& place : beside.places)
    if (place.setting == verdict::as_drawn || (place.first_m3s && place.second_m3s))
      rows.row({row_name(place), figure_or(place.first_m3s, Kind::flow, "not there"),
                figure_or(place.second_m3s, Kind::flow, "not there")});
  rows.row({"pipe", Figure{Kind::length, beside.first_pipe_m}, Figure{Kind::length, beside.second_pipe_m}});
  out.section("Side by side").add(rows);
  for (const ReviewAnswer* answer : {&first, &second}) {
    if (answer->review.claims.empty()) continue;
    out.section("What " + side_name(*answer, "it") + " claims");
    for (const review::JudgedClaim& claim : answer->review.claims) out.item(claim_words(claim, options));
  }
  return out.section().paragraph("Both judged by the rules for " + first.review.rules.name +
                                 ". Local codes and a licensed engineer have the last word.");
}

std::string against_text(const ReviewAnswer& first, const ReviewAnswer& second,
                         const review::Comparison& beside, const TextOptions& options) {
  return render_text(against_document(first, second, beside, options), options);
}

std::string against_json(const ReviewAnswer& first, const ReviewAnswer& second,
                         const review::Comparison& beside) {
  const auto verdict = [](const review::Ruling* ruling) {
    return ruling ? Json(verdict_word(ruling->verdict)) : Json(nullptr);
  };
  const auto figure = [](const review::Ruling* ruling) {
    return ruling && ruling->figure ? figure_json(*ruling->figure) : Json(nullptr);
  };
  Json json{{"runnel", version()},
            {"first",
             {{"model", first.drawn.name},
              {"good", first.review.good},
              {"pipe_m", number(beside.first_pipe_m, "pipe_m")}}},
            {"second",
             {{"model", second.drawn.name},
              {"good", second.review.good},
              {"pipe_m", number(beside.second_pipe_m, "pipe_m")}}},
            {"rules", Json::array()},
            {"settings", Json::array()},
            {"places", Json::array()}};
  const auto outcome = [](const review::SettingOutcome* one) {
    return one ? Json{{"settled", one->settled}, {"failing", one->failing}} : Json(nullptr);
  };
  const auto under = [](const review::Ruling* ruling) {
    return ruling && !ruling->setting.empty() ? Json(ruling->setting) : Json(nullptr);
  };
  for (const review::SettingBeside& setting : beside.settings)
    json["settings"].push_back({{"setting", setting.setting},
                                {"first", outcome(setting.first)},
                                {"second", outcome(setting.second)}});
  for (const review::RuleBeside& rule : beside.rules)
    json["rules"].push_back(
        {{"rule", rule.rule},
         {"first",
          {{"verdict", verdict(rule.first)}, {"figure", figure(rule.first)}, {"setting", under(rule.first)}}},
         {"second",
          {{"verdict", verdict(rule.second)},
           {"figure", figure(rule.second)},
           {"setting", under(rule.second)}}}});
  for (const review::PlaceBeside& place : beside.places)
    json["places"].push_back({{"place", place.place},
                              {"setting", place.setting},
                              {"first_m3s", number(place.first_m3s, "first_m3s")},
                              {"second_m3s", number(place.second_m3s, "second_m3s")}});
  return dumped(json);
}

}  // namespace runnel::report
