#include "quick_system.h"

#include <algorithm>
#include <cmath>

#include "common.h"
#include "runnel/document/quote.h"
#include "runnel/document/tree.h"
#include "runnel/pipes/catalogue.h"
#include "runnel/units/parse.h"
#include "runnel/verdict/draft.h"
#include "runnel/water/water.h"

namespace cli {
namespace {

using runnel::Length;
using runnel::document::quote;
namespace network = runnel::network;
namespace units = runnel::units;
using runnel::verdict::brace_safe;

// The outlet lies this far below the water, or a tenth of the drop if that is less: deep enough not to
// draw air, and nothing against the survey. Own choice.
constexpr double outlet_depth_m = 0.3;

class Maker {
 public:
  explicit Maker(const QuickWords& words) : words_(words) {}

  QuickSystem make() {
    made_.model.name = "A single run";
    made_.model.note = "Fall " + words_.drop + ", pipe " + words_.length + " of " + words_.pipe + "." +
                       (words_.yield.empty() ? " No yield was given: the box is taken to stay full." : "");
    made_.written_in = words_.drop.find("ft") != std::string::npos ||
                               words_.drop.find('\'') != std::string::npos ||
                               words_.drop.find("in") != std::string::npos
                           ? units::System::us
                           : units::System::si;
    site();
    const double drop = positive("--drop", words_.drop, units::Dimension::length);
    const double length = positive("--length", words_.length, units::Dimension::length);
    places(drop);
    line(drop, length);
    if (!words_.need.empty()) {
      network::Ask ask;
      ask.at = "open end";
      ask.flow = runnel::Flow::from_si(positive("--need", words_.need, units::Dimension::flow));
      made_.model.asks.push_back(ask);
    }
    return std::move(made_);
  }

 private:
  void wrong(const std::string& option, const std::string& text, const std::string& error,
             const std::string& hint) {
    made_.findings.push_back(
        usage("bad-option-value", option + " " + quote(text) + ": " + brace_safe(error), brace_safe(hint)));
  }

  double value(const std::string& option, const std::string& text, units::Dimension dimension) {
    const units::Parsed parsed = units::parse(text, dimension);
    if (!parsed.ok()) wrong(option, text, parsed.error, parsed.hint);
    return parsed.ok() ? parsed.si : 0.0;
  }

  double positive(const std::string& option, const std::string& text, units::Dimension dimension) {
    const double si = value(option, text, dimension);
    if (made_.findings.empty() && !(si > 0.0)) wrong(option, text, "must be more than zero", "");
    return si;
  }

  void site() {
    const double t =
        words_.water.empty() ? 10.0 : value("--water", words_.water, units::Dimension::temperature);
    if (t < 0.0 || t > 40.0) return wrong("--water", words_.water, "must lie between 0 and 40 degC", "");
    made_.model.site.water = runnel::water::at(runnel::Temperature::celsius(t));
    if (!words_.altitude.empty())
      made_.model.site.altitude =
          Length::metres(value("--altitude", words_.altitude, units::Dimension::length));
    made_.model.site.air_pressure_pa = runnel::water::air_pressure_pa(made_.model.site.altitude);
    if (words_.friction == "hazen-williams")
      made_.model.friction.law = runnel::losses::Law::hazen_williams;
    else if (!words_.friction.empty() && words_.friction != "darcy-weisbach")
      wrong("--friction", words_.friction, "there is no such law", "darcy-weisbach or hazen-williams");
  }

  void places(double drop) {
    const Length outlet = Length::metres(drop - std::min(outlet_depth_m, drop / 10.0));
    if (words_.yield.empty()) {
      network::Tank tank;
      tank.name = "spring box";
      tank.shape = network::UprightCylinder{Length::metres(1.0)};
      tank.floor = outlet;
      tank.lip = tank.inlet = tank.level = Length::metres(drop);
      tank.held = true;  // as the answer says: the box is taken to stay full
      made_.model.tanks.push_back(tank);
    } else {
      network::Box box;
      box.name = "spring box";
      box.yield = runnel::Flow::from_si(positive("--yield", words_.yield, units::Dimension::flow));
      box.outlet = outlet;
      box.lip = Length::metres(drop);
      made_.model.boxes.push_back(box);
    }
    network::Outlet end;
    end.name = "open end";
    made_.model.outlets.push_back(end);
  }

  struct Point {
    double along, elevation;
    std::string text;
  };

  std::vector<Point> points(double drop) {
    std::vector<Point> all;
    for (const std::string& text : words_.points) {
      const auto at = text.find('@');
      if (at == std::string::npos) {
        wrong("--point", text, "needs a depth and a length with @ between", "write for example 5ft@300ft");
        continue;
      }
      const double depth = value("--point", text.substr(0, at), units::Dimension::length);
      all.push_back({value("--point", text.substr(at + 1), units::Dimension::length), drop - depth, text});
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const Point& a, const Point& b) { return a.along < b.along; });
    return all;
  }

  // Lengths are measured along the pipe; a survey counts plan distance.
  void line(double drop, double length) {
    network::Pipeline line;
    line.name = "run";
    line.from = "spring box";
    line.to = "open end";
    line.air = words_.sealed ? network::Air::sealed : network::Air::open;
    line.entrance_loss = 0.5;  // sharp entrance [minor-loss-9.2] [water-supply-6-4]
    line.exit_loss = 1.0;      // the jet's own velocity head
    const double top = drop - std::min(outlet_depth_m, drop / 10.0);
    std::vector<Point> all = points(drop);
    all.push_back({length, 0.0, words_.length});
    double along = 0.0, plan = 0.0, elevation = top;
    line.survey.push_back({Length{}, Length::metres(top)});
    for (const Point& p : all) {
      const double run = p.along - along, rise = p.elevation - elevation;
      if (!made_.findings.empty()) return;
      if (!(run > std::abs(rise)))
        return wrong(&p == &all.back() ? "--length" : "--point", p.text,
                     "the pipe is too short to reach that far up or down",
                     "lengths are measured along the pipe, from the box");
      plan += std::sqrt((run - std::abs(rise)) * (run + std::abs(rise)));
      line.survey.push_back({Length::metres(plan), Length::metres(p.elevation)});
      along = p.along;
      elevation = p.elevation;
    }
    line.pipes.push_back({pipe(), Length{}, std::nullopt, {}});
    made_.model.pipelines.push_back(std::move(line));
  }

  runnel::pipes::Pipe pipe() {
    const runnel::pipes::Catalogue& catalogue = runnel::pipes::standard_catalogue();
    if (const runnel::pipes::Pipe* known = catalogue.find(words_.pipe)) return *known;
    runnel::pipes::Pipe own;
    const units::Parsed bore = units::parse(words_.pipe, units::Dimension::length);
    if (bore.ok() && bore.si > 0.0) {
      own.name = "bore " + words_.pipe;
      own.bore = Length::metres(bore.si);
      own.roughness = Length::millimetres(0.0015);  // plastic, the rough end of 0 to 0.0015 mm [binder1973]
      own.hazen_c = 140.0;                          // thermoplastics [hi-data-book]
      return own;
    }
    const std::string near = runnel::document::nearest(words_.pipe, catalogue.names());
    made_.findings.push_back(
        usage("no-such-pipe", "the catalogue has no pipe " + quote(words_.pipe),
              (near.empty() ? "" : "did you mean " + near + "? ") +
                  std::string("`runnel pipes` lists them; a bore such as 1.38in will do too")));
    return own;
  }

  const QuickWords& words_;
  QuickSystem made_;
};

}  // namespace

QuickSystem quick_system(const QuickWords& words) { return Maker(words).make(); }

}  // namespace cli
