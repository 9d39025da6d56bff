#pragma once
// What springs give and tanks need through a year.
#include <string>
#include <vector>

#include "runnel/base/mark.h"
#include "runnel/units/quantity.h"

namespace runnel::network {

/// 12 flows are the months of a common year from January, 52 are weeks; all rows of a year have the same
/// number. A box without a row gives its yield all year, a tank without one has its draws.
struct Year {
  struct Row {
    std::string place;
    std::vector<Flow> flows;
    Mark mark;
  };
  std::vector<Row> yields;   ///< of boxes
  std::vector<Row> demands;  ///< of tanks

  /// 12 or 52; zero if no row says.
  std::size_t periods() const {
    for (const auto* rows : {&yields, &demands})
      if (!rows->empty()) return rows->front().flows.size();
    return 0;
  }
};

}  // namespace runnel::network
