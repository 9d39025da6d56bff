#include "runnel/pipes/fields.h"

#include <algorithm>

#include "runnel/base/constants.h"
#include "runnel/document/quote.h"

namespace runnel::pipes {

namespace {

using document::Node;
using units::Dimension;

/// Density of water at its heaviest, 4 degrees Celsius [tanaka2001].
constexpr double heaviest_water_kgm3 = 999.97;

/// Doubles the braces of a text that must reach the reader as it is.
std::string literal(const std::string& text) {
  std::string out;
  for (const char c : text) out.append(c == '{' || c == '}' ? 2U : 1U, c);
  return out;
}

const char* code_of(const Node& node, Dimension dimension) {
  if (dimension == Dimension::number) return "bad-number";
  return units::parse(node.text, Dimension::number).ok() ? "missing-unit" : "not-a-quantity";
}

}  // namespace

Fields::Fields(const Node& node, std::vector<Finding>& findings, std::string what)
    : node_(node), findings_(findings), what_(std::move(what)), usable_(node.kind == Node::Kind::map) {
  if (usable_) return;
  error("not-a-block", node.mark, what_ + " must be a block of entries `name: value`",
        "write for example {{bore: 38.1 mm, roughness: 0.0015 mm, C: 150}}");
}

Finding& Fields::error(const char* code, const Mark& mark, std::string message, std::string advice) {
  Finding f;
  f.code = code;
  f.message = std::move(message);
  f.advice = std::move(advice);
  f.mark = mark;
  findings_.push_back(std::move(f));
  return findings_.back();
}

const Node* Fields::find(const char* key) {
  asked_.emplace_back(key);
  const Node* value = usable_ ? node_.find(key) : nullptr;
  if (value == nullptr || value->kind != Node::Kind::missing) return value;
  error("empty-value", value->mark, std::string("`") + key + "` of " + what_ + " is left empty",
        "write a value, or take the line out");
  return nullptr;
}

Mark Fields::mark(const char* key) const {
  const Node* value = usable_ ? node_.find(key) : nullptr;
  return value == nullptr ? node_.mark : value->mark;
}

std::optional<std::string> Fields::text(const char* key) {
  const Node* value = find(key);
  if (value == nullptr) return std::nullopt;
  if (value->kind == Node::Kind::scalar) return value->text;
  error("not-a-value", value->mark, std::string("`") + key + "` of " + what_ + " must be one value", "");
  return std::nullopt;
}

std::optional<double> Fields::quantity(const char* key, Dimension dimension) {
  const auto written = text(key);
  if (!written) return std::nullopt;
  const Node& value = *node_.find(key);
  const units::Parsed parsed = units::parse(*written, dimension);
  if (!parsed.ok()) {
    error(code_of(value, dimension), document::within(value, parsed.at, parsed.length),
          std::string("`") + key + "` of " + what_ + ": " + literal(parsed.error), literal(parsed.hint));
    return std::nullopt;
  }
  if (parsed.head_of_water) return parsed.si * heaviest_water_kgm3 * gravity_ms2;
  return parsed.si;
}

std::optional<std::size_t> Fields::word(const char* key, const std::vector<std::string>& words) {
  const auto written = text(key);
  if (!written) return std::nullopt;
  const auto found = std::find(words.begin(), words.end(), *written);
  if (found != words.end()) return static_cast<std::size_t>(found - words.begin());
  std::string hint = "write one of:";
  for (std::size_t i = 0; i < words.size(); ++i) hint += (i == 0 ? " " : ", ") + words[i];
  error("unknown-word", node_.find(key)->mark,
        document::quote(*written) + " is not known as `" + key + "` of " + what_, hint);
  return std::nullopt;
}

void Fields::missing(const char* key, const std::string& example) {
  error("missing-key", node_.mark, what_ + " has no `" + key + "`", "add for example " + literal(example));
}

void Fields::close() {
  if (!usable_) return;
  for (const document::Entry& entry : node_.entries) {
    if (std::find(asked_.begin(), asked_.end(), entry.key) != asked_.end()) continue;
    const std::string near = document::nearest(entry.key, asked_);
    std::string hint = near.empty() ? "what can stand here:" : "did you mean " + document::quote(near) + "?";
    if (near.empty()) {
      for (std::size_t i = 0; i < asked_.size(); ++i) hint += (i == 0 ? " " : ", ") + asked_[i];
    }
    error("unknown-key", entry.key_mark, document::quote(entry.key) + " is not known in " + what_, hint);
  }
}

}  // namespace runnel::pipes
