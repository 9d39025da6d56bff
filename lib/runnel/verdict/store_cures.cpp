#include "runnel/verdict/store_cures.h"

#include <algorithm>
#include <array>
#include <iterator>
#include <vector>

#include "runnel/base/capital.h"
#include "runnel/verdict/cures_tried.h"
#include "runnel/verdict/flow_verdict.h"

namespace runnel::verdict {
namespace {

using network::Model;
using AllComes = std::function<bool(const Model&)>;

// Each trial follows whole days; so many in all take a second or less on a small machine. New float valves
// are left out of pairs: where several of them open by turns a trial may take seconds.
constexpr std::size_t most_pairs_tried = 16;

std::vector<Cure> joined(std::vector<std::vector<Cure>> kinds) {
  std::vector<Cure> all;
  for (auto& kind : kinds) std::move(kind.begin(), kind.end(), std::back_inserter(all));
  return all;
}

/// What saves water, and what makes a tank hold more.
std::vector<Cure> cures(const Model& model, const std::string& tank) {
  return joined({floats_sooner(model), floats_on_others(model, tank), taps_throttled(model),
                 larger_tanks(model, tank)});
}

struct MoreWater {
  double times;
  const char* than_now;
};
// Rounded: a spring is not known to a tenth.
constexpr std::array less_than_twice{MoreWater{1.1, "a tenth more than"},
                                     MoreWater{1.25, "a quarter more than"},
                                     MoreWater{1.5, "half as much again as"}};

/// How much more water is enough, up to twice what the springs give; none where even that is not.
std::optional<Sentence> more_water(const Model& model, const AllComes& all_comes) {
  const auto comes_with = [&](double times) {
    Model tried = model;
    for (network::Box& box : tried.boxes) box.yield = box.yield * times;
    return all_comes(tried);
  };
  if (!comes_with(2.0)) return std::nullopt;
  const auto least = std::find_if(less_than_twice.begin(), less_than_twice.end(),
                                  [&](const MoreWater& more) { return comes_with(more.times); });
  return Sentence()
      .say("Only more water helps: with ")
      .say(least == less_than_twice.end() ? "twice what" : least->than_now)
      .say(" the springs give");
}

/// A cure at the head of a sentence.
Sentence begun_with(const Cure& cure) { return Sentence().say(with_capital(cure.verb)).append(cure.what); }

std::optional<Sentence> first_that_helps(const Model& model, const std::vector<Cure>& some,
                                         const AllComes& all_comes) {
  for (const Cure& cure : some) {
    Model tried = model;
    cure.change(tried);
    if (all_comes(tried)) return begun_with(cure);
  }
  return std::nullopt;
}

/// One of the first and one of the others, both done.
std::optional<Sentence> first_pair_that_helps(const Model& model, const std::vector<Cure>& first,
                                              const std::vector<Cure>& others, const AllComes& all_comes) {
  std::size_t tried_yet = 0;
  for (const Cure& one : first)
    for (const Cure& other : others) {
      if (tried_yet++ == most_pairs_tried) return std::nullopt;
      Model tried = model;
      one.change(tried);
      other.change(tried);
      if (all_comes(tried)) return begun_with(one).say(", and ").say(other.verb).append(other.what);
    }
  return std::nullopt;
}

/// What somebody might build or set about a tank that stands low, each thing alone and then in pairs.
std::optional<Sentence> low_water_works(const Model& model, const std::string& tank,
                                        const AllComes& all_comes) {
  const std::vector<Cure> alone =
      joined({humps_vented(model, tank), humps_dug(model, tank), larger_pipes(model, tank),
              throttled_floats(model, tank), humps_dug_deep(model, tank), cures(model, tank)});
  if (auto cure = first_that_helps(model, alone, all_comes)) return cure;
  // What saves water keeps the tank high; what is done to the lines lets a low tank give.
  return first_pair_that_helps(
      model, taps_throttled(model),
      joined({humps_vented(model, tank), humps_dug(model, tank), larger_pipes(model, tank)}), all_comes);
}

/// The same about a tank that runs empty.
std::optional<Sentence> store_works(const Model& model, const std::string& tank, const AllComes& all_comes) {
  if (auto cure = first_that_helps(
          model, joined({cures(model, tank), larger_pipes_to(model, tank), humps_before_dug(model, tank)}),
          all_comes))
    return cure;
  if (auto both = first_pair_that_helps(model, taps_throttled(model), larger_tanks(model, tank), all_comes))
    return both;
  return first_pair_that_helps(model, humps_before_dug(model, tank), humps_vented(model, tank), all_comes);
}

/// About a float valve that opens late: of one beside the place what counts is how much it takes at once.
std::optional<Sentence> late_float_works(const Model& model, const LateFloat& late, const std::string& holder,
                                         const AllComes& all_comes) {
  return first_that_helps(model,
                          late.beside ? joined({throttled_floats(model, late.tank),
                                                larger_tanks(model, holder), larger_pipes(model, holder)})
                                      : joined({floats_sooner(model), larger_tanks(model, holder)}),
                          all_comes);
}

/// And about high points that shut off part of what a tank holds.
std::optional<Sentence> high_point_works(const Model& model, const std::string& tank,
                                         const AllComes& all_comes) {
  return first_that_helps(
      model, joined({humps_vented(model, tank), humps_dug(model, tank), humps_dug_deep(model, tank)}),
      all_comes);
}

/// First on the model as drawn, then with the other things done that are told.
template <class Works>
std::optional<Sentence> tried_on(const Model& model, const std::optional<Model>& mended, const Works& works) {
  if (auto act = works(model)) return act->say(": then all that is wanted comes.");
  auto act = mended ? works(*mended) : std::nullopt;
  return act ? std::optional(act->say(": then, with the other things done, all that is wanted comes."))
             : std::nullopt;
}

std::optional<Sentence> tried_with_more_water(const Model& model, const std::optional<Model>& mended,
                                              const AllComes& all_comes) {
  if (auto act = more_water(model, all_comes)) return act->say(" all that is wanted comes.");
  auto act = mended ? more_water(*mended, all_comes) : std::nullopt;
  return act ? std::optional(act->say(" and the other things done all that is wanted comes.")) : std::nullopt;
}

}  // namespace

std::optional<Sentence> low_water_cure(const Model& model, const std::string& tank, const AllComes& all_comes,
                                       const std::optional<Model>& mended) {
  auto works = tried_on(model, mended, [&](const Model& m) { return low_water_works(m, tank, all_comes); });
  return works ? works : tried_with_more_water(model, mended, all_comes);
}

std::optional<Sentence> late_float_cure(const Model& model, const LateFloat& late, const std::string& holder,
                                        const AllComes& all_comes, const std::optional<Model>& mended) {
  return tried_on(model, mended,
                  [&](const Model& m) { return late_float_works(m, late, holder, all_comes); });
}

std::optional<Sentence> high_point_cure(const Model& model, const std::string& tank,
                                        const AllComes& all_comes, const std::optional<Model>& mended) {
  return tried_on(model, mended, [&](const Model& m) { return high_point_works(m, tank, all_comes); });
}

Sentence store_cure(const Model& model, const std::string& tank, const AllComes& all_comes,
                    const std::optional<Model>& mended) {
  if (const auto works =
          tried_on(model, mended, [&](const Model& m) { return store_works(m, tank, all_comes); }))
    return *works;
  if (const auto more = tried_with_more_water(model, mended, all_comes)) return *more;
  return Sentence().say(
      "Draw less: neither a larger tank nor twice as much from the springs is enough by itself.");
}

void advise(Finding& finding, const Sentence& advice) {
  Sentence behind;
  for (const Figure& figure : finding.figures) behind.figure(figure);
  const std::size_t before = behind.text().size();
  behind.append(advice);
  finding.advice = behind.text().substr(before);
  finding.figures = behind.figures();
}

}  // namespace runnel::verdict
