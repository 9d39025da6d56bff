#include "runnel/sizing/design_parts.h"

#include <algorithm>

#include "runnel/network/place_state.h"

namespace runnel::sizing {

namespace {

using network::System;

bool open_water(const System& system, int place) { return network::open_water(system.kind(place)); }

class Cutter {
 public:
  explicit Cutter(const System& system) : system_(system), taken_(system.lines().size(), false) {}

  std::optional<std::vector<Part>> run() {
    std::vector<Part> parts;
    for (std::size_t l = 0; l < taken_.size(); ++l)
      if (!taken_[l] && !gather(static_cast<int>(l), parts)) return std::nullopt;
    return in_order(std::move(parts));
  }

 private:
  /// All lines that hang together with one of them through joints and outlets; false if they have no source,
  /// or several, or form a loop.
  bool gather(int first, std::vector<Part>& parts) {
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
    return sources.size() == 1 && hang(sources.front(), lines, parts);
  }

  /// Hangs the lines on their source, upper ones first; false if they form a loop.
  bool hang(int first, const std::vector<int>& lines, std::vector<Part>& parts) {
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
          return false;
        if (part.lines.size() >= lines.size()) return false;
        reached.push_back(below);
        part.lines.push_back({next, forward, above.below, below});
      }
    }
    parts.push_back(std::move(part));
    return true;
  }

  /// Those that feed others first; none if some feed each other.
  static std::optional<std::vector<Part>> in_order(std::vector<Part> parts) {
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
      if (next == parts.end()) return std::nullopt;
      sorted.push_back(std::move(*next));
      parts.erase(next);
    }
    return sorted;
  }

  static std::size_t at(int i) { return static_cast<std::size_t>(i); }

  const System& system_;
  std::vector<bool> taken_;
};

}  // namespace

std::optional<std::vector<Part>> parts_of(const System& system) { return Cutter(system).run(); }

}  // namespace runnel::sizing
