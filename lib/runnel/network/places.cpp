#include "runnel/network/places.h"

#include "runnel/network/place_kinds.h"

namespace runnel::network {

std::vector<PlaceView> places_of(const Model& model) {
  std::vector<PlaceView> places;
  std::size_t count = 0;
  each_kind(model, [&](const auto& all) { count += all.size(); });
  places.reserve(count);
  each_place(model, [&](const auto& place) {
    places.push_back({place.kind, kind_word(place.kind), &place.name, &place.mark, place.leaving(),
                      place.entering(), open_water(place.kind), place.takes_exit_loss()});
  });
  return places;
}

}  // namespace runnel::network
