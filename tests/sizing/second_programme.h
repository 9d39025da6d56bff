#pragma once
// The same choice as a general mixed-integer programme, solved by GLPK: a way to the answer that is not ours.
#include <glpk.h>

#include <cmath>
#include <optional>

#include "runnel/network/choice.h"

namespace support {

/// The least cost, or nothing if it cannot be built. `whole`: every branch in one size; otherwise in shares.
inline std::optional<double> second_programme(const runnel::network::TreeChoice& tree, bool whole) {
  glp_prob* problem = glp_create_prob();
  glp_set_obj_dir(problem, GLP_MIN);
  const auto add_row = [&](int kind, double low, double high, std::vector<int> index,
                           std::vector<double> value) {
    const int row = glp_add_rows(problem, 1);
    glp_set_row_bnds(problem, row, kind, low, high);
    index.insert(index.begin(), 0);
    value.insert(value.begin(), 0.0);
    glp_set_mat_row(problem, row, static_cast<int>(index.size()) - 1, index.data(), value.data());
  };
  const int branches = static_cast<int>(tree.branches.size());
  glp_add_cols(problem, branches);  // the head at the end of each branch, above the source's
  for (int b = 0; b < branches; ++b) {
    const double floor_m = tree.branches[static_cast<std::size_t>(b)].floor_m;
    glp_set_col_bnds(problem, b + 1, std::isfinite(floor_m) ? GLP_LO : GLP_FR, floor_m - tree.head_m, 0.0);
  }
  for (int b = 0; b < branches; ++b) {
    const auto& branch = tree.branches[static_cast<std::size_t>(b)];
    std::vector<int> energy{b + 1}, one;
    std::vector<double> loss{1.0}, ones, need;
    if (branch.above > 0) {
      energy.push_back(branch.above);
      loss.push_back(-1.0);
    }
    bool needs = false;
    double least_need_m = 0.0;
    for (const auto& option : branch.options) {
      const int column = glp_add_cols(problem, 1);
      glp_set_col_bnds(problem, column, GLP_DB, 0.0, 1.0);
      if (whole) glp_set_col_kind(problem, column, GLP_BV);
      glp_set_obj_coef(problem, column, option.cost);
      energy.push_back(column);
      loss.push_back(option.loss_m);
      one.push_back(column);
      ones.push_back(1.0);
      needs = needs || std::isfinite(option.need_m);
      need.push_back(-(option.need_m - tree.head_m));
      least_need_m = std::min(least_need_m, option.need_m);
    }
    add_row(GLP_FX, 0.0, 0.0, energy, loss);
    add_row(GLP_FX, 1.0, 1.0, one, ones);
    if (!needs) continue;
    if (branch.above > 0) {  // head above - sum of shares x need >= 0
      one.push_back(branch.above);
      need.push_back(1.0);
    }
    add_row(GLP_LO, 0.0, 0.0, one, need);
  }
  glp_term_out(GLP_OFF);
  glp_smcp simplex;
  glp_init_smcp(&simplex);
  simplex.msg_lev = GLP_MSG_OFF;
  std::optional<double> cost;
  if (glp_simplex(problem, &simplex) == 0 && glp_get_status(problem) == GLP_OPT) {
    if (whole) {
      glp_iocp options;
      glp_init_iocp(&options);
      options.msg_lev = GLP_MSG_OFF;
      if (glp_intopt(problem, &options) == 0 && glp_mip_status(problem) == GLP_OPT)
        cost = glp_mip_obj_val(problem);
    } else {
      cost = glp_get_obj_val(problem);
    }
  }
  glp_delete_prob(problem);
  return cost;
}

}  // namespace support
