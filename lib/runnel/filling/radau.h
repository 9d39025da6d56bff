#pragma once
// One step of the three-stage Radau IIA method: order 5, L-stable, the end of the step is its last stage
// [hairer-wanner1996, IV.8]. A box over a steep pipe answers within seconds while a tank takes days;
// an explicit method would have to follow the box, this one steps over it.
//
// The end is taken from the quadrature V + h sum b F, so that sums of flows over the stages close with
// the change of volume to rounding; the stages are iterated until that and the collocation agree.
#include <Eigen/Dense>
#include <array>
#include <complex>

namespace runnel::filling {

/// What is to be integrated: dV/dt as a function of V.
class Rates {
 public:
  virtual ~Rates() = default;
  /// `stage` 0, 1, 2, or -1 for a trial beside them. False: no answer at these volumes.
  virtual bool rates(int stage, const Eigen::VectorXd& volume, Eigen::VectorXd& rate) = 0;
  /// At these volumes if `fresh`; else those of before will do if they are not far off. True: they are of
  /// these.
  virtual bool slopes(const Eigen::VectorXd& volume, bool fresh, Eigen::MatrixXd& slopes) = 0;
  /// The flow below whose 1e-11th part a disagreement does not matter [m3/s].
  virtual double flow_scale() const = 0;
};

/// Weights of the quadrature over the stages, and where the stages stand.
struct RadauTable {
  std::array<double, 3> at, weight;
};
const RadauTable& radau_table();

struct Trial {
  double h = 0.0;
  double error = 0.0;      ///< estimated, of the tolerance: accept at or below 1
  Eigen::VectorXd volume;  ///< at the end
  Eigen::MatrixXd climb;   ///< stages less the start, one row a stage
  Eigen::MatrixXd rate;    ///< at the stages, one row a stage
  /// Volumes within the step, share 0 .. 1: the collocation polynomial, of third order.
  Eigen::VectorXd within(const Eigen::VectorXd& start, double share) const;
};

class Radau {
 public:
  /// `floor`: a volume [m3] per component below which the tolerance counts as absolute.
  Radau(Rates& rates, Eigen::VectorXd floor, double tolerance);

  /// Tries a step of h from `volume`, where the rates are `rate`. False: the stages were not found.
  bool attempt(const Eigen::VectorXd& volume, const Eigen::VectorXd& rate, double h, Trial& trial);
  /// The slopes are of another regime: work them out anew.
  void forget() { fresh_ = have_slopes_ = false; }
  /// The trial was taken: the slopes grow old.
  void taken() { fresh_ = false; }
  long attempts() const { return attempts_; }

 private:
  bool factorise(double h);
  Eigen::MatrixXd change(const Eigen::MatrixXd& w, const Trial& trial, double& residual);
  bool iterate(const Eigen::VectorXd& volume, const Eigen::VectorXd& rate, Trial& trial);
  bool evaluate(const Eigen::VectorXd& volume, Trial& trial);
  static Eigen::VectorXd gap(const Trial& trial);
  double estimate(const Eigen::VectorXd& volume, const Eigen::VectorXd& rate, const Trial& trial);
  double norm(const Eigen::VectorXd& v) const;

  Rates& rates_;
  Eigen::VectorXd floor_, scale_;
  double tolerance_;
  Eigen::MatrixXd slopes_;
  Eigen::PartialPivLU<Eigen::MatrixXd> real_;
  Eigen::PartialPivLU<Eigen::MatrixXcd> complex_;
  double factorised_h_ = 0.0;
  bool have_slopes_ = false, fresh_ = false, factorised_ = false;
  long attempts_ = 0;
};

}  // namespace runnel::filling
