// The works at a spring: overflow, vent, outlet, drilled pipe, riser, strainer, and what lies near.
#include <algorithm>
#include <cmath>

#include "runnel/base/constants.h"
#include "runnel/losses/air_valve.h"
#include "runnel/losses/overflow.h"
#include "runnel/review/measure.h"
#include "runnel/review/works_terms.h"
#include "runnel/works/drilled_pipe.h"
#include "runnel/works/settling.h"

namespace runnel::review {

namespace {

using MaybeMeasured = std::optional<Measured>;

Where at_box(const SeenWorks& seen) { return {seen.works.box, "", "", std::nullopt}; }

bool flows(const SeenWorks& seen) { return seen.greatest > Flow{}; }

MaybeMeasured share(const SeenWorks& seen, double of, double whole) {
  if (!(whole > 0.0)) return std::nullopt;
  return exactly(at_box(seen), of / whole);
}

MaybeMeasured overflow_over_room(const SeenWorks& seen) {
  if (!flows(seen)) return std::nullopt;
  if (!seen.box.overflow) return lacking(at_box(seen), "the overflow of " + seen.works.box);
  if (!seen.box.rim) return lacking(at_box(seen), "the rim of " + seen.works.box);
  const auto head = losses::overflow_head(*seen.box.overflow, seen.greatest.si());
  constexpr double out_of_reach_m = 100.0;  // overflow_head looks no further
  const double room_m = (*seen.box.rim - seen.box.lip).metres();
  constexpr double no_room = 1e6;
  return exactly(at_box(seen), room_m > 0.0 ? (head ? head->head_m : out_of_reach_m) / room_m : no_room);
}

MaybeMeasured overflow_screened(const SeenWorks& seen) {
  if (!flows(seen)) return std::nullopt;
  if (!seen.works.overflow_screened)
    return lacking(at_box(seen), "whether the overflow of " + seen.works.box + " is screened");
  return exactly(at_box(seen), *seen.works.overflow_screened ? 1.0 : 0.0);
}

/// The vent's bore, over the bore that lets in air as fast as the greatest flow can leave.
MaybeMeasured vent_over_needed(const SeenWorks& seen) {
  if (!flows(seen)) return std::nullopt;
  if (!(seen.works.vent > Length{})) return lacking(at_box(seen), "the vent of " + seen.works.box);
  losses::SiteAir air;
  air.pressure_pa = seen.system.site().air_pressure_pa;
  return share(seen, seen.works.vent.metres(), losses::draining_vent_bore_m(seen.greatest.si(), air));
}

/// What the mouths of all pipes that leave the box let in with its water at the lip, over the greatest flow.
MaybeMeasured outlet_over_greatest(const SeenWorks& seen) {
  if (!flows(seen)) return std::nullopt;
  double lets_in_m3s = 0.0;
  bool any = false;
  for (const network::Line& line : seen.system.lines()) {
    if (seen.system.box(line.from) != &seen.box) continue;
    const double bore_m = line.pipes.front().pipe.bore.metres();
    const double depth_m = (seen.box.lip - seen.box.outlet).metres() + bore_m / 2.0;
    lets_in_m3s += losses::Mouth(line.mouth, bore_m, 0.0).flow_at(std::max(0.0, depth_m)).flow_m3s;
    any = true;
  }
  return any ? share(seen, lets_in_m3s, seen.greatest.si()) : std::nullopt;
}

std::optional<works::DrilledPipe> drilled(const SeenWorks& seen) {
  if (!flows(seen) || !seen.works.pipe || seen.works.pipe->slots) return std::nullopt;
  const network::GatheringPipe& pipe = *seen.works.pipe;
  return works::DrilledPipe{pipe.bore, pipe.drilled, pipe.holes_a_metre, pipe.hole};
}

MaybeMeasured drilled_over_greatest(const SeenWorks& seen) {
  const auto pipe = drilled(seen);
  if (!pipe || !(seen.works.pipe->head > Length{})) return std::nullopt;
  const double head_m = seen.works.pipe->head.metres();
  const double holes_m3s = works::intake_of(*pipe, seen.works.pipe->head).capacity.si();
  // What the holes let in must run on inside: at most as fast as it would fall freely from that height.
  const double bore_m = pipe->bore.metres();
  const double bore_m3s = pi * bore_m * bore_m / 4.0 * std::sqrt(2.0 * gravity_ms2 * head_m);
  return share(seen, std::min(holes_m3s, bore_m3s), seen.greatest.si());
}

MaybeMeasured entrance(const SeenWorks& seen) {
  const auto pipe = drilled(seen);
  const auto velocity = pipe ? works::entrance_velocity(*pipe, seen.greatest) : std::nullopt;
  return velocity ? MaybeMeasured(exactly(at_box(seen), velocity->si())) : std::nullopt;
}

MaybeMeasured riser_over_greatest(const SeenWorks& seen) {
  if (!flows(seen) || seen.works.riser.empty()) return std::nullopt;
  std::vector<losses::HoleRow> rows;
  for (const network::RiserRow& row : seen.works.riser)
    rows.push_back({row.elevation.metres(), row.hole.metres(), static_cast<int>(std::lround(row.count))});
  return share(seen, works::riser_intake(rows, seen.box.lip, 1.0).si(), seen.greatest.si());
}

MaybeMeasured strainer_over_kept(const SeenWorks& seen) {
  const bool basin = flows(seen) && seen.box.plan_length > Length{} && seen.works.depth > Length{};
  if (!basin || !(seen.works.strainer > Length{})) return std::nullopt;
  const works::SettlingAnswer kept = works::settle(
      {seen.box.plan_length, seen.box.plan_width, seen.works.depth}, seen.greatest, seen.system.site().water);
  return kept.kept ? share(seen, seen.works.strainer.metres(), kept.kept->metres()) : std::nullopt;
}

/// The distance that stands in the works under one word of `distance_words`.
template <std::size_t word>
MaybeMeasured distance(const SeenWorks& seen) {
  for (const network::KeptDistance& kept : seen.works.distances)
    if (kept.from == network::distance_words()[word]) {
      Where where = at_box(seen);
      where.part = kept.from;
      return exactly(where, kept.distance.metres());
    }
  return std::nullopt;
}

}  // namespace

std::vector<Measure> works_measures() {
  constexpr auto none = nullptr;
  return {
      {"overflow head over its room", Kind::percent,
       "water over the lip at the greatest flow, over the height from lip to rim", none, overflow_over_room},
      {"overflow screened", Kind::number, "1 if it is, 0 if not", none, overflow_screened},
      {"vent over what is needed", Kind::percent,
       "bore of the vent over that which lets air in as fast as the greatest flow leaves", none,
       vent_over_needed},
      {"box outlet over greatest flow", Kind::percent,
       "what the mouth of its pipe lets in with the water at the lip", none, outlet_over_greatest},
      {"drilled pipe over greatest flow", Kind::percent,
       "what its holes let in, half of them shut by stone, and its bore passes on", none,
       drilled_over_greatest},
      {"entrance velocity", Kind::velocity, "greatest flow over the open area of the drilled pipe", none,
       entrance},
      {"riser over greatest flow", Kind::percent, "what its holes let in with the water at the lip", none,
       riser_over_greatest},
      {"strainer over the grain kept back", Kind::percent,
       "its openings over the finest grain that settles in the box", none, strainer_over_kept},
  };
}

std::vector<Measure> distance_measures() {
  static const std::vector<std::string> names = [] {
    std::vector<std::string> all;
    for (const std::string& word : network::distance_words()) all.push_back("distance: " + word);
    return all;
  }();
  using Take = MaybeMeasured (*)(const SeenWorks&);
  static constexpr Take takes[] = {distance<0>, distance<1>, distance<2>, distance<3>, distance<4>,
                                   distance<5>, distance<6>, distance<7>, distance<8>, distance<9>};
  std::vector<Measure> out;
  for (std::size_t i = 0; i < std::size(takes) && i < names.size(); ++i)
    out.push_back({names[i], Kind::length, "as the works state it", nullptr, takes[i]});
  return out;
}

}  // namespace runnel::review
