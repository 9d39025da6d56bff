#pragma once
// Inputs of shared/checks/lines/22_airblock_40pts.json and 25_airblock_one_pocket_closed_form.json.
#include <utility>
#include <vector>

#include "runnel/air/start_up.h"
#include "runnel/base/constants.h"

namespace runnel::test {

inline const std::vector<std::pair<double, double>> line_22 = {
    {0, 100},     {52, 96.5},   {98, 92},     {155, 88.4},  {201, 86},    {247, 84.2}, {304, 86.1},
    {350, 89},    {396, 92.3},  {453, 94.6},  {499, 95.4},  {545, 93},    {602, 88.5}, {648, 83},
    {705, 78.2},  {751, 74},    {797, 71.5},  {854, 73},    {900, 76.4},  {946, 79.8}, {1003, 82.5},
    {1049, 84},   {1095, 82},   {1152, 77.5}, {1198, 71},   {1255, 65.8}, {1301, 62},  {1347, 58.5},
    {1404, 57},   {1450, 58.8}, {1496, 62},   {1553, 65.5}, {1599, 68.2}, {1645, 69},  {1702, 66},
    {1748, 60.5}, {1805, 54},   {1851, 48.5}, {1897, 44},   {1954, 42}};
inline constexpr double bore_22_m = 0.0514;

inline const std::vector<std::pair<double, double>> line_25 = {
    {0, 20}, {50, 5}, {100, 12}, {160, 4}, {220, 10}};

/// Both files: p_atm 101325 Pa, rho 999.1 kg/m3.
inline constexpr double atmospheric_head_22_m = 101325.0 / (999.1 * gravity_ms2);

inline air::StartConditions conditions_22(std::vector<double> vents_m = {}) {
  return {atmospheric_head_22_m, 101.6, std::nullopt, std::move(vents_m)};
}

}  // namespace runnel::test
