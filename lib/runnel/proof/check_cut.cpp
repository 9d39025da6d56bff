#include "runnel/proof/check_cut.h"

#include <algorithm>
#include <cmath>

#include "runnel/network/place_state.h"

namespace runnel::proof {
namespace {

using network::Line;
using network::PartKind;
using network::PlaceKind;
using network::System;

constexpr LongReal same_m = 1e-9L;  // stations nearer to each other than this count as one

std::vector<LongReal> stations(const Line& line) {
  const LongReal first = line.survey.front().station.metres(), last = line.survey.back().station.metres();
  std::vector<LongReal> all;
  for (const auto& point : line.survey) all.push_back(point.station.metres());
  std::vector<LongReal> added;
  for (const auto& part : line.parts) added.push_back(part.at.metres());
  for (const auto& laid : line.pipes) added.push_back(laid.from.metres());
  std::stable_sort(all.begin(), all.end());
  for (const LongReal station : added) {
    const LongReal held = std::clamp(station, first, last);
    const auto at = std::lower_bound(all.begin(), all.end(), held - same_m);
    if (at == all.end() || *at > held + same_m) all.insert(at, held);
  }
  return all;
}

LongReal height_at(const Line& line, LongReal station) {
  const auto after = std::partition_point(
      line.survey.begin() + 1, line.survey.end() - 1,
      [&](const network::SurveyPoint& p) { return LongReal(p.station.metres()) < station; });
  const auto i = static_cast<std::size_t>(after - line.survey.begin());
  const LongReal s0 = line.survey[i - 1].station.metres(), s1 = line.survey[i].station.metres();
  const LongReal z0 = line.survey[i - 1].elevation.metres(), z1 = line.survey[i].elevation.metres();
  if (station >= s1 || s1 <= s0) return z1;
  return z0 + (z1 - z0) * (station - s0) / (s1 - s0);
}

std::size_t cut_at(const CutLine& out, LongReal station) {
  std::size_t best = 0;
  for (std::size_t i = 1; i < out.cuts.size(); ++i)
    if (std::fabs(out.cuts[i].station_m - station) < std::fabs(out.cuts[best].station_m - station)) best = i;
  return best;
}

void lay_reaches(const Line& line, CutLine& out) {
  for (const LongReal station : stations(line)) {
    Cut cut;
    cut.station_m = station;
    cut.elevation_m = height_at(line, station);
    for (std::size_t p = 0; p < line.pipes.size(); ++p)
      if (LongReal(line.pipes[p].from.metres()) <= station + same_m) cut.pipe = p;
    out.cuts.push_back(cut);
  }
  for (std::size_t i = 0; i + 1 < out.cuts.size(); ++i) {
    const LongReal run = out.cuts[i + 1].station_m - out.cuts[i].station_m;
    const LongReal rise = out.cuts[i + 1].elevation_m - out.cuts[i].elevation_m;
    out.cuts[i].length_m = line.along == network::Along::pipe ? run : std::hypot(run, rise);
  }
  if (out.cuts.size() > 1) out.cuts.back().pipe = out.cuts[out.cuts.size() - 2].pipe;
}

void set_floors(const System& system, const Line& line, PlaceKind from, PlaceKind to, CutLine& out) {
  // The floor of an open line is the pipe itself; that of a sealed line lies where the water would boil,
  // except at ends that are open to the air.
  const LongReal below = line.air == network::Air::sealed ? LongReal(system.site().vapour_limit_m()) : 0.0L;
  for (Cut& cut : out.cuts) cut.floor_m = cut.elevation_m - below;
  if (network::open_water(from)) out.cuts.front().floor_m = out.cuts.front().elevation_m;
  if (to != PlaceKind::joint) out.cuts.back().floor_m = out.cuts.back().elevation_m;
  if (to == PlaceKind::tank) {
    const LongReal inlet = system.tank(line.to)->inlet.metres();
    out.cuts.back().floor_m = std::max(out.cuts.back().floor_m, inlet);
  }
}

void set_parts(const System& system, const Line& line, CutLine& out) {
  for (const auto& part : line.parts) {
    Cut& cut = out.cuts[cut_at(out, part.at.metres())];
    const LongReal loss = part.k * out.pipes[cut.pipe].velocity_head_s2m5();
    cut.forward_s2m5 += loss;
    cut.backward_s2m5 += loss;
    if (part.kind == PartKind::valve && !(part.open > 0.0)) cut.shut = out.shut = true;
    if (part.kind == PartKind::check_valve) cut.checked = out.one_way = true;
    if (part.kind == PartKind::air_valve) cut.floor_m = std::max(cut.floor_m, cut.elevation_m);
    if (part.kind != PartKind::reducing_valve) continue;
    const LongReal set = cut.elevation_m + part.set_pressure.pascals() / system.site().specific_weight_nm3();
    cut.set_m = std::min(cut.set_m.value_or(set), set);
    cut.checked = out.one_way = true;
  }
}

void set_changes(const Line& line, CutLine& out) {
  for (std::size_t p = 1; p < line.pipes.size(); ++p) {
    const LongReal station = line.pipes[p].from.metres();
    if (station <= out.cuts.front().station_m + same_m) continue;
    Cut& cut = out.cuts[cut_at(out, station)];
    const PlainPipe &before = out.pipes[p - 1], &behind = out.pipes[p];
    const PlainPipe& narrow = before.bore_m < behind.bore_m ? before : behind;
    const network::FittedPipe& laid = line.pipes[p];
    const LongReal forward =
        laid.change_stated ? LongReal(laid.change_forward) : plain_change_k(before.bore_m, behind.bore_m);
    const LongReal backward =
        laid.change_stated ? LongReal(laid.change_backward) : plain_change_k(behind.bore_m, before.bore_m);
    cut.forward_s2m5 += forward * narrow.velocity_head_s2m5();
    cut.backward_s2m5 += backward * narrow.velocity_head_s2m5();
  }
}

void set_ends(const Line& line, PlaceKind from, PlaceKind to, CutLine& out) {
  const LongReal first = out.pipes[out.cuts.front().pipe].velocity_head_s2m5();
  const LongReal last = out.pipes[out.cuts.back().pipe].velocity_head_s2m5();
  out.entrance_s2m5 = line.entrance_loss * first;
  out.exit_s2m5 = line.exit_loss * last;
  // When water flows back the mouth is at the other end: sharp entrance 0.5, exit 1.0 [water-supply-6-4].
  out.back_entrance_s2m5 = (network::open_water(to) ? 0.5L : LongReal(line.exit_loss)) * last;
  out.back_exit_s2m5 = (network::open_water(from) ? 1.0L : LongReal(line.entrance_loss)) * first;
  if (to == PlaceKind::outlet) out.one_way = true;
  if (to != PlaceKind::tank) return;
  if (const auto& valve = line.float_valve) {
    out.exit_s2m5 += valve->loss * last;
    out.one_way = out.cuts.back().checked = true;
  }
}

PlainMouth mouth_of(const Line& line, const CutLine& cut, bool forward) {
  const std::size_t last = cut.cuts.size() - 1;
  PlainMouth mouth{line.mouth, cut.pipes[cut.cuts[forward ? 0 : last].pipe].bore_m, 0.0L};
  for (std::size_t i = 0; i < last; ++i) {
    const std::size_t reach = forward ? i : last - 1 - i;
    if (!(cut.cuts[reach].length_m > 0.0L)) continue;
    const LongReal fall = cut.cuts[reach].elevation_m - cut.cuts[reach + 1].elevation_m;
    mouth.slope = (forward ? fall : -fall) / cut.cuts[reach].length_m;
    break;
  }
  return mouth;
}

}  // namespace

CutLine cut_line(const System& system, const Line& line, PlaceKind from, PlaceKind to) {
  CutLine out;
  for (const auto& laid : line.pipes)
    out.pipes.push_back({laid.pipe.bore.metres(), laid.pipe.roughness.metres(), laid.pipe.hazen_c});
  lay_reaches(line, out);
  set_floors(system, line, from, to, out);
  set_parts(system, line, out);
  set_changes(line, out);
  set_ends(line, from, to, out);
  if (network::open_water(from)) out.mouth = mouth_of(line, out, true);
  if (network::open_water(to)) out.back_mouth = mouth_of(line, out, false);
  return out;
}

}  // namespace runnel::proof
