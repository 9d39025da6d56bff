#pragma once
// Six reaches in series, five sizes: flows 1.2, 1.05, 0.8, 0.6, 0.45, 0.25 L/s, Colebrook-White with a
// roughness of 0.007 mm and 1.139e-6 m2/s, 5 m of pressure at the end of each reach, and pipes rated against
// the standing water of the source at 230 m. The losses were computed by a slow program of its own; so were
// the cheapest choices, by trying all 15,625 and by a general programme.
#include "runnel/network/choice.h"

namespace support {

inline runnel::network::TreeChoice series_line(double rating_of_second_m = 125.0) {
  constexpr double source_m = 230.0;
  constexpr double length_m[] = {420, 310, 540, 260, 480, 350};
  constexpr double end_m[] = {208, 196, 171, 158, 149, 163};
  constexpr double price[] = {0.9, 1.35, 2.1, 3.2, 5.0};
  const double rating_m[] = {160, rating_of_second_m, 100, 100, 80};
  constexpr double loss_m[6][5] = {
      {297.44074328005416, 87.94762595655408, 30.555754161860868, 10.376811550816916, 3.429212035699705},
      {172.02992926724752, 50.998828184794064, 17.75190732570386, 6.0383327709340975, 1.998305731086496},
      {182.86237829330827, 54.480539956326034, 19.03195316305944, 6.493894256697144, 2.1550177271252684},
      {52.40902562879411, 15.689566854255105, 5.5000646255336605, 1.882456168377416, 0.6264489145821853},
      {57.80653204498669, 17.381655094236812, 6.112982768530831, 2.0983372422500235, 0.7001904599521964},
      {14.87481378468357, 4.508586362119343, 1.5952987916105, 0.5507151867517207, 0.1847781310678626}};
  runnel::network::TreeChoice line;
  line.head_m = source_m;
  double above_m = source_m;
  for (int reach = 0; reach < 6; ++reach) {
    runnel::network::TreeBranch branch;
    branch.above = reach;
    branch.floor_m = end_m[reach] + 5.0;
    for (int size = 0; size < 5; ++size) {
      const double standing_m = source_m - std::min(above_m, end_m[reach]);
      if (standing_m > rating_m[size]) continue;
      branch.options.push_back({price[size] * length_m[reach], loss_m[reach][size]});
    }
    above_m = end_m[reach];
    line.branches.push_back(branch);
  }
  return line;
}

}  // namespace support
