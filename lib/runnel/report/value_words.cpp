#include "runnel/report/value_words.h"

#include <fmt/format.h>

#include "runnel/network/collection.h"
#include "runnel/network/daily_needs.h"
#include "runnel/report/terms.h"
#include "runnel/review/works_terms.h"

namespace runnel::report {
namespace {

/// Words that say all by themselves. The figures of the distances are those of models/rules/works.yaml.
const std::vector<ValueWord>& plain_values() {
  static const std::vector<ValueWord> words{
      {"darcy-weisbach",
       "The friction law that runnel takes if none is named. It holds for cold and warm water and for slow "
       "and "
       "fast water, and needs no figure but the roughness of the pipe [colebrook1939]."},
      {"hazen-williams",
       "An older friction law, fitted to large pipes and fast water that is neither cold nor warm. In small "
       "pipe, or "
       "where "
       "the water is slow or cold, it tells too small a loss, and runnel says so [liou1998]."},
      {"open", "Air can get in: a line that is not tight, or a valve or tap that stands open."},
      {"sealed", "No air can get into the pipe, so that it may run as a siphon once it is filled by hand."},
      {"level", "Of a survey: stations are distances on the level, as a map shows them."},
      {"pipe", "Of a survey: stations are lengths along the pipe, as a tape laid on it reads."},
      {"yes", "It is so."},
      {"no", "It is not so."},
      {"square",
       "A mouth cut square and set flush in a wall. It takes more from the water than a rounded one "
       "[hds-5]."},
      {"socket", "A mouth with the wide end of the pipe in the wall. Water enters easily [hds-5]."},
      {"socket projecting", "A mouth with the wide end of the pipe standing out of the wall [hds-5]."},
      {"metal", "A mouth of thin metal pipe, flush in a wall [hds-5]."},
      {"mitred", "A mouth cut to the slope of the bank it lies in [hds-5]."},
      {"projecting",
       "A mouth of thin pipe that stands out into the water. It lets in less than a square one [hds-5]."},
      {"bevelled 45", "A mouth whose edge is cut away at 45 degrees, so that water enters easily [hds-5]."},
      {"bevelled 33", "A mouth whose edge is cut away at 33.7 degrees, so that water enters easily [hds-5]."},
      {"earth manual 1960",
       "Rules for filter stone by the size of its fine grains against the coarse and fine grains of the soil "
       "[usbr-earth-manual]."},
      {"river manual",
       "Rules for filter stone by three ratios of grain sizes between the stone and the soil "
       "[fhwa-river-manual]."},
      {"nrcs 1994",
       "Rules for filter stone by four classes of soil; to drain well, the fine grains of the stone are at "
       "least 4 "
       "times those of the soil [nrcs-633-26]."},
      {"nrcs 2017",
       "Rules for filter stone by four classes of soil, with a tighter limit for clay that clouds still "
       "water; to "
       "drain well, the fine grains of the stone are at least 5 times those of the soil. Taken if none is "
       "named "
       "[nrcs-633-26]."},
      {"nrcs band",
       "Rules for filter stone by four classes of soil; the fine grains of the stone are at least a fifth of "
       "the "
       "most allowed [nrcs-633-26]."},
      {"corps 2005",
       "Rules for filter stone by four classes of soil; to drain well, the fine grains of the stone are at "
       "least 3 "
       "to 5 times those of the soil [corps-em-1901]."},
      {"reclamation 2011",
       "Rules for filter stone by four classes of soil; to drain well, the fine grains of the stone are at "
       "least 5 "
       "times those of the soil [filter-evaluation]."},
      {"clear ground uphill",
       "How far above the spring the ground is kept free of anything that makes water dirty. `review` wants "
       "200 ft "
       "[wisconsin-nr-812]."},
      {"clear ground sideways",
       "How far beside the spring the ground is kept free of anything that makes water dirty. `review` wants "
       "100 "
       "ft "
       "[wisconsin-nr-812]."},
      {"clear ground downhill",
       "How far below the spring the ground is kept free of anything that makes water dirty. `review` wants "
       "50 ft "
       "[ohio-3701-28-13]."},
      {"sewer", "How far away the next sewer lies. `review` wants 50 ft [utah-r309-600]."},
      {"manure", "How far away manure is kept or spread. `review` wants 50 m [uk-dwi-springs]."},
      {"stock", "How far away stock is kept from the spring. `review` wants 50 m [uk-dwi-springs]."},
      {"latrine", "How far away the next latrine stands. `review` wants 30 m [green-roads-water]."},
      {"privy uphill",
       "How far away a privy, a septic tank or stock above the spring lies. `review` wants 50 m "
       "[nzdl-handbook]."},
      {"fence", "How far from the spring its fence stands. `review` wants 10 m [green-roads-water]."},
      {"ditch outfall",
       "How far from the spring the ditch that leads surface water round it lets that water go. `review` "
       "wants "
       "25 ft [ohio-3701-28-13]."},
  };
  return words;
}

std::vector<ValueWord> all_values() {
  std::vector<ValueWord> all = plain_values();
  for (const network::DailyNeed& need : network::daily_needs())
    all.push_back({need.who, fmt::format("What one drinks or uses in a day: {}. Where a range is published, "
                                         "its upper end counts. Source: {}.",
                                         need.published, need.source)});
  for (const std::string& ground : network::ground_words())
    if (const auto known = review::ground_of(ground))
      all.push_back(
          {ground,
           fmt::format(
               "Of the ground under a wall: the way of the water under the wall must be at least {:g} "
               "times as long as the water stands higher behind it than in front. What runs on the level "
               "counts as a third [lane1935].",
               works::least_creep_ratio(*known))});
  return all;
}

}  // namespace

const std::vector<ValueWord>& value_words() {
  static const std::vector<ValueWord> words = all_values();
  return words;
}

const ValueWord* find_value_word(std::string_view word) {
  for (const ValueWord& known : value_words())
    if (plain_word(known.word) == plain_word(word)) return &known;
  return nullptr;
}

}  // namespace runnel::report
