#include "runnel/input/overlay.h"

#include <algorithm>

namespace runnel::input {
namespace {

using document::Entry;
using document::Node;

std::unique_ptr<Node> bare(const Node& node) {
  auto out = std::make_unique<Node>();
  out->kind = node.kind;
  out->text = node.text;
  out->quoted = node.quoted;
  out->mark = node.mark;
  return out;
}

std::unique_ptr<Node> copied(const Node& node) {
  auto out = bare(node);
  for (const auto& item : node.items) out->items.push_back(copied(*item));
  for (const Entry& entry : node.entries)
    out->entries.push_back({entry.key, entry.key_mark, copied(*entry.value)});
  return out;
}

}  // namespace

std::unique_ptr<Node> laid_over(const Node& base, const Node& change) {
  if (base.kind != Node::Kind::map || change.kind != Node::Kind::map) return copied(change);
  auto out = bare(base);
  for (const Entry& entry : base.entries) {
    const Node* over = change.find(entry.key);
    if (over && over->kind == Node::Kind::missing) continue;
    out->entries.push_back(
        {entry.key, entry.key_mark, over ? laid_over(*entry.value, *over) : copied(*entry.value)});
  }
  for (const Entry& entry : change.entries)
    if (!base.find(entry.key) && entry.value->kind != Node::Kind::missing)
      out->entries.push_back({entry.key, entry.key_mark, copied(*entry.value)});
  return out;
}

std::unique_ptr<Node> without(const Node& node, std::string_view key) {
  auto out = copied(node);
  out->entries.erase(std::remove_if(out->entries.begin(), out->entries.end(),
                                    [&](const Entry& entry) { return entry.key == key; }),
                     out->entries.end());
  return out;
}

}  // namespace runnel::input
