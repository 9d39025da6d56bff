#include "runnel/input/fields.h"

#include <algorithm>

#include "runnel/document/quote.h"

namespace runnel::input {

using document::Node;

Fields::Fields(Reader& reader, const Node& node, Mark owner, std::string what)
    : reader_(reader),
      node_(node),
      owner_(std::move(owner)),
      what_(std::move(what)),
      usable_(node.kind == Node::Kind::map) {
  if (usable_) return;
  if (node.kind == Node::Kind::missing)
    reader_.error("empty-value", owner_, what_ + " is left empty", "write its members, or delete it");
  else
    reader_.error("not-a-block", node.mark, what_ + " must be a block of entries `name: value`",
                  "indent them below it, or write them in braces: {{name: value, name: value}}");
}

const Node* Fields::find(const char* key) {
  asked_.push_back(key);
  return usable_ ? node_.find(key) : nullptr;
}

const Node* Fields::need(const char* key, const char* example) {
  const Node* node = find(key);
  if (!node && usable_) missing_.push_back({key, example});
  return node;
}

std::optional<double> Fields::find_number(const char* key) {
  const Node* node = find(key);
  return node ? read_number(reader_, *node, label(key)) : std::nullopt;
}

std::optional<double> Fields::need_number(const char* key, const char* example) {
  const Node* node = need(key, example);
  return node ? read_number(reader_, *node, label(key)) : std::nullopt;
}

std::optional<std::string> Fields::find_text(const char* key) {
  const Node* node = find(key);
  return node ? read_text(reader_, *node, label(key)) : std::nullopt;
}

std::optional<std::string> Fields::need_text(const char* key, const char* example) {
  const Node* node = need(key, example);
  return node ? read_text(reader_, *node, label(key)) : std::nullopt;
}

void Fields::not_both(const char* key, const char* other) {
  if (!has(key) || !has(other)) return;
  Finding& finding = reader_.error(
      "said-twice", key_mark(other),
      what_ + " has both `" + key + "` and `" + other + "`, which say the same thing", "keep one of the two");
  finding.other = key_mark(key);
  finding.other_note = "said here";
}

void Fields::close() {
  if (!usable_) return;
  const auto asked = [&](const std::string& key) {
    return std::find(asked_.begin(), asked_.end(), key) != asked_.end();
  };
  // `meant`: what unknown members probably mean; `free`: what they could mean.
  std::vector<std::string> meant, free;
  bool gathered = false;
  for (const document::Entry& entry : node_.entries) {
    if (asked(entry.key)) continue;
    for (std::size_t i = 0; !gathered && i < asked_.size(); ++i)
      if (!node_.find(asked_[i])) free.emplace_back(asked_[i]);
    gathered = true;
    std::string hint = reader_.suggest(entry.key, free);
    if (!hint.empty())
      meant.push_back(document::nearest(entry.key, free));
    else {
      hint = "what can stand here:";
      for (std::size_t i = 0; i < asked_.size() && i < 60; ++i)
        hint += std::string(i ? ", " : " ") + asked_[i];
    }
    reader_.error("unknown-key", entry.key_mark, document::quote(entry.key) + " is not known in " + what_,
                  hint);
  }
  for (const Missing& missing : missing_) {
    if (std::find(meant.begin(), meant.end(), missing.key) != meant.end()) continue;
    reader_.error("missing-key", owner_, what_ + " has no `" + missing.key + "`",
                  "add a line such as `" + literal(missing.example) + "`");
  }
}

void Fields::note_elevation(std::string_view key, const Node& node) {
  for (const char* elevation : {"lip", "outlet", "floor", "elevation", "level"})
    if (key == elevation && node.kind == Node::Kind::scalar) reader_.note_elevation(node.text, node.mark);
}

std::string Fields::label(std::string_view key) const { return "`" + std::string(key) + "` of " + what_; }

Mark Fields::mark(std::string_view key) const {
  const Node* node = usable_ ? node_.find(key) : nullptr;
  return node ? node->mark : owner_;
}

Mark Fields::key_mark(std::string_view key) const {
  if (usable_)
    for (const document::Entry& entry : node_.entries)
      if (entry.key == key) return entry.key_mark;
  return owner_;
}

const std::vector<std::unique_ptr<Node>>* list_of(Reader& reader, const Node& node, const std::string& what,
                                                  const char* example) {
  if (node.kind == Node::Kind::sequence) return &node.items;
  const bool empty = node.kind == Node::Kind::missing;
  reader.error(empty ? "empty-value" : "not-a-list", node.mark,
               what + (empty ? " is left empty" : " must be a list"),
               "write for example " + literal(example));
  return nullptr;
}

}  // namespace runnel::input
