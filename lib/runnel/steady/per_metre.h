#pragma once
// Friction per metre in every pipe of one link at one flow. The loss of any stretch of the link then costs
// little to compute.
#include <array>
#include <cstdint>
#include <vector>

#include "runnel/steady/kernel.h"

namespace runnel::steady {

/// Friction per metre of every term of a link.
struct PerMetre {
  static constexpr std::size_t most_terms = 16;  ///< kept without allocating; more are rare and slower

  std::array<double, 2 * most_terms> fixed;
  std::vector<double> more;
  double *head, *slope;

  PerMetre(const Kernel& kernel, const Link& link, double flow_m3s) {
    if (link.terms > most_terms) {
      more.resize(2 * std::size_t{link.terms});
      head = more.data();
      slope = head + link.terms;
    } else {
      head = fixed.data();
      slope = head + most_terms;
    }
    for (std::uint32_t t = 0; t < link.terms; ++t) {
      const losses::LossAndSlope loss = kernel.terms[link.term + t].per_metre(flow_m3s);
      head[t] = loss.head_m;
      slope[t] = loss.slope_sm2;
    }
  }
  PerMetre(const PerMetre&) = delete;
  PerMetre& operator=(const PerMetre&) = delete;
};

}  // namespace runnel::steady
