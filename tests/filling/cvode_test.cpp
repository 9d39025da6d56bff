// Two hundred random systems against a general-purpose integrator.
#include <catch2/catch.hpp>

#include "filling/cvode_reference.h"
#include "filling/random_filling.h"
#include "runnel/filling/fill.h"
#include "support/rooms.h"

using namespace filling_test;
using namespace runnel::filling;

namespace {

const char* word(EventKind what) {
  switch (what) {
    case EventKind::float_shuts:
      return "shuts";
    case EventKind::float_opens:
      return "opens";
    case EventKind::spill_begins:
      return "spill begins";
    case EventKind::spill_ends:
      return "spill ends";
    case EventKind::empty:
      return "empty";
    case EventKind::draws_met_again:
      return "met again";
    default:
      return nullptr;
  }
}

std::string told(const std::vector<ReferenceEvent>& events) {
  std::string text;
  for (const auto& e : events)
    text += std::to_string(e.time_s) + " " + std::to_string(e.storage) + " " + e.what + "\n";
  return text;
}

/// What the reference would report of it. A tank that ends in a pipe counts as empty at a film over its
/// mouth, which is no event there.
std::vector<ReferenceEvent> comparable(const Model& s, const FillHistory& history) {
  std::vector<ReferenceEvent> events;
  for (const Event& e : history.events) {
    const char* what = word(e.what);
    const StorageHistory* at = history.storage(e.place);
    if (!what || !at) continue;
    const Tank* tank = s.tank(e.place);
    if (e.what == EventKind::empty && tank && tank->draws.empty()) continue;
    events.push_back({e.time_s, static_cast<std::size_t>(at - history.storages.data()), what});
  }
  return events;
}

}  // namespace

TEST_CASE("200 random systems agree with CVODE and its root finding") {
  constexpr double duration = 1.5 * 86400.0;
  long events = 0;
  for (unsigned seed = 1; seed <= 200; ++seed) {
    INFO("seed " << seed);
    const Model s = RandomFilling(seed).make();
    Reference reference(s);
    REQUIRE_NOTHROW(reference.run(duration));
    const FillHistory history = fill(s, {.duration_s = duration, .every_s = 0.0});
    INFO("outcome " << static_cast<int>(history.outcome) << " after " << history.duration_s << " s");
    REQUIRE(history.outcome == FillOutcome::done);
    CHECK(history.proof.consistent);
    const auto mine = comparable(s, history);
    INFO("reference\n" << told(reference.events) << "here\n" << told(mine));
    REQUIRE(mine.size() == reference.events.size());
    for (std::size_t i = 0; i < mine.size(); ++i) {
      CHECK(mine[i].storage == reference.events[i].storage);
      CHECK(mine[i].what == reference.events[i].what);
      // 1e-6 of the time, as events are to be located; within the first hour of an hour
      CHECK(mine[i].time_s == Approx(reference.events[i].time_s).epsilon(1e-6).margin(3.6e-3));
    }
    for (std::size_t i = 0; i < history.storages.size(); ++i)  // 1e-6 of what it holds when full
      CHECK(history.storages[i].end_m3 ==
            Approx(reference.end_m3[i]).margin(1e-6 * history.storages[i].capacity_m3));
    events += static_cast<long>(mine.size());
  }
  CHECK(events > 300);  // the systems must not be dull
}
