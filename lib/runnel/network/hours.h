#pragma once
// Which draws run at an hour of the day.
#include <vector>

#include "runnel/network/model.h"

namespace runnel::network {

/// Without hours: it runs day and night.
bool all_day(const Draw& draw);

/// Whether it runs at an hour of the day, from 0 up to 24. Hours past midnight go on from the evening: 18
/// to 6.
bool drawn_at(const Draw& draw, double hour);

/// Those of some draws that run at an hour.
std::vector<Draw> drawn_at(const std::vector<Draw>& draws, double hour);

/// Whether the tap stands open and is drawn at certain hours only: at the others it is shut.
bool has_hours(const Outlet& outlet);

/// Whether anything is written under `draws` of a tank, a tap or a joint.
bool has_draws(const Model& model);
/// What is drawn in all over a day, on average.
Flow daily_mean_in_all(const Model& model);

/// The model as it is drawn at an hour: taps that have hours and are not drawn then are shut, and joints draw
/// what is drawn then.
Model at_hour(Model model, double hour);

/// The same with each open tap that has draws letting out no more than is drawn then, as people open it.
Model as_people_open_it(Model model, double hour);

/// Midnight and each hour at which a draw begins, in order: nobody waits for a good hour to begin a filling.
std::vector<double> hours_to_start_at(const Model& model);

/// The hours at which a draw of a tap or a joint begins or ends, in order; none if all go on all day.
std::vector<double> hours_of_change(const Model& model);

}  // namespace runnel::network
