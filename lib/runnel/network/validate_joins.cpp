// How lines, places and outlets are connected.
#include <algorithm>
#include <cmath>
#include <unordered_map>
#include <unordered_set>

#include "runnel/network/complaints.h"

namespace runnel::network {

namespace {

// How far a surveyed end may lie from its place: up to half a metre, the error of a hand level and a tape,
// nothing is said; up to 5 m there is a warning; beyond that one of the two is a slip or is on another datum.
// Common practice, no source.
constexpr double quiet_m = 0.5, slip_m = 5.0;

class Joins {
 public:
  Joins(const Model& system, const NameIndex& index, Complaints& complaints)
      : system_(system), index_(index), complaints_(complaints) {}

  void check() {
    for (const Pipeline& line : system_.pipelines) check_line(line);
    for (const Outlet& outlet : system_.outlets) check_outlet(outlet);
    for (const Joint& joint : system_.joints) check_straight(joint);
    check_unused();
    if (system_.boxes.empty() && system_.tanks.empty() && !system_.pipelines.empty())
      complaints_.error("no-source", system_mark(), "",
                        "no water comes from anywhere: there is no box and no tank", {},
                        "add the spring under `boxes:`");
  }

 private:
  const PlaceView* resolve(const Mark& mark, std::string_view member, const std::string& name,
                           const std::string& of) {
    if (const PlaceView* place = index_.place(name)) {
      used_.insert(*place->name);
      return place;
    }
    if (name.empty()) {  // the reader has reported it, and calls the line incomplete
      if (complaints_.whole(mark))
        complaints_.error("missing-key", mark, member, of + " does not say where it goes or comes from");
      return nullptr;
    }
    complaints_.error("no-such-place", mark, member, "there is no place named " + quoted(name) + " for " + of,
                      {}, complaints_.suggest(name, index_.place_names()));
    return nullptr;
  }

  void check_line(const Pipeline& line) {
    const PlaceView* from = resolve(line.mark, "from", line.from, "pipeline " + quoted(line.name));
    const PlaceView* to = resolve(line.mark, "to", line.to, "pipeline " + quoted(line.name));
    if (from && line.from == line.to)
      complaints_.error(
          "same-ends", line.mark, "to",
          "pipeline " + quoted(line.name) + " starts and ends at the same place, " + quoted(line.from));
    if (from && from->kind == PlaceKind::outlet)
      complaints_.error("starts-at-outlet", line.mark, "from",
                        "pipeline " + quoted(line.name) + " starts at the outlet " + quoted(line.from) +
                            ", but an outlet is where water leaves the system",
                        {}, "make it a joint, and hang the outlet on the joint with `on:`");
    if (to && to->kind == PlaceKind::outlet) {
      const auto [first, fresh] = ends_at_.try_emplace(line.to, &line);
      if (!fresh) {
        Finding& f = complaints_.error("outlet-fed-twice", line.mark, "to",
                                       "two pipelines end at the outlet " + quoted(line.to), {},
                                       "join them at a joint, and hang the outlet on the joint with `on:`");
        f.other = complaints_.mark(first->second->mark, "to");
        f.other_note = "the first ends here";
      }
      check_opening(line, *index_.outlet(line.to));
      check_jet(line, *index_.outlet(line.to));
    }
    if (line.survey.size() < 2 || !complaints_.whole(line.mark)) return;
    if (from) check_end(line, line.from, *from, from->leaving, 0);
    if (to) check_end(line, line.to, *to, to->entering, line.survey.size() - 1);
  }

  /// The jet leaves a free end with its own velocity head, whatever the end is like. Without that loss water
  /// would pour out under a head that cannot drive it.
  void check_jet(const Pipeline& line, const Outlet& outlet) {
    constexpr double of_the_jet = 1.0;
    if (outlet.opening > Length{} || line.exit_loss >= of_the_jet || !complaints_.whole(line.mark)) return;
    complaints_.warning("exit-below-jet", line.mark, "exit_loss",
                        "pipeline " + quoted(line.name) + " pours out freely at " + quoted(outlet.name) +
                            ", but its exit_loss is less than the 1.0 that the jet itself takes along",
                        {}, "leave `exit_loss` out, or give 1.0 and what the end costs besides");
  }

  void check_opening(const Pipeline& line, const Outlet& outlet) {
    if (line.pipes.empty() || !(line.pipes.back().pipe.bore > Length{})) return;
    const Length bore = line.pipes.back().pipe.bore;
    // Pipe that is too narrow for its tap is no reason to refuse a line that may be laid in a wider one.
    const auto fits = [&](const pipes::Pipe& pipe) { return !wider_than_pipe(outlet, pipe); };
    const auto* among = line.choice ? &line.choice->among : nullptr;
    if (among ? std::any_of(among->begin(), among->end(), fits) : fits(line.pipes.back().pipe)) return;
    Finding& f = complaints_.error("opening-wider-than-pipe", outlet.mark, "opening",
                                   "the opening of outlet " + quoted(outlet.name) +
                                       " is {0} wide, but the pipe that ends there only {1}",
                                   {{Kind::bore, outlet.opening.metres()}, {Kind::bore, bore.metres()}},
                                   "leave `opening` out for the open end of the pipe, or check both bores");
    f.other = complaints_.mark(line.mark, "to");
    f.other_note = "the pipeline ends here";
  }

  void check_end(const Pipeline& line, const std::string& name, const PlaceView& place, const Meeting& reach,
                 std::size_t point) {
    if (!complaints_.whole(*place.mark)) return;
    const double elevation_m = line.survey[point].elevation.metres();
    if (std::abs(elevation_m) > highest_ground_m) return;  // already reported, as for the place:
    if (std::max(std::abs(reach.low_m), std::abs(reach.high_m)) > highest_ground_m) return;
    const double off_m = elevation_m < reach.low_m ? reach.low_m - elevation_m : elevation_m - reach.high_m;
    if (off_m <= quiet_m) return;
    const bool start = point == 0;
    const std::string member = line.surveyed ? "survey.points." + std::to_string(point) + ".1"
                                             : std::string(start ? "from_elevation" : "to_elevation");
    const double nearest_m = elevation_m < reach.low_m ? reach.low_m : reach.high_m;
    const std::string message =
        "pipeline " + quoted(line.name) + (start ? " starts" : " ends") + " at {0}, but " + quoted(name) +
        ", where it " + (start ? "comes from" : "goes to") + ", has " + reach.what + " at {1}: {2} apart";
    std::vector<Figure> figures{
        {Kind::elevation, elevation_m}, {Kind::elevation, nearest_m}, {Kind::head, off_m}};
    const char* advice = "the survey and the places must share one datum; check both figures";
    Finding& f = off_m > slip_m
                     ? complaints_.error("ends-do-not-meet", line.mark, member, message, figures, advice)
                     : complaints_.warning("ends-do-not-meet", line.mark, member, message, figures, advice);
    f.where.pipeline = line.name;
    f.other = *place.mark;
    f.other_note = "the place";
  }

  void check_outlet(const Outlet& outlet) {
    auto end = ends_at_.find(outlet.name);
    if (end != ends_at_.end() && !outlet.on.empty()) {
      Finding& f = complaints_.error("outlet-fed-twice", outlet.mark, "on",
                                     "outlet " + quoted(outlet.name) + " hangs on " + quoted(outlet.on) +
                                         ", but pipeline " + quoted(end->second->name) + " ends at it too",
                                     {}, "leave out `on:`, or end the pipeline at the joint");
      f.other = complaints_.mark(end->second->mark, "to");
      f.other_note = "the pipeline ends here";
    }
    if (outlet.on.empty()) return;
    used_.insert(outlet.name);
    const PlaceView* on = resolve(outlet.mark, "on", outlet.on, "outlet " + quoted(outlet.name));
    if (on && on->kind != PlaceKind::joint)
      complaints_.error(
          "not-a-joint", outlet.mark, "on",
          "outlet " + quoted(outlet.name) + " hangs on " + quoted(outlet.on) + ", which is not a joint", {},
          "put a joint there, or lead a pipeline to the outlet");
  }

  /// `straight` must name two different pipelines of the joint.
  void check_straight(const Joint& joint) {
    if (joint.straight.empty() || !complaints_.whole(joint.mark)) return;
    const std::string of = "joint " + quoted(joint.name);
    if (joint.straight.size() != 2 || joint.straight[0] == joint.straight[1]) {
      complaints_.error("not-two-lines", joint.mark, "straight",
                        of + " needs two pipelines that lie straight through it", {},
                        "name the two that make the run of the tee; all others are branches");
      return;
    }
    std::vector<std::string> here;
    for (const Pipeline& line : system_.pipelines)
      if (line.from == joint.name || line.to == joint.name) here.push_back(line.name);
    for (std::size_t i = 0; i < joint.straight.size(); ++i) {
      const std::string& name = joint.straight[i];
      if (std::find(here.begin(), here.end(), name) != here.end()) continue;
      complaints_.error("no-such-pipeline", joint.mark, "straight." + std::to_string(i),
                        "no pipeline named " + quoted(name) + " begins or ends at " + of, {},
                        complaints_.suggest(name, here));
      return;
    }
  }

  void check_unused() {
    for (const PlaceView& place : index_.places()) {
      if (used_.count(*place.name) || place.name->empty()) continue;
      complaints_.warning(
          "not-connected", *place.mark, "",
          std::string(place.word) + " " + quoted(*place.name) + " is not connected to anything", {},
          "no pipeline starts or ends at it");
    }
  }

  const Model& system_;
  const NameIndex& index_;
  Complaints& complaints_;
  std::unordered_set<std::string_view> used_;
  std::unordered_map<std::string_view, const Pipeline*> ends_at_;
};

}  // namespace

void validate_joins(const Model& system, const NameIndex& index, Complaints& complaints) {
  Joins(system, index, complaints).check();
}

bool wider_than_pipe(const Outlet& outlet, const pipes::Pipe& pipe) {
  return outlet.opening > pipe.bore * 1.000001;
}

}  // namespace runnel::network
