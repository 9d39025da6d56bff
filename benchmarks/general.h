#pragma once
// The same equations solved by a general-purpose solver: KINSOL (SUNDIALS) with the sparse factorisation KLU.
// Two forms: flows and heads together, or heads alone with each pipe's law inverted. Units inside are L/s and
// metres, so that its test, the largest residual, weighs both alike. The derivative is new at every step.
#include <kinsol/kinsol.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <cstring>

#include "networks.h"

namespace bench {

struct GeneralWay {
  bool heads_only = false;
  bool line_search = false;
  int ordering = 0;  ///< of KLU: 0 AMD, 1 COLAMD
};

/// Where it starts: one head for each place, one flow for each link.
struct Start {
  std::vector<double> head_m, flow_m3s;
};

class General {
 public:
  General(const Kernel& kernel, GeneralWay way, const Start& start)
      : kernel_(kernel), way_(way), start_(start) {
    for (const auto& node : kernel.nodes) place_.push_back(node.fixed ? -1 : free_++);
    links_ = way.heads_only ? 0 : kernel.links.size();
    size_ = static_cast<sunindextype>(links_) + free_;
    way.heads_only ? heads_pattern() : full_pattern();
  }

  /// The steps taken; below zero if it did not come down to 1e-8 L/s and m.
  long solve();

 private:
  static constexpr double litres = 1e3;
  std::size_t a(std::size_t k) const { return static_cast<std::size_t>(kernel_.links[k].a); }
  std::size_t b(std::size_t k) const { return static_cast<std::size_t>(kernel_.links[k].b); }
  double head(const double* x, std::size_t v) const {
    return place_[v] >= 0 ? x[links_ + static_cast<std::size_t>(place_[v])] : kernel_.nodes[v].head_m;
  }
  runnel::losses::LossAndSlope law(std::size_t k, double flow_m3s) const {
    const auto& link = kernel_.links[k];
    const auto metre = kernel_.terms[link.term].per_metre(flow_m3s);
    const double length_m = kernel_.lengths_m[kernel_.controls[link.forward].lengths];
    return {metre.head_m * length_m, metre.slope_sm2 * length_m};
  }

  void full_pattern() {
    std::vector<std::vector<std::pair<sunindextype, double>>> of_head(static_cast<std::size_t>(free_));
    for (std::size_t k = 0; k < kernel_.links.size(); ++k) {
      starts_.push_back(static_cast<sunindextype>(rows_.size()));
      put(static_cast<sunindextype>(k), 0.0);
      for (const auto& [v, sign] : {std::pair{a(k), -1.0}, std::pair{b(k), 1.0}}) {
        if (place_[v] < 0) continue;
        put(static_cast<sunindextype>(links_) + place_[v], sign);
        of_head[static_cast<std::size_t>(place_[v])].emplace_back(static_cast<sunindextype>(k), sign);
      }
    }
    for (const auto& column : of_head) {
      starts_.push_back(static_cast<sunindextype>(rows_.size()));
      for (const auto& [row, value] : column) put(row, value);
    }
    starts_.push_back(static_cast<sunindextype>(rows_.size()));
  }

  void heads_pattern() {
    std::vector<std::vector<sunindextype>> columns(static_cast<std::size_t>(free_));
    for (int v = 0; v < free_; ++v) columns[static_cast<std::size_t>(v)].push_back(v);
    for (std::size_t k = 0; k < kernel_.links.size(); ++k) {
      const int i = place_[a(k)], j = place_[b(k)];
      if (i < 0 || j < 0) continue;
      columns[static_cast<std::size_t>(i)].push_back(j);
      columns[static_cast<std::size_t>(j)].push_back(i);
    }
    for (const auto& column : columns) {
      starts_.push_back(static_cast<sunindextype>(rows_.size()));
      for (sunindextype row : column) put(row, 0.0);
    }
    starts_.push_back(static_cast<sunindextype>(rows_.size()));
    std::vector<sunindextype> next(starts_.begin(), starts_.end() - 1);
    for (std::size_t k = 0; k < kernel_.links.size(); ++k) {
      const int i = place_[a(k)], j = place_[b(k)];
      const bool both = i >= 0 && j >= 0;
      slots_.emplace_back(both ? ++next[static_cast<std::size_t>(i)] : 0,
                          both ? ++next[static_cast<std::size_t>(j)] : 0);
    }
    flow_ = start_.flow_m3s;
    slope_.assign(kernel_.links.size(), 1.0);
  }

  void put(sunindextype row, double value) {
    rows_.push_back(row);
    values_.push_back(value);
  }

  void residual_full(const double* x, double* f) const {
    for (std::size_t v = 0; v < place_.size(); ++v)
      if (place_[v] >= 0)
        f[links_ + static_cast<std::size_t>(place_[v])] = kernel_.nodes[v].inflow_m3s * litres;
    for (std::size_t k = 0; k < links_; ++k) {
      f[k] = law(k, x[k] / litres).head_m - (head(x, a(k)) - head(x, b(k)));
      if (place_[a(k)] >= 0) f[links_ + static_cast<std::size_t>(place_[a(k)])] -= x[k];
      if (place_[b(k)] >= 0) f[links_ + static_cast<std::size_t>(place_[b(k)])] += x[k];
    }
  }

  /// The flow whose loss is `drop_m`, by Newton's method from the last one, kept within known bounds.
  double inverse(std::size_t k, double drop_m) {
    double q = std::max(std::fabs(flow_[k]), 1e-9), low = 0.0, high = 1e300;
    const double want = std::fabs(drop_m);
    for (int i = 0; i < 60; ++i) {
      const auto l = law(k, q);
      slope_[k] = l.slope_sm2;
      (l.head_m > want ? high : low) = q;
      double next = q + (want - l.head_m) / l.slope_sm2;
      if (!(next >= low)) next = 0.5 * (low + q);
      if (!(next <= high)) next = 0.5 * (high + q);
      const bool done = std::fabs(next - q) <= 1e-10 * q;  // the error left is the square of that
      q = next;
      if (done) break;
    }
    return flow_[k] = std::copysign(q, drop_m);
  }

  void residual_heads(const double* x, double* f) {
    for (std::size_t v = 0; v < place_.size(); ++v)
      if (place_[v] >= 0) f[place_[v]] = kernel_.nodes[v].inflow_m3s * litres;
    for (std::size_t k = 0; k < kernel_.links.size(); ++k) {
      const double q = inverse(k, head(x, a(k)) - head(x, b(k))) * litres;
      if (place_[a(k)] >= 0) f[place_[a(k)]] -= q;
      if (place_[b(k)] >= 0) f[place_[b(k)]] += q;
    }
  }

  void jacobian(const double* x, SUNMatrix matrix) {
    if (way_.heads_only) {
      std::fill(values_.begin(), values_.end(), 0.0);
      for (std::size_t k = 0; k < kernel_.links.size(); ++k) {
        const double g = litres / slope_[k];
        for (const std::size_t v : {a(k), b(k)})
          if (place_[v] >= 0)
            values_[static_cast<std::size_t>(starts_[static_cast<std::size_t>(place_[v])])] -= g;
        if (slots_[k].first > 0)
          values_[static_cast<std::size_t>(slots_[k].first)] =
              values_[static_cast<std::size_t>(slots_[k].second)] = g;
      }
    } else {
      for (std::size_t k = 0; k < links_; ++k)
        values_[static_cast<std::size_t>(starts_[k])] = law(k, x[k] / litres).slope_sm2 / litres;
    }
    std::memcpy(SUNSparseMatrix_IndexPointers(matrix), starts_.data(), starts_.size() * sizeof(sunindextype));
    std::memcpy(SUNSparseMatrix_IndexValues(matrix), rows_.data(), rows_.size() * sizeof(sunindextype));
    std::memcpy(SUNSparseMatrix_Data(matrix), values_.data(), values_.size() * sizeof(double));
  }

  static int residual_of(N_Vector x, N_Vector f, void* self) {
    auto* me = static_cast<General*>(self);
    me->way_.heads_only ? me->residual_heads(N_VGetArrayPointer(x), N_VGetArrayPointer(f))
                        : me->residual_full(N_VGetArrayPointer(x), N_VGetArrayPointer(f));
    return 0;
  }
  static int jacobian_of(N_Vector x, N_Vector, SUNMatrix matrix, void* self, N_Vector, N_Vector) {
    static_cast<General*>(self)->jacobian(N_VGetArrayPointer(x), matrix);
    return 0;
  }

  const Kernel& kernel_;
  GeneralWay way_;
  const Start& start_;
  std::vector<int> place_;
  int free_ = 0;
  std::size_t links_ = 0;  ///< unknown flows
  sunindextype size_ = 0;
  std::vector<sunindextype> starts_, rows_;
  std::vector<double> values_, flow_, slope_;
  std::vector<std::pair<sunindextype, sunindextype>> slots_;
};

inline long General::solve() {
  SUNContext context = nullptr;
  SUNContext_Create(nullptr, &context);
  N_Vector x = N_VNew_Serial(size_, context), ones = N_VClone(x);
  N_VConst(1.0, ones);
  double* start = N_VGetArrayPointer(x);
  for (std::size_t k = 0; k < links_; ++k) start[k] = start_.flow_m3s[k] * litres;
  for (std::size_t v = 0; v < place_.size(); ++v)
    if (place_[v] >= 0) start[links_ + static_cast<std::size_t>(place_[v])] = start_.head_m[v];
  SUNMatrix matrix = SUNSparseMatrix(size_, size_, static_cast<sunindextype>(rows_.size()), CSC_MAT, context);
  SUNLinearSolver klu = SUNLinSol_KLU(x, matrix, context);
  SUNLinSol_KLUSetOrdering(klu, way_.ordering);
  void* kinsol = KINCreate(context);
  KINInit(kinsol, &residual_of, x);
  KINSetUserData(kinsol, this);
  KINSetLinearSolver(kinsol, klu, matrix);
  KINSetJacFn(kinsol, &jacobian_of);
  KINSetErrHandlerFn(
      kinsol, [](int, const char*, const char*, char*, void*) {}, nullptr);
  KINSetMaxSetupCalls(kinsol, 1);
  KINSetFuncNormTol(kinsol, 1e-8);
  KINSetScaledStepTol(kinsol, 1e-14);
  KINSetNumMaxIters(kinsol, 120);
  KINSetMaxNewtonStep(kinsol, 1e12);
  KINSol(kinsol, x, way_.line_search ? KIN_LINESEARCH : KIN_NONE, ones, ones);
  long steps = 0;
  double worst = 0.0;
  KINGetNumNonlinSolvIters(kinsol, &steps);
  KINGetFuncNorm(kinsol, &worst);
  KINFree(&kinsol);
  SUNLinSolFree(klu);
  SUNMatDestroy(matrix);
  N_VDestroy(x);
  N_VDestroy(ones);
  SUNContext_Free(&context);
  return worst <= 1e-8 * std::sqrt(static_cast<double>(size_)) ? steps
                                                               : -steps - 1;  // this norm is Euclidean
}

}  // namespace bench
