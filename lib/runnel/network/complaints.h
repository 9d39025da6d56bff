#pragma once
// The pen that `validate` writes its findings with.
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/network/validate.h"

namespace runnel::network {

/// Elevations beyond this are slips of the pen: no ground on Earth is higher than 8849 m [from memory].
inline constexpr double highest_ground_m = 9000.0;

class Complaints {
 public:
  explicit Complaints(const Origin& origin) : origin_(origin) {}

  /// False if the thing could not be read in full, so that its figures mean nothing.
  bool whole(const Mark& object) const { return !origin_.incomplete || !origin_.incomplete(object); }

  Finding& error(std::string code, const Mark& object, std::string_view member, std::string message,
                 std::vector<Figure> figures = {}, std::string advice = {});
  Finding& warning(std::string code, const Mark& object, std::string_view member, std::string message,
                   std::vector<Figure> figures = {}, std::string advice = {});

  /// Errors "not-positive", "negative", "absurd-elevation" for a figure that is not as it must be.
  /// `what` opens the sentence: `the yield of box "A"`.
  bool positive(const Mark& object, std::string_view member, Figure figure, const std::string& what);
  bool not_negative(const Mark& object, std::string_view member, Figure figure, const std::string& what);
  bool on_earth(const Mark& object, std::string_view member, Length elevation, const std::string& what);

  Mark mark(const Mark& object, std::string_view member) const;

  /// `did you mean "x"?`, or a list of what there is, or nothing. Spares the work after many findings.
  std::string suggest(const std::string& word, const std::vector<std::string>& candidates);

  std::vector<Finding> take() { return std::move(findings_); }

 private:
  Finding& add(Severity severity, std::string code, const Mark& object, std::string_view member,
               std::string message, std::vector<Figure> figures, std::string advice);

  const Origin& origin_;
  std::vector<Finding> findings_;
  std::size_t compared_ = 0;  ///< candidates compared so far by `suggest`
};

/// A name in quotes for a message, with braces doubled so that `render` leaves them alone.
std::string quoted(const std::string& name);

// The parts of `validate`, one file each.
void validate_site(const Model& system, Complaints& complaints);
void validate_names(const Model& system, Complaints& complaints);
void validate_places(const Model& system, Complaints& complaints);
void validate_tanks(const Model& system, Complaints& complaints);
void validate_lines(const Model& system, Complaints& complaints);
void validate_parts(const Model& system, const Pipeline& line, Complaints& complaints);
void validate_joins(const Model& system, Complaints& complaints);
void validate_settings(const Model& system, Complaints& complaints);
void validate_year(const Model& system, Complaints& complaints);
void validate_asks(const Model& system, Complaints& complaints);

}  // namespace runnel::network
