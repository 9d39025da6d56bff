#include "runnel/filling/part.h"

#include "runnel/base/groups.h"
#include "runnel/base/index.h"

namespace runnel::filling {
namespace {

using steady::Kernel;
using steady::Link;

/// Copies a link into its part, with all that it points to.
void copy_link(const Kernel& whole, int k, const std::vector<int>& local, Kernel& own) {
  Link link = whole.links[at(k)];
  auto controls = [&](std::uint32_t first, std::uint32_t count) {
    const auto begin = static_cast<std::uint32_t>(own.controls.size());
    for (std::uint32_t c = first; c < first + count; ++c) {
      steady::Control control = whole.controls[c];
      const auto from = whole.lengths_m.begin() + control.lengths;
      control.lengths = static_cast<std::uint32_t>(own.lengths_m.size());
      own.lengths_m.insert(own.lengths_m.end(), from, from + link.terms);
      if (control.mouth >= 0) {
        own.mouths.push_back(whole.mouths[at(control.mouth)]);
        control.mouth = static_cast<int>(own.mouths.size()) - 1;
      }
      own.controls.push_back(control);
    }
    return begin;
  };
  link.forward = controls(link.forward, link.forwards);
  link.backward = controls(link.backward, link.backwards);
  // A mouth is the last control of its direction.
  if (link.forward_mouth >= 0) link.forward_mouth = static_cast<int>(link.forward + link.forwards) - 1;
  if (link.backward_mouth >= 0) link.backward_mouth = static_cast<int>(link.backward + link.backwards) - 1;
  const auto first = whole.terms.begin() + link.term;
  link.term = static_cast<std::uint32_t>(own.terms.size());
  own.terms.insert(own.terms.end(), first, first + link.terms);
  link.a = local[at(link.a)];
  if (link.b >= 0) link.b = local[at(link.b)];
  own.links.push_back(link);
}

Part part_of(const Kernel& whole, const std::vector<int>& links, const std::vector<int>& nodes) {
  Part part;
  part.links = links;
  std::vector<int> local(whole.nodes.size(), -1);
  auto take = [&](int v) {
    if (v < 0 || local[at(v)] >= 0) return;
    local[at(v)] = static_cast<int>(part.nodes.size());
    part.nodes.push_back(v);
    part.kernel.nodes.push_back(whole.nodes[at(v)]);
  };
  for (int v : nodes) take(v);
  for (int k : links) take(whole.links[at(k)].a), take(whole.links[at(k)].b);
  for (int k : links) copy_link(whole, k, local, part.kernel);
  return part;
}

}  // namespace

std::vector<Part> cut_apart(const Kernel& whole) {
  const std::size_t n = whole.nodes.size();
  base::Groups groups(n);
  auto free = [&](int v) { return v >= 0 && !whole.nodes[at(v)].fixed; };
  for (const Link& link : whole.links)
    if (free(link.a) && free(link.b)) groups.join(link.a, link.b);
  std::vector<std::vector<int>> links(n), nodes(n);
  std::vector<Part> parts;
  std::vector<int> alone;
  for (std::size_t k = 0; k < whole.links.size(); ++k) {
    const Link& link = whole.links[k];
    const int end = free(link.a) ? link.a : free(link.b) ? link.b : -1;
    if (end >= 0)
      links[at(groups.leader(end))].push_back(static_cast<int>(k));
    else
      alone.push_back(static_cast<int>(k));
  }
  for (std::size_t v = 0; v < n; ++v)
    if (!whole.nodes[v].fixed) nodes[at(groups.leader(static_cast<int>(v)))].push_back(static_cast<int>(v));
  for (std::size_t v = 0; v < n; ++v)
    if (!nodes[v].empty()) parts.push_back(part_of(whole, links[v], nodes[v]));
  for (int k : alone) parts.push_back(part_of(whole, {k}, {}));
  return parts;
}

}  // namespace runnel::filling
