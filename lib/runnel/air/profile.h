#pragma once
// The shape of a line as air and water see it: surveyed points in order from the source, whatever
// number of pipelines they lie on, with the bore of each leg. A leg is the straight piece from one
// point to the next.
#include <cstddef>
#include <iterator>
#include <string>
#include <utility>
#include <vector>

#include "runnel/base/index.h"
#include "runnel/network/change.h"
#include "runnel/network/passage.h"

namespace runnel::air {

/// What is asked of a point of a profile.
struct ProfilePoint {
  double station_m = 0.0;  ///< from the start of the profile, measured as in the surveys of its pipelines
  double elevation_m = 0.0;
  double distance_m = 0.0;     ///< slope length from the start of the profile
  double bore_m = 0.0;         ///< of the leg that begins here; at the last point, of the leg before it
  double area_m2 = 0.0;        ///< of the same leg
  int pipeline = 0;            ///< index into `Profile::pipelines` and the legs of the passage
  double own_station_m = 0.0;  ///< station on that pipeline, as its survey counts
};

/// The points of a passage where it bends or its pipe changes: parts bend nothing. They lie where the courses
/// of the pipelines lie; a point is read from there when it is asked for.
class ProfilePoints {
 public:
  ProfilePoints() = default;
  /// `bores_m`: by pipe of the passage.
  ProfilePoints(network::Passage passage, std::vector<double> bores_m);

  std::size_t size() const { return bends_.size(); }
  ProfilePoint operator[](std::size_t i) const {
    const Bend& bend = bends_[i];
    const network::CoursePoint& own = passage_.point(bend.met);
    return {passage_.station_m(bend.met), own.elevation_m, bend.distance_m, bend.bore_m, bend.area_m2,
            passage_.leg(bend.met),       own.station_m};
  }
  ProfilePoint front() const { return (*this)[0]; }
  ProfilePoint back() const { return (*this)[size() - 1]; }

  class Iterator {
   public:
    using iterator_category = std::input_iterator_tag;
    using value_type = ProfilePoint;
    using difference_type = std::ptrdiff_t;
    using pointer = const ProfilePoint*;
    using reference = ProfilePoint;
    Iterator(const ProfilePoints& points, std::size_t i) : points_(&points), i_(i) {}
    ProfilePoint operator*() const { return (*points_)[i_]; }
    Iterator& operator++() { return ++i_, *this; }
    Iterator operator++(int) { return {*points_, i_++}; }
    friend bool operator==(const Iterator& a, const Iterator& b) { return a.i_ == b.i_; }

   private:
    const ProfilePoints* points_;
    std::size_t i_;
  };
  Iterator begin() const { return {*this, 0}; }
  Iterator end() const { return {*this, size()}; }

  const network::Passage& passage() const { return passage_; }
  /// The point of the passage that a point is.
  std::size_t on_passage(int point) const { return bends_[static_cast<std::size_t>(point)].met; }
  /// The same pipes on other courses, one a leg.
  ProfilePoints relaid(std::vector<network::Course> courses) const {
    return {passage_.relaid(std::move(courses)), bores_m_};
  }

 private:
  struct Bend {
    std::size_t met;
    double distance_m, bore_m, area_m2;
  };
  network::Passage passage_;
  std::vector<double> bores_m_;
  std::vector<Bend> bends_;
};

/// A part that matters to air, by its station on the profile.
struct ProfilePart {
  double station_m = 0.0;
  std::string name;
};

struct Profile {
  ProfilePoints points;                ///< at least two
  std::vector<std::string> pipelines;  ///< names, in order from the source
  std::vector<ProfilePart> air_valves, washouts;
};

/// A point of a profile, counted from the source.
inline ProfilePoint point(const Profile& profile, int i) { return profile.points[at(i)]; }

/// A pipeline in the direction in which the water goes.
struct PathLeg {
  const network::Line* line = nullptr;  ///< must outlive the call only
  bool reversed = false;                ///< from its `to` to its `from`
};

/// The place that the water comes from.
inline int first_place(const PathLeg& leg) { return leg.reversed ? leg.line->to : leg.line->from; }

/// The profile of one pipeline from start to end. It must have two survey points and a pipe.
Profile profile_of(const network::Line& line);

/// The part of a pipeline between the low points (or the ends) on both sides of a station: what a trench
/// through a crest there could touch.
network::Stretch mound_around(const network::Line& line, double station_m);

/// The profile of several pipelines end to end. Where the surveys of two neighbours disagree about the
/// elevation of the joint between them, the difference becomes a vertical piece.
Profile profile_of(const std::vector<PathLeg>& path);

/// Points (station, elevation) with one bore, or with one for each leg, for hand calculations.
Profile profile_of(const std::vector<std::pair<double, double>>& station_elevation_m, double bore_m);
Profile profile_of(const std::vector<std::pair<double, double>>& station_elevation_m,
                   std::vector<double> bores_m);

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
