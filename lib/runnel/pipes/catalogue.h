#pragma once
// Pipes by name. The standard ones are data, models/catalogue/*.yaml, embedded when the library is built.
#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/pipes/pipe.h"
#include "runnel/pipes/read_pipe.h"

namespace runnel::pipes {

/// One file: what its opening lines say about all of its rows.
struct Family {
  std::string file;
  std::string description, source, changed, units, certainty;
  std::size_t first = 0, count = 0;  ///< its rows in Catalogue::pipes()
};

class Catalogue {
 public:
  /// The pipe of that name, or nullptr. Blanks, hyphens, upper and lower case do not matter, and
  /// `1 1/2"` is `1-1/2 in`; without a unit inches are tried, then millimetres.
  const Pipe* find(std::string_view name) const;
  std::vector<std::string> names() const;
  const std::vector<Pipe>& pipes() const { return pipes_; }
  const std::vector<Family>& families() const { return families_; }

  /// False, with nothing added, if there is already a pipe of that name.
  bool add(Pipe pipe);
  void add(Family family) { families_.push_back(std::move(family)); }

 private:
  std::vector<Pipe> pipes_;
  std::vector<Family> families_;
  std::map<std::string, std::size_t, std::less<>> by_key_;
};

/// A file of pipes in the form of models/catalogue; `source` and `certainty` may be left out by a user.
Checked<Catalogue> read_catalogue(std::string_view text, const std::string& file);

/// The pipes that come with the library.
const Catalogue& standard_catalogue();

}  // namespace runnel::pipes
