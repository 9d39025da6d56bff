// Boxes, outlets, joints: whether they can be built as described.
#include <algorithm>

#include "runnel/network/complaints.h"

namespace runnel::network {

namespace {

// Times of one bucket in a higher ratio are not tests of one spring (common practice, no source).
constexpr double wild_ratio = 1.5;
// Nobody digs a box deeper than this by hand (common practice, no source).
constexpr double deepest_box_m = 6.0;

void check_bucket_tests(const Box& box, Complaints& complaints) {
  const BucketTests& tests = *box.bucket_tests;
  complaints.positive(box.mark, "bucket_tests.volume", {Kind::volume, tests.volume.cubic_metres()},
                      "the volume of the bucket at box " + quoted(box.name), volume_bounds_m3);
  if (tests.times.empty())
    complaints.error("no-bucket-tests", box.mark, "bucket_tests.times",
                     "the bucket tests of box " + quoted(box.name) + " list no times", {},
                     "write how long the bucket took to fill, each time: times: [157 s, 161 s]");
  for (std::size_t i = 0; i < tests.times.size(); ++i)
    complaints.positive(box.mark, "bucket_tests.times." + std::to_string(i),
                        {Kind::duration, tests.times[i].seconds()},
                        "the time to fill the bucket at box " + quoted(box.name), time_bounds_s);
  if (tests.times.size() < 2) return;
  const auto [least, most] = std::minmax_element(tests.times.begin(), tests.times.end());
  if (*least <= Duration{} || *most <= *least * wild_ratio) return;
  complaints.warning("bucket-tests-wild", box.mark, "bucket_tests.times",
                     "the bucket at box " + quoted(box.name) +
                         " filled in {0} at its fastest and in {1} at its slowest: they do not agree",
                     {{Kind::duration, least->seconds()}, {Kind::duration, most->seconds()}},
                     "time the bucket again, and leave out a time that was misread");
}

void check_history(const Box& box, Complaints& complaints) {
  const std::string of = " of box " + quoted(box.name);
  const SpringHistory& history = box.history;
  if (history.halves_in)
    complaints.positive(box.mark, "yield.halves_in", {Kind::duration, history.halves_in->seconds()},
                        "the time in which the yield halves" + of, time_bounds_s);
  if (history.yearly_spread)
    complaints.positive(box.mark, "yearly_spread", {Kind::percent, *history.yearly_spread},
                        "the spread between years" + of, {1e-3, 10.0});
  for (const SpringHistory::Year& one : history.years)
    complaints.not_negative(box.mark, "yearly_yields." + std::to_string(one.year),
                            {Kind::flow, one.least.cubic_metres_per_second()},
                            "the yield of " + std::to_string(one.year) + of, flow_bounds_m3s);
}

void check_box(const Box& box, Complaints& complaints) {
  const std::string of = " of box " + quoted(box.name);
  const Figure outlet{Kind::elevation, box.outlet.metres()}, lip{Kind::elevation, box.lip.metres()};
  complaints.not_negative(box.mark, "yield", {Kind::flow, box.yield.cubic_metres_per_second()},
                          "the yield" + of, flow_bounds_m3s);
  if (box.bucket_tests) check_bucket_tests(box, complaints);
  check_history(box, complaints);
  if (box.overflow) check_overflow(*box.overflow, box.mark, "box " + quoted(box.name), complaints);
  check_rim(box.rim, box.lip, box.mark, "box " + quoted(box.name), complaints);
  const bool sane = complaints.on_earth(box.mark, "outlet", box.outlet, "the outlet" + of) &&
                    complaints.on_earth(box.mark, "lip", box.lip, "the lip" + of);
  if (sane && box.lip <= box.outlet)
    complaints.error("lip-below-outlet", box.mark, "lip",
                     "the lip" + of +
                         " ({0}) is not above its outlet pipe ({1}): it would spill before any "
                         "water went down the line",
                     {lip, outlet}, "the lip is the edge the box overflows at; check both elevations");
  if (sane && box.floor) complaints.on_earth(box.mark, "floor", *box.floor, "the floor" + of);
  const Length lowest = box.floor ? std::min(*box.floor, box.outlet) : box.outlet;
  if (sane && (box.lip - lowest).metres() > deepest_box_m)
    complaints
        .warning("deeper-than-built", box.mark, "lip",
                 "box " + quoted(box.name) + " is {0} deep, which nobody builds",
                 {{Kind::length, (box.lip - lowest).metres()}},
                 "look at the lip, the outlet and the floor again")
        .where.place = box.name;
  if (sane && box.floor && *box.floor > box.outlet)
    complaints.error("floor-above-outlet", box.mark, "floor",
                     "the floor" + of + " ({0}) is above its outlet pipe ({1})",
                     {{Kind::elevation, box.floor->metres()}, outlet});
  complaints.not_negative(box.mark, "plan.length", {Kind::length, box.plan_length.metres()},
                          "the length" + of, measure_bounds_m);
  complaints.not_negative(box.mark, "plan.width", {Kind::length, box.plan_width.metres()}, "the width" + of,
                          measure_bounds_m);
}

void check_outlet(const Outlet& outlet, Complaints& complaints) {
  const std::string of = " of outlet " + quoted(outlet.name);
  complaints.on_earth(outlet.mark, "elevation", outlet.elevation, "the elevation" + of);
  complaints.not_negative(outlet.mark, "opening", {Kind::bore, outlet.opening.metres()}, "the opening" + of,
                          bore_bounds_m);
  if (!outlet.on.empty() && outlet.opening == Length{})
    complaints.error(
        "needs-opening", outlet.mark, "on",
        "outlet " + quoted(outlet.name) + " hangs on a joint without a pipe, so it needs an opening", {},
        "add the bore of the tap: opening: 1/2 in");
  // The jet carries its velocity head away: K of a free discharge is never below 1, universal textbook
  // matter.
  if (outlet.opening > Length{} && outlet.loss < 1.0)
    complaints.error("loss-below-jet", outlet.mark, "loss",
                     "the loss" + of + " is {0}; it includes the jet's own 1.0, so it cannot be less than 1",
                     {{Kind::number, outlet.loss}});
  else if (outlet.opening > Length{})
    complaints.positive(outlet.mark, "loss", {Kind::number, outlet.loss}, "the loss" + of, loss_bounds);
}

void check_joint(const Joint& joint, Complaints& complaints) {
  complaints.on_earth(joint.mark, "elevation", joint.elevation,
                      "the elevation of joint " + quoted(joint.name));
  complaints.not_negative(joint.mark, "draw", {Kind::flow, joint.draw.cubic_metres_per_second()},
                          "the draw of joint " + quoted(joint.name), flow_bounds_m3s);
}

}  // namespace

void validate_places(const Model& system, Complaints& complaints) {
  for (const Box& box : system.boxes)
    if (complaints.whole(box.mark)) check_box(box, complaints);
  for (const Outlet& outlet : system.outlets) {
    check_draws(outlet.draws, "a draw at outlet " + quoted(outlet.name), complaints);
    if (complaints.whole(outlet.mark)) check_outlet(outlet, complaints);
  }
  for (const Joint& joint : system.joints) {
    check_draws(joint.draws, "a draw at joint " + quoted(joint.name), complaints);
    if (complaints.whole(joint.mark)) check_joint(joint, complaints);
  }
}

}  // namespace runnel::network
