#pragma once
// What all places of a model have in common, whatever kind they are, so that names, ends of lines and
// connections know them.
#include <string>
#include <vector>

#include "runnel/network/model.h"

namespace runnel::network {

/// A place seen from its lines. Points into the model.
struct PlaceView {
  PlaceKind kind = PlaceKind::joint;
  const char* word = "";  ///< "box"
  const std::string* name = nullptr;
  const Mark* mark = nullptr;
  Meeting leaving, entering;
  bool open_water = false;      ///< a pipe that leaves it has an entrance loss
  bool takes_exit_loss = true;  ///< a pipe that ends there loses its velocity head
};

/// All places: boxes, tanks, outlets, joints, each in the model's order.
std::vector<PlaceView> places_of(const Model& model);

}  // namespace runnel::network
