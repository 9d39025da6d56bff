#pragma once
// One step of the three-stage Radau IIA method: order 5, L-stable, the end of the step is its last stage
// [hairer-wanner1996, IV.8]. A box over a steep pipe responds within seconds while a tank takes days; an
// explicit method would have to follow the box, this one steps over it.
//
// The end is taken from the quadrature V + h sum b F, so that sums of flows over the stages equal the change
// of volume to rounding; the stages are iterated until that and the collocation agree.
#include <Eigen/LU>
#include <array>
#include <complex>

namespace runnel::filling {

/// What is to be integrated: dV/dt as a function of V.
class Rates {
 public:
  virtual ~Rates() = default;
  /// `stage`: 0, 1, 2, or -1 for a trial beside them. Returns false if there is no answer at these volumes.
  virtual bool rates(int stage, const Eigen::VectorXd& volume, Eigen::VectorXd& rate) = 0;
  /// d rate / d volume, at these volumes if `fresh`; otherwise earlier ones will do if they are not far off.
  /// Returns whether they are of these volumes.
  virtual bool slopes(const Eigen::VectorXd& volume, bool fresh, Eigen::MatrixXd& slopes) = 0;
  /// A flow [m3/s] such that a disagreement of 1e-11 of it does not matter.
  virtual double flow_scale() const = 0;
};

/// Where the stages lie in the step, and the weights of the quadrature over them.
struct RadauTable {
  std::array<double, 3> at, weight;
};
const RadauTable& radau_table();

struct Trial {
  double h = 0.0;
  double error = 0.0;      ///< estimate as a multiple of the tolerance: accept at or below 1
  Eigen::VectorXd volume;  ///< at the end of the step
  Eigen::MatrixXd climb;   ///< stages less the start, one row a stage
  Eigen::MatrixXd rate;    ///< at the stages, one row a stage
  /// Volumes within the step, share 0 .. 1: the collocation polynomial, of third order.
  Eigen::VectorXd within(const Eigen::VectorXd& start, double share) const;
};

class Radau {
 public:
  /// `floor`: for each component, the volume [m3] below which the tolerance is absolute.
  Radau(Rates& rates, Eigen::VectorXd floor, double tolerance);

  /// Where a step of h would end if the rates were linear in the volumes: the trial without its rates, found
  /// without asking for any. Returns false if that is no number.
  bool predict(const Eigen::VectorXd& volume, const Eigen::VectorXd& rate, double h, Trial& trial);
  /// Tries a step of h from `volume`, where the rates are `rate`. Returns false if the stages were not found.
  bool attempt(const Eigen::VectorXd& volume, const Eigen::VectorXd& rate, double h, Trial& trial);
  /// To be called when the slopes are of another regime, so that they are computed anew.
  void forget() { fresh_ = have_slopes_ = false; }
  /// To be called when the trial was taken, so that the slopes no longer count as fresh.
  void taken() { fresh_ = false; }
  long attempts() const { return attempts_; }

 private:
  void know_slopes(const Eigen::VectorXd& volume);
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
