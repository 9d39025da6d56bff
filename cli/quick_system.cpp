#include "quick_system.h"

#include <algorithm>

#include "quick_course.h"
#include "quick_words.h"
#include "runnel/losses/fittings.h"
#include "runnel/network/seen_ground.h"
#include "runnel/water/water.h"

namespace cli {
namespace {

using runnel::Length;
namespace network = runnel::network;
namespace units = runnel::units;

/// What stands at the end of the pipe.
enum class End { open, tap, float_valve, tank };

class Maker {
 public:
  explicit Maker(const QuickWords& words) : words_(words), reader_(made_.findings) {}

  QuickSystem make() {
    made_.model.name = "A single run";
    made_.written_in = feet() ? units::UnitSystem::us : units::UnitSystem::si;
    site();
    course_ = quick_course(words_, reader_);
    pipe_ = quick_pipe(words_.pipe, made_.findings);
    if (!words_.rating.empty())
      pipe_.rating =
          runnel::Pressure::from_si(reader_.positive("--rating", words_.rating, units::Dimension::pressure));
    read_end();
    read_stations();
    if (!reader_.sound()) return std::move(made_);
    note();
    source();
    lines();
    end();
    if (!words_.need.empty()) {
      network::Ask ask;
      ask.at = end_name_;
      ask.flow = runnel::Flow::from_si(reader_.positive("--need", words_.need, units::Dimension::flow));
      made_.model.asks.push_back(ask);
    }
    return std::move(made_);
  }

 private:
  bool feet() const {
    const std::string& text = words_.legs.empty() ? words_.drop : words_.legs.front();
    const auto says = [&](const char* unit) { return text.find(unit) != std::string::npos; };
    return says("ft") || says("feet") || says("foot") || says("'") || says("in") || says("yard") ||
           says("yd");
  }

  void site() {
    const double t =
        words_.water.empty() ? 10.0 : reader_.value("--water", words_.water, units::Dimension::temperature);
    if (t < 0.0 || t > 40.0) return reader_.wrong("--water", words_.water, "must lie between 0 and 40 degC");
    made_.model.site.water = runnel::water::at(runnel::Temperature::celsius(t));
    if (!words_.altitude.empty())
      made_.model.site.altitude =
          Length::metres(reader_.value("--altitude", words_.altitude, units::Dimension::length));
    made_.model.site.air_pressure_pa = runnel::water::air_pressure_pa(made_.model.site.altitude);
    if (words_.friction == "hazen-williams")
      made_.model.friction.law = runnel::losses::Law::hazen_williams;
    else if (!words_.friction.empty() && words_.friction != "darcy-weisbach")
      reader_.wrong("--friction", words_.friction, "there is no such law",
                    "darcy-weisbach or hazen-williams");
  }

  void read_end() {
    if (words_.end.empty() || words_.end == "open") return;
    if (words_.end == "float") {
      end_ = End::float_valve, end_name_ = "trough";
    } else if (words_.end == "tank") {
      end_ = End::tank, end_name_ = "tank";
    } else if (words_.end.rfind("tap ", 0) == 0) {
      end_ = End::tap, end_name_ = "tap";
      tap_bore_m_ = reader_.positive("--end", words_.end.substr(4), units::Dimension::length);
    } else {
      reader_.wrong("--end", words_.end, "is no end that is known",
                    "open, float, tank, or a tap with its bore: --end 'tap 1/2in'");
    }
  }

  double station(const char* option, const std::string& text) {
    const double along_m = reader_.positive(option, text, units::Dimension::length);
    if (reader_.sound() && along_m >= course_.length_m())
      reader_.wrong(option, text, "lies beyond the end of the pipe");
    return along_m;
  }

  void read_stations() {
    if (!reader_.sound()) return;
    for (const std::string& text : words_.air_valves) air_valves_m_.push_back(station("--air-valve", text));
    for (const std::string& text : words_.hydrants)
      hydrants_.push_back({station("--hydrant", text), "hydrant at " + text});
    std::sort(air_valves_m_.begin(), air_valves_m_.end());
    std::stable_sort(hydrants_.begin(), hydrants_.end(),
                     [](const Hydrant& a, const Hydrant& b) { return a.along_m < b.along_m; });
    for (std::size_t i = 1; i < hydrants_.size(); ++i)
      if (reader_.sound() && !(hydrants_[i].along_m > hydrants_[i - 1].along_m))
        reader_.wrong("--hydrant", words_.hydrants[i], "is there twice");
  }

  void note() {
    const std::string fall = words_.legs.empty()
                                 ? "Fall " + words_.drop + ", pipe " + words_.length + " of " + pipe_.name
                                 : std::to_string(words_.legs.size()) + " legs of " + pipe_.name;
    made_.model.note = fall + "; lengths are along the pipe." +
                       (words_.yield.empty() ? " No yield was given: the box is taken to stay full." : "");
  }

  /// How deep the outlet lies under the water is an assumption unless it is given.
  void cover(Length depth) {
    if (!words_.cover.empty()) return;
    runnel::Finding taken;
    taken.code = "cover-taken";
    taken.severity = runnel::Severity::note;
    taken.message = "The water is taken to stand {0} over the outlet of the box.";
    taken.figures = {{runnel::Kind::length, depth.metres()}};
    taken.advice = "Give it with --cover.";
    taken.source = "our own choice: 0.3 m, or a tenth of the drop if that is less";
    made_.remarks.push_back(std::move(taken));
  }

  void source() {
    const Length outlet = Length::metres(course_.points.front().elevation_m);
    const Length water = Length::metres(course_.water_m);
    cover(water - outlet);
    if (words_.yield.empty()) {
      network::Tank tank;
      tank.name = "spring box";
      tank.shape = network::UprightCylinder{Length::metres(1.0)};
      tank.floor = outlet;
      tank.lip = tank.inlet = tank.level = water;
      tank.held = true;  // as the answer says: the box is taken to stay full
      made_.model.tanks.push_back(tank);
      return;
    }
    network::Box box;
    box.name = "spring box";
    box.yield = runnel::Flow::from_si(reader_.positive("--yield", words_.yield, units::Dimension::flow));
    box.bucket_tests = bucketful(words_.yield);
    box.outlet = outlet;
    box.lip = water;
    made_.model.boxes.push_back(box);
  }

  /// A tap or a float valve is built like a globe valve; the jet behind a tap takes its own velocity head.
  double seat_loss(double bore_m) const {
    const auto seat = runnel::losses::published_loss("globe_valve", bore_m);
    return seat ? seat->k : 10.0;  // K of a globe valve [minor-loss-9.2]
  }

  void end() {
    if (end_ == End::open || end_ == End::tap) {
      network::Outlet outlet;
      outlet.name = end_name_;
      if (end_ == End::tap) {
        outlet.opening = Length::metres(tap_bore_m_);
        outlet.loss = seat_loss(tap_bore_m_) + 1.0;
      }
      made_.model.outlets.push_back(outlet);
      return;
    }
    // The pipe pours in over the water: a trough of the usual depth, as good as any other for this answer.
    network::Tank tank;
    tank.name = end_name_;
    tank.shape = network::Cuboid{Length::metres(2.0), Length::metres(1.0)};
    tank.floor = tank.level = Length::metres(-0.6);
    tank.lip = tank.inlet = Length{};
    if (end_ == End::float_valve)
      tank.float_valve =
          network::FloatValve{Length::metres(-0.05), Length::metres(-0.1), seat_loss(pipe_.bore.metres())};
    made_.model.tanks.push_back(tank);
  }

  /// One line, or several with a joint at each hydrant.
  void lines() {
    double from_m = 0.0;
    std::string from = "spring box";
    for (const Hydrant& hydrant : hydrants_) {
      network::Joint joint;
      joint.name = "tee of " + hydrant.name;
      joint.elevation = Length::metres(course_.elevation_at(hydrant.along_m));
      made_.model.joints.push_back(joint);
      network::Outlet outlet;
      outlet.name = hydrant.name;
      outlet.on = joint.name;
      outlet.elevation = joint.elevation;
      outlet.opening = Length::inches(0.75);  // the usual yard hydrant: common practice, no source
      outlet.loss = seat_loss(outlet.opening.metres()) + 1.0;
      outlet.shut = true;
      made_.model.outlets.push_back(outlet);
      line(from, joint.name, from_m, hydrant.along_m);
      from = joint.name;
      from_m = hydrant.along_m;
      network::Setting open;
      open.name = hydrant.name + " open";
      open.open.emplace_back(outlet.name, runnel::Mark{});
      made_.model.settings.push_back(open);
    }
    line(from, end_name_, from_m, course_.length_m());
  }

  /// Whether somebody took the height of a point of the pipe within this stretch, or sees from one such point
  /// before it to the next. A hydrant's own height is reckoned, not measured.
  bool measured(double from_m, double to_m) const {
    const auto& points = course_.points;
    for (std::size_t i = 1; i < points.size(); ++i)
      if (points[i - 1].along_m <= from_m && to_m <= points[i].along_m)
        return points[i].along_m - points[i - 1].along_m <= network::farthest_apart_m(course_.length_m());
    return true;
  }

  void line(const std::string& from, const std::string& to, double from_m, double to_m) {
    network::Pipeline line;
    const bool first = from_m == 0.0, last = to_m == course_.length_m();
    line.name = first ? "run" : "run (below " + from.substr(7) + ")";  // its stations count from the box
    line.from = from;
    line.to = to;
    line.air = words_.sealed ? network::Air::sealed : network::Air::open;
    line.along = network::Along::pipe;
    line.entrance_loss = first ? 0.5 : 0.0;  // sharp entrance [minor-loss-9.2] [water-supply-6-4]
    line.exit_loss = last && end_ != End::tap ? 1.0 : 0.0;  // the jet's own velocity head
    const auto add = [&](double along_m) {
      line.survey.push_back({Length::metres(along_m), Length::metres(course_.elevation_at(along_m))});
    };
    add(from_m);
    for (const TapePoint& p : course_.points)
      if (p.along_m > from_m && p.along_m < to_m) add(p.along_m);
    add(to_m);
    for (const double along_m : air_valves_m_)
      if (along_m > from_m && along_m <= to_m) {
        network::Part valve;
        valve.kind = network::PartKind::air_valve;
        valve.type = "air_valve";
        valve.name = "A" + std::to_string(++valves_);
        valve.at = Length::metres(along_m);
        line.parts.push_back(valve);
      }
    if (!hydrants_.empty()) line.surveyed = measured(from_m, to_m);
    line.pipes.push_back({pipe_, Length::metres(from_m), std::nullopt, {}});
    made_.model.pipelines.push_back(std::move(line));
  }

  struct Hydrant {
    double along_m = 0.0;
    std::string name;
  };

  const QuickWords& words_;
  QuickSystem made_;
  WordReader reader_;
  QuickCourse course_;
  runnel::pipes::Pipe pipe_;
  End end_ = End::open;
  std::string end_name_ = "open end";
  double tap_bore_m_ = 0.0;
  std::vector<double> air_valves_m_;
  std::vector<Hydrant> hydrants_;
  int valves_ = 0;
};

}  // namespace

QuickSystem quick_system(const QuickWords& words) { return Maker(words).make(); }

}  // namespace cli
