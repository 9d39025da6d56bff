#include "size_write.h"

#include <fmt/format.h>

#include <algorithm>

#include "runnel/document/tree.h"
#include "runnel/document/write.h"

namespace cli {
namespace {

using runnel::document::Entry;
using runnel::document::Node;

Node* member(Node& map, const std::string& key) {
  for (Entry& entry : map.entries)
    if (entry.key == key) return entry.value.get();
  return nullptr;
}

void set(Node& map, const std::string& key, const std::string& text) {
  auto value = std::make_unique<Node>();
  value->kind = Node::Kind::scalar;
  value->text = text;
  for (Entry& entry : map.entries)
    if (entry.key == key) return void(entry.value = std::move(value));
  map.entries.push_back({key, {}, std::move(value)});
}

bool is_open(const Node* pipe) { return pipe && pipe->kind == Node::Kind::map && pipe->find("choose"); }

/// Into the model itself, or into what one of its settings changes: there a tap is set only where the setting
/// sets it, too.
void put(Node& root, const runnel::network::Model& model, const runnel::sizing::SizeAnswer& answer,
         bool in_setting) {
  if (Node* lines = member(root, "pipelines"))
    for (Entry& line : lines->entries) {
      if (!is_open(line.value->find("pipe"))) continue;
      for (const auto& chosen : answer.lines)
        if (chosen.line == line.key) set(*line.value, "pipe", chosen.pipe);
    }
  Node* outlets = member(root, "outlets");
  for (const auto& throttle : answer.trial.throttles)
    if (Node* outlet = outlets ? member(*outlets, throttle.outlet) : nullptr) {
      const auto* drawn = model.outlet(throttle.outlet);
      if (in_setting && !outlet->find("loss") && !outlet->find("opening")) continue;
      // Metres to the last digit; a tap without a bore of its own had that of its pipe.
      if (!drawn || !(drawn->opening.metres() > 0.0))
        set(*outlet, "opening", fmt::format("{} m", throttle.opening_m));
      set(*outlet, "loss", fmt::format("{}", throttle.loss));
    }
}

}  // namespace

runnel::Checked<std::string> written_choice(const std::string& text, const std::string& file,
                                            const runnel::network::Model& model,
                                            const runnel::sizing::SizeAnswer& answer) {
  runnel::Checked<std::string> out;
  auto tree = runnel::document::read(text, file);
  out.findings = std::move(tree.findings);
  if (!tree) return out;
  Node& root = **tree.value;
  put(root, model, answer, false);
  if (Node* settings = member(root, "settings"))
    for (Entry& setting : settings->entries)
      if (setting.value->kind == Node::Kind::map)
        if (Node* with = member(*setting.value, "with")) put(*with, model, answer, true);
  out.value = "# Pipes chosen by `runnel size`.\n" + runnel::document::written(root);
  return out;
}

}  // namespace cli
