#include "runnel/report/review_parts.h"

#include "runnel/report/review.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {

namespace {

std::string place_words(const Where& where, const TextOptions& options) {
  std::string text;
  if (!where.place.empty()) text = where.place;
  if (!where.pipeline.empty()) text += (text.empty() ? "" : ", on ") + where.pipeline;
  if (where.station_m) text += " at " + shown(Kind::length, *where.station_m, options);
  if (!where.part.empty()) text += " (" + where.part + ")";
  return text;
}

const char* claimed_what(review::ClaimKind kind) {
  switch (kind) {
    case review::ClaimKind::flow:
      return "";
    case review::ClaimKind::pressure:
      return " while it runs";
    case review::ClaimKind::static_pressure:
      return " with everything shut";
    case review::ClaimKind::full_after:
      break;
  }
  return " until it is full";
}

}  // namespace

std::string figure_words(const Figure& figure, const TextOptions& options) {
  constexpr double beyond_all = 1e5;
  if (figure.kind == Kind::percent && figure.si > beyond_all) return "never";
  return units::show(figure, options.units);
}

std::string ruling_words(const review::Ruling& ruling, const TextOptions& options, bool with_name) {
  const std::string where = place_words(ruling.where, options);
  std::string said = with_name ? ruling.text.substr(0, ruling.text.find_last_not_of('.') + 1) + ": "
                               : std::string(verdict_word(ruling.verdict)) + ": ";
  if (with_name && !where.empty()) said += where + ", ";
  if (!with_name && !where.empty()) said += where + ", ";
  if (!ruling.missing.empty()) return said + "not known: " + ruling.missing + ".";
  said += ruling.figure ? figure_words(*ruling.figure, options) : "-";
  const bool spread = ruling.figure && ruling.low_si < ruling.high_si &&
                      (ruling.low_si < ruling.figure->si || ruling.high_si > ruling.figure->si);
  if (spread)
    said += " (" + units::show({ruling.figure->kind, ruling.low_si}, options.units) + " to " +
            units::show({ruling.figure->kind, ruling.high_si}, options.units) + ")";
  if (ruling.limit)
    said += std::string(" against ") + (ruling.sense == review::Sense::at_most ? "at most " : "at least ") +
            units::show(*ruling.limit, options.units);
  if (!ruling.setting.empty()) said += ", under " + ruling.setting;
  return said + ".";
}

std::string others_words(const review::Review& review, const review::Ruling& worst) {
  std::size_t others = 0;
  for (const review::Ruling& ruling : review::all_rulings(review))
    if (ruling.rule == worst.rule && ruling.verdict == review::Verdict::fails) ++others;
  if (--others == 0) return {};
  return " The same at " + std::to_string(others) + (others == 1 ? " more place." : " more places.");
}

std::string claim_words(const review::JudgedClaim& claim, const TextOptions& options) {
  std::string said = claim.claim.at + ": " + units::show(claim.claimed, options.units) +
                     claimed_what(claim.kind) + " claimed";
  if (!claim.claim.from.empty()) said += " (" + claim.claim.from + ")";
  said += ", " + way_of_running(claim.setting, "under ");
  if (claim.ours) {
    said += ", " + units::show(*claim.ours, options.units) + " by this answer: it " +
            std::string(verdict_word(claim.verdict)) + ".";
  } else {
    said += ": it " + std::string(verdict_word(claim.verdict)) + ", " + claim.missing + ".";
  }
  if (claim.worst) {
    said +=
        claim.worst->setting == verdict::as_drawn ? " As drawn: " : " Under " + claim.worst->setting + ": ";
    said += claim.worst->ours ? units::show(*claim.worst->ours, options.units) : "never";
    said +=
        claim.worst->broken && claim.verdict == review::Verdict::holds ? ", where it does not hold." : ".";
  }
  if (claim.reason)
    said += " The proposal " + std::string(review::reason_words(claim.reason->reason)) + ", which gives " +
            units::show({claim.claimed.kind, claim.reason->si}, options.units) + ".";
  else if (claim.verdict == review::Verdict::fails)
    said += " No reason was found.";
  return said;
}

}  // namespace runnel::report
