#include "runnel/verdict/sizes_tried.h"

#include <algorithm>

#include "runnel/air/crests.h"
#include "runnel/network/change.h"
#include "runnel/steady/state.h"
#include "runnel/verdict/margins.h"
#include "runnel/verdict/next_size.h"
#include "runnel/verdict/rules.h"

namespace runnel::verdict {
namespace {

constexpr int most_more = 4;
constexpr std::size_t most_ways = 20;

const AskResult* first_missed(const FlowVerdict& verdict) {
  for (const AskResult& r : verdict.asks)
    if (r.missed() && r.ask.kind != network::AskKind::full_within) return &r;
  return nullptr;
}

air::StartVerdict worst_start_of(const network::System& system) {
  air::StartVerdict worst = air::StartVerdict::starts;
  for (const air::Way& way : air::ways_of(system, most_ways)) worst = std::max(worst, way.start.verdict);
  return worst;
}

std::optional<TriedSize> tried(const network::System& system, const AskResult& missed) {
  const steady::State state = steady::solve(system);
  if (!state.proved()) return std::nullopt;
  TriedSize size;
  const network::Line& line = system.lines().front();
  size.pipe = line.pipes.front().pipe.name;
  size.rating_pa = allowed_pressure_pa(system, line.pipes.front().pipe);
  size.starts = worst_start_of(system);
  size.met = true;
  const auto needs = needs_on(system, true);  // as the verdict judges them: what lasts, with its air
  if (!needs) return std::nullopt;
  for (const AskResult& r : *needs) {
    if (r.ask.kind != network::AskKind::full_within) size.met = size.met && r.judged && r.met;
    if (r.ask.at == missed.ask.at && r.ask.kind == missed.ask.kind)
      size.gets = r.got.value_or(Figure{missed.asked.kind, 0.0});
  }
  for (const steady::LinePoint& p : state.lines.front().points)
    size.most_pa = std::max(size.most_pa, pressure_of_head(system, std::max(p.static_head_m.value_or(0.0),
                                                                            p.pressure_head_m.value_or(0.0)))
                                              .si);
  return size;
}

}  // namespace

std::vector<TriedSize> next_sizes(const network::System& system, const FlowVerdict& verdict) {
  std::vector<TriedSize> sizes;
  const AskResult* missed = first_missed(verdict);
  if (!missed || system.lines().size() != 1 || system.lines().front().pipes.size() != 1) return sizes;
  const network::Line& line = system.lines().front();
  const network::Stretch whole{line.course.first_m(), line.course.last_m()};
  std::optional<pipes::Pipe> pipe = line.pipes.front().pipe;
  for (int i = 0; i <= most_more && pipe && (sizes.empty() || !sizes.back().met); ++i) {
    const auto laid = network::with_pipe(system, 0, whole, *pipe);
    if (!laid) break;
    const auto size = tried(*laid.value, *missed);
    if (!size) break;
    sizes.push_back(*size);
    pipe = next_size(*pipe);
  }
  // A larger pipe that brings no more is no news.
  if (sizes.size() < 2 || !(sizes.back().gets.si > sizes.front().gets.si * 1.01)) sizes.clear();
  return sizes;
}

}  // namespace runnel::verdict
