#pragma once
// A model sampled many times over (chance.h), several samples at once in the lanes of a vector where its
// parts are trees of full pipes; what a sample needs beyond that (a crest that governs, a box that runs low)
// is computed by itself. The figures are the same either way, and those of `margins_m` on `sampled`.
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "runnel/network/system.h"
#include "runnel/sizing/chance.h"
#include "runnel/sizing/lane_tree.h"
#include "runnel/steady/assemble.h"

namespace runnel::sizing {

class LaneLines;
struct LaneDraw;
struct Part;

/// Where the margin of a place is least.
struct Binding {
  int line = -1;           ///< pipeline; -1: the place itself
  double station_m = 0.0;  ///< of the high point on it
  bool operator==(const Binding&) const = default;
};

/// `together` samples at [place * together + sample], with places in the order of `places_asked`.
struct SampleBlock {
  std::vector<double> margin_m;  ///< head over what is asked, taps turned anew
  std::vector<Binding> binding;  ///< where the margin is least
  std::vector<double> flow_m3s;  ///< what comes with all taps left as the model has them; < 0: no answer
  int one_by_one = 0;            ///< samples whose flows did not fit the lanes
};

class Sampler {
 public:
  enum class Use { margins, flows };
  Sampler(const network::Model& model, std::vector<Unknown> unknowns, std::uint64_t seed, Use use);
  ~Sampler();
  Sampler(const Sampler&) = delete;
  Sampler& operator=(const Sampler&) = delete;

  /// Computes the samples from number * together on; the other figures of `out` stay. Several threads may
  /// call it at once.
  void run_margins(std::uint64_t number, SampleBlock& out) const;
  void run_flows(std::uint64_t number, SampleBlock& out) const;

  bool margins_in_lanes() const { return lines_ && design_; }
  bool flows_in_lanes() const { return lines_ && as_left_; }

 private:
  struct Design;
  struct AsLeft;

  /// A turn of the taps, and the place of each of its needs among all.
  struct Turn {
    std::unique_ptr<Sampler> sampler;
    std::vector<std::size_t> numbers;
  };

  void least_margins(std::uint64_t number, SampleBlock& out) const;  ///< over all turns
  void least_flows(std::uint64_t number, SampleBlock& out) const;    ///< likewise
  void plan_design(const std::vector<Part>& parts);
  void plan_as_left(const std::vector<Part>& parts);
  void start_from_middle(AsLeft& left) const;
  bool fits(const LaneDraw& draw, const LaneFlows& flows, std::size_t lane) const;
  void margins(const LaneDraw& draw, SampleBlock& out) const;
  void flows(std::uint64_t number, const LaneDraw& draw, SampleBlock& out) const;
  void one_margin(std::uint64_t sample, std::size_t lane, SampleBlock& out) const;
  void one_flow(std::uint64_t sample, std::size_t lane, SampleBlock& out) const;

  network::Model model_;
  std::vector<Unknown> unknowns_;
  std::uint64_t seed_;
  std::vector<std::string> places_;
  std::vector<Turn> turns_;  ///< none where all is drawn at once
  double datum_m_ = -1e300;  ///< heads in the lanes count from it
  std::unique_ptr<LaneLines> lines_;
  std::optional<network::System> system_;
  std::optional<steady::Assembly> assembly_;
  std::unique_ptr<Design> design_;
  std::unique_ptr<AsLeft> as_left_;
};

/// What comes to each of `places_asked` as the model stands, its taps as they are, in the turn of the taps in
/// which least comes: negative if no answer is found.
std::vector<double> flows_m3s(const network::Model& model);

}  // namespace runnel::sizing
