// Overflow works: whether they can be built, and whether they let anything out.
#include "runnel/network/complaints.h"

namespace runnel::network {

namespace {

struct OverflowCheck {
  const Mark& place;
  const std::string& of;
  Complaints& complaints;

  bool bore(std::string_view member, double bore_m, const char* what) const {
    return complaints.positive(place, "overflow." + std::string(member), {Kind::bore, bore_m},
                               std::string("the bore of the ") + what + " at " + of, bore_bounds_m);
  }
  void operator()(const losses::WeirLip& weir) const {
    complaints.positive(place, "overflow.weir.length", {Kind::length, weir.length_m},
                        "the length of the overflow's lip at " + of, measure_bounds_m);
    if (weir.pinched_ends < 0)
      complaints.error("pinched-ends", place, "overflow.weir.pinched_ends",
                       "the lip at " + of + " can have no, one or two ends that pinch the water", {},
                       "0 if it is as wide as the box, 2 if it is a notch within the wall");
  }
  void operator()(const losses::Standpipe& pipe) const {
    bore("standpipe.bore", pipe.bore_m, "standpipe");
    if (!pipe.drain) return;
    bore("standpipe.drain.bore", pipe.drain->bore_m, "standpipe's drain");
    complaints.positive(place, "overflow.standpipe.drain.loss", {Kind::number, pipe.drain->loss},
                        "the loss of the standpipe's drain at " + of, loss_bounds);
    complaints.not_negative(place, "overflow.standpipe.drain.drop", {Kind::length, pipe.drain->drop_m},
                            "the drop of the standpipe's drain at " + of);
  }
  void operator()(const losses::DrilledRiser& riser) const {
    if (riser.rows.empty())
      complaints.error("no-holes", place, "overflow.drilled_riser.rows",
                       "the drilled riser at " + of + " has no holes", {},
                       "write for example rows: [{{above: 1/4 in, bore: 1/2 in, holes: 8}}]");
    for (std::size_t i = 0; i < riser.rows.size(); ++i) {
      const losses::HoleRow& row = riser.rows[i];
      const std::string member = "drilled_riser.rows." + std::to_string(i);
      if (!bore(member + ".bore", row.bore_m, "holes")) continue;
      if (row.count < 1)
        complaints.error("no-holes", place, "overflow." + member + ".holes",
                         "a row of the drilled riser at " + of + " has no holes");
      // The lip is the lowest point of the lowest hole.
      if (row.centre_m < 0.5 * row.bore_m * (1.0 - 1e-9))
        complaints.error("hole-below-lip", place, "overflow." + member + ".above",
                         "a row of holes of {0} has its centres only {1} above the lip of " + of +
                             ", so that it would spill below it",
                         {{Kind::bore, row.bore_m}, {Kind::bore, row.centre_m}},
                         "the lip is the lowest point of the lowest hole");
    }
  }
  void operator()(const losses::WallPipe& pipe) const {
    bore("wall_pipe.bore", pipe.bore_m, "pipe through the wall");
    if (pipe.slope < 0.0 || pipe.slope > 1.0)
      complaints.error("absurd-figure", place, "overflow.wall_pipe.slope",
                       "the pipe through the wall at " + of + " cannot fall by {0}",
                       {{Kind::slope, pipe.slope}});
  }
};

}  // namespace

void check_overflow(const losses::Overflow& overflow, const Mark& place, const std::string& of,
                    Complaints& complaints) {
  std::visit(OverflowCheck{place, of, complaints}, overflow);
}

void check_rim(const std::optional<Length>& rim, Length lip, const Mark& place, const std::string& of,
               Complaints& complaints) {
  if (!rim || !complaints.on_earth(place, "rim", *rim, "the rim of " + of)) return;
  if (*rim >= lip) return;
  complaints.error("rim-below-lip", place, "rim",
                   "the rim of " + of + " ({0}) is below its lip ({1}): it would spill over its wall",
                   {{Kind::elevation, rim->metres()}, {Kind::elevation, lip.metres()}},
                   "the rim is the top of the wall, the lip the edge at which it is meant to overflow");
}

}  // namespace runnel::network
