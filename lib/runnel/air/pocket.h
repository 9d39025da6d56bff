#pragma once
// The air trapped in one descending leg between a crest and the low point below it.
//
// At rest the pocket has the gauge head g = H - y, with H the grade of the water column behind it and y the
// level up to which its lower surface is pushed. Isothermal air keeps
//   (ha + g) V(y) = ha V0            [boyle-gas], [start-up-derivation]
// with V(y) the volume of the leg above y. A leg consists of straight pieces, so V is piecewise linear in y
// and each piece gives a quadratic: the level is exact, without iteration.
#include <vector>

#include "runnel/air/profile.h"

namespace runnel::air {

/// A pocket under load.
struct Loaded {
  double interface_m = 0.0;   ///< elevation of the lower surface of the air
  double gauge_head_m = 0.0;  ///< pressure of the air above atmospheric, in metres of water
  double volume_m3 = 0.0;
  double head_at_crest_m = 0.0;  ///< how high the water before the crest must stand
};

class LegAir {
 public:
  /// The leg from point `crest` to point `low`. `start_m`: level down to which there is air when it is
  /// trapped, which is the low point itself unless an air valve on the leg let the rest out.
  LegAir(const Profile& profile, int crest, int low, double start_m);

  double crest_m() const { return crest_m_; }
  double start_m() const { return start_m_; }
  /// Air at atmospheric pressure when it is trapped [m3].
  double start_volume_m3() const { return from_m3_.front(); }
  /// Volume of the leg above a level [m3], not counting flat pieces at that very level.
  double volume_above_m3(double level_m) const;
  /// The same, counting flat pieces at that level.
  double volume_from_m3(double level_m) const;

  /// Equilibrium under a column of grade `column_m` [m]. `atmospheric_head_m` > 0. A column below `start_m`
  /// is no load: the gauge head is 0 and the water before the crest stands at the crest.
  Loaded under_column(double atmospheric_head_m, double column_m) const {
    return under_column(atmospheric_head_m, column_m, start_volume_m3());
  }
  /// The same with another amount of air, as a volume at atmospheric pressure. What the leg cannot hold under
  /// the column leaves by its low end.
  Loaded under_column(double atmospheric_head_m, double column_m, double amount_m3) const;

  /// Equilibrium under a known gauge head >= 0 [m], as seen from the source.
  Loaded under_gauge(double atmospheric_head_m, double gauge_head_m) const;

 private:
  struct Piece {
    double high_m, low_m, volume_m3;
  };
  double piece_above_m3(const Piece& piece, double level_m, bool flats) const;
  void measure();
  Loaded compressed_to(double interface_m, double gauge_head_m, double volume_m3) const;

  std::vector<Piece> pieces_;
  std::vector<double> levels_m_;            // of the ends of pieces, from `start_m_` up to the top, each once
  std::vector<double> from_m3_, above_m3_;  // at each of the levels
  double crest_m_ = 0.0, start_m_ = 0.0;
};

}  // namespace runnel::air
