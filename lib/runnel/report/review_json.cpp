// A review for programs.
#include "runnel/report/json_parts.h"
#include "runnel/report/review.h"
#include "runnel/report/words.h"

namespace runnel::report {

namespace {

Json optional_figure(const std::optional<Figure>& figure) {
  return figure ? figure_json(*figure) : Json(nullptr);
}

Json ruling_json(const review::Ruling& ruling) {
  Json json{{"rule", ruling.rule},
            {"verdict", verdict_word(ruling.verdict)},
            {"weight", ruling.weight == review::Weight::must ? "must" : "advice"},
            {"where", where_json(ruling.where)},
            {"figure", optional_figure(ruling.figure)},
            {"sense", ruling.sense == review::Sense::at_most ? "at most" : "at least"},
            {"limit", optional_figure(ruling.limit)}};
  if (ruling.figure) {
    json["between"] = Json::array({number(ruling.low_si, "low"), number(ruling.high_si, "high")});
    json["margin"] = number(ruling.margin_si, "margin");
  }
  if (!ruling.setting.empty()) json["setting"] = ruling.setting;
  if (!ruling.missing.empty()) json["missing"] = ruling.missing;
  json["source"] = ruling.source;
  if (!ruling.changed.empty()) json["changed"] = ruling.changed;
  return json;
}

const char* word_of(review::ClaimKind kind) {
  switch (kind) {
    case review::ClaimKind::flow:
      return "flow";
    case review::ClaimKind::pressure:
      return "pressure";
    case review::ClaimKind::static_pressure:
      return "static pressure";
    case review::ClaimKind::full_after:
      break;
  }
  return "time until full";
}

Json claim_json(const review::JudgedClaim& claim) {
  Json json{{"at", claim.claim.at},
            {"what", word_of(claim.kind)},
            {"setting", claim.setting},
            {"claimed", figure_json(claim.claimed)},
            {"ours", optional_figure(claim.ours)},
            {"verdict", verdict_word(claim.verdict)}};
  if (!claim.claim.from.empty()) json["from"] = claim.claim.from;
  if (!claim.missing.empty()) json["missing"] = claim.missing;
  json["worst"] = claim.worst ? Json{{"setting", claim.worst->setting},
                                     {"ours", optional_figure(claim.worst->ours)},
                                     {"holds", !claim.worst->broken}}
                              : Json(nullptr);
  json["reason"] = claim.reason ? Json{{"words", review::reason_words(claim.reason->reason)},
                                       {"gives", figure_json({claim.claimed.kind, claim.reason->si})}}
                                : Json(nullptr);
  return json;
}

Json fact_json(const review::Fact& fact) {
  Json figures = Json::array();
  for (const Figure& figure : fact.said.figures()) figures.push_back(figure_json(figure));
  return {{"said", fact.said.text()}, {"figures", figures}, {"source", fact.source}};
}

Json works_json(const review::WorksReview& works) {
  Json json{{"box", works.box}, {"rulings", Json::array()}, {"facts", Json::array()}};
  for (const review::Ruling& ruling : works.rulings) json["rulings"].push_back(ruling_json(ruling));
  for (const review::Fact& fact : works.facts) json["facts"].push_back(fact_json(fact));
  return json;
}

Json service_json(const review::ServiceItem& item) {
  static constexpr const char* kinds[] = {"union", "valve", "tank", "box"};
  Json json{{"kind", kinds[static_cast<std::size_t>(item.kind)]},
            {"name", item.name},
            {"where", where_json(item.where)},
            {"possible", item.possible}};
  if (!item.possible) {
    json["fed_by"] = item.fed_by;
    return json;
  }
  json["shut"] = item.shut;
  json["open"] = item.opened;
  json["solved"] = item.solved;
  json["without_water"] = item.without;
  json["served"] = Json::array();
  for (const review::StillServed& served : item.served)
    json["served"].push_back({{"place", served.place},
                              {"flow_m3s", number(served.flow_m3s, "flow_m3s")},
                              {"as_drawn_m3s", number(served.as_drawn_m3s, "as_drawn_m3s")}});
  json["drains_m3"] = number(item.drains_m3, "drains_m3");
  json["drains_to"] = item.drains_to.empty() ? Json(nullptr) : Json(item.drains_to);
  return json;
}

Json task_json(const review::Task& task) {
  static constexpr const char* often[] = {"each week",    "after each flood", "each month",
                                          "twice a year", "each year",        "at the end of the dry season"};
  return {
      {"often", often[static_cast<std::size_t>(task.often)]}, {"what", task.what}, {"source", task.source}};
}

Json logs_json(const review::Review& review) {
  Json logs = Json::array();
  for (const review::Fact& fact : review.logs) logs.push_back(fact_json(fact));
  return logs;
}

Json maintenance_json(const review::Review& review) {
  Json tasks = Json::array();
  for (const review::Task& task : review.maintenance) tasks.push_back(task_json(task));
  return tasks;
}

}  // namespace

std::string upkeep_json(const ReviewAnswer& answer) {
  return dumped({{"runnel", version()},
                 {"model", answer.drawn.name},
                 {"maintenance", maintenance_json(answer.review)},
                 {"logs", logs_json(answer.review)}});
}

std::string review_json(const ReviewAnswer& answer) {
  const review::Review& review = answer.review;
  Json json{{"runnel", version()},       {"model", answer.drawn.name},
            {"setting", answer.setting}, {"outcome", review.settled ? "settled" : "no answer"},
            {"good", review.good},       {"open", review.open},
            {"rules", review.rules.name}};
  json["left_out"] = Json::array();
  for (const review::LeftOut& rule : review.rules.left_out)
    json["left_out"].push_back({{"rule", rule.id}, {"reason", rule.reason}});
  json["rulings"] = Json::array();
  for (const review::Ruling& ruling : review.rulings) json["rulings"].push_back(ruling_json(ruling));
  json["claims"] = Json::array();
  for (const review::JudgedClaim& claim : review.claims) json["claims"].push_back(claim_json(claim));
  json["settings"] = Json::array();
  for (const review::SettingOutcome& outcome : review.settings)
    json["settings"].push_back(
        {{"setting", outcome.setting}, {"settled", outcome.settled}, {"failing", outcome.failing}});
  json["works"] = Json::array();
  for (const review::WorksReview& works : review.works) json["works"].push_back(works_json(works));
  json["logs"] = logs_json(review);
  json["service"] = Json::array();
  for (const review::ServiceItem& item : review.service.items) json["service"].push_back(service_json(item));
  json["maintenance"] = maintenance_json(review);
  std::vector<Finding> findings = review.told;
  findings.insert(findings.end(), review.service.findings.begin(), review.service.findings.end());
  json["findings"] = findings_json(findings);
  return dumped(json);
}

}  // namespace runnel::report
