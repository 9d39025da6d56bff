#pragma once
// What nobody knows exactly: how thick the wall came out, how rough the pipe will grow, how cold the water
// is, what the survey missed, what the spring really gives, what is lost between laminar and turbulent flow.
// Each is taken to one end for the bad corner and to the other for the good one; the model as written lies
// between. A line carries no more at the bad corner than as written, and no less at the good one, except for
// the losses at changes of bore where the tolerances of its pipes differ. In a system with branches one may
// gain where another loses.
#include "runnel/network/system.h"

namespace runnel::network {

enum class Corner { good, bad };

/// What is taken as unknown, and by how much. Everything by default.
struct Unknowns {
  bool bore = true;       ///< by the tolerance of the wall (`bore_range`)
  bool roughness = true;  ///< bad: aged, and never smoother than new
  /// Bad: colder water, for its viscosity alone. The good corner keeps the stated temperature, because
  /// between laminar and turbulent flow warmer water may lose more. Colder water may lose less there, too,
  /// but not by the law of `transition`.
  bool temperature = true;
  bool survey = true;      ///< where a `survey_error` is stated
  bool yield = true;       ///< where bucket tests have an interval (springs/bucket_yield.h)
  bool transition = true;  ///< bad: losses/transition.h

  // Aged pipe, common practice, no source: joints and slime in plastic, rust and scale in steel and iron.
  Length aged_plastic = Length::metres(0.0001), aged_metal = Length::metres(0.001);
  double aged_plastic_c = 130.0, aged_metal_c = 100.0;
  /// The water in a buried line cools with the ground by about this through the year; common practice, no
  /// source.
  double colder_by_c = 5.0;
};

/// The least and the greatest bore that a pipe may have by what its row says of its wall. Both are its bore
/// if the row does not say (the bore is stated, or controlled from inside). A wall may be thicker than its
/// minimum by 12 % [astm-d3035; from memory], in a metric pipe by a tenth of it and 0.1 mm, rounded up to a
/// tenth of a millimetre [iso-11922-1].
struct BoreRange {
  Length least, greatest;
};
BoreRange bore_range(const pipes::Pipe& pipe);

/// The pipe when it has aged; never smoother than new.
pipes::Pipe aged(pipes::Pipe pipe, const Unknowns& unknown = {});

/// Whether a model has such an unknown: yields from bucket tests, a stated error of a survey. The others are
/// everywhere.
bool has_unknown(const Model& model, bool Unknowns::*which);

/// The system at one of its corners. Findings come instead where it cannot be computed there: no table knows
/// a part on that bore, or the wall is rougher than the laws allow.
///
/// A survey errs to the bad side if everything is higher than measured, except boxes and tanks that lines
/// only leave, which are lower. A tank or box in between keeps its height.
Checked<System> at_corner(const System& system, Corner corner, const Unknowns& unknown = {});

}  // namespace runnel::network
