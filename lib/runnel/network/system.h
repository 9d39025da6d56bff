#pragma once
// A system: a model resolved, so that it can be computed on. Places and lines have numbers, defaults and
// losses are filled in, and every precondition of the solvers holds. Only `resolve` makes one anew;
// network/change.h and network/draft.h alter one.
//
// Places are counted through: boxes first, then tanks, outlets and joints, each in the order of the model.
#include <array>
#include <memory>
#include <optional>
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>
#include <vector>

#include "runnel/network/line.h"
#include "runnel/network/model.h"

namespace runnel::network {

struct Origin;

/// A place by its kind and its number within the kind.
struct PlaceRef {
  PlaceKind kind = PlaceKind::joint;
  int index = 0;  ///< into boxes(), tanks(), outlets() or joints()
};

class System {
 public:
  // Written in system.cpp: many files copy, move or drop a system.
  System(const System&);
  System(System&&) noexcept;
  System& operator=(const System&);
  System& operator=(System&&) noexcept;
  ~System();

  const std::string& name() const { return model_->name; }
  const std::string& note() const { return model_->note; }
  const Site& site() const { return model_->site; }
  const losses::FrictionLaw& friction() const { return model_->friction; }
  const std::vector<Box>& boxes() const { return model_->boxes; }
  const std::vector<Tank>& tanks() const { return model_->tanks; }
  const std::vector<Outlet>& outlets() const { return model_->outlets; }
  const std::vector<Joint>& joints() const { return model_->joints; }
  const std::vector<Line>& lines() const { return lines_; }
  const std::vector<Ask>& asks() const { return model_->asks; }
  const std::vector<Claim>& claims() const { return model_->claims; }
  const std::optional<Year>& year() const { return model_->year; }
  /// The model it was resolved from, under its setting.
  const Model& model() const { return *model_; }

  int places() const { return first_place_.back(); }
  int place_of(PlaceKind kind, int index) const {
    return first_place_[static_cast<std::size_t>(kind)] + index;
  }
  int box_place(int box) const { return place_of(PlaceKind::box, box); }
  int tank_place(int tank) const { return place_of(PlaceKind::tank, tank); }
  int outlet_place(int outlet) const { return place_of(PlaceKind::outlet, outlet); }
  int joint_place(int joint) const { return place_of(PlaceKind::joint, joint); }
  PlaceRef place(int place) const;
  PlaceKind kind(int place) const { return System::place(place).kind; }
  const std::string& place_name(int place) const;
  /// The box, tank, outlet or joint that a place is; nullptr if it is of another kind.
  const Box* box(int place) const { return of_kind(boxes(), place); }
  const Tank* tank(int place) const { return of_kind(tanks(), place); }
  const Outlet* outlet(int place) const { return of_kind(outlets(), place); }
  const Joint* joint(int place) const { return of_kind(joints(), place); }

  /// The joint that an outlet sits on without a pipe; -1 if a line ends at the outlet.
  int hangs_on(int outlet) const { return hangs_on_[static_cast<std::size_t>(outlet)]; }
  /// The most that people let out of an outlet: what is drawn there in its busiest hour, or what is asked of
  /// it if that is more. None: it stands wide open.
  const std::optional<Flow>& lets_out(int outlet) const {
    return lets_out_[static_cast<std::size_t>(outlet)];
  }
  /// What an outlet with draws is opened to where more is asked of it than is drawn in its busiest hour.
  std::optional<Flow> opened_above_draws(int outlet) const;
  /// Whether some tap is not opened wide.
  bool some_tap_held() const;
  /// Lines that begin or end at a place, in the order of the model.
  const std::vector<int>& lines_at(int place) const { return lines_at_[static_cast<std::size_t>(place)]; }

  std::optional<int> find_place(std::string_view name) const;
  std::optional<int> find_line(std::string_view name) const;

  // By name, for what people write: needs, claims, results.
  const Box* box(const std::string& name) const { return of_name(name, &System::box); }
  const Tank* tank(const std::string& name) const { return of_name(name, &System::tank); }
  const Outlet* outlet(const std::string& name) const { return of_name(name, &System::outlet); }
  const Joint* joint(const std::string& name) const { return of_name(name, &System::joint); }
  const Line* line(const std::string& name) const;

 private:
  friend Checked<System> resolve(Model model, const Origin& origin);
  friend class Rebuilt;      // network/change.cpp
  friend class WorkingCopy;  // network/working_copy.h
  explicit System(Model model) : System(std::make_shared<const Model>(std::move(model))) {}
  explicit System(std::shared_ptr<const Model> model);
  Line resolved(const Pipeline& line, int from, int to) const;
  void open_taps();         ///< so far as what is drawn and asked there needs
  void pay_tees(int line);  ///< adds the losses of tees at its ends

  template <class T>
  const T* of_kind(const std::vector<T>& all, int place) const {
    const auto index = static_cast<std::size_t>(place - place_of(T::kind, 0));
    return place >= place_of(T::kind, 0) && index < all.size() ? &all[index] : nullptr;
  }
  template <class T>
  const T* of_name(const std::string& name, const T* (System::*of)(int) const) const {
    const auto place = find_place(name);
    return place ? (this->*of)(*place) : nullptr;
  }

  std::shared_ptr<const Model> model_;
  std::array<int, place_kinds + 1> first_place_{};  ///< of each kind; and the end
  std::vector<Line> lines_;
  std::vector<int> hangs_on_;
  std::vector<std::optional<Flow>> lets_out_;
  std::vector<std::vector<int>> lines_at_;
  struct Names {
    std::unordered_map<std::string_view, int> places, lines;
  };
  std::shared_ptr<const Names> names_;  ///< views into the model's own names
};

/// Checks a model and fills in what follows from it: losses by the published tables and formulas, the courses
/// of the lines, the numbers of places. If the model has errors there is no system, and the findings name the
/// place or the pipeline. Never throws.
Checked<System> resolve(Model model, const Origin& origin);
Checked<System> resolve(Model model);

}  // namespace runnel::network
