#include "runnel/sizing/sureness.h"

#include <algorithm>
#include <cmath>

#include "runnel/network/corner.h"
#include "runnel/sizing/bounds.h"

namespace runnel::sizing {
namespace {

using network::Corner;
using network::Model;

constexpr int ranking_samples = 512;

std::size_t blocks_of(int samples) { return (static_cast<std::size_t>(samples) + together - 1) / together; }

std::vector<SampleBlock> margin_blocks(const Sampler& sampler, int samples, const ShareOut& share_out) {
  std::vector<SampleBlock> all(blocks_of(samples));
  share_out(all.size(), [&](std::size_t i) { sampler.run_margins(i, all[i]); });
  return all;
}

std::vector<std::vector<double>> margins_of(const std::vector<SampleBlock>& blocks, std::size_t places,
                                            int samples) {
  std::vector<std::vector<double>> margins;
  for (std::size_t i = 0; i < static_cast<std::size_t>(samples); ++i) {
    margins.emplace_back(places);
    for (std::size_t p = 0; p < places; ++p)
      margins.back()[p] = blocks[i / together].margin_m[p * together + i % together];
  }
  return margins;
}

std::vector<double> corner_margins(const Model& model, Corner corner, std::size_t places) {
  const auto system = network::resolve(model);
  if (!system) return std::vector<double>(places, hopeless_m);
  const auto there = network::at_corner(*system.value, corner);
  return there ? margins_m(there.value->model()) : std::vector<double>(places, hopeless_m);
}

/// What one place gets at the 5th and at the 95th percentile of all samples.
void take_flows(const std::vector<SampleBlock>& blocks, std::size_t p, int samples, PlaceSureness& place) {
  std::vector<double> flows;
  for (std::size_t i = 0; i < static_cast<std::size_t>(samples); ++i)
    flows.push_back(std::max(0.0, blocks[i / together].flow_m3s[p * together + i % together]));
  std::sort(flows.begin(), flows.end());
  place.low_m3s = flows[flows.size() / 20];
  place.high_m3s = flows[flows.size() - 1 - flows.size() / 20];
}

/// Where the margin is least in most samples.
Binding most_often(const std::vector<SampleBlock>& blocks, std::size_t worst, int line) {
  std::vector<std::pair<Binding, int>> seen;
  for (const SampleBlock& block : blocks)
    for (std::size_t lane = 0; lane < together; ++lane) {
      const Binding& binding = block.binding[worst * together + lane];
      if (binding.line != line) continue;
      const auto known =
          std::find_if(seen.begin(), seen.end(), [&](const auto& one) { return one.first == binding; });
      known == seen.end() ? void(seen.emplace_back(binding, 1)) : void(++known->second);
    }
  const auto most = std::max_element(seen.begin(), seen.end(),
                                     [](const auto& a, const auto& b) { return a.second < b.second; });
  // A point that decides in a tenth of the samples is worth the walk.
  const bool often = most != seen.end() && most->second * 10 >= static_cast<int>(blocks.size() * together);
  return often ? most->first : Binding{};
}

std::vector<Measurement> ranked(const Model& model, const std::vector<Unknown>& unknowns, std::size_t worst,
                                double written_m, std::uint64_t seed, const ShareOut& share_out) {
  std::vector<Measurement> all(unknowns.size());
  for (std::size_t u = 0; u < unknowns.size(); ++u) {
    const Sampler sampler(model, {unknowns[u]}, seed, Sampler::Use::margins);
    const auto drawn = margin_blocks(sampler, ranking_samples, share_out);
    double sum = 0.0, squares = 0.0;
    for (const SampleBlock& block : drawn)
      for (std::size_t lane = 0; lane < together; ++lane) {
        const double off = std::max(block.margin_m[worst * together + lane], -1e3) - written_m;
        sum += off;
        squares += off * off;
      }
    all[u].influence = {unknowns[u],
                        std::max(0.0, squares / ranking_samples - std::pow(sum / ranking_samples, 2))};
    if (unknowns[u].kind == Unknown::Kind::survey)
      all[u].point = most_often(drawn, worst, static_cast<int>(unknowns[u].index));
  }
  double together_m2 = 0.0;
  for (const Measurement& one : all) together_m2 += one.influence.share;
  for (Measurement& one : all)
    one.influence.share = together_m2 > 0.0 ? one.influence.share / together_m2 : 0.0;
  std::stable_sort(all.begin(), all.end(),
                   [](const auto& a, const auto& b) { return a.influence.share > b.influence.share; });
  return all;
}

}  // namespace

void one_after_the_other(std::size_t count, const std::function<void(std::size_t)>& work) {
  for (std::size_t i = 0; i < count; ++i) work(i);
}

std::vector<Chance> chances_of(const Model& model, std::uint64_t seed, int samples,
                               const ShareOut& share_out) {
  const Sampler sampler(model, unknowns_of(model), seed, Sampler::Use::margins);
  const std::size_t places = places_asked(model).size();
  return chances(model, margins_of(margin_blocks(sampler, samples, share_out), places, samples));
}

Sureness sureness(const Model& model, const Model& built, std::uint64_t seed, int samples,
                  const ShareOut& share_out) {
  Sureness out;
  out.samples = samples;
  out.seed = seed;
  out.velocity = !model.velocity_asks.empty();
  out.full_within = std::any_of(model.asks.begin(), model.asks.end(), [](const network::Ask& ask) {
    return ask.kind == network::AskKind::full_within;
  });
  const auto unknowns = unknowns_of(model);
  const Sampler sampler(model, unknowns, seed, Sampler::Use::margins);
  auto drawn = margin_blocks(sampler, samples, share_out);
  const Sampler as_built(built, unknowns_of(built), seed, Sampler::Use::flows);
  share_out(drawn.size(), [&](std::size_t i) { as_built.run_flows(i, drawn[i]); });
  for (const SampleBlock& block : drawn) out.one_by_one += block.one_by_one;
  const std::size_t places = places_asked(model).size();
  const auto bad = corner_margins(model, Corner::bad, places),
             good = corner_margins(model, Corner::good, places);
  for (const Chance& chance : chances(model, margins_of(drawn, places, samples))) {
    const std::size_t p = out.places.size();
    out.places.push_back({chance, bad[p], good[p]});
    take_flows(drawn, p, samples, out.places.back());
  }
  if (out.places.empty()) return out;
  // The place that is least sure.
  const auto least = std::min_element(out.places.begin(), out.places.end(), [](const auto& a, const auto& b) {
    return std::pair(a.chance.chance, a.chance.margin_m) < std::pair(b.chance.chance, b.chance.margin_m);
  });
  const auto worst = static_cast<std::size_t>(least - out.places.begin());
  const std::vector<double> written = margins_m(model);
  out.next = ranked(model, unknowns, worst, written[worst], seed, share_out);
  return out;
}

}  // namespace runnel::sizing
