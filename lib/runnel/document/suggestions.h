#pragma once
// "Did you mean" for a whole text.
#include <string>
#include <string_view>
#include <vector>

namespace runnel::document {

/// Finds near words until its patience is spent: a text that is wrong all over would otherwise cost the
/// square of its size, and nobody reads that many hints.
class Suggestions {
 public:
  /// The candidate nearest to `word`, or "" if none is near enough or patience is at an end.
  std::string nearest(std::string_view word, const std::vector<std::string>& candidates);

  /// False once nothing more will be found, so that candidates need not be gathered.
  bool patient() const;

 private:
  std::size_t spent_ = 0;
};

}  // namespace runnel::document
