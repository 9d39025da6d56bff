#pragma once
// A model: the system as somebody wrote it, with names, marks, settings, needs and claims. It is made by
// runnel/input, or by hand. Nothing is computed on it before `resolve` has made a System of it.
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/losses/friction.h"
#include "runnel/network/collection.h"
#include "runnel/network/ground.h"
#include "runnel/network/pipeline.h"
#include "runnel/network/place.h"
#include "runnel/network/spring_log.h"
#include "runnel/network/year.h"
#include "runnel/water/water.h"

namespace runnel::network {

struct Model;

struct Site {
  Length altitude;
  double air_pressure_pa = 101325.0;  ///< absolute
  water::Water water = water::at(Temperature::celsius(10.0));

  /// Weight of water [N/m3]: pressure = this * head.
  double specific_weight_nm3() const;
  /// Height of water that the pressure of the air holds up [m].
  double atmospheric_head_m() const { return air_pressure_pa / specific_weight_nm3(); }
  /// How far the grade line may sink below a sealed pipe before the water boils [m].
  double vapour_limit_m() const {
    return (air_pressure_pa - water.vapour_pressure_pa) / specific_weight_nm3();
  }
};

/// A named way of running the model; what it does not mention stays as drawn.
struct Setting {
  std::string name;
  /// The whole model as written for this setting, if the setting changes more than the members below can say
  /// (a pipe, a survey, a tank); null otherwise. It has no settings of its own.
  std::shared_ptr<const Model> instead;
  std::vector<std::pair<std::string, Mark>> shut, open;  ///< names of valves and outlets
  struct Opening {
    std::string name;
    double open;
    Mark mark;
    std::optional<double> loss = {};
  };
  std::vector<Opening> partly;  ///< valve part open; `loss`: K as set, if
                                ///< the published one is not to be taken
  struct Yield {
    std::string box;
    Flow yield;
    Mark mark;
  };
  std::vector<Yield> yields;
  struct Level {
    std::string tank;
    Length level;
    Mark mark;
  };
  std::vector<Level> levels;
  struct JointDraw {
    std::string joint;  ///< or a tap
    Flow draw;
    Mark mark;
  };
  std::vector<JointDraw> draws;
  Mark mark;
};

enum class AskKind { flow, pressure, full_within };

/// A need of the owner.
struct Ask {
  AskKind kind = AskKind::flow;
  std::string at;  ///< a place
  Flow flow;
  Pressure pressure;
  Duration within;
  bool as_drawn = false;  ///< its flow is what people draw there in their busiest hour
  std::string note;
  Mark mark;
};

/// How fast the owner lets water run: flow over the full bore.
struct VelocityAsk {
  std::string in;  ///< a pipeline; empty: every one
  std::optional<Velocity> at_most, at_least;
  std::string note;
  Mark mark;
};

/// What a proposal claims; kept for the review.
struct Claim {
  std::string at;
  std::optional<Flow> flow;
  std::optional<Pressure> pressure;         ///< while it runs
  std::optional<Pressure> static_pressure;  ///< with everything shut
  std::optional<Duration> full_after;       ///< a tank
  std::string setting;                      ///< under which it is claimed; empty: as drawn
  std::string from;
  Mark mark;
};

/// What something costs, in a currency that the model does not name.
struct Price {
  std::string of;  ///< the name of a pipe, or the word for a part
  double amount = 0.0;
  bool per_metre = false;  ///< otherwise apiece
  Mark mark;
};

struct Model : Places {
  // Written in model.cpp: otherwise every file that copies, moves or drops a model compiles all that it holds.
  Model();
  Model(const Model&);
  Model(Model&&) noexcept;
  Model& operator=(const Model&);
  Model& operator=(Model&&) noexcept;
  ~Model();

  std::string name, note;
  Site site;
  losses::FrictionLaw friction;
  std::vector<Pipeline> pipelines;
  std::vector<Setting> settings;
  std::vector<Ask> asks;
  std::vector<VelocityAsk> velocity_asks;
  std::vector<Claim> claims;
  std::optional<Year> year;
  std::vector<Collection> collections;
  std::vector<SpringLog> logs;
  std::optional<Ground> ground;
  std::vector<Price> prices;

  const Pipeline* pipeline(const std::string& name) const;
  std::optional<PlaceKind> place_kind(const std::string& name) const;
};

/// The model under a setting ("normal": as drawn). Findings if the name is unknown.
Checked<Model> under_setting(const Model& model, const std::string& setting);

}  // namespace runnel::network
