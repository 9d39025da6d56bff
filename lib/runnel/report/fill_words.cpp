#include "runnel/report/fill.h"

namespace runnel::report {

std::string event_words(filling::EventKind what) {
  using filling::EventKind;
  switch (what) {
    case EventKind::float_shuts:
      return "float valve shuts";
    case EventKind::float_opens:
      return "float valve opens";
    case EventKind::float_holds:
      return "float valve stands part open and passes what is drawn";
    case EventKind::full:
      return "full";
    case EventKind::spill_begins:
      return "full to the lip, spill begins";
    case EventKind::spill_ends:
      return "spill ends";
    case EventKind::empty:
      return "empty";
    case EventKind::draws_met_again:
      return "draws are met again";
    case EventKind::inlet_drowned:
      return "inlet drowned";
    case EventKind::inlet_clear:
      return "inlet clear of the water";
    case EventKind::runs_low:
      return "runs low: its line no longer runs full at the top";
    case EventKind::runs_full_again:
      return "its line runs full at the top again";
    case EventKind::line_crest_governs:
      return "line runs part-full below a high point";
    case EventKind::line_ends_govern:
      return "line runs full again";
    case EventKind::line_stops:
      return "line stops";
    case EventKind::line_starts:
      return "line starts";
    case EventKind::line_turns:
      return "line flows back";
    case EventKind::box_spill_begins:
      return "spill begins";
    case EventKind::box_spill_ends:
      return "spill ends";
    case EventKind::draw_changes:
      return "draw changes";
    case EventKind::spilled_at_start:
      return "stood above its lip: the rest spilled at once";
  }
  return "";
}

}  // namespace runnel::report
