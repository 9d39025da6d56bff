// The course of a filling as a table for other programs.
#include <fmt/format.h>

#include <cmath>

#include "runnel/report/csv.h"
#include "runnel/report/fill.h"
#include "runnel/report/words.h"
#include "runnel/units/unit_names.h"

namespace runnel::report {
namespace {

/// Figures in SI, or in the reader's units if those are asked for.
class Cells {
 public:
  explicit Cells(const std::optional<units::UnitSystem>& system) : system_(system) {}

  std::string head(const char* what, const char* si_unit, Kind kind) const {
    return system_ ? fmt::format("{} [{}]", what, units::unit_name(kind, *system_))
                   : fmt::format("{}_{}", what, si_unit);
  }
  std::string cell(Kind kind, double si) const {
    if (!system_) return fmt::format("{}", si);
    const auto unit = units::find_unit(units::unit_name(kind, *system_));
    return fmt::format("{}", unit ? unit->from_si(si).high : si);
  }

 private:
  std::optional<units::UnitSystem> system_;
};

/// Day of the run and time of the day: "1,06:30:00".
std::string clock(double time_s, double start_hour) {
  const auto seconds = std::llround(time_s + start_hour * 3600.0);
  return fmt::format("{},{:02}:{:02}:{:02}", seconds / 86400 + 1, seconds / 3600 % 24, seconds / 60 % 60,
                     seconds % 60);
}

}  // namespace

std::string fill_csv(const FillAnswer& answer) {
  const Cells cells(answer.csv_units);
  const double hour = answer.options.start_hour;
  std::string out =
      fmt::format("t_s,place,{},{},{},{},day,clock,kind,{},{},{},{}\n",
                  cells.head("level", "m", Kind::elevation), cells.head("inflow", "m3s", Kind::flow),
                  cells.head("spill", "m3s", Kind::flow), cells.head("drawn", "m3s", Kind::flow),
                  cells.head("stored", "m3", Kind::volume), cells.head("in", "m3", Kind::volume),
                  cells.head("spilled", "m3", Kind::volume), cells.head("drawn", "m3", Kind::volume));
  for (const filling::StorageHistory& s : answer.history.storages)
    for (const filling::Row& row : s.series)
      out += fmt::format("{},{},{},{},{},{},{},{},{},{},{},{}\n", row.time_s, csv_cell(s.name),
                         cells.cell(Kind::elevation, row.level_m), cells.cell(Kind::flow, row.inflow_m3s),
                         cells.cell(Kind::flow, row.spill_m3s), cells.cell(Kind::flow, row.drawn_m3s),
                         clock(row.time_s, hour), word(s.kind),
                         cells.cell(Kind::volume, s.start_m3 + row.in_m3 - row.spilled_m3 - row.drawn_m3),
                         cells.cell(Kind::volume, row.in_m3), cells.cell(Kind::volume, row.spilled_m3),
                         cells.cell(Kind::volume, row.drawn_m3));
  // A box without a plan stores nothing; what a joint or an outlet gives counts as drawn.
  for (const filling::PlaceHistory& place : answer.history.places)
    for (const filling::PlaceRow& row : place.series) {
      const std::string flow = cells.cell(Kind::flow, row.flow_m3s),
                        total = cells.cell(Kind::volume, row.total_m3);
      const bool spills = place.kind == network::PlaceKind::box;
      out += fmt::format("{},{},,,{},{},{},{},,,{},{}\n", row.time_s, csv_cell(place.name),
                         spills ? flow : "", spills ? "" : flow, clock(row.time_s, hour), word(place.kind),
                         spills ? total : "", spills ? "" : total);
    }
  return out;
}

}  // namespace runnel::report
