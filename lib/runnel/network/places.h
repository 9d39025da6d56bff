#pragma once
// What all places of a model have in common, whatever their kind: the one list that a new kind of place must
// join, so that names, ends of lines and connections know it.
#include <string>
#include <vector>

#include "runnel/network/model.h"

namespace runnel::network {

/// Elevations at which a line may meet a place.
struct Meeting {
  double low_m = 0.0, high_m = 0.0;
  const char* what = "";  ///< "its outlet", for messages
};

/// A place as its lines see it. Points into the model.
struct PlaceView {
  PlaceKind kind = PlaceKind::joint;
  const char* word = "";  ///< "box"
  const std::string* name = nullptr;
  const Mark* mark = nullptr;
  Meeting leaving;                ///< a line without a survey leaves at its low end
  Meeting entering;               ///< and enters at its high end
  bool open_water = false;      ///< a pipe that leaves it has an entrance loss
  bool takes_exit_loss = true;  ///< a pipe that ends there loses its velocity head
};

/// All places: boxes, tanks, outlets, joints, each in the model's order.
std::vector<PlaceView> places_of(const Model& model);

}  // namespace runnel::network
