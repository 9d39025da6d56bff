#include "runnel/filling/radau.h"

#include <algorithm>
#include <cmath>

namespace runnel::filling {
namespace {

using Eigen::Index;
using Eigen::Matrix3d;
using Eigen::MatrixXd;
using Eigen::RowVectorXd;
using Eigen::VectorXd;

const double root6 = std::sqrt(6.0), cube3 = std::cbrt(3.0);

// Eigenvalues of the inverse of the method's matrix: one real, one complex pair [hairer-wanner1996, IV.8].
const double mu_real = 3.0 + cube3 * cube3 - cube3;
const std::complex<double> mu_pair{3.0 + 0.5 * (cube3 - cube3 * cube3),
                                   -0.5 * (std::pow(3.0, 5.0 / 6.0) + std::pow(3.0, 7.0 / 6.0))};

struct Basis {
  Matrix3d a, out, in;  ///< the method's matrix; from the decoupled system to the stages, and back
  Basis() {
    a << (88 - 7 * root6) / 360, (296 - 169 * root6) / 1800, (-2 + 3 * root6) / 225,  //
        (296 + 169 * root6) / 1800, (88 + 7 * root6) / 360, (-2 - 3 * root6) / 225,   //
        (16 - root6) / 36, (16 + root6) / 36, 1.0 / 9.0;
    // Eigenvectors of the inverse, computed here rather than copied: (A^-1 - mu) v = 0.
    const Matrix3d inverse = a.inverse();
    const Eigen::Vector3d v = real_vector(inverse);
    const Eigen::Vector3cd w = pair_vector(inverse);
    out.col(0) = v;
    out.col(1) = w.real();
    out.col(2) = w.imag();
    in = out.inverse();
  }
  // The last component of each vector is set to 1, so that two rows determine the others.
  static Eigen::Vector3d real_vector(const Matrix3d& m) {
    const Eigen::Matrix2d left = m.topLeftCorner<2, 2>() - mu_real * Eigen::Matrix2d::Identity();
    Eigen::Vector3d v;
    v << left.inverse() * Eigen::Vector2d(-m.topRightCorner<2, 1>()), 1.0;
    return v;
  }
  static Eigen::Vector3cd pair_vector(const Matrix3d& m) {
    const Eigen::Matrix2cd left = m.topLeftCorner<2, 2>().cast<std::complex<double>>() -
                                  std::conj(mu_pair) * Eigen::Matrix2cd::Identity();
    const Eigen::Vector2cd right = -m.topRightCorner<2, 1>().cast<std::complex<double>>();
    Eigen::Vector3cd v;
    v << left.inverse() * right, std::complex<double>(1.0);
    return v;
  }
};

const Basis& basis() {
  static const Basis b;
  return b;
}

// The embedded method of third order: error = (mu_real / h - J)^-1 (f0 + sum e Z / h) [hairer-wanner1996,
// IV.8.20].
const RowVectorXd& embedded() {
  static const RowVectorXd e = (RowVectorXd(3) << -13 - 7 * root6, -13 + 7 * root6, -1).finished() / 3.0;
  return e;
}

constexpr int most_stage_rounds =
    15;  // a few are usual; one that needs more wants new slopes or a shorter step
// How far off the stages the rates may be taken, of the tolerance.
constexpr double beside = 1e-4;
constexpr double most_gap = 0.5;  // by which the quadrature may miss the last stage, of the tolerance

}  // namespace

const RadauTable& radau_table() {
  static const RadauTable table{{(4 - root6) / 10, (4 + root6) / 10, 1.0},
                                {(16 - root6) / 36, (16 + root6) / 36, 1.0 / 9.0}};
  return table;
}

VectorXd Trial::within(const VectorXd& start, double share) const {
  const auto& c = radau_table().at;
  VectorXd v = start;
  for (int i = 0; i < 3; ++i) {  // Lagrange through zero at 0 and the climbs at the stages
    double l = share / c[static_cast<std::size_t>(i)];
    for (int j = 0; j < 3; ++j)
      if (j != i)
        l *= (share - c[static_cast<std::size_t>(j)]) /
             (c[static_cast<std::size_t>(i)] - c[static_cast<std::size_t>(j)]);
    v += l * climb.row(i).transpose();
  }
  return v;
}

Radau::Radau(Rates& rates, VectorXd floor, double tolerance)
    : rates_(rates), floor_(std::move(floor)), tolerance_(tolerance) {}

double Radau::norm(const VectorXd& v) const {
  return v.size() == 0 ? 0.0 : (v.array() / scale_.array()).abs().maxCoeff();
}

bool Radau::factorise(double h) {
  if (factorised_ && factorised_h_ == h) return true;
  const Index n = slopes_.rows();
  real_.compute(mu_real / h * MatrixXd::Identity(n, n) - slopes_);
  complex_.compute(mu_pair / h * Eigen::MatrixXcd::Identity(n, n) - slopes_.cast<std::complex<double>>());
  factorised_ = true;
  factorised_h_ = h;
  return true;
}

bool Radau::evaluate(const VectorXd& volume, Trial& trial) {
  VectorXd rate(volume.size());
  for (int i = 0; i < 3; ++i) {
    if (!rates_.rates(i, volume + trial.climb.row(i).transpose(), rate)) return false;
    trial.rate.row(i) = rate.transpose();
  }
  return trial.rate.allFinite();
}

/// One Newton step with one matrix for all stages, in the basis in which it decouples: the change of the
/// stages that the rates require. Writes what is left over of the equations to `residual`.
MatrixXd Radau::change(const MatrixXd& w, const Trial& trial, double& residual) {
  const std::complex<double> i{0.0, 1.0};
  const double h = trial.h;
  const MatrixXd split = basis().in.lazyProduct(trial.rate);
  const VectorXd left = split.row(0).transpose() - mu_real / h * w.row(0).transpose();
  // out has the vector's real part first and its imaginary part second, so the pair is w1 - i w2.
  const Eigen::VectorXcd pair_w =
      w.row(1).transpose().cast<std::complex<double>>() - i * w.row(2).transpose();
  const Eigen::VectorXcd pair_f =
      split.row(1).transpose().cast<std::complex<double>>() - i * split.row(2).transpose();
  Eigen::VectorXcd pair = pair_f - std::conj(mu_pair) / h * pair_w;
  residual = w.cols() > 0 ? std::max(left.cwiseAbs().maxCoeff(), pair.cwiseAbs().maxCoeff()) : 0.0;
  const VectorXd step = real_.solve(left);
  // complex_ holds mu_pair; the conjugate system is solved by conjugating.
  pair = pair.conjugate().eval();
  const Eigen::VectorXcd pair_step = complex_.solve(pair);
  MatrixXd all(3, w.cols());
  all.row(0) = step.transpose();
  all.row(1) = pair_step.real().transpose();
  all.row(2) = pair_step.imag().transpose();
  return all;
}

/// The end of the step by the quadrature less the last stage. Where a storage responds at once, the stages
/// may be found very closely while sums of their flows still miss the end by more than a step may err.
VectorXd Radau::gap(const Trial& trial) {
  VectorXd end = -trial.climb.row(2).transpose();
  for (int s = 0; s < 3; ++s)
    end += trial.h * radau_table().weight[static_cast<std::size_t>(s)] * trial.rate.row(s).transpose();
  return end;
}

/// Ends when moving the stages further would not change the volume at the end by anything that counts or,
/// near rounding, when the residual shrinks no more. The first round solves no flows: it takes the rate of
/// the start at all stages, which gives the stages at once where rates are linear in the volumes.
bool Radau::iterate(const VectorXd& volume, const VectorXd& rate, Trial& trial) {
  const double h = trial.h, enough = 1e-11 * rates_.flow_scale();
  MatrixXd w = MatrixXd::Zero(3, volume.size());
  for (int s = 0; s < 3; ++s) trial.rate.row(s) = rate.transpose();
  double before = 0.0, moved_before = 0.0;
  for (int round = 0; round < most_stage_rounds; ++round) {
    if (round > 0 && !evaluate(volume, trial)) return false;
    double residual = 0.0;
    const MatrixXd step = change(w, trial, residual);
    if (round > 0 && residual <= enough) return true;
    const MatrixXd stages = basis().out.lazyProduct(step);
    double moved = 0.0, effect = 0.0;
    for (int s = 0; s < 3; ++s) {
      moved = std::max(moved, norm(stages.row(s).transpose()));
      const VectorXd off = h * slopes_.lazyProduct(stages.row(s).transpose());
      effect = std::max(effect, norm(off));
    }
    // How far off the stages the rates were taken, by the slopes and by how wrong those have proved to be.
    if (round > 0 && effect + moved * std::min(1.0, moved / moved_before) <= beside &&
        norm(gap(trial)) <= most_gap)
      return true;
    // The residual acts on the volumes for the whole step; below the tolerance it may be rounding.
    const bool small = moved < 1e-2 && h * residual < 0.5 * scale_.minCoeff();
    if (round > 1 && small && residual > 0.5 * before) return true;
    if (round > 2 && moved > 2.0 * moved_before) return false;
    before = residual;
    moved_before = moved;
    w += step;
    trial.climb = basis().out.lazyProduct(w);
  }
  return moved_before < 1e-2 && h * before < 0.5 * scale_.minCoeff();
}

double Radau::estimate(const VectorXd& volume, const VectorXd& rate, const Trial& trial) {
  const VectorXd defect = embedded().lazyProduct(trial.climb).transpose() / trial.h;
  const VectorXd right = rate + defect;
  VectorXd error = real_.solve(right);
  const double first = norm(error);
  if (first <= 1.0) return first;
  // A stiff component makes the first estimate too pessimistic: filter it once more.
  VectorXd shifted(volume.size());
  if (!rates_.rates(-1, volume + error, shifted)) return first;
  shifted += defect;
  error = real_.solve(shifted);
  return norm(error);
}

void Radau::know_slopes(const VectorXd& volume) {
  if (have_slopes_) return;
  fresh_ = rates_.slopes(volume, false, slopes_);
  have_slopes_ = true;
  factorised_ = false;
}

bool Radau::predict(const VectorXd& volume, const VectorXd& rate, double h, Trial& trial) {
  know_slopes(volume);
  factorise(h);
  trial.h = h;
  trial.rate = rate.transpose().replicate(3, 1);
  double residual = 0.0;
  trial.climb = basis().out.lazyProduct(change(MatrixXd::Zero(3, volume.size()), trial, residual));
  trial.volume = volume + trial.climb.row(2).transpose();
  return trial.volume.allFinite();
}

bool Radau::attempt(const VectorXd& volume, const VectorXd& rate, double h, Trial& trial) {
  ++attempts_;
  scale_ = tolerance_ * volume.cwiseAbs().cwiseMax(floor_);
  for (int round = 0; round < 2; ++round) {
    know_slopes(volume);
    if (round == 1) {
      if (fresh_) return false;
      fresh_ = rates_.slopes(volume, true, slopes_);
      factorised_ = false;
    }
    factorise(h);
    trial.h = h;
    trial.climb.setZero(3, volume.size());
    trial.rate.resize(3, volume.size());
    if (!iterate(volume, rate, trial)) continue;
    const auto& weight = radau_table().weight;
    trial.volume = volume;
    for (int s = 0; s < 3; ++s)
      trial.volume += h * weight[static_cast<std::size_t>(s)] * trial.rate.row(s).transpose();
    trial.error = estimate(volume, rate, trial);
    return std::isfinite(trial.error);
  }
  return false;
}

}  // namespace runnel::filling
