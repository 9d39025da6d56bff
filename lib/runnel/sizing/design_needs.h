#pragma once
// What every way of choosing pipe starts from: the system in each of the sizes that its lines may have, what
// is asked at its places, and which sizes a line may be laid in at all.
#include <string>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/sizing/design_tree.h"
#include "runnel/sizing/price_list.h"
#include "runnel/steady/assemble.h"
#include "runnel/steady/static_heads.h"

namespace runnel::sizing {

/// The system with every open line in its k-th size (`sizes_that_fit`), or in its last if it has fewer.
struct Variant {
  network::System system;
  steady::Assembly assembly;
};

/// Whether a pipe may be laid in a line of the model at all: the opening of a tap is no wider than the pipe
/// that ends there.
bool fits(const network::Model& model, std::size_t line, const pipes::Pipe& pipe);

/// Every open line in its k-th size or, where that does not fit, in the next that does.
Sizes sizes_that_fit(const network::Model& model, std::size_t k = 0);

/// One for each size of the longest choice; findings if one of them is no valid system.
Checked<std::vector<Variant>> variants_of(const network::Model& model, steady::AssemblyOptions options = {});

/// The places of the outlets that sit on a joint.
std::vector<int> outlets_on(const network::System& system, int joint);

/// What is asked at each place of a system.
class Needs {
 public:
  /// `system` must outlive it.
  explicit Needs(const network::System& system);

  /// What the place itself takes: the greatest flow asked of it, or drawn there.
  double asked_m3s(int place) const { return asked_m3s_[static_cast<std::size_t>(place)]; }
  const std::vector<double>& asked_m3s() const { return asked_m3s_; }
  /// The mean of it over a day: of draws by the hour less than in their hours.
  double daily_m3s(int place) const;
  /// The same for nothing but the least that is taken in some of several turns, where anything is.
  Needs least_of(const std::vector<Needs>& turns) const;
  /// The head needed at the end of a line that lies at `end_m` there; `runs`: whether water flows to it.
  double floor_m(int place, double end_m, bool runs) const;

 private:
  const network::System& system_;
  std::vector<double> asked_m3s_, pressure_m_;
};

/// The tank's level, or where a float valve opens if that is lower: one that is shut delivers only then.
double lowest_level_m(const network::Model& model, const network::Tank& tank);

/// The greatest velocity allowed in a line [m/s]; infinite if none is set.
double most_velocity_ms(const network::Model& model, const std::string& line);

/// The model with every tank that is to get a flow at the level where its float valve opens, and every tank
/// that is drawn too low to give anything full: so they are judged.
network::Model with_levels_to_judge(network::Model model);

/// The sizes that a line of the model may be laid in.
class LineSizes {
 public:
  /// `variants` and all else must outlive it.
  LineSizes(const network::Model& model, const PriceList& prices, const std::vector<Variant>& variants);

  struct Size {
    int size = -1;  ///< place in the line's `choice`; -1 for a line that is laid
    std::size_t variant = 0;
    double cost = 0.0;
  };
  /// The sizes that fit, have a price and stand the static pressure; if there are none, empty, with a
  /// finding.
  std::vector<Size> of(int line);
  double length_m(int line) const;
  const std::vector<std::string>& unpriced() const { return unpriced_; }
  std::vector<Finding>& findings() { return findings_; }

 private:
  bool bursts(int line, const pipes::Pipe& pipe) const;
  void none_left(int line, bool priced);

  const network::Model& model_;
  const PriceList& prices_;
  const std::vector<Variant>& variants_;
  steady::StaticHeads standing_;
  std::vector<std::string> unpriced_;
  std::vector<Finding> findings_;
};

/// That more is asked of a box than it gets, or of all springs together if none is named.
Finding more_asked_than_given(double asked_m3s, double given_m3s, const std::string& box = {});

}  // namespace runnel::sizing
