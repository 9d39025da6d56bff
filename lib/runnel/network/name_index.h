#pragma once
// Finds the things of a model by name.
#include <string_view>
#include <unordered_map>
#include <vector>

#include "runnel/network/places.h"

namespace runnel::network {

/// Looks names up without a search through all things. Of two with the same name the first is found. Points
/// into the model, which must outlive it unchanged.
class NameIndex {
 public:
  explicit NameIndex(const Model& model);
  NameIndex(const NameIndex&) = delete;
  NameIndex& operator=(const NameIndex&) = delete;

  /// All places, in the order of `places_of`.
  const std::vector<PlaceView>& places() const { return places_; }
  const PlaceView* place(std::string_view name) const;

  const Box* box(std::string_view name) const { return find(boxes_, name); }
  const Tank* tank(std::string_view name) const { return find(tanks_, name); }
  const Outlet* outlet(std::string_view name) const { return find(outlets_, name); }
  const Joint* joint(std::string_view name) const { return find(joints_, name); }

  /// All names of places in alphabetical order, made when first asked for.
  const std::vector<std::string>& place_names() const;

 private:
  template <class T>
  using ByName = std::unordered_map<std::string_view, const T*>;
  template <class T>
  static const T* find(const ByName<T>& all, std::string_view name) {
    const auto at = all.find(name);
    return at == all.end() ? nullptr : at->second;
  }

  std::vector<PlaceView> places_;
  ByName<PlaceView> by_name_;
  ByName<Box> boxes_;
  ByName<Tank> tanks_;
  ByName<Outlet> outlets_;
  ByName<Joint> joints_;
  mutable std::vector<std::string> place_names_;
};

}  // namespace runnel::network
