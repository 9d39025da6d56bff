// A year: of boxes and tanks that exist, all in months or all in weeks.
#include "runnel/network/complaints.h"

namespace runnel::network {

namespace {

class YearCheck {
 public:
  explicit YearCheck(Complaints& complaints) : complaints_(complaints) {}

  void row(const Year::Row& row, const char* kind, const std::string& what, bool known,
           const std::vector<std::string>& names) {
    if (!known)
      complaints_.error(std::string("no-such-") + kind, row.mark, "",
                        std::string("there is no ") + kind + " named " + quoted(row.place), {},
                        complaints_.suggest(row.place, names));
    if (!complaints_.whole(row.mark)) return;
    count(row, what);
    for (std::size_t i = 0; i < row.flows.size(); ++i)
      complaints_.not_negative(row.mark, std::to_string(i),
                               {Kind::flow, row.flows[i].cubic_metres_per_second()},
                               what + " of " + quoted(row.place), flow_bounds_m3s);
  }

 private:
  void count(const Year::Row& row, const std::string& what) {
    const std::size_t n = row.flows.size();
    if (n != 12 && n != 52) {
      complaints_.error("year-not-whole", row.mark, "value",
                        what + " of " + quoted(row.place) + " has " + std::to_string(n) +
                            " flows; a year has 12 months or 52 weeks",
                        {}, "write one flow a month from January on, or one a week");
    } else if (periods_ == 0) {
      periods_ = n;
      first_ = row.mark;
    } else if (periods_ != n) {
      Finding& finding = complaints_.error("months-and-weeks", row.mark, "value",
                                           what + " of " + quoted(row.place) + " has " + std::to_string(n) +
                                               " flows, another row has " + std::to_string(periods_),
                                           {}, "write the whole year in months, or all of it in weeks");
      finding.other = first_;
      finding.other_note = "the other row";
    }
  }

  Complaints& complaints_;
  std::size_t periods_ = 0;
  Mark first_;
};

}  // namespace

void validate_year(const Model& system, const NameIndex& index, Complaints& complaints) {
  if (!system.year) return;
  std::vector<std::string> boxes, tanks;
  for (const Box& box : system.boxes) boxes.push_back(box.name);
  for (const Tank& tank : system.tanks) tanks.push_back(tank.name);
  YearCheck check(complaints);
  for (const Year::Row& row : system.year->yields)
    check.row(row, "box", "the year's yield", index.box(row.place), boxes);
  for (const Year::Row& row : system.year->demands)
    check.row(row, "tank", "the year's demand", index.tank(row.place), tanks);
}

}  // namespace runnel::network
