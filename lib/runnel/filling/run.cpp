#include "runnel/filling/run.h"

#include <algorithm>
#include <cmath>

#include "runnel/filling/regime_events.h"

namespace runnel::filling {
namespace {

using Eigen::Index;
using Eigen::VectorXd;

// A state that holds up to a boundary of the run, or from it on, is shown this much before or after it, so
// that the time tells which.
constexpr double stroke_s = 1e-3;
// A regime change within this share of the end of a step is at its end.
constexpr double at_the_end = 1e-7;
// Laws that change again and again after less than this share of the run chatter.
constexpr double hasty_share = 1e-6;
constexpr int most_blind = 256;  // steps, which is days where nothing else happens
// Slopes tell where water will pass a mark if its rate changes by no more than this share on the way.
constexpr double nearly_straight = 0.1;
// A trial that was aimed at a mark and ends nearer to it than this share of the storage has met it.
constexpr double on_the_mark = 1e-6;
// If steps end before a change and never beyond it, it is leapt over. A first leap is this many times the
// least step, and each that was not enough is followed by one so many times longer.
constexpr double first_leap = 10.0, longer_leap = 8.0;
// A float valve that opens so often has done so at all hours of the day that it will, and one that opens
// seldom is followed for so long. A judgement.
constexpr int many_openings = 10;
constexpr double many_days_s = 30.0 * day_s;
// Newton steps between two calls of `progress`: milliseconds for a small system.
constexpr long between_questions = 2000;

VectorXd floors(const Basins& basins) {
  VectorXd floor(static_cast<Index>(basins.size()));
  for (std::size_t i = 0; i < basins.size(); ++i)
    floor[static_cast<Index>(i)] = 0.01 * basins.stores()[i].lip_m3;
  return floor;
}

/// Whether water that moves freely stands over a lip. Where a spill ends and begins again about the rounding
/// of a volume, the water is beyond the lip before it rises, and no step would meet the mark.
bool over_a_lip(const Basins& basins, const VectorXd& volume) {
  for (std::size_t i = 0; i < basins.size(); ++i) {
    const Storage& s = basins.stores()[i];
    if (s.rim == Rim::free && volume[static_cast<Index>(i)] > s.lip_m3 + s.grain_m3()) return true;
  }
  return false;
}

}  // namespace

Run::Run(const network::System& system, const FillOptions& options, const StateTeller* teller)
    : system_(system),
      teller_(teller),
      options_(options),
      basins_(system, options.start_hour, options.emptied_at_m),
      radau_(basins_, floors(basins_), std::clamp(options.tolerance, 1e-12, 1e-3)),
      seeker_(basins_),
      rest_(basins_),
      sway_(basins_),
      recorder_(system, basins_, options_, history_),
      end_s_(std::min(options.duration_s, options.most_s)) {
  if (std::isfinite(options.duration_s)) end_s_ = options.duration_s;
}

void Run::show(double beside_s) {
  if (!teller_) return;
  shown_s_ = time_s_;
  options_.look(std::max(0.0, time_s_ + beside_s), teller_->tell(basins_, volume_, now_));
}

bool Run::begin() {
  std::vector<double> spilled;
  volume_ = basins_.start(system_, options_.from_empty, spilled);
  rate_ = VectorXd::Zero(volume_.size());
  if (options_.from_empty)
    for (std::size_t f = 0; f < basins_.field().floats(); ++f) basins_.field().set_valve(f, Valve::open);
  std::vector<Event> events;
  basins_.set_draws(0.0);
  recorder_.begin(volume_, spilled);
  if (!basins_.settle(0.0, volume_, false, events)) return false;
  basins_.probed_rates(rate_);
  now_ = basins_.probe();
  recorder_.events(events);
  recorder_.moment(0.0, volume_, now_);
  // Tanks that are full may not stay so if a tap below them is open, and a float valve opens again.
  const bool taps = std::any_of(system_.outlets().begin(), system_.outlets().end(),
                                [](const network::Outlet& outlet) { return !outlet.shut; });
  const bool floats = basins_.field().floats() > 0;
  something_runs_ = basins_.anything_drawn() || (taps && (floats || recorder_.all_full()));
  show();
  seeker_.note_sides(volume_);
  rest_.begin(volume_);
  sway_.begin(volume_);
  step_s_ = first_step_s();
  return true;
}

double Run::first_step_s() const {
  double step = 3600.0;
  for (std::size_t i = 0; i < basins_.size(); ++i) {
    const double rate = std::abs(rate_[static_cast<Index>(i)]);
    if (rate > 0.0) step = std::min(step, 0.01 * basins_.stores()[i].lip_m3 / rate);
  }
  return std::max(step, 1e-3);
}

/// The next instant that no step may pass: the end, a change of draws, a midnight of the run.
double Run::boundary_s() const {
  double next = std::min(end_s_, basins_.next_change_s(time_s_));
  if (basins_.any_draws()) next = std::min(next, (std::floor(time_s_ / day_s + 1e-12) + 1.0) * day_s);
  return next;
}

/// The part of a step up to the first mark that the water will pass, as far as the slopes tell: a step that
/// ends there at once need not be taken twice.
double Run::aim(double h) {
  aimed_at_.reset();
  aimed_within_s_ = h;
  if (!radau_.predict(volume_, rate_, h, trial_)) return h;
  aimed_at_ = seeker_.first_mark(volume_, trial_);
  if (aimed_at_) {
    const Index i = static_cast<Index>(aimed_at_->storage);
    const double climb_m3 = trial_.climb(2, i);
    if (!(std::abs(climb_m3 - h * rate_[i]) <= nearly_straight * std::abs(climb_m3))) aimed_at_.reset();
  }
  return aimed_at_ ? std::max(aimed_at_->share * h, least_step_s()) : h;
}

/// Makes a trial step that the error control accepts, and sets `step_s_` for the next one.
bool Run::try_step(double room_s) {
  double h = std::min(step_s_, room_s);
  if (room_s - h < 1e-6 * h) h = room_s;
  h = aim(h);
  for (;;) {
    if (h < least_step_s()) return false;
    if (!radau_.attempt(volume_, rate_, h, trial_)) {
      radau_.forget();
      aimed_at_.reset();
      h *= 0.25;
      continue;
    }
    // The longest step of the same error. One that was cut short by a mark tells of longer ones as well.
    const double longest_s = 0.9 * h * std::pow(std::max(trial_.error, 1e-12), -0.25);
    if (trial_.error > 1.0) {
      aimed_at_.reset();
      h = std::clamp(longest_s, 0.2 * h, 0.9 * h);
      continue;
    }
    const double whole_s = aimed_at_ ? aimed_within_s_ : h;
    const double next_s = std::clamp(longest_s, 0.2 * whole_s, 10.0 * whole_s);
    // Nor is a step that was cut short by a boundary a reason to give up a longer one.
    step_s_ = whole_s < 0.9 * step_s_ && whole_s == room_s ? std::max(step_s_, next_s) : next_s;
    return true;
  }
}

/// Whether the trial was aimed at a mark and ends so near to it that it only has to be moved there.
bool Run::met_the_mark(const std::optional<Found>& found) const {
  if (!aimed_at_) return false;
  const Found& mark = *aimed_at_;
  if (found && (found->kind != mark.kind || found->storage != mark.storage || found->level != mark.level))
    return false;
  const double off_m3 = trial_.volume[static_cast<Index>(mark.storage)] - mark.target_m3;
  return std::abs(off_m3) <= on_the_mark * basins_.stores()[mark.storage].lip_m3;
}

/// Changes the length of the trial so that it ends on the mark, to within rounding of the volume.
/// `there`: it is to begin with the trial as it is.
bool Run::land(const Found& found, bool there) {
  const double whole = there ? aimed_within_s_ : trial_.h;
  double h = there ? trial_.h : found.share * whole;
  for (int round = 0; round < 10; ++round) {
    if (!there || round > 0) {
      h = std::clamp(h, 0.01 * least_step_s(), whole);
      if (!radau_.attempt(volume_, rate_, h, trial_)) return false;
    }
    if (found.kind == MarkKind::regime) return true;
    const Index i = static_cast<Index>(found.storage);
    const double off = trial_.volume[i] - found.target_m3, rate = trial_.rate(2, i);
    if (std::abs(off) <= 0.5 * basins_.stores()[found.storage].grain_m3() || rate == 0.0) return true;
    h -= off / rate;
  }
  return true;
}

bool Run::catch_events() {
  pending_.reset();
  cut_ = false;
  for (int pass = 0; pass < 8; ++pass) {
    std::optional<Found> found = seeker_.first_mark(volume_, trial_);
    const bool there = met_the_mark(found);
    if (there) found = aimed_at_;
    aimed_at_.reset();
    if (!found && leaping_) return true;
    if (!found) {
      found = seeker_.regime_change(volume_, now_, trial_, blind_ > 0);
      if (found && found->share > 1.0 - at_the_end) {
        if (!pending_) pending_ = found;
        return true;
      }
    }
    if (!found) return true;
    if (!land(*found, there)) return false;
    pending_ = found;
    cut_ = cut_ || found->kind == MarkKind::regime;
    if (found->kind == MarkKind::regime && basins_.same_regime(now_, basins_.stage(2))) {
      pending_.reset();  // the step ends just before the change, which the next step will meet
      return true;
    }
  }
  return true;
}

void Run::mark_event(std::vector<Event>& events) const {
  const std::string& name = basins_.stores()[pending_->storage].name;
  if (pending_->kind == MarkKind::inlet)
    events.push_back(
        {time_s_, pending_->direction > 0 ? EventKind::inlet_drowned : EventKind::inlet_clear, name});
  if (pending_->kind == MarkKind::dry && pending_->direction < 0)
    events.push_back({time_s_, EventKind::empty, name});
}

void Run::take_draws(std::vector<Event>& events) {
  std::vector<double> before;
  for (std::size_t i = 0; i < basins_.size(); ++i) before.push_back(basins_.draw_m3s(i));
  const std::vector<DrawnPlace> places = basins_.drawn_places();
  basins_.set_draws(time_s_);
  for (std::size_t i = 0; i < basins_.size(); ++i)
    if (basins_.draw_m3s(i) != before[i])
      events.push_back(
          {time_s_, EventKind::draw_changes, basins_.stores()[i].name, {}, {}, basins_.draw_m3s(i)});
  for (std::size_t p = 0; p < places.size(); ++p)
    if (const DrawnPlace& now = basins_.drawn_places()[p]; now.asked_m3s != places[p].asked_m3s)
      events.push_back({time_s_, EventKind::draw_changes, now.name, {}, {}, now.asked_m3s});
}

/// Whether the trial ends at the volumes of its last stage, to within the rounding of volumes.
bool Run::ends_at_stage() const {
  for (Index i = 0; i < volume_.size(); ++i) {
    const double gap = trial_.volume[i] - volume_[i] - trial_.climb(2, i);
    if (std::abs(gap) > 10.0 * basins_.stores()[static_cast<std::size_t>(i)].grain_m3()) return false;
  }
  return true;
}

/// Takes the trial step and handles what happens at its end. `room_s` is the time to the boundary; adding it
/// would leave a rounding that no step is short enough for.
bool Run::arrive(double room_s, double boundary_s) {
  recorder_.step(time_s_, volume_, trial_);
  // A mark may lie a hair before the boundary, and there the draws count as changed.
  const bool at_boundary = room_s - trial_.h < same_instant_s;
  time_s_ = at_boundary ? boundary_s : time_s_ + trial_.h;
  const bool at_stage = ends_at_stage();
  volume_ = trial_.volume;
  radau_.taken();
  ++history_.steps;
  const Instant before = now_;
  now_ = basins_.stage(2);
  rate_ = trial_.rate.row(2).transpose();
  std::vector<Event> events;
  const bool regime = !basins_.same_regime(before, now_);
  if (pending_ || regime || at_boundary || time_s_ >= shown_s_ + options_.look_every_s)
    show(at_boundary ? -stroke_s : 0.0);
  if (at_boundary) take_draws(events);
  if (pending_) {
    mark_event(events);
    seeker_.passed(*pending_);
    // The volume is set exactly to the mark, so that rounding cannot make it pass again.
    double& at = volume_[static_cast<Index>(pending_->storage)];
    const double grain = basins_.stores()[pending_->storage].grain_m3();
    if (pending_->kind != MarkKind::regime && std::abs(at - pending_->target_m3) <= grain)
      at = pending_->target_m3;
  }
  if (pending_ || at_boundary || regime || basins_.in_film(volume_) || over_a_lip(basins_, volume_)) {
    // Where states change, even the last digit of a volume decides by the flows which of them holds.
    const bool known = at_stage && !pending_ && !regime && !(at_boundary && basins_.flows_follow_draws());
    if (!basins_.settle(time_s_, volume_, known, events)) return false;
    basins_.probed_rates(rate_);
    now_ = basins_.probe();
    if (!before.same_regime(now_)) basins_.field().forget_slopes();
    if (basins_.changed() || regime) radau_.forget();
    regime_events(system_, basins_.field().assembly(), time_s_, before, now_, events);
  }
  seeker_.note_sides(volume_);
  for (const Event& event : events) {
    if (event.what != EventKind::float_opens) continue;
    rest_.float_opened(event.float_valve(), volume_);
    sway_.float_opened(event.float_valve());
  }
  recorder_.events(events);
  if (events.empty()) return true;
  recorder_.moment(time_s_, volume_, now_);
  // A change of draws from tanks does not change any flow by itself.
  if (std::any_of(events.begin(), events.end(), [&](const Event& event) {
        return event.what != EventKind::draw_changes || !history_.storage(event.place);
      }))
    show(at_boundary ? stroke_s : 0.0);
  return true;
}

/// Where a law jumps by less than flows are settled to, the flows found depend on where the search began, and
/// a step that ends on this side of the change never sees the other. A leap is a step that is not cut at the
/// change; leaps become longer until one ends beyond it.
void Run::leap_or_look(bool hasty, bool was_leap) {
  hasty_ = hasty ? hasty_ + 1 : 0;
  if (was_leap)
    hasty_ = 2;  // leap again at once if the change is still ahead
  else if (!cut_)
    leap_s_ = 0.0;
  leaping_ = false;
  if (hasty_ < 3) return;
  // Each time it happens again soon, steps stay blind for longer, so that laws that alternate for hours cost
  // only a few searches.
  blind_ = longest_blind_ = std::clamp(2 * longest_blind_, 1, most_blind);
  leap_s_ = std::max(longer_leap * leap_s_, first_leap * least_step_s());
  leaping_ = true;
  hasty_ = 0;
}

bool Run::step() {
  const double boundary = boundary_s(), room = boundary - time_s_;
  if (!try_step(leaping_ ? std::min(room, leap_s_) : room)) return false;
  const double wanted = trial_.h;
  if (!catch_events()) {
    step_s_ = 0.25 * wanted;
    radau_.forget();
    return step_s_ >= least_step_s();
  }
  // Flows are continuous where laws change, so a change that cannot be located may pass unnoticed.
  if (blind_ > 0)
    --blind_;
  else if (!cut_)
    longest_blind_ = 0;
  const bool short_of_it = !pending_, at_once = trial_.h < hasty_share * std::max(1.0, time_s_);
  leap_or_look(cut_ && (short_of_it || at_once), leaping_);
  return arrive(room, boundary);
}

bool Run::over() {
  rest_.look(time_s_, volume_, rate_);
  if (options_.until_empty) sway_.look(time_s_, volume_);
  if (time_s_ >= end_s_) return true;
  const bool full = recorder_.all_full();
  if (options_.until_full && full) return true;
  if (options_.until_empty && nothing_new()) return true;
  if (options_.until_alike && rest_.kind() != RestKind::no) return true;
  if (std::isfinite(options_.duration_s)) return false;
  const bool long_enough = options_.until_full || !something_runs_ || time_s_ >= options_.least_s;
  if (!long_enough) return false;
  if (goes_on_so()) return true;
  // Tanks that have been full but keep sinking have not come to their end. Nor have those whose float valves
  // open on some days and not on others: what is drawn may be short on one day in many.
  return full && !rest_.sinks() && !floats_still_vary();
}

/// Whether what happens now happens for ever: nothing moves, or all repeats from day to day or between two
/// openings of a float valve, also where some tank is not filled.
bool Run::goes_on_so() const {
  return rest_.kind() != RestKind::no || (basins_.steady_draws() && rest_.repeats());
}

/// Whether all that will ever happen has happened: then a tank that has not run empty never will.
bool Run::nothing_new() const {
  if (goes_on_so()) return true;
  const std::vector<std::size_t> left = recorder_.not_emptied();
  return std::all_of(left.begin(), left.end(), [&](std::size_t t) { return sway_.sways(t); });
}

/// Whether some float valve has opened, but not yet at many hours of the day.
bool Run::floats_still_vary() const {
  if (!basins_.anything_drawn() || time_s_ >= many_days_s) return false;
  return rest_.some_opened_less_than(many_openings);
}

/// Whether the caller wants the run to stop, or it has cost too much.
bool Run::interrupted() {
  const long work = basins_.work();
  if (options_.progress && work >= asked_at_ + between_questions) {
    asked_at_ = work;
    if (!options_.progress(time_s_)) {
      history_.outcome = FillOutcome::stopped;
      return true;
    }
  }
  if (static_cast<double>(work) <= options_.work.steps(time_s_)) return false;
  history_.outcome = FillOutcome::gave_up;
  return true;
}

FillHistory Run::go() {
  if (basins_.size() == 0) return std::move(history_);
  if (!begin()) {
    history_.outcome = FillOutcome::no_answer;
    return std::move(history_);
  }
  while (!over() && !interrupted()) {
    if (step()) continue;
    history_.outcome = FillOutcome::no_answer;
    break;
  }
  if (time_s_ > shown_s_) show();
  recorder_.moment(time_s_, volume_, now_);
  recorder_.finish(time_s_, volume_, rest_.kind());
  history_.tries = radau_.attempts();
  history_.solves = basins_.solves();
  history_.work = basins_.work();
  return std::move(history_);
}

}  // namespace runnel::filling
