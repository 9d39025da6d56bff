#pragma once
// F: one numeric factorisation and solve by CHOLMOD of the matrix of a Newton step, in whichever of its
// forms is fastest on that matrix. The analysis (ordering, pattern) is not counted.
#include <cholmod.h>

#include <array>
#include <cmath>

#include "networks.h"
#include "runnel/steady/link_law.h"
#include "timing.h"

namespace bench {

/// The upper half of A^T D A over the free places, D the conductances at the given flows.
inline cholmod_sparse* step_matrix(const Kernel& kernel, const std::vector<double>& flow_m3s,
                                   cholmod_common* common) {
  std::vector<int> index(kernel.nodes.size(), -1);
  int n = 0;
  for (std::size_t v = 0; v < index.size(); ++v)
    if (!kernel.nodes[v].fixed) index[v] = n++;
  cholmod_triplet* t = cholmod_allocate_triplet(static_cast<std::size_t>(n), static_cast<std::size_t>(n),
                                                3 * kernel.links.size(), 1, CHOLMOD_REAL, common);
  const auto put = [&](int i, int j, double value) {
    static_cast<int*>(t->i)[t->nnz] = std::min(i, j);
    static_cast<int*>(t->j)[t->nnz] = std::max(i, j);
    static_cast<double*>(t->x)[t->nnz++] = value;
  };
  for (std::size_t k = 0; k < kernel.links.size(); ++k) {
    const auto& link = kernel.links[k];
    const double slope =
        stretch_loss(kernel, link, kernel.controls[link.forward], std::fabs(flow_m3s[k])).slope_sm2;
    const int a = index[static_cast<std::size_t>(link.a)], b = index[static_cast<std::size_t>(link.b)];
    if (a >= 0) put(a, a, 1.0 / slope);
    if (b >= 0) put(b, b, 1.0 / slope);
    if (a >= 0 && b >= 0) put(a, b, -1.0 / slope);
  }
  cholmod_sparse* matrix = cholmod_triplet_to_sparse(t, t->nnz, common);
  cholmod_free_triplet(&t, common);
  return matrix;
}

struct Floor {
  double seconds = 0.0;
  const char* form = "";
};

inline Floor floor_seconds(const Kernel& kernel, const std::vector<double>& flow_m3s) {
  struct Form {
    int supernodal, ordering;
    const char* name;
  };
  constexpr std::array<Form, 4> forms{{{CHOLMOD_SIMPLICIAL, CHOLMOD_AMD, "simplicial AMD"},
                                       {CHOLMOD_SIMPLICIAL, CHOLMOD_METIS, "simplicial METIS"},
                                       {CHOLMOD_SUPERNODAL, CHOLMOD_AMD, "supernodal AMD"},
                                       {CHOLMOD_SUPERNODAL, CHOLMOD_METIS, "supernodal METIS"}}};
  cholmod_common common;
  cholmod_start(&common);
  cholmod_sparse* matrix = step_matrix(kernel, flow_m3s, &common);
  cholmod_dense* rhs = cholmod_ones(matrix->nrow, 1, CHOLMOD_REAL, &common);
  Floor best{1e300};
  for (const Form& form : forms) {
    common.nmethods = 1;
    common.method[0].ordering = form.ordering;
    common.supernodal = form.supernodal;
    cholmod_factor* factor = cholmod_analyze(matrix, &common);
    cholmod_dense *x = nullptr, *y = nullptr, *e = nullptr;
    const double seconds = median_seconds(
        [&] {
          cholmod_factorize(matrix, factor, &common);
          cholmod_solve2(CHOLMOD_A, factor, rhs, nullptr, &x, nullptr, &y, &e, &common);
        },
        5);
    if (common.status == CHOLMOD_OK && seconds < best.seconds) best = {seconds, form.name};
    for (cholmod_dense** d : {&x, &y, &e}) cholmod_free_dense(d, &common);
    cholmod_free_factor(&factor, &common);
  }
  cholmod_free_dense(&rhs, &common);
  cholmod_free_sparse(&matrix, &common);
  cholmod_finish(&common);
  return best;
}

}  // namespace bench
