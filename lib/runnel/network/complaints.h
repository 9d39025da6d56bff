#pragma once
// Collects the findings of `validate`.
#include <string>
#include <string_view>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/document/suggestions.h"
#include "runnel/network/name_index.h"
#include "runnel/network/validate.h"

namespace runnel::network {

/// Elevations beyond this are slips: no ground on Earth is higher than 8849 m [from memory].
inline constexpr double highest_ground_m = 9000.0;

/// Figures outside these are slips too, and would only swamp the arithmetic. Own choice, each far beyond
/// anything ever built.
struct Bounds {
  double low, high;
};
inline constexpr Bounds bore_bounds_m{1e-4, 100.0};     ///< finer than a hair's gap, wider than any tunnel
inline constexpr Bounds measure_bounds_m{1e-3, 1e5};    ///< of tanks and boxes
inline constexpr Bounds loss_bounds{0.0, 1e9};          ///< K; a valve that loses more is shut
inline constexpr Bounds flow_bounds_m3s{1e-12, 1e6};    ///< from a drop in half a day to all rivers together
inline constexpr Bounds pressure_bounds_pa{1.0, 1e10};  ///< no pipe sees more
inline constexpr Bounds velocity_bounds_ms{1e-6, 1e3};  ///< from a crawl to the speed of sound in air
inline constexpr Bounds volume_bounds_m3{1e-6, 1e9};    ///< of buckets and tanks
inline constexpr Bounds time_bounds_s{1e-3, 3.2e10};    ///< to a thousand years
inline constexpr double farthest_station_m = 1e7;       ///< from the pole to the equator
inline constexpr double least_step_m = 1e-6;            ///< between neighbouring stations

class Complaints {
 public:
  explicit Complaints(const Origin& origin) : origin_(origin) {}

  /// False if the object could not be read in full, so that its figures mean nothing.
  bool whole(const Mark& object) const { return !origin_.incomplete || !origin_.incomplete(object); }

  Finding& error(std::string code, const Mark& object, std::string_view member, std::string message,
                 std::vector<Figure> figures = {}, std::string advice = {});
  Finding& warning(std::string code, const Mark& object, std::string_view member, std::string message,
                   std::vector<Figure> figures = {}, std::string advice = {});

  /// Each reports a wrong figure ("not-positive", "negative", "absurd-elevation") and is false then. `what`
  /// opens the sentence: `the yield of box "A"`.
  bool positive(const Mark& object, std::string_view member, Figure figure, const std::string& what);
  bool not_negative(const Mark& object, std::string_view member, Figure figure, const std::string& what);
  /// Like `positive` and `not_negative`, but also report "absurd-figure" for a figure, other than zero,
  /// outside the bounds.
  bool positive(const Mark& object, std::string_view member, Figure figure, const std::string& what,
                Bounds bounds);
  bool not_negative(const Mark& object, std::string_view member, Figure figure, const std::string& what,
                    Bounds bounds);
  bool on_earth(const Mark& object, std::string_view member, Length elevation, const std::string& what);

  Mark mark(const Mark& object, std::string_view member) const;

  /// False once `suggest` has nothing more to say, so that candidates need not be gathered.
  bool suggests() const { return suggestions_.patient(); }
  /// `did you mean "x"?`, or a list of what there is, or nothing. After many findings it does no more work.
  std::string suggest(const std::string& word, const std::vector<std::string>& candidates);

  std::vector<Finding> take() { return std::move(findings_); }

 private:
  bool within(const Mark& object, std::string_view member, Figure figure, const std::string& what,
              Bounds bounds);
  Finding& add(Severity severity, std::string code, const Mark& object, std::string_view member,
               std::string message, std::vector<Figure> figures, std::string advice);

  const Origin& origin_;
  std::vector<Finding> findings_;
  document::Suggestions suggestions_;
};

/// A name in quotes for a message, with braces doubled so that `render` leaves them alone.
std::string quoted(const std::string& name);

/// The overflow works and the rim of a box or tank (validate_overflow.cpp).
void check_overflow(const losses::Overflow& overflow, const Mark& place, const std::string& of,
                    Complaints& complaints);
void check_rim(const std::optional<Length>& rim, Length lip, const Mark& place, const std::string& of,
               Complaints& complaints);

/// The draws of one place; `what` opens the sentence: `a draw from tank "A"` (validate_draws.cpp).
void check_draws(const std::vector<Draw>& draws, const std::string& what, Complaints& complaints);

// The parts of `validate`, one file each.
void validate_site(const Model& system, Complaints& complaints);
void validate_names(const Model& system, const NameIndex& index, Complaints& complaints);
void validate_places(const Model& system, Complaints& complaints);
void validate_tanks(const Model& system, const NameIndex& index, Complaints& complaints);
void validate_lines(const Model& system, Complaints& complaints);
void validate_parts(const Model& system, const Pipeline& line, Complaints& complaints);
void validate_joins(const Model& system, const NameIndex& index, Complaints& complaints);
void validate_settings(const Model& system, const NameIndex& index, Complaints& complaints);
void validate_year(const Model& system, const NameIndex& index, Complaints& complaints);
void validate_collections(const Model& model, const NameIndex& index, Complaints& complaints);
void validate_asks(const Model& system, const NameIndex& index, Complaints& complaints);

}  // namespace runnel::network
