#include "runnel/sizing/chance.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "runnel/network/corner.h"
#include "runnel/network/draws.h"
#include "runnel/network/part_loss.h"
#include "runnel/sizing/bounds.h"
#include "runnel/sizing/design_loops.h"
#include "runnel/sizing/design_needs.h"
#include "runnel/sizing/design_parts.h"
#include "runnel/sizing/design_tree.h"
#include "runnel/sizing/design_turns.h"
#include "runnel/sizing/draws.h"
#include "runnel/sizing/loop_trials.h"
#include "runnel/sizing/unknown_ranges.h"

namespace runnel::sizing {
namespace {

using network::Model;

void sample_bore(network::Pipeline& line, Draws draws) {
  const double share = draws.even();
  // A fitting's loss coefficient does not follow the tolerance of the wall.
  for (auto& part : line.parts)
    if (const auto k = network::published_loss_of(line, part, part.open); k && !part.loss && !part.open_loss)
      part.loss = k->k;
  for (auto& laid : line.pipes) {
    const network::BoreRange range = network::bore_range(laid.pipe);
    laid.pipe.bore = range.least + share * (range.greatest - range.least);
  }
}

void sample_roughness(network::Pipeline& line, Draws draws) {
  const double share = draws.even();
  for (auto& laid : line.pipes) {
    const pipes::Pipe old = network::aged(laid.pipe);
    laid.pipe.roughness = laid.pipe.roughness + share * (old.roughness - laid.pipe.roughness);
    if (laid.pipe.hazen_c > 0.0) laid.pipe.hazen_c += share * (old.hazen_c - laid.pipe.hazen_c);
  }
}

/// How far each place stands above its elevation in the model.
using Lifts = std::map<std::string, double>;

void lift_places(Model& model, const Lifts& lifts) {
  const auto by = [&](const std::string& name) {
    const auto found = lifts.find(name);
    return Length::metres(found == lifts.end() ? 0.0 : found->second);
  };
  network::each_place(model, [&](auto& place) {
    place.each_elevation([&](Length& elevation) { elevation += by(place.levelled_with()); });
  });
  for (auto& line : model.pipelines)
    if (line.float_valve) {
      line.float_valve->shuts_at += by(line.to);
      line.float_valve->opens_at += by(line.to);
    }
}

/// Walks every line from its start, which keeps the error it has already: the far end drifts, and each point
/// scatters.
void sample_surveys(Model& model, const std::vector<bool>& unknown, std::uint64_t seed,
                    std::uint64_t sample) {
  Lifts lifts;
  for (const auto& box : model.boxes)
    if (std::none_of(model.pipelines.begin(), model.pipelines.end(),
                     [&](const auto& line) { return line.to == box.name; }))
      lifts[box.name] = 0.0;
  std::vector<bool> walked(model.pipelines.size(), false);
  // Lines whose start is known come first; a line with an unknown start begins a datum of its own.
  for (std::size_t round = 0; round < model.pipelines.size(); ++round) {
    std::size_t next = model.pipelines.size();
    for (std::size_t l = 0; l < model.pipelines.size(); ++l)
      if (!walked[l] && (next == model.pipelines.size() ||
                         (lifts.count(model.pipelines[l].from) && !lifts.count(model.pipelines[next].from))))
        next = l;
    walked[next] = true;
    auto& line = model.pipelines[next];
    const double at_start = lifts.emplace(line.from, 0.0).first->second;
    Draws draws(seed, sample, {Unknown::Kind::survey, next});
    const double deviation = unknown[next] ? survey_deviation_m(line) : 0.0;
    const double at_end = lifts.emplace(line.to, at_start + deviation * draws.normal()).first->second;
    const double first = line.survey.front().station.metres(), last = line.survey.back().station.metres();
    for (std::size_t i = 0; i < line.survey.size(); ++i) {
      const double along = (line.survey[i].station.metres() - first) / (last - first);
      const bool inside = i > 0 && i + 1 < line.survey.size();
      const double scatter = inside ? deviation * draws.normal() : 0.0;
      line.survey[i].elevation += Length::metres(at_start + along * (at_end - at_start) + scatter);
    }
  }
  lift_places(model, lifts);
}

}  // namespace

std::vector<Unknown> unknowns_of(const Model& model) {
  std::vector<Unknown> all;
  for (std::size_t b = 0; b < model.boxes.size(); ++b)
    if (const auto& tests = model.boxes[b].bucket_tests; tests && tests->times.size() > 1)
      all.push_back({Unknown::Kind::yield, b});
  for (std::size_t l = 0; l < model.pipelines.size(); ++l) {
    const auto& line = model.pipelines[l];
    if (line.survey_error && *line.survey_error > Length{}) all.push_back({Unknown::Kind::survey, l});
    const bool ranges = std::any_of(line.pipes.begin(), line.pipes.end(), [](const auto& laid) {
      const network::BoreRange range = network::bore_range(laid.pipe);
      return range.greatest > range.least;
    });
    if (ranges) all.push_back({Unknown::Kind::bore, l});
    all.push_back({Unknown::Kind::roughness, l});
  }
  return all;
}

Model sampled(Model model, const std::vector<Unknown>& unknowns, std::uint64_t seed, std::uint64_t sample) {
  std::vector<bool> surveys(model.pipelines.size(), false);
  bool any_survey = false;
  for (const Unknown& unknown : unknowns) {
    const Draws draws(seed, sample, unknown);
    switch (unknown.kind) {
      case Unknown::Kind::survey:
        surveys[unknown.index] = any_survey = true;
        break;
      case Unknown::Kind::bore:
        sample_bore(model.pipelines[unknown.index], draws);
        break;
      case Unknown::Kind::roughness:
        sample_roughness(model.pipelines[unknown.index], draws);
        break;
      case Unknown::Kind::yield:
        model.boxes[unknown.index].yield =
            Flow::from_si(YieldSpread(model.boxes[unknown.index]).drawn_m3s(draws));
        break;
    }
  }
  if (any_survey) sample_surveys(model, surveys, seed, sample);
  return model;
}

std::vector<std::string> places_asked(const Model& model) {
  std::vector<std::string> places;
  const auto add = [&](const std::string& place) {
    if (std::find(places.begin(), places.end(), place) == places.end()) places.push_back(place);
  };
  for (const auto& ask : model.asks) add(ask.at);
  for (const auto& outlet : model.outlets)
    if (network::busiest_hour(outlet.draws) > Flow{}) add(outlet.name);
  return places;
}

namespace {

/// With loops: the margins while all that is asked is drawn, as far as it comes (design_loops.h).
void loop_margins(const Model& model, const PriceList& prices, const std::vector<std::string>& places,
                  std::vector<double>& margins) {
  const auto loops = design_loops(model, prices);
  if (!loops) return;
  LoopTrials trials(loops.value->choice);
  trials.margin_m({});
  if (trials.state().outcome != steady::Outcome::settled) return;
  for (std::size_t p = 0; p < places.size(); ++p) {
    std::string at = places[p];
    if (const network::Outlet* outlet = model.outlet(at); outlet && !outlet->on.empty()) at = outlet->on;
    for (std::size_t v = 0; v < loops.value->places.size(); ++v)
      if (loops.value->places[v] == at) margins[p] = trials.margin_at_m(v);
  }
}

/// While all is drawn at once that is asked of the model.
std::vector<double> margins_at_once_m(const Model& model) {
  const std::vector<std::string> places = places_asked(model);
  std::vector<double> margins(places.size(), hopeless_m);
  const PriceList prices(model);
  const auto tree = design_tree(model, prices, Tanks::as_drawn);
  if (is_no_tree(tree)) loop_margins(model, prices, places, margins);
  const auto system = network::resolve(model);
  if (!tree || !system) return margins;
  const auto& branches = tree.value->choice.branches;
  std::vector<double> head_m{tree.value->choice.head_m}, left_m{nothing_asked_m};
  for (std::size_t b = 0; b < branches.size(); ++b) {
    const auto above = static_cast<std::size_t>(branches[b].above);
    const auto& option = branches[b].options.front();
    head_m.push_back(head_m[above] - option.loss_m);
    // What the start of a line needs is met or not; a surplus there helps nobody.
    const auto& crests = tree.value->lines[b].crests_m;
    const double needed_m = head_m[above] < option.need_m || crests.empty() ? option.need_m : crests.front();
    left_m.push_back(
        std::min({left_m[above], head_m[above] - needed_m, head_m.back() - branches[b].floor_m}));
  }
  for (std::size_t p = 0; p < places.size(); ++p) {
    int place = *system.value->find_place(places[p]);
    if (system.value->outlet(place)) {
      const int on = system.value->hangs_on(system.value->place(place).index);
      if (on >= 0) place = on;
    }
    for (std::size_t b = 0; b < branches.size(); ++b)
      if (tree.value->ends[b] == place) margins[p] = left_m[b + 1];
  }
  return margins;
}

}  // namespace

std::vector<std::size_t> numbers_in(const std::vector<std::string>& all,
                                    const std::vector<std::string>& some) {
  std::vector<std::size_t> numbers;
  for (const std::string& place : some)
    numbers.push_back(static_cast<std::size_t>(std::find(all.begin(), all.end(), place) - all.begin()));
  return numbers;
}

std::vector<double> least_of_turns(const Model& model, double unasked, const FiguresOf& figures_of) {
  const std::vector<std::string> places = places_asked(model);
  std::vector<double> least(places.size(), unasked);
  for (const Model& turn : design_turns(with_levels_to_judge(model))) {
    const std::vector<double> here = figures_of(turn);
    const std::vector<std::size_t> numbers = numbers_in(places, places_asked(turn));
    for (std::size_t p = 0; p < here.size(); ++p) least[numbers[p]] = std::min(least[numbers[p]], here[p]);
  }
  return least;
}

std::vector<double> margins_m(const Model& model) {
  return least_of_turns(model, nothing_asked_m, margins_at_once_m);
}

std::vector<Chance> chances(const Model& model, const std::vector<std::vector<double>>& margins) {
  std::vector<Chance> all;
  const std::vector<std::string> places = places_asked(model);
  const auto n = static_cast<double>(margins.size());
  for (std::size_t p = 0; p < places.size() && n > 0; ++p) {
    double held = 0.0, sum = 0.0, squares = 0.0, counted = 0.0;
    for (const auto& sample : margins) {
      // A nanometre for the rounding of the sums.
      held += sample[p] >= -1e-9;
      if (sample[p] <= 0.5 * hopeless_m) continue;
      counted += 1.0;
      sum += sample[p];
      squares += sample[p] * sample[p];
    }
    Chance chance{places[p], held / n, 0.0, 0.0, 0.0};
    chance.error = std::sqrt(chance.chance * (1.0 - chance.chance) / n);
    if (counted > 0.0) chance.margin_m = sum / counted;
    if (counted > 1.0)
      chance.spread_m = std::sqrt(std::max(0.0, (squares - sum * sum / counted) / (counted - 1.0)));
    all.push_back(chance);
  }
  return all;
}

}  // namespace runnel::sizing
