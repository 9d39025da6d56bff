#pragma once
// What the keys in [brackets] stand for, at run time. The list itself is lib/runnel/references.h, which the
// build puts into the library together with the files that cite each key.
#include <string>
#include <string_view>
#include <vector>

namespace runnel::base {

struct Reference {
  std::string key;
  std::string text;                  ///< what the source is and what is taken from it
  std::string status;                ///< how it was obtained: FOUND, secondary, from memory, derived here
  std::vector<std::string> used_in;  ///< files of the source tree that cite it
};

/// All references, sorted by key.
const std::vector<Reference>& references();

/// The reference with this key, or nullptr. It may stand in brackets, with what is cited of it:
/// "[key eq. 1]".
const Reference* find_reference(std::string_view key);

/// The references whose keys stand in brackets in a text, each once, in the order of the text.
std::vector<const Reference*> cited(std::string_view text);

/// The lines `// [key] text; status` of a list, by key; other lines are ignored. `uses` holds lines
/// `key file`. Public for its tests.
std::vector<Reference> read_references(std::string_view list, std::string_view uses);

}  // namespace runnel::base
