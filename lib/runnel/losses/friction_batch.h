#pragma once
// The losses of many full pipes at once, several per instruction where the machine can. The laws are those of
// PipeFriction::per_metre, to rounding (1e-15 relative, tested), and give the same on every machine: the wide
// forms do the same operations in the same order.
#include <cstddef>
#include <vector>

#include "runnel/losses/friction.h"

namespace runnel::losses {

class FrictionBatch {
 public:
  static constexpr std::size_t most_lanes = 8;  ///< doubles in the widest vector, of 512 bits

  /// Adds a pipe of this length. All pipes of a batch obey one law: false, with nothing added, for a pipe of
  /// another, where the worse of two (PipeFriction::worse_transition) is a law of its own.
  bool add(const PipeFriction& pipe, double length_m);
  /// Puts another pipe or length in place of one that was added: false, with nothing changed, if its law
  /// differs.
  bool set(std::size_t pipe_number, const PipeFriction& pipe, double length_m);
  /// Removes all pipes and keeps the memory.
  void clear() { count_ = 0; }
  /// Says how many pipes are to come; memory is allocated with the first, as its law requires.
  void reserve(std::size_t pipes) { wanted_ = pipes; }
  std::size_t size() const { return count_; }
  /// The size that the arrays of `evaluate` must have: the next multiple of `most_lanes`.
  std::size_t padded_size() const { return (count_ + most_lanes - 1) / most_lanes * most_lanes; }

  /// Loss [m] and slope [s/m2] of every pipe at its flow [m3/s], which may have either sign. Values beyond
  /// `size()` are computed too and mean nothing.
  void evaluate(const double* flow_m3s, double* head_m, double* slope_sm2) const;
  /// The same for the `most_lanes` pipes around one of them, in arrays for all.
  void evaluate_around(std::size_t pipe_number, const double* flow_m3s, double* head_m,
                       double* slope_sm2) const;

  /// One value per pipe, lengths multiplied in; names as in PipeFriction and DarcyFactor.
  struct Constants {
    Law law = Law::darcy_weisbach;
    bool worse_transition = false;
    double exponent = 0.0, exponent_high = 0.0;  ///< Hazen-Williams n; the first 28 bits of n - 1
    std::vector<double> scale, linear, switch_flow, cubic;
    std::vector<double> reynolds_per_flow, relative_roughness, transition_quadratic, transition_cubic;
  };

 private:
  bool of_law(const PipeFriction& pipe) const {
    return pipe.law_ == constants_.law && pipe.exponent_ == constants_.exponent &&
           pipe.worse_ == constants_.worse_transition;
  }
  template <class Put>
  void put_constants(const PipeFriction& pipe, double length_m, Put&& put);

  Constants constants_;
  std::size_t count_ = 0, wanted_ = 0;
};

}  // namespace runnel::losses
