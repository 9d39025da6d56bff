#include "model_source.h"

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

#include "common.h"
#include "inputs.h"
#include "runnel/document/limits.h"
#include "runnel/document/quote.h"
#include "runnel/document/tree.h"
#include "runnel/input/read_model.h"
#include "runnel/verdict/settings.h"

namespace cli {
namespace {

// A few bytes more than a model may have are enough to see that it has too many.
constexpr std::size_t most_bytes = runnel::document::largest_text_bytes + 16;

std::string beside(const std::string& model, const std::string& name) {
  const auto slash = model.rfind('/');
  if (model == "-" || slash == std::string::npos || (!name.empty() && name[0] == '/')) return name;
  return model.substr(0, slash + 1) + name;
}

void suggest_setting(const runnel::network::Model& model, const std::string& setting,
                     std::vector<runnel::Finding>& findings) {
  std::vector<std::string> names{runnel::verdict::as_drawn};
  for (const auto& known : model.settings) names.push_back(known.name);
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
  remember_input(descriptor);
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

Model read_written(const std::string& path) {
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
  runnel::input::ReadOptions options;
  options.most_told = 100;  // more are not read, and a slip in every line would fill a book
  options.side_file = [&](const std::string& name) -> std::optional<std::string> {
    std::string why;
    std::optional<std::string> side = read_text(beside(path, name), why);
    if (side) model.texts[name] = *side;
    return side;
  };
  auto read = runnel::input::read_model(*text, path, options);
  model.findings = std::move(read.findings);
  model.written_in = read.written_in;
  model.drawn = std::move(read.value);
  return model;
}

Model read_model(const std::string& path, const std::string& setting) {
  Model model = read_written(path);
  if (!model.drawn) return model;
  auto run = runnel::network::under_setting(*model.drawn, setting);
  if (!run) suggest_setting(*model.drawn, setting, run.findings);
  model.findings.insert(model.findings.end(), run.findings.begin(), run.findings.end());
  if (!run) return model;
  auto system = runnel::network::resolve(std::move(*run.value));
  // Findings of the model itself have been reported, with their place in the text.
  if (!system) model.findings.insert(model.findings.end(), system.findings.begin(), system.findings.end());
  model.system = std::move(system.value);
  return model;
}

}  // namespace cli
