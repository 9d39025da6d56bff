#include "runnel/sizing/trial.h"

#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/losses/opening.h"
#include "runnel/network/drawn_needs.h"
#include "runnel/network/draws.h"
#include "runnel/network/system.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/acts.h"
#include "runnel/verdict/answer.h"

namespace runnel::sizing {
namespace {

using network::Model;
using network::Outlet;

// A tap gets what is asked to a part in 10^7, ten times finer than a need is judged.
constexpr double near_enough = 1e-7;
constexpr int most_rounds = 60;

/// What is asked of a tap: the need that is stated there, and at least what people draw in their busiest
/// hour. Zero if no need is stated.
double asked_m3s(const Model& model, const std::string& place) {
  const double flow = network::flow_asked_at(model, place).si();
  const Outlet* tap = model.outlet(place);
  return flow > 0.0 && tap ? std::max(flow, network::busiest_hour(tap->draws).si()) : flow;
}

/// Taps that would take the water of others: those with a need of their own where others have one too.
std::vector<std::size_t> taps_of(const Model& model) {
  std::vector<std::size_t> taps;
  const auto asked = std::count_if(model.asks.begin(), model.asks.end(), [](const network::Ask& ask) {
    return ask.kind == network::AskKind::flow;
  });
  for (std::size_t o = 0; o < model.outlets.size(); ++o)
    if (asked > 1 && asked_m3s(model, model.outlets[o].name) > 0.0) taps.push_back(o);
  return taps;
}

/// The bore through which water leaves an outlet: its opening, or the end of the pipe.
double bore_m(const Model& model, const Outlet& outlet) {
  if (outlet.opening > Length{}) return outlet.opening.metres();
  double bore = 0.0;
  for (const auto& line : model.pipelines)
    if (line.to == outlet.name) bore = std::max(bore, line.pipes.back().pipe.bore.metres());
  return bore;
}

/// The highest water surface of a state.
double surface_m(const Model& model, const steady::State& state) {
  double highest = -1e300;
  for (std::size_t b = 0; b < model.boxes.size(); ++b)
    highest = std::max(highest, state.boxes[b].level_m.value_or(model.boxes[b].lip.metres()));
  for (const auto& tank : model.tanks) highest = std::max(highest, tank.level.metres());
  return highest;
}

/// A tap being turned.
struct Tap {
  std::size_t outlet = 0;
  double own_loss = 0.0;  ///< when wide open
};

/// One turn of a tap towards what is asked of it; returns how far off it was. With less flow the pipes before
/// it lose less head (as the power 1.85 of the flow, as if all taps turned alike), and the tap has to take up
/// the rest.
double turn(Outlet& outlet, const Tap& tap, const steady::PlaceState& place, double wanted_m3s,
            double surface_m, double share_of_turn) {
  const double share = place.flow_m3s / wanted_m3s;
  if (share <= 0.0) return 0.0;
  const bool open = outlet.loss <= tap.own_loss;
  if (open && share <= 1.0) return 0.0;
  const double area_m2 = pi * std::pow(outlet.opening.metres(), 2) / 4.0;
  const double jet_m = wanted_m3s * wanted_m3s / (2.0 * gravity_ms2 * area_m2 * area_m2);
  const double in_tap_m = outlet.loss * jet_m * share * share;
  const double in_pipes_m = std::max(0.0, surface_m - outlet.elevation.metres() - in_tap_m);
  const double needed_m = in_tap_m + in_pipes_m * (1.0 - std::pow(share, -1.85));
  const double loss = outlet.loss + share_of_turn * (needed_m / jet_m - outlet.loss);
  outlet.loss = std::clamp(loss, tap.own_loss, 1e9);
  return std::abs(share - 1.0);
}

/// A setting that rewrites the model gets the same throttles.
void set_in_settings(Model& model, const std::vector<Tap>& taps) {
  for (network::Setting& setting : model.settings) {
    if (!setting.instead) continue;
    Model instead = *setting.instead;
    for (Outlet& outlet : instead.outlets)
      for (const Tap& tap : taps)
        if (model.outlets[tap.outlet].name == outlet.name) {
          outlet.opening = model.outlets[tap.outlet].opening;
          outlet.loss = model.outlets[tap.outlet].loss;
        }
    setting.instead = std::make_shared<const Model>(std::move(instead));
  }
}

/// The model as drawn and under each of its settings.
std::vector<Model> ways_of_running(const Model& model) {
  std::vector<Model> ways{model};
  for (const network::Setting& setting : model.settings)
    if (auto run = network::under_setting(model, setting.name)) ways.push_back(std::move(*run.value));
  return ways;
}

/// What a tap gives where it gives least, and the highest water there.
struct Least {
  steady::PlaceState place;
  double surface_m = 0.0;
};

/// One for each tap; nothing if some setting has no answer. A tap where no water comes at all is shut off, or
/// fails however it is set.
std::optional<std::vector<Least>> least_of(const Model& model, const std::vector<Tap>& taps) {
  std::vector<Least> least(taps.size());
  for (const Model& way : ways_of_running(model)) {
    auto system = network::resolve(way);
    if (!system) return std::nullopt;
    const steady::State state = steady::solve(*system.value, {.depths = false});
    if (state.outcome != steady::Outcome::settled) return std::nullopt;
    const double surface = surface_m(way, state);
    for (std::size_t t = 0; t < taps.size(); ++t) {
      const auto& place = state.outlets[taps[t].outlet];
      Least& so_far = least[t];
      if (place.flow_m3s > 0.0 && (so_far.place.flow_m3s <= 0.0 || place.flow_m3s < so_far.place.flow_m3s))
        so_far = {place, surface};
    }
  }
  return least;
}

/// Turns every tap until it gives `times` what is asked where it gives least, or is wide open. False if no
/// answer is found on the way.
bool set_taps(Model& model, const std::vector<Tap>& taps, double times = 1.0 + near_enough) {
  double share_of_turn = 1.0, last = 1e300;
  for (int round = 0; round < most_rounds; ++round) {
    const auto least = least_of(model, taps);
    if (!least) return false;
    double worst = 0.0;
    for (std::size_t t = 0; t < taps.size(); ++t) {
      Outlet& outlet = model.outlets[taps[t].outlet];
      const double wanted = asked_m3s(model, outlet.name) * times;
      worst = std::max(
          worst, turn(outlet, taps[t], (*least)[t].place, wanted, (*least)[t].surface_m, share_of_turn));
    }
    set_in_settings(model, taps);
    if (worst <= near_enough) return true;
    if (worst > 0.7 * last) share_of_turn = std::max(0.1, 0.7 * share_of_turn);
    last = worst;
  }
  return true;  // as near as it gets; the verdict says whether that is enough
}

/// An outlet without an opening is the bare end of its pipe: as a tap it has that bore, and no loss of its
/// own.
std::vector<Tap> taps_with_openings(Model& model) {
  std::vector<Tap> taps;
  for (const std::size_t o : taps_of(model)) {
    Outlet& outlet = model.outlets[o];
    taps.push_back({o, outlet.opening > Length{} ? outlet.loss : 1.0});
    if (outlet.opening > Length{}) continue;
    outlet.opening = Length::metres(bore_m(model, outlet));
    outlet.loss = 1.0;
  }
  return taps;
}

/// The first such finding.
std::optional<Finding> surge_of(const verdict::Answer& answer) {
  for (const verdict::Run& run : answer.runs)
    for (const Finding& finding : run.verdict.findings)
      if (finding.code == surge_above_rating) return finding;
  return std::nullopt;
}

Trial judge(Model model) {
  Trial trial;
  const auto answer = verdict::answer_model(model, {.try_cures = false});
  if (!answer) {
    trial.reason = answer.findings.front().code;
  } else if (!answer.value->good()) {
    const verdict::Run& worst = answer.value->leading();
    trial.setting = worst.setting;
    trial.reason = "no-answer";
    if (!worst.verdict.findings.empty()) {
      const Finding& first = worst.verdict.findings.front();
      trial.reason = first.code;
      trial.at = first.where.place.empty() ? first.where.pipeline : first.where.place;
    }
  }
  if (answer) {
    const verdict::FlowVerdict& leading = answer.value->leading().verdict;
    trial.sentence = answer.value->sentence;
    trial.condition = verdict::condition_of(leading);
    if (!answer.value->good()) trial.acts = verdict::acts_of(leading);
  }
  trial.good = answer && answer.value->good();
  if (answer) trial.surge = surge_of(*answer.value);
  trial.model = std::move(model);
  return trial;
}

void list_throttles(Trial& trial, const std::vector<Tap>& taps) {
  trial.throttles.clear();
  for (const Tap& tap : taps) {
    const Outlet& outlet = trial.model.outlets[tap.outlet];
    const double added = outlet.loss - tap.own_loss, bore = outlet.opening.metres();
    if (added <= 1e-3) continue;
    // The loss of a hole falls as the fourth power of its bore (losses/opening.h).
    const double whole = losses::orifice_loss(bore, losses::sharp_hole_cd, bore);
    trial.throttles.push_back({outlet.name, outlet.loss, bore, bore * std::pow(whole / added, 0.25)});
  }
}

/// The next number below that has so many digits: less loss gives the tap more.
double with_digits_below(double value, int digits) {
  const double step = std::pow(10.0, std::floor(std::log10(value)) + 1.0 - digits);
  return std::floor(value / step) * step;
}

}  // namespace

Trial try_out(Model laid) {
  const std::vector<Tap> taps = taps_with_openings(laid);
  if (!taps.empty() && !set_taps(laid, taps)) {
    Trial trial;
    trial.reason = "no-answer";
    trial.model = std::move(laid);
    return trial;
  }
  Trial trial = judge(std::move(laid));
  list_throttles(trial, taps);
  return trial;
}

void look_for_cures(Trial& trial) {
  const auto answer = verdict::answer_model(trial.model);
  if (answer && !answer.value->good()) trial.acts = verdict::acts_of(answer.value->leading().verdict);
}

Trial with_round_throttles(Trial trial, Model laid) {
  if (!trial.good || trial.throttles.empty()) return trial;
  // A rounded tap takes a little too much, so first all taps are set to give that much more.
  struct Rounding {
    double more;
    int digits;
  };
  const std::vector<Tap> taps = taps_with_openings(laid);
  for (const auto& [more, digits] : {Rounding{2e-3, 4}, Rounding{2e-4, 5}, Rounding{2e-5, 6}}) {
    Model rounded = trial.model;
    if (!set_taps(rounded, taps, 1.0 + more)) continue;
    for (const Tap& tap : taps) {
      Outlet& outlet = rounded.outlets[tap.outlet];
      if (outlet.loss - tap.own_loss > 1e-3)
        outlet.loss = std::max(tap.own_loss, with_digits_below(outlet.loss, digits));
    }
    set_in_settings(rounded, taps);
    Trial again = judge(std::move(rounded));
    if (!again.good) continue;
    list_throttles(again, taps);
    return again;
  }
  return trial;
}

}  // namespace runnel::sizing
