#include "runnel/network/places.h"

#include "runnel/network/place_state.h"

namespace runnel::network {

namespace {

PlaceView view(const Box& box) {
  const double outlet = box.outlet.metres(), lip = box.lip.metres();
  return {PlaceKind::box,
          kind_word(PlaceKind::box),
          &box.name,
          &box.mark,
          {outlet, outlet, "its outlet"},
          {outlet, lip, "the box"},
          open_water(PlaceKind::box),
          true};
}

PlaceView view(const Tank& tank) {
  const double floor = tank.floor.metres(), lip = tank.lip.metres(), inlet = tank.inlet.metres();
  return {PlaceKind::tank,
          kind_word(PlaceKind::tank),
          &tank.name,
          &tank.mark,
          {floor, lip, "the tank"},
          {inlet, inlet, "its inlet"},
          open_water(PlaceKind::tank),
          true};
}

PlaceView view(const Outlet& outlet) {
  const Meeting at{outlet.elevation.metres(), outlet.elevation.metres(), "it"};
  // An opening has its own loss; only the open end of the pipe itself takes the line's.
  return {PlaceKind::outlet,         kind_word(PlaceKind::outlet), &outlet.name, &outlet.mark, at, at, false,
          outlet.opening == Length{}};
}

PlaceView view(const Joint& joint) {
  const Meeting at{joint.elevation.metres(), joint.elevation.metres(), "it"};
  return {PlaceKind::joint, kind_word(PlaceKind::joint), &joint.name, &joint.mark, at, at, false, false};
}

}  // namespace

std::vector<PlaceView> places_of(const Model& model) {
  std::vector<PlaceView> places;
  places.reserve(model.boxes.size() + model.tanks.size() + model.outlets.size() + model.joints.size());
  for (const Box& box : model.boxes) places.push_back(view(box));
  for (const Tank& tank : model.tanks) places.push_back(view(tank));
  for (const Outlet& outlet : model.outlets) places.push_back(view(outlet));
  for (const Joint& joint : model.joints) places.push_back(view(joint));
  return places;
}

}  // namespace runnel::network
