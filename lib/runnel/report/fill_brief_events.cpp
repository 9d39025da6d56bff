// What happens in a run and how often, and the course of the level that tells most.
#include <algorithm>
#include <map>

#include "runnel/report/fill_brief.h"
#include "runnel/report/render_text.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {
namespace {

using filling::Event;
using filling::EventKind;

/// One thing that happens, with all the times it does.
struct Happening {
  const Event* first = nullptr;
  std::string what;
  std::size_t times = 0;
  double last_s = 0.0;
};

std::vector<Happening> happenings_of(const filling::FillHistory& history, const TextOptions& options) {
  std::vector<Happening> all;
  std::map<std::string, std::size_t> known;
  for (const Event& event : history.events) {
    const std::string what =
        (event.place.empty() ? event.pipeline : event.place) + ": " + event_text(event, false, options);
    const auto [at, fresh] = known.try_emplace(what, all.size());
    if (fresh) all.push_back({&event, what, 0, 0.0});
    ++all[at->second].times;
    all[at->second].last_s = event.time_s;
  }
  return all;
}

/// What an owner must know comes first where there is no room for all.
int lateness_of(EventKind what) {
  switch (what) {
    case EventKind::empty:
    case EventKind::full:
    case EventKind::spill_begins:
    case EventKind::spilled_at_start:
      return 0;
    case EventKind::float_shuts:
    case EventKind::float_opens:
    case EventKind::draws_met_again:
    case EventKind::runs_low:
    case EventKind::line_stops:
    case EventKind::line_turns:
    case EventKind::box_spill_begins:
      return 1;
    case EventKind::float_holds:
    case EventKind::spill_ends:
    case EventKind::line_starts:
    case EventKind::line_crest_governs:
    case EventKind::runs_full_again:
    case EventKind::line_ends_govern:
    case EventKind::box_spill_ends:
    case EventKind::inlet_drowned:
    case EventKind::inlet_clear:
    case EventKind::draw_changes:
      break;
  }
  return 2;
}

std::string words_of(const Happening& one, const TextOptions& options) {
  std::string text = shown(Kind::duration, one.first->time_s, options) + ", " + one.what;
  const std::string last = shown(Kind::duration, one.last_s, options);
  if (one.times == 2) text += "; again after " + last;
  if (one.times > 2) text += "; " + std::to_string(one.times) + " times, the last after " + last;
  return text;
}

constexpr std::size_t most_told = 8;

/// Of all happenings those that matter most, in the order in which they first come.
std::vector<Happening> most_telling(std::vector<Happening> all, std::size_t most) {
  if (all.size() <= most) return all;
  std::vector<Happening> kept = all;
  std::stable_sort(kept.begin(), kept.end(), [](const Happening& a, const Happening& b) {
    return lateness_of(a.first->what) < lateness_of(b.first->what);
  });
  kept.resize(most);
  std::stable_sort(kept.begin(), kept.end(),
                   [](const Happening& a, const Happening& b) { return a.first->time_s < b.first->time_s; });
  return kept;
}

/// How telling the course of a level is: trouble first, then how much of the tank it moves through.
double interest(const network::Tank& tank, const filling::StorageHistory& s) {
  const double height_m = (tank.lip - tank.floor).metres();
  const double share = height_m > 0.0 ? (s.highest_m - s.lowest_m) / height_m : 0.0;
  return share + (s.short_days.empty() ? 0.0 : 4.0) + (s.emptied_at_s ? 2.0 : 0.0) + (s.never_m ? 1.0 : 0.0);
}

}  // namespace

Document brief_events(const filling::FillHistory& history, int most_lines, const TextOptions& options) {
  const std::vector<Happening> all = happenings_of(history, options);
  if (all.empty()) return {};
  const auto section = [&](std::size_t most) {
    Document out;
    out.section("What happens when");
    for (const Happening& one : most_telling(all, most)) out.line(words_of(one, options));
    if (most < all.size())
      out.line(std::to_string(all.size() - most) + " more; -v shows all, --csv and --json the whole course.");
    return out;
  };
  std::size_t most = std::min(most_told, all.size());
  while (most > 1 && lines_of(section(most), options) > most_lines) --most;
  return section(most);
}

Document brief_chart(const FillAnswer& answer, int most_lines, const TextOptions& options) {
  const filling::StorageHistory* telling = nullptr;
  double best = 0.0;
  for (const filling::StorageHistory& s : answer.history.storages) {
    const network::Tank* tank = answer.system.tank(s.name);
    if (!tank) continue;
    const double here = interest(*tank, s);
    if (here > best) telling = &s, best = here;
  }
  if (!telling) return {};
  std::optional<Chart> chart = level_chart(answer, *telling);
  if (!chart) return {};
  chart->bands.clear();
  for (const int rows : {9, 7, 5}) {
    chart->rows = rows;
    Document out;
    out.section("Level of " + telling->name).add(*chart);
    if (lines_of(out, options) <= most_lines) return out;
  }
  return {};
}

}  // namespace runnel::report
