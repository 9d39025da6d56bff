#include "model_source.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

#include "common.h"
#include "runnel/document/quote.h"
#include "runnel/document/tree.h"
#include "runnel/input/read_model.h"

namespace cli {
namespace {

using runnel::document::Node;

// A model is at most 16 MiB (runnel/document); a few bytes more are enough to see that it is not.
constexpr std::size_t most_bytes = (std::size_t{16} << 20) + 16;

bool elevation_key(const std::string& key) {
  return key == "lip" || key == "outlet" || key == "floor" || key == "elevation" || key == "unit" ||
         key == "level";
}

bool in_feet(const std::string& text) {
  return text.find("ft") != std::string::npos || text.find("in") != std::string::npos ||
         text.find('\'') != std::string::npos || text.find('"') != std::string::npos;
}

const Node* first_elevation(const Node& node) {
  for (const auto& entry : node.entries) {
    if (!entry.value) continue;
    if (entry.value->kind == Node::Kind::scalar && elevation_key(entry.key)) return entry.value.get();
    if (const Node* found = first_elevation(*entry.value)) return found;
  }
  for (const auto& item : node.items)
    if (const Node* found = item ? first_elevation(*item) : nullptr) return found;
  return nullptr;
}

std::string beside(const std::string& model, const std::string& name) {
  const auto slash = model.rfind('/');
  if (model == "-" || slash == std::string::npos || (!name.empty() && name[0] == '/')) return name;
  return model.substr(0, slash + 1) + name;
}

void suggest_setting(const runnel::network::System& system, const std::string& setting,
                     std::vector<runnel::Finding>& findings) {
  std::vector<std::string> names{"normal"};
  for (const auto& known : system.settings) names.push_back(known.name);
  const std::string near = runnel::document::nearest(setting, names);
  for (runnel::Finding& finding : findings)
    if (!near.empty())
      finding.advice = "did you mean " + runnel::document::quote(near) + "? " + finding.advice;
}

}  // namespace

std::optional<std::string> read_text(const std::string& path, std::string& reason) {
  const int descriptor = path == "-" ? STDIN_FILENO : ::open(path.c_str(), O_RDONLY | O_CLOEXEC);
  if (descriptor < 0) {
    reason = std::strerror(errno);
    return std::nullopt;
  }
  std::string text;
  char buffer[1 << 16];
  ssize_t n = 0;
  while (text.size() < most_bytes && (n = ::read(descriptor, buffer, sizeof buffer)) != 0) {
    if (n < 0 && errno == EINTR) continue;
    if (n < 0) break;
    text.append(buffer, static_cast<std::size_t>(n));
  }
  if (n < 0) reason = std::strerror(errno);
  if (path != "-") ::close(descriptor);
  if (n < 0) return std::nullopt;
  return text;
}

runnel::units::System units_of(const std::string& text, const std::string& file) {
  const auto tree = runnel::document::read(text, file);
  const Node* elevation = tree ? first_elevation(**tree.value) : nullptr;
  return elevation && in_feet(elevation->text) ? runnel::units::System::us : runnel::units::System::si;
}

Model read_model(const std::string& path, const std::string& setting) {
  Model model;
  std::string reason;
  const std::optional<std::string> text = read_text(path, reason);
  if (!text) {
    model.findings.push_back(usage("file-unreadable",
                                   "cannot read the model " + runnel::document::quote(path) + ": " + reason,
                                   "`-` reads it from standard input"));
    return model;
  }
  model.texts[path] = *text;
  model.written_in = units_of(*text, path);
  runnel::input::ReadOptions options;
  options.side_file = [&](const std::string& name) -> std::optional<std::string> {
    std::string why;
    std::optional<std::string> side = read_text(beside(path, name), why);
    if (side) model.texts[name] = *side;
    return side;
  };
  auto read = runnel::input::read_model(*text, path, options);
  model.findings = std::move(read.findings);
  if (!read) return model;
  auto run = runnel::network::under_setting(*read.value, setting);
  if (!run) suggest_setting(*read.value, setting, run.findings);
  model.findings.insert(model.findings.end(), run.findings.begin(), run.findings.end());
  model.system = std::move(run.value);
  return model;
}

}  // namespace cli
