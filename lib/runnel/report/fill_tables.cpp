// What tanks store and taps give over a run, as tables.
#include <algorithm>
#include <cmath>

#include "runnel/network/place.h"
#include "runnel/report/fill_brief.h"
#include "runnel/report/render_text.h"

namespace runnel::report {
namespace {

using filling::PlaceHistory;
using filling::StorageHistory;

double missing_m3(const StorageHistory& s) {
  double sum = 0.0;
  for (const auto& day : s.short_days) sum += day.missing_m3;
  return sum;
}

double missing_m3(const PlaceHistory& place) {
  const double missing = place.missing_m3();
  return missing > 1e-9 * place.asked_m3 ? missing : 0.0;
}

Cell volume_or_none(double m3) {
  if (!(m3 > 0.0)) return "-";
  return Figure{Kind::volume, m3};
}

/// The least that came to a place, with the air of the start in its lines where it was judged with that.
double least_m3s(const FillAnswer& answer, const PlaceHistory& place) {
  double least = std::isfinite(place.least_m3s) ? place.least_m3s : 0.0;
  for (const verdict::AskResult& r : answer.verdict.asks)
    if (r.ask.at == place.name && r.ask.kind == network::AskKind::flow && r.judged && r.got)
      least = std::min(least, r.got->si);
  return least;
}

const Column long_name{.fit = Fit::above};

/// A table that fits, made by `table` from those of `all` that come first where `urgent` ones are put in
/// front.
template <class One, class Make, class Urgent>
Document table_that_fits(const std::string& title, std::vector<const One*> all, int most_lines,
                         const char* rest, const Make& table, const Urgent& urgent,
                         const TextOptions& options) {
  if (all.empty()) return {};
  const auto section = [&](std::size_t kept) {
    Table rows = table(std::vector<const One*>(all.begin(), all.begin() + static_cast<std::ptrdiff_t>(kept)));
    if (kept < all.size()) rows.note("and " + std::to_string(all.size() - kept) + rest + "; -v shows all");
    return Document().section(title).add(rows);
  };
  std::size_t kept = all.size();
  if (lines_of(section(kept), options) > most_lines) std::stable_partition(all.begin(), all.end(), urgent);
  while (kept > 1 && lines_of(section(kept), options) > most_lines) --kept;
  return section(kept);
}

}  // namespace

bool gives_water(const PlaceHistory& place) {
  return place.kind != network::PlaceKind::box && !place.series.empty();
}

Table tanks_table(const std::vector<const StorageHistory*>& chosen) {
  using enum Align;
  Table rows({long_name,
              {"at first", right},
              {"at the end", right},
              {"full after", right},
              {"drawn", right},
              {"missing", right},
              {"spilled", right}});
  for (const StorageHistory* s : chosen) {
    const Cell full = s->kind == network::PlaceKind::box ? ""
                      : s->never_m                       ? "never"
                                                         : figure_or(s->full_after_s, Kind::duration, "-");
    rows.row({s->name, Figure{Kind::elevation, s->start_level_m}, Figure{Kind::elevation, s->end_level_m},
              full, volume_or_none(s->drawn_m3), volume_or_none(missing_m3(*s)),
              volume_or_none(s->spilled_m3)});
  }
  return rows;
}

Table taps_table(const FillAnswer& answer, const std::vector<const PlaceHistory*>& chosen) {
  using enum Align;
  Table rows({long_name, {"drawn", right}, {"missing", right}, {"least", right}});
  for (const PlaceHistory* place : chosen)
    rows.row({place->name, volume_or_none(place->given_m3), volume_or_none(missing_m3(*place)),
              Figure{Kind::flow, least_m3s(answer, *place)}});
  return rows;
}

Document brief_tanks(const FillAnswer& answer, int most_lines, const TextOptions& options) {
  std::vector<const StorageHistory*> all;
  for (const StorageHistory& s : answer.history.storages) all.push_back(&s);
  return table_that_fits(
      "Tanks", all, most_lines, " more", tanks_table,
      [](const StorageHistory* s) { return s->never_m || s->emptied_at_s || !s->short_days.empty(); },
      options);
}

Document brief_taps(const FillAnswer& answer, int most_lines, const TextOptions& options) {
  std::vector<const PlaceHistory*> all;
  for (const PlaceHistory& place : answer.history.places)
    if (gives_water(place)) all.push_back(&place);
  return table_that_fits(
      "Taps and joints", all, most_lines, " more places",
      [&](const std::vector<const PlaceHistory*>& chosen) { return taps_table(answer, chosen); },
      [](const PlaceHistory* place) { return place->short_from_s || !(place->least_m3s > 0.0); }, options);
}

}  // namespace runnel::report
