#pragma once
// Answers of `fill`: as text for people, as JSON and CSV for programs.
#include <string>

#include "runnel/filling/fill.h"
#include "runnel/network/system.h"
#include "runnel/report/text.h"
#include "runnel/verdict/fill_answer.h"
#include "runnel/verdict/fill_verdict.h"
#include "runnel/verdict/settings.h"

namespace runnel::report {

struct FillAnswer {
  const network::System& system;  ///< as it runs under the setting
  const filling::FillHistory& history;
  const verdict::FillVerdict& verdict;
  std::string setting = verdict::as_drawn;
  filling::FillOptions options = {};
  bool springs_stopped = false;                     ///< the system's yields were set to nothing
  std::optional<units::UnitSystem> csv_units = {};  ///< none: SI
  const verdict::FillAnswered* whole = nullptr;     ///< all ways of running it, of which this one leads
};

/// The verdict, a row for each tank, the events, a chart of the levels, findings, and what it was worked out
/// with.
Document fill_document(const FillAnswer& answer, const TextOptions& options);
std::string fill_text(const FillAnswer& answer, const TextOptions& options);

/// One object, SI throughout. Throws std::logic_error for a number that is not finite.
std::string fill_json(const FillAnswer& answer);

/// One row for each instant of each storage, joint that draws, open outlet and box without a plan; the column
/// heads give the units. The clock counts days of the run from 1. Volumes count from the start: what is
/// stored is what was there then plus what ran in, less spill and draws. Names are quoted where needed.
std::string fill_csv(const FillAnswer& answer);

/// What an event is called, the same in text and JSON: "float valve shuts".
std::string event_words(filling::EventKind what);

/// The level of a tank over time; none if there is nothing to draw.
std::optional<Chart> level_chart(const FillAnswer& answer, const filling::StorageHistory& tank);

}  // namespace runnel::report
