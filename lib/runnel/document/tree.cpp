#include "runnel/document/tree.h"

namespace runnel::document {

const Node* Node::find(std::string_view key) const {
  for (const Entry& entry : entries) {
    if (entry.key == key) return entry.value.get();
  }
  return nullptr;
}

Mark within(const Node& node, int at, int length) {
  Mark mark = node.mark;
  const int written = static_cast<int>(node.text.size()) + (node.quoted ? 2 : 0);
  // Escapes, folded lines and characters of several bytes make the length in the file differ.
  if (node.kind != Node::Kind::scalar || mark.length != written || at < 0) return mark;
  if (at > static_cast<int>(node.text.size())) return mark;
  mark.column += at + (node.quoted ? 1 : 0);
  mark.length = length < 1 ? 1 : length;
  return mark;
}

}  // namespace runnel::document
