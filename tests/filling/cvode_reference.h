#pragma once
// The same filling by a general-purpose integrator: SUNDIALS CVODE (BDF with root finding) around the
// steady solver on the whole system. Shares with the library only the steady solver and the tank curve;
// the logic of floats, lips and floors is written anew. Float valves need a hysteresis here.
#include <cvode/cvode.h>
#include <nvector/nvector_serial.h>
#include <sunlinsol/sunlinsol_dense.h>
#include <sunmatrix/sunmatrix_dense.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <string>
#include <vector>

#include "runnel/filling/tank_curve.h"
#include "runnel/steady/assemble.h"
#include "runnel/steady/newton.h"
#include "support/rooms.h"

namespace filling_test {

struct ReferenceEvent {
  double time_s;
  std::size_t storage;
  std::string what;  ///< "shuts", "opens", "spill begins", "spill ends", "empty", "met again"
};

class Reference {
 public:
  explicit Reference(const runnel::network::Model& system, double tolerance = 1e-11, bool warm = false)
      : system_(system), tolerance_(tolerance), warm_(warm) {
    runnel::network::Model open = system;
    for (auto& tank : open.tanks)
      if (tank.float_valve)
        tank.level = std::max(tank.floor, tank.float_valve->shuts_at - runnel::Length::metres(1.0));
    assembly_ = runnel::steady::assemble(open);
    add_tanks();
    add_boxes();
  }

  void run(double duration_s) {
    SUNContext context;
    SUNContext_Create(nullptr, &context);
    const auto n = static_cast<sunindextype>(vessels_.size());
    N_Vector y = N_VNew_Serial(n, context);
    for (std::size_t i = 0; i < vessels_.size(); ++i) NV_Ith_S(y, i) = vessels_[i].start_m3;
    void* memory = CVodeCreate(CV_BDF, context);
    CVodeInit(memory, &Reference::rates, 0.0, y);
    CVodeSStolerances(memory, tolerance_, tolerance_ * 1e-2);
    CVodeSetUserData(memory, this);
    CVodeSetMaxNumSteps(memory, 1000000);
    SUNMatrix matrix = SUNDenseMatrix(n, n, context);
    SUNLinearSolver solver = SUNLinSol_Dense(y, matrix, context);
    CVodeSetLinearSolver(memory, solver, matrix);
    CVodeRootInit(memory, static_cast<int>(3 * n), &Reference::roots);
    march(memory, y, duration_s);
    for (std::size_t i = 0; i < vessels_.size(); ++i) end_m3.push_back(NV_Ith_S(y, i));
    SUNLinSolFree(solver);
    SUNMatDestroy(matrix);
    CVodeFree(&memory);
    N_VDestroy(y);
    SUNContext_Free(&context);
  }

  std::vector<ReferenceEvent> events;
  std::vector<double> end_m3;
  long solves = 0;

 private:
  enum class Rim { free, lip, floor };
  struct Vessel {
    int node;
    double floor_m, lip_m3, start_m3;
    runnel::filling::TankCurve curve;
    bool has_float = false, shut = false;
    double shuts_m3 = 0, opens_m3 = 0;
    Rim rim = Rim::free;
    double play_m3 =
        0.0;  ///< CVODE refuses a root where it starts: each time the rim is left it moves a little
    const runnel::network::Tank* tank = nullptr;
  };

  void add_tanks() {
    for (std::size_t t = 0; t < system_.tanks.size(); ++t) {
      const auto& tank = system_.tanks[t];
      Vessel v{assembly_.nodes_of(runnel::network::PlaceKind::tank)[t], tank.floor.metres(), 0, 0,
               runnel::filling::TankCurve(tank.shape)};
      v.lip_m3 = v.curve.volume_m3((tank.lip - tank.floor).metres());
      v.start_m3 = v.curve.volume_m3((tank.level - tank.floor).metres());
      v.tank = &tank;
      if (tank.float_valve) {
        v.has_float = true;
        v.shuts_m3 = v.curve.volume_m3((tank.float_valve->shuts_at - tank.floor).metres());
        v.opens_m3 = v.curve.volume_m3((tank.float_valve->opens_at - tank.floor).metres());
        v.shut = tank.level >= tank.float_valve->shuts_at;
      }
      vessels_.push_back(v);
    }
  }

  void add_boxes() {
    const auto assembly = runnel::steady::assemble(system_);
    const auto state = runnel::steady::solve(assembly.kernel);
    for (std::size_t b = 0; b < system_.boxes.size(); ++b) {
      const auto& box = system_.boxes[b];
      if (box.plan_length.metres() <= 0.0) continue;
      const double floor = box.floor.value_or(box.outlet).metres();
      const runnel::network::Cuboid plan{box.plan_length, box.plan_width};
      Vessel v{assembly_.nodes_of(runnel::network::PlaceKind::box)[b], floor, 0, 0,
               runnel::filling::TankCurve(plan)};
      v.lip_m3 = v.curve.volume_m3(box.lip.metres() - floor);
      const double head =
          state.head_m[static_cast<std::size_t>(assembly.nodes_of(runnel::network::PlaceKind::box)[b])];
      v.start_m3 = v.curve.volume_m3(std::clamp(head, floor, box.lip.metres()) - floor);
      assembly_.kernel.nodes[static_cast<std::size_t>(v.node)].fixed = true;
      vessels_.push_back(v);
    }
  }

  double draw(const Vessel& v) const {
    double sum = 0.0;
    if (!v.tank) return sum;
    const double hour = std::fmod(segment_s_ / 3600.0 + 1e-9, 24.0);
    for (const auto& d : v.tank->draws) {
      const bool all_day = d.from_hour == d.to_hour;
      if (all_day)
        sum += d.flow.si();
      else if (hour >= d.from_hour && hour < d.to_hour)
        sum += d.flow.si() * 24.0 / (d.to_hour - d.from_hour);
    }
    return sum;
  }

  /// What runs into every vessel, less its draw.
  void surplus(N_Vector y) {
    auto& kernel = assembly_.kernel;
    for (std::size_t i = 0; i < vessels_.size(); ++i) {
      const Vessel& v = vessels_[i];
      kernel.nodes[static_cast<std::size_t>(v.node)].head_m = v.floor_m + v.curve.depth_m(NV_Ith_S(y, i));
      if (!v.has_float) continue;
      for (std::size_t l = 0; l < system_.pipelines.size(); ++l)
        if (system_.pipelines[l].to == v.tank->name)
          kernel.links[static_cast<std::size_t>(assembly_.line_link[l])].shut = v.shut;
    }
    const auto state = runnel::steady::solve(kernel, {.near = warm_ ? &last_ : nullptr});
    ++solves;
    if (state.outcome != runnel::steady::Outcome::settled)
      throw std::runtime_error("reference: flows did not settle");
    if (warm_) last_ = state;
    surplus_.resize(vessels_.size());
    for (std::size_t i = 0; i < vessels_.size(); ++i)
      surplus_[i] = state.surplus_m3s[static_cast<std::size_t>(vessels_[i].node)] - draw(vessels_[i]);
  }

  static int rates(double, N_Vector y, N_Vector rate, void* self) {
    auto& r = *static_cast<Reference*>(self);
    r.surplus(y);
    for (std::size_t i = 0; i < r.vessels_.size(); ++i)
      NV_Ith_S(rate, i) = r.vessels_[i].rim == Rim::free ? r.surplus_[i] : 0.0;
    return 0;
  }

  static int roots(double, N_Vector y, double* g, void* self) {
    auto& r = *static_cast<Reference*>(self);
    const bool any =
        std::any_of(r.vessels_.begin(), r.vessels_.end(), [](const Vessel& v) { return v.rim != Rim::free; });
    if (any) r.surplus(y);
    for (std::size_t i = 0; i < r.vessels_.size(); ++i) {
      const Vessel& v = r.vessels_[i];
      const double volume = NV_Ith_S(y, i);
      g[3 * i] = v.rim == Rim::lip    ? -r.surplus_[i] - 1e-13
                 : v.rim == Rim::free ? volume - v.lip_m3 - v.play_m3
                                      : -1.0;
      g[3 * i + 1] = v.rim == Rim::floor ? r.surplus_[i] : v.rim == Rim::free ? -volume - v.play_m3 : -1.0;
      g[3 * i + 2] = !v.has_float ? -1.0 : v.shut ? v.opens_m3 - volume : volume - v.shuts_m3;
    }
    return 0;
  }

  // Every function rises through zero when its event happens.
  bool happen(double t, const std::vector<int>& found) {
    bool any = false;
    auto note = [&](std::size_t i, const char* what) {
      events.push_back({t, i, what});
      any = true;
    };
    for (std::size_t i = 0; i < vessels_.size(); ++i) {
      Vessel& v = vessels_[i];
      if (found[3 * i + 2] > 0) {
        v.shut = !v.shut;
        note(i, v.shut ? "shuts" : "opens");
        continue;
      }
      if (found[3 * i] > 0) {
        note(i, v.rim == Rim::lip ? "spill ends" : "spill begins");
        v.rim = v.rim == Rim::lip ? Rim::free : Rim::lip;
        v.play_m3 += 1e-12 * v.lip_m3;
      } else if (found[3 * i + 1] > 0) {
        note(i, v.rim == Rim::floor ? "met again" : "empty");
        v.rim = v.rim == Rim::floor ? Rim::free : Rim::floor;
        v.play_m3 += 1e-12 * v.lip_m3;
      }
    }
    return any;
  }

  // A change of draws can free a rim, or bind one, at once.
  void settle(double t, N_Vector y) {
    surplus(y);
    for (std::size_t i = 0; i < vessels_.size(); ++i) {
      Vessel& v = vessels_[i];
      const double volume = NV_Ith_S(y, i);
      if (v.rim == Rim::lip && surplus_[i] < -1e-13)
        v.rim = Rim::free, events.push_back({t, i, "spill ends"});
      else if (v.rim == Rim::floor && surplus_[i] >= -1e-15)
        v.rim = Rim::free, events.push_back({t, i, "met again"});
      else if (v.rim == Rim::free && volume <= 1e-10 * v.lip_m3 && surplus_[i] < -1e-14)
        v.rim = Rim::floor, events.push_back({t, i, "empty"});
      else if (v.rim == Rim::free && volume >= v.lip_m3 * (1.0 - 1e-10) && surplus_[i] > 0.0)
        v.rim = Rim::lip, events.push_back({t, i, "spill begins"});
    }
  }

  void march(void* memory, N_Vector y, double duration_s) {
    double t = 0.0;
    settle(0.0, y);
    CVodeReInit(memory, 0.0, y);
    std::vector<int> found(3 * vessels_.size());
    while (t < duration_s) {
      const double end = std::min(duration_s, segment_s_ + 3600.0);
      CVodeSetStopTime(memory, end);
      const int flag = CVode(memory, end, y, &t, CV_NORMAL);
      if (flag < 0) throw std::runtime_error("reference: CVode failed");
      bool again = false;
      if (flag == CV_ROOT_RETURN) {
        CVodeGetRootInfo(memory, found.data());
        again = happen(t, found);
      }
      if (t >= end) {
        const std::vector<double> before = draws();
        segment_s_ = end;
        again = again || before != draws();
      }
      if (!again) continue;
      settle(t, y);
      CVodeReInit(memory, t, y);
    }
  }

  std::vector<double> draws() const {
    std::vector<double> all;
    for (const Vessel& v : vessels_) all.push_back(draw(v));
    return all;
  }

  const runnel::network::Model& system_;
  double tolerance_, segment_s_ = 0.0;
  bool warm_;  ///< solves start from the last one, as those of the library do
  runnel::steady::KernelState last_;
  runnel::steady::Assembly assembly_;
  std::vector<Vessel> vessels_;
  std::vector<double> surplus_;
};

}  // namespace filling_test
