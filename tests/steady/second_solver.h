#pragma once
// A solver that is not ours, for comparison: KINSOL (Newton with line search, SUNDIALS) with the sparse
// factorisation KLU, on flows and heads together, laws from plain_network.h with derivatives by differences.
//
// A check valve or an opening lets water one way only: 0 <= Q, 0 <= loss(Q) - drop, one of them zero. Its
// unknown y stands for both, Q = max(y, 0) and loss(Q) - drop = max(-y, 0) * s (a normal map [robinson1992]),
// so that KINSOL gets plain equations; the slope s only scales.
#include <kinsol/kinsol.h>
#include <nvector/nvector_serial.h>
#include <sundials/sundials_context.h>
#include <sunlinsol/sunlinsol_klu.h>
#include <sunmatrix/sunmatrix_sparse.h>

#include <algorithm>
#include <optional>

#include "steady/plain_network.h"

namespace plain {

struct Solution {
  std::vector<double> head_m, flow_m3s;   ///< places; pipes and then openings
  double worst_m = 0.0, worst_m3s = 0.0;  ///< residuals left
};

class SecondSolver {
 public:
  explicit SecondSolver(const Network& net) : net_(net), links_(net.pipes.size() + net.openings.size()) {
    for (const Node& node : net.nodes) place_.push_back(node.fixed ? -1 : free_++);
    size_ = static_cast<sunindextype>(links_) + free_;
  }

  /// What is left over when other heads and flows are put into the same equations.
  Solution put_in(const std::vector<double>& head_m, const std::vector<double>& flow_m3s) const {
    std::vector<double> x(static_cast<std::size_t>(size_));
    for (std::size_t v = 0; v < net_.nodes.size(); ++v)
      if (place_[v] >= 0) x[links_ + static_cast<std::size_t>(place_[v])] = head_m[v];
    for (std::size_t e = 0; e < links_; ++e) {
      x[e] = flow_m3s[e];
      if (one_way(e) && x[e] == 0.0) x[e] = std::min(drop(x.data(), e) / backward_slope_sm2, 0.0);
    }
    return read(x.data());
  }

  /// Tries from starts of different speed; nothing if none comes down to 1e-10.
  std::optional<Solution> solve() {
    for (const double speed_ms : {0.3, 1.0, 0.05, 0.01, 3.0, 0.1, 0.002})
      if (auto found = solve_from(speed_ms)) return found;
    return std::nullopt;
  }

 private:
  static constexpr double backward_slope_sm2 = 1e4;  ///< s above, about that of a small pipe

  std::size_t unknown(int node) const {
    return links_ + static_cast<std::size_t>(place_[static_cast<std::size_t>(node)]);
  }
  bool is_free(int node) const { return place_[static_cast<std::size_t>(node)] >= 0; }
  double head(const double* x, int node) const {
    return is_free(node) ? x[unknown(node)] : net_.nodes[static_cast<std::size_t>(node)].head_m;
  }
  bool opens(std::size_t e) const { return e >= net_.pipes.size(); }
  bool one_way(std::size_t e) const { return opens(e) || net_.pipes[e].check_valve; }
  int start(std::size_t e) const {
    return opens(e) ? net_.openings[e - net_.pipes.size()].node : net_.pipes[e].a;
  }
  int end(std::size_t e) const { return opens(e) ? -1 : net_.pipes[e].b; }
  double flow(const double* x, std::size_t e) const { return one_way(e) ? std::max(x[e], 0.0) : x[e]; }
  double drop(const double* x, std::size_t e) const {
    if (opens(e)) return head(x, start(e)) - net_.openings[e - net_.pipes.size()].elevation_m;
    return head(x, start(e)) - head(x, end(e));
  }
  Wide law(std::size_t e, Wide q) const {
    return opens(e) ? loss(net_.openings[e - net_.pipes.size()], q) : loss(net_, net_.pipes[e], q);
  }

  void residual(const double* x, double* f) const {
    for (std::size_t v = 0; v < net_.nodes.size(); ++v)
      if (place_[v] >= 0) f[links_ + static_cast<std::size_t>(place_[v])] = net_.nodes[v].inflow_m3s;
    for (std::size_t e = 0; e < links_; ++e) {
      const double q = flow(x, e);
      f[e] = static_cast<double>(law(e, q) - drop(x, e));
      if (one_way(e)) f[e] -= std::max(-x[e], 0.0) * backward_slope_sm2;
      if (is_free(start(e))) f[unknown(start(e))] -= q;
      if (end(e) >= 0 && is_free(end(e))) f[unknown(end(e))] += q;
    }
  }

  void jacobian(const double* x, SUNMatrix matrix) const {
    sunindextype* starts = SUNSparseMatrix_IndexPointers(matrix);
    sunindextype* rows = SUNSparseMatrix_IndexValues(matrix);
    double* values = SUNSparseMatrix_Data(matrix);
    sunindextype k = 0;
    const auto put = [&](std::size_t row, double value) {
      rows[k] = static_cast<sunindextype>(row);
      values[k++] = value;
    };
    std::vector<std::vector<std::pair<std::size_t, double>>> of_head(static_cast<std::size_t>(free_));
    for (std::size_t e = 0; e < links_; ++e) {
      starts[e] = k;
      const bool back = one_way(e) && x[e] < 0.0;
      put(e, back ? backward_slope_sm2 : static_cast<double>(slope([&](Wide q) { return law(e, q); }, x[e])));
      const int a = start(e), b = end(e);
      if (is_free(a)) put(unknown(a), back ? 0.0 : -1.0), of_head[unknown(a) - links_].emplace_back(e, -1.0);
      if (b >= 0 && is_free(b))
        put(unknown(b), back ? 0.0 : 1.0), of_head[unknown(b) - links_].emplace_back(e, 1.0);
    }
    for (std::size_t v = 0; v < of_head.size(); ++v) {
      starts[links_ + v] = k;
      for (const auto& [row, value] : of_head[v]) put(row, value);
    }
    starts[size_] = k;
  }

  static int residual_of(N_Vector x, N_Vector f, void* self) {
    static_cast<SecondSolver*>(self)->residual(N_VGetArrayPointer(x), N_VGetArrayPointer(f));
    return 0;
  }
  static int jacobian_of(N_Vector x, N_Vector, SUNMatrix matrix, void* self, N_Vector, N_Vector) {
    static_cast<SecondSolver*>(self)->jacobian(N_VGetArrayPointer(x), matrix);
    return 0;
  }

  std::optional<Solution> solve_from(double speed_ms) {
    SUNContext context = nullptr;
    SUNContext_Create(nullptr, &context);
    N_Vector x = N_VNew_Serial(size_, context), x_scale = N_VClone(x), f_scale = N_VClone(x);
    SUNMatrix matrix = SUNSparseMatrix(size_, size_, 5 * static_cast<sunindextype>(links_), CSC_MAT, context);
    SUNLinearSolver klu = SUNLinSol_KLU(x, matrix, context);
    void* kinsol = KINCreate(context);
    guess(speed_ms, N_VGetArrayPointer(x), N_VGetArrayPointer(x_scale), N_VGetArrayPointer(f_scale));
    KINInit(kinsol, &residual_of, x);
    KINSetUserData(kinsol, this);
    KINSetLinearSolver(kinsol, klu, matrix);
    KINSetJacFn(kinsol, &jacobian_of);
    KINSetErrHandlerFn(
        kinsol, [](int, const char*, const char*, char*, void*) {}, nullptr);
    KINSetMaxSetupCalls(kinsol, 1);  // a fresh derivative every step
    KINSetFuncNormTol(kinsol, 1e-12);
    KINSetScaledStepTol(kinsol, 1e-15);
    KINSetNumMaxIters(kinsol, 500);
    KINSetMaxNewtonStep(kinsol, 1e9);
    KINSol(kinsol, x, KIN_LINESEARCH, x_scale, f_scale);
    const Solution found = read(N_VGetArrayPointer(x));
    KINFree(&kinsol);
    SUNLinSolFree(klu);
    SUNMatDestroy(matrix);
    N_VDestroy(x);
    N_VDestroy(x_scale);
    N_VDestroy(f_scale);
    SUNContext_Free(&context);
    if (found.worst_m <= 1e-10 && found.worst_m3s <= 1e-14) return found;  // not by its own word
    return std::nullopt;
  }

  void guess(double speed_ms, double* x, double* x_scale, double* f_scale) const {
    double head_m = 0.0;
    for (const Node& node : net_.nodes) head_m = std::max(head_m, node.fixed ? node.head_m : 0.0);
    for (std::size_t e = 0; e < links_; ++e) {
      const double bore = opens(e) ? net_.openings[e - net_.pipes.size()].bore_m : net_.pipes[e].bore_m;
      x[e] = speed_ms * static_cast<double>(bore_of(bore).area_m2());
      x_scale[e] = 1e3;
      f_scale[e] = 1.0;
    }
    for (std::size_t i = links_; i < static_cast<std::size_t>(size_); ++i) {
      x[i] = head_m;
      x_scale[i] = 1e-2;
      f_scale[i] = 1e3;
    }
  }

  Solution read(const double* x) const {
    Solution found;
    for (std::size_t v = 0; v < net_.nodes.size(); ++v) found.head_m.push_back(head(x, static_cast<int>(v)));
    for (std::size_t e = 0; e < links_; ++e) found.flow_m3s.push_back(flow(x, e));
    std::vector<double> f(static_cast<std::size_t>(size_));
    residual(x, f.data());
    for (std::size_t i = 0; i < f.size(); ++i) {
      double& worst = i < links_ ? found.worst_m : found.worst_m3s;
      worst = std::isfinite(f[i]) ? std::max(worst, std::fabs(f[i])) : 1e300;
    }
    return found;
  }

  const Network& net_;
  std::size_t links_;
  std::vector<int> place_;  ///< number among the free heads, -1: fixed
  int free_ = 0;
  sunindextype size_ = 0;
};

}  // namespace plain
