#pragma once
// The shape of a line as it matters to air and water: surveyed points in order from the source, on however
// many pipelines they lie, with the bore of each leg. A leg is the straight piece from one point to the next.
#include <string>
#include <vector>

#include "runnel/network/change.h"

namespace runnel::air {

struct ProfilePoint {
  double station_m = 0.0;  ///< from the start of the profile, measured as in the surveys of its pipelines
  double elevation_m = 0.0;
  double distance_m = 0.0;     ///< slope length from the start of the profile
  double bore_m = 0.0;         ///< of the leg that begins here; at the last point, of the leg before it
  double area_m2 = 0.0;        ///< of the same leg
  int pipeline = 0;            ///< index into `Profile::pipelines`
  double own_station_m = 0.0;  ///< station on that pipeline, by its own survey
};

/// A part that matters to air or to draining, by its station on the profile.
struct ProfilePart {
  double station_m = 0.0;
  std::string name;
};

struct Profile {
  std::vector<ProfilePoint> points;    ///< at least two
  std::vector<std::string> pipelines;  ///< names, in order from the source
  std::vector<network::Along> along;   ///< how stations are measured on each; on the level where not given
  std::vector<ProfilePart> air_valves, washouts;
};

/// A pipeline in the direction in which the water goes.
struct PathLeg {
  const network::Line* line = nullptr;  ///< must outlive the call only
  bool reversed = false;                ///< from its `to` to its `from`
};

/// The profile of one pipeline from start to end. It must have two survey points and a pipe.
Profile profile_of(const network::Line& line);

/// The part of a pipeline between the low points (or the ends) on both sides of a station: what a trench
/// through a crest there could touch.
network::Stretch mound_around(const network::Line& line, double station_m);

/// The profile of several pipelines end to end. Where the surveys of two neighbours disagree about the
/// elevation of the joint between them, the difference becomes a vertical piece.
Profile profile_of(const std::vector<PathLeg>& path);

/// A profile from points (station, elevation) with one bore, for hand calculations.
Profile profile_of(const std::vector<std::pair<double, double>>& station_elevation_m, double bore_m);

/// Makes distances, areas and the last point's bore agree with stations, elevations and bores.
void restore(Profile& profile);

/// Elevation at a station [m], linear between points; beyond the ends, that of the end.
double elevation_at_m(const Profile& profile, double station_m);

/// Volume of the bore from the start to each point [m3].
std::vector<double> bore_volume_to_points_m3(const Profile& profile);

/// A crest or a low point, as an index into the points.
struct Turn {
  bool crest = false;
  int point = 0;
};

/// Crests and low points between the ends, in order, alternating. A swing smaller than the bore at its
/// turning point does not count, since water cannot close the pipe there and air passes over it. A plateau
/// counts as one turn, at its last point: a crest there leaves the least air to be compressed, a low point
/// there seals the most air, so the safe side is taken where the survey cannot tell. More points on the same
/// straight legs change nothing.
std::vector<Turn> turns(const Profile& profile);

/// The same from the profile of a line and its turns.
network::Stretch mound_around(const Profile& profile, const std::vector<Turn>& turns, double own_station_m);

/// A straight leg, leaving out points at which neither slope nor bore changes. `first` and `last` are indices
/// into the points.
struct StraightLeg {
  int first = 0, last = 0;
  double rise_m = 0.0;  ///< elevation of the end less that of the start
  double plan_m = 0.0;
};
std::vector<StraightLeg> straight_legs(const Profile& profile);

}  // namespace runnel::air
