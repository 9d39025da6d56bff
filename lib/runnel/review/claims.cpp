#include "runnel/review/claims.h"

#include <algorithm>

#include "runnel/verdict/answer.h"
#include "runnel/verdict/settings.h"

namespace runnel::review {

namespace {

using network::AskKind;
using network::Claim;
using network::Model;

/// Turns each claim into a need, so that it is judged in the state that lasts, with the air that stays.
/// Settings with a model of their own get the same needs.
Model asking_what_is_claimed(const Model& drawn, const std::vector<Claim>& claims) {
  Model model = drawn;
  model.asks.clear();
  for (const Claim& claim : claims) {
    network::Ask ask;
    ask.at = claim.at;
    ask.mark = claim.mark;
    ask.flow = claim.flow.value_or(Flow{});
    ask.pressure = claim.pressure.value_or(Pressure{});
    ask.within = claim.full_after.value_or(Duration{});
    const auto add = [&](AskKind kind) {
      ask.kind = kind;
      model.asks.push_back(ask);
    };
    if (claim.flow && *claim.flow > Flow{}) add(AskKind::flow);
    if (claim.pressure) add(AskKind::pressure);
    if (claim.full_after) add(AskKind::full_within);
  }
  for (network::Setting& setting : model.settings)
    if (setting.instead) {
      auto instead = std::make_shared<Model>(*setting.instead);
      instead->asks = model.asks;
      setting.instead = instead;
    }
  return model;
}

AskKind ask_of(ClaimKind kind) {
  switch (kind) {
    case ClaimKind::flow:
      return AskKind::flow;
    case ClaimKind::pressure:
    case ClaimKind::static_pressure:
      return AskKind::pressure;
    case ClaimKind::full_after:
      break;
  }
  return AskKind::full_within;
}

/// Whether a need is the one that was made of a claim. Where more is drawn than is claimed, so much is
/// needed.
bool made_of(const network::Ask& ask, const JudgedClaim& claim) {
  if (ask.kind != ask_of(claim.kind) || ask.at != claim.claim.at) return false;
  switch (ask.kind) {
    case AskKind::flow:
      return ask.flow.si() >= claim.claimed.si;
    case AskKind::pressure:
      return ask.pressure.si() == claim.claimed.si;
    case AskKind::full_within:
      break;
  }
  return ask.within.si() == claim.claimed.si;
}

bool more_is_better(ClaimKind kind) { return kind == ClaimKind::flow || kind == ClaimKind::pressure; }

/// Where there is no figure, nothing comes or it takes for ever.
bool promises_too_much(ClaimKind kind, double claimed, const std::optional<Figure>& ours) {
  if (more_is_better(kind)) return claimed > (ours ? ours->si : 0.0) * (1.0 + claim_tolerance);
  return !ours || claimed < ours->si * (1.0 - claim_tolerance);
}

/// What a claim comes to under one setting.
struct Came {
  bool due = true;  ///< false: the setting itself shuts the water off there
  bool judged = false;
  std::optional<Figure> ours;  ///< none, and judged: nothing comes, or it is never full
  std::string missing;
};

class UnderSetting {
 public:
  UnderSetting(const Model& drawn, const verdict::Run& run) : run_(run) {
    auto model = network::under_setting(drawn, run.setting_of_model);
    if (model) model_ = std::move(model.value);
  }

  const std::string& name() const { return run_.setting; }
  bool is_turn_of(const std::string& setting) const { return run_.setting_of_model == setting; }

  Came of(const JudgedClaim& claim) const {
    if (!verdict::has_figures(run_.verdict.ruling)) return {true, false, {}, "no answer was reached"};
    if (claim.kind == ClaimKind::static_pressure) return standing(claim);
    const verdict::AskResult* result = answer_to(claim);
    if (!result) return nothing_claimed(claim);
    if (result->cut_off) return {false, false, {}, {}};
    if (!result->judged) return {true, false, {}, result->why_not_judged};
    if (result->met && !result->hangs_on.empty())
      return {true,
              false,
              {},
              "a few centimetres decide how the water divides at " + result->hangs_on.front().place};
    return {true, true, claim.kind == ClaimKind::full_after ? time_of(claim, *result) : result->got, {}};
  }

  std::optional<FoundReason> reason_for(const JudgedClaim& claim) const {
    auto system = model_ ? network::resolve(*model_) : Checked<network::System>{};
    if (!system) return std::nullopt;
    return find_reason(*system.value, {claim.kind, claim.claim.at}, claim.claimed.si,
                       claim.ours ? std::optional(claim.ours->si) : std::nullopt);
  }

 private:
  const verdict::AskResult* answer_to(const JudgedClaim& claim) const {
    for (const verdict::AskResult& result : run_.verdict.asks)
      if (made_of(result.ask, claim)) return &result;
    return nullptr;
  }

  /// A claim of no flow asks for nothing, and is always kept.
  Came nothing_claimed(const JudgedClaim& claim) const {
    const auto si = model_ ? reckoned(*model_, {claim.kind, claim.claim.at}) : std::nullopt;
    if (!si) return {true, false, {}, "nothing is claimed"};
    return {true, true, Figure{claim.claimed.kind, *si}, {}};
  }

  Came standing(const JudgedClaim& claim) const {
    const auto si = model_ ? reckoned(*model_, {claim.kind, claim.claim.at}) : std::nullopt;
    if (!si) return {true, false, {}, "no standing water reaches it"};
    return {true, true, Figure{claim.claimed.kind, *si}, {}};
  }

  /// A need is judged only up to the time asked, so a later time is sought here. A run without trapped air
  /// may fill even a way that the air blocks, so one that is done in time counts for nothing.
  std::optional<Figure> time_of(const JudgedClaim& claim, const verdict::AskResult& result) const {
    if (result.got) return result.got;
    const auto si = model_ ? slowest_filling(*model_, claim.claim.at) : std::nullopt;
    if (!si || *si <= claim.claimed.si) return std::nullopt;
    return Figure{claim.claimed.kind, *si};
  }

  const verdict::Run& run_;
  std::optional<Model> model_;
};

bool harder(ClaimKind kind, const std::optional<Figure>& a, const std::optional<Figure>& b) {
  constexpr double apart = 1e-6;  // what two solves of the same system may differ by
  if (!a || !b) return !a && b;
  return more_is_better(kind) ? a->si < b->si * (1.0 - apart) : a->si > b->si * (1.0 + apart);
}

/// The setting under which the claim fares worst, if that is not its own.
std::optional<ClaimElsewhere> worst_elsewhere(const JudgedClaim& claim, const Came& own,
                                              const std::vector<UnderSetting>& all) {
  std::optional<ClaimElsewhere> worst;
  for (const UnderSetting& other : all) {
    const Came came = other.is_turn_of(claim.setting) ? Came{false, false, {}, {}} : other.of(claim);
    if (!came.due || !came.judged || (own.judged && !harder(claim.kind, came.ours, own.ours))) continue;
    if (!worst || harder(claim.kind, came.ours, worst->ours))
      worst =
          ClaimElsewhere{other.name(), came.ours, promises_too_much(claim.kind, claim.claimed.si, came.ours)};
  }
  return worst;
}

/// The run in which a claim is compared: of the turns of its setting, the one that is hardest on it among
/// those in which the place is drawn from. Null if there is no such setting.
const UnderSetting* own_run(const JudgedClaim& claim, const std::vector<UnderSetting>& all) {
  const UnderSetting* own = nullptr;
  std::optional<Came> hardest;
  for (const UnderSetting& one : all) {
    if (!one.is_turn_of(claim.setting)) continue;
    Came came = one.of(claim);
    const bool takes =
        !own || (came.due && (!hardest->due || !came.judged ||
                              (hardest->judged && harder(claim.kind, came.ours, hardest->ours))));
    if (!takes) continue;
    own = &one;
    hardest = std::move(came);
  }
  return own;
}

void weigh(JudgedClaim& claim, const std::vector<UnderSetting>& all) {
  const UnderSetting* own = own_run(claim, all);
  if (!own) {
    claim.missing = "the model names no such setting";
    return;
  }
  Came came = own->of(claim);
  if (!came.due) came = {true, true, {}, {}};  // what is claimed where the water is shut off does not come
  claim.worst = worst_elsewhere(claim, came, all);
  claim.missing = came.missing;
  if (!came.judged) return;
  claim.ours = came.ours;
  if (!claim.ours && more_is_better(claim.kind)) claim.ours = Figure{claim.claimed.kind, 0.0};
  if (!claim.ours) claim.missing = "it is never full";
  const bool wrong = promises_too_much(claim.kind, claim.claimed.si, claim.ours);
  claim.verdict = wrong ? Verdict::fails : Verdict::holds;
  if (wrong) claim.reason = own->reason_for(claim);
}

/// Adds one claim for each figure of an entry of the model.
void add_claims(const Claim& claim, const std::string& setting, std::vector<JudgedClaim>& out) {
  const auto add = [&](ClaimKind kind, Figure claimed) {
    out.push_back({claim, kind, claimed, setting, {}, {}, Verdict::cannot_be_judged, {}, {}});
  };
  if (claim.flow) add(ClaimKind::flow, {Kind::flow, claim.flow->si()});
  if (claim.pressure) add(ClaimKind::pressure, {Kind::pressure, claim.pressure->si()});
  if (claim.static_pressure) add(ClaimKind::static_pressure, {Kind::pressure, claim.static_pressure->si()});
  if (claim.full_after) add(ClaimKind::full_after, {Kind::duration, claim.full_after->si()});
}

/// The claims of a model, by number, that may be judged together: no place has two, since a tap that is
/// opened for the greater of two claims is not as the smaller one takes it to be. Times to fill are judged
/// by themselves: one that is missed says nothing about what a tap gets once its tank has filled.
std::vector<std::vector<std::size_t>> one_a_place(const std::vector<Claim>& claims) {
  std::vector<std::vector<std::size_t>> rounds;
  for (std::size_t c = 0; c < claims.size(); ++c) {
    const auto free = std::find_if(rounds.begin(), rounds.end(), [&](const auto& round) {
      return std::none_of(round.begin(), round.end(), [&](std::size_t other) {
        return claims[other].at == claims[c].at ||
               claims[other].full_after.has_value() != claims[c].full_after.has_value();
      });
    });
    if (free == rounds.end())
      rounds.push_back({c});
    else
      free->push_back(c);
  }
  return rounds;
}

}  // namespace

std::vector<JudgedClaim> judge_claims(const Model& drawn, const std::optional<std::string>& only) {
  std::vector<JudgedClaim> out;
  std::vector<std::size_t> number;  // of the claim that each is of
  for (std::size_t c = 0; c < drawn.claims.size(); ++c) {
    const Claim& claim = drawn.claims[c];
    if (only && !claim.setting.empty() && claim.setting != *only) continue;
    add_claims(claim, only ? *only : claim.setting.empty() ? verdict::as_drawn : claim.setting, out);
    number.resize(out.size(), c);
  }
  if (out.empty()) return out;
  verdict::AnswerOptions options;
  options.setting = only;
  for (const auto& round : one_a_place(drawn.claims)) {
    std::vector<Claim> claims;
    for (const std::size_t c : round) claims.push_back(drawn.claims[c]);
    const auto answer = verdict::answer_model(asking_what_is_claimed(drawn, claims), options);
    std::vector<UnderSetting> all;
    if (answer)
      for (const verdict::Run& run : answer.value->runs) all.emplace_back(drawn, run);
    for (std::size_t k = 0; k < out.size(); ++k) {
      if (std::find(round.begin(), round.end(), number[k]) == round.end()) continue;
      if (answer)
        weigh(out[k], all);
      else
        out[k].missing = "it cannot be computed";
    }
  }
  return out;
}

}  // namespace runnel::review
