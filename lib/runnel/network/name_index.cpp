#include "runnel/network/name_index.h"

#include <algorithm>

namespace runnel::network {

namespace {

template <class T>
std::unordered_map<std::string_view, const T*> by_name(const std::vector<T>& all) {
  std::unordered_map<std::string_view, const T*> found;
  found.reserve(all.size());
  for (const T& one : all) found.try_emplace(one.name, &one);
  return found;
}

}  // namespace

NameIndex::NameIndex(const Model& model)
    : places_(places_of(model)),
      boxes_(by_name(model.boxes)),
      tanks_(by_name(model.tanks)),
      outlets_(by_name(model.outlets)),
      joints_(by_name(model.joints)) {
  by_name_.reserve(places_.size());
  for (const PlaceView& place : places_) by_name_.try_emplace(*place.name, &place);
}

const PlaceView* NameIndex::place(std::string_view name) const { return find(by_name_, name); }

const std::vector<std::string>& NameIndex::place_names() const {
  if (!place_names_.empty()) return place_names_;
  place_names_.reserve(by_name_.size());
  for (const auto& [name, place] : by_name_) place_names_.emplace_back(name);
  std::sort(place_names_.begin(), place_names_.end());  // so that hints do not depend on the hash
  return place_names_;
}

}  // namespace runnel::network
