#include "runnel/network/daily_needs.h"

namespace runnel::network {

const std::vector<DailyNeed>& daily_needs() {
  static const std::string stock = "University of Maine Extension, lesson 7, table 1 [umaine-lesson7]";
  static const std::vector<DailyNeed> needs{
      {"beef cattle", Volume::gallons(15), "12 to 15 gal", stock},
      {"dry dairy cows", Volume::gallons(15), "12 to 15 gal", stock},
      {"milking cows", Volume::gallons(40), "40 gal", stock},
      {"sheep", Volume::gallons(4), "2 to 4 gal", stock},
      {"goats", Volume::gallons(4), "2 to 4 gal", stock},
      {"llamas", Volume::gallons(4), "2 to 4 gal", stock},
      {"hogs", Volume::gallons(4), "4 gal", stock},
      {"horses", Volume::gallons(12), "10 to 12 gal", stock},
      {"people at a tapstand", Volume::litres(45), "45 L",
       "handbook of gravity-flow water systems, 1980 [jordan1980; from memory]"},
      {"people in a house", Volume::gallons(75), "50 to 75 gal",
       "US rural homes [us-rural-home; from memory]"},
  };
  return needs;
}

const DailyNeed* daily_need(const std::string& who) {
  for (const DailyNeed& need : daily_needs())
    if (need.who == who) return &need;
  return nullptr;
}

}  // namespace runnel::network
