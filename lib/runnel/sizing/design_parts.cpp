#include "runnel/sizing/design_parts.h"

#include <algorithm>

#include "runnel/network/place_state.h"

namespace runnel::sizing {

const char* const not_a_tree = "size-not-a-tree";
namespace {

using network::System;

bool open_water(const System& system, int place) { return network::open_water(system.kind(place)); }

Finding refused(const System& system, const std::string& why, int line) {
  Finding finding;
  finding.code = not_a_tree;
  const std::string& name = system.lines()[static_cast<std::size_t>(line)].name;
  finding.message = "the part of the system that the line " + name + " belongs to " + why;
  finding.advice =
      "its flows then depend on the sizes: lay all but one of its lines, or try pipes with `runnel flow`";
  finding.where.pipeline = name;
  return finding;
}

class Cutter {
 public:
  explicit Cutter(const System& system) : system_(system), taken_(system.lines().size(), false) {}

  Checked<std::vector<Part>> run() {
    Checked<std::vector<Part>> out;
    std::vector<Part> parts;
    for (std::size_t l = 0; l < taken_.size(); ++l) {
      if (taken_[l]) continue;
      if (auto why = gather(static_cast<int>(l), parts); !why.empty())
        out.findings.push_back(refused(system_, why, static_cast<int>(l)));
    }
    if (!any_error(out.findings)) sort(parts, out);
    return out;
  }

 private:
  /// Gathers all lines connected with the first through joints and outlets. Empty, or why it is refused.
  std::string gather(int first, std::vector<Part>& parts) {
    std::vector<int> lines{first};
    taken_[at(first)] = true;
    std::vector<int> sources;
    for (std::size_t i = 0; i < lines.size(); ++i) {
      const network::Line& line = system_.lines()[at(lines[i])];
      if (open_water(system_, line.from)) sources.push_back(lines[i]);
      for (const int place : {line.from, line.to}) {
        if (open_water(system_, place)) continue;
        for (const int next : system_.lines_at(place))
          if (!taken_[at(next)]) {
            taken_[at(next)] = true;
            lines.push_back(next);
          }
      }
    }
    if (sources.empty()) return "has no box or tank above it";
    if (sources.size() > 1) return "is fed from more than one box or tank";
    return hang(sources.front(), lines, parts);
  }

  /// Hangs the lines on their source, upper ones first.
  std::string hang(int first, const std::vector<int>& lines, std::vector<Part>& parts) {
    Part part;
    part.source = system_.lines()[at(first)].from;
    part.lines.push_back({first, true, part.source, system_.lines()[at(first)].to});
    std::vector<int> reached{part.lines[0].below};
    for (std::size_t i = 0; i < part.lines.size(); ++i) {
      const PartLine above = part.lines[i];
      if (open_water(system_, above.below)) continue;
      for (const int next : system_.lines_at(above.below)) {
        if (next == above.line) continue;
        const network::Line& line = system_.lines()[at(next)];
        const bool forward = line.from == above.below;
        const int below = forward ? line.to : line.from;
        if (std::find(reached.begin(), reached.end(), below) != reached.end() && !open_water(system_, below))
          return "forms a loop";
        if (part.lines.size() >= lines.size()) return "forms a loop";
        reached.push_back(below);
        part.lines.push_back({next, forward, above.below, below});
      }
    }
    parts.push_back(std::move(part));
    return {};
  }

  void sort(std::vector<Part>& parts, Checked<std::vector<Part>>& out) {
    std::vector<Part> sorted;
    const auto fed_by_rest = [&](const Part& part) {
      return std::any_of(parts.begin(), parts.end(), [&](const Part& other) {
        return std::any_of(other.lines.begin(), other.lines.end(),
                           [&](const PartLine& line) { return line.below == part.source; });
      });
    };
    while (!parts.empty()) {
      const auto next =
          std::find_if(parts.begin(), parts.end(), [&](const Part& p) { return !fed_by_rest(p); });
      if (next == parts.end()) {
        out.findings.push_back(refused(system_, "feeds itself", parts.front().lines.front().line));
        return;
      }
      sorted.push_back(std::move(*next));
      parts.erase(next);
    }
    out.value = std::move(sorted);
  }

  static std::size_t at(int i) { return static_cast<std::size_t>(i); }

  const System& system_;
  std::vector<bool> taken_;
};

}  // namespace

bool is_no_tree(const std::vector<Finding>& findings) {
  return std::any_of(findings.begin(), findings.end(),
                     [](const Finding& finding) { return finding.code == not_a_tree; });
}

Checked<std::vector<Part>> parts_of(const System& system) { return Cutter(system).run(); }

}  // namespace runnel::sizing
