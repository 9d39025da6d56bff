#pragma once
// A YAML text as a tree that knows where every piece was written. Stricter than YAML on purpose: one
// document, a map at the root, plain or quoted scalar keys, no anchors, aliases, tags, merge keys or
// duplicate keys, UTF-8, and no larger or deeper than limits.h allows.
#include <memory>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "runnel/base/finding.h"

namespace runnel::document {

struct Node;

struct Entry {
  std::string key;
  Mark key_mark;
  std::unique_ptr<Node> value;
};

struct Node {
  enum class Kind { missing, scalar, sequence, map };  ///< missing: `key:` with nothing after it, ~ or null
  Kind kind = Kind::missing;
  std::string text;                          ///< scalars: the text, as written
  bool quoted = false;                       ///< scalars: written in quotes
  std::vector<std::unique_ptr<Node>> items;  ///< sequences
  std::vector<Entry> entries;                ///< maps, in the order written
  Mark mark;

  /// The value under a key, or nullptr.
  const Node* find(std::string_view key) const;
};

/// Reads a text. On any error there is no value, and the findings name every defect that could be
/// told apart. Never throws for bad input.
Checked<std::unique_ptr<Node>> read(std::string_view text, const std::string& file);

/// Where a piece of a scalar's text is: `at` counts bytes from 0 in `node.text`. Exact for scalars on one
/// line without escapes; otherwise the place of the whole scalar.
Mark within(const Node& node, int at, int length);

/// The finding as a person sees it: `file:line:column: error: message`, the source line, a caret
/// line, the hint. `text` is the whole text the marks refer to. Tabs and control characters are made
/// harmless; lines longer than `width` are cut around the caret. Colour escapes only if `colour`. Figures
/// of the finding must be filled in before (units/print.h, `render`); doubled braces are made single here.
std::string excerpt(const Finding& finding, std::string_view text, bool colour = false, int width = 100);

/// The candidate nearest to `word` (edit distance, case ignored), or "" if none is near enough.
std::string nearest(std::string_view word, const std::vector<std::string>& candidates);

}  // namespace runnel::document
