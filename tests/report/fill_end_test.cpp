#include "runnel/report/fill_end.h"

#include <catch2/catch.hpp>

using runnel::filling::FillHistory;
using runnel::filling::FillOutcome;
using runnel::report::fill_end_words;

TEST_CASE("a run without an answer tells why and how far it came, another tells nothing") {
  FillHistory history;
  CHECK(fill_end_words(history) == "there is no tank, and no box whose plan is given: nothing fills");
  history.storages.emplace_back();
  history.duration_s = 90.25;
  CHECK(fill_end_words(history).empty());
  history.outcome = FillOutcome::stopped;
  CHECK(fill_end_words(history).empty());
  history.outcome = FillOutcome::gave_up;
  CHECK(fill_end_words(history) == "the levels change too often to be followed, 90.2 s after the start");
  history.outcome = FillOutcome::no_answer;
  CHECK(fill_end_words(history) == "the flows did not settle, 90.2 s after the start");
}
