// Small trees against brute enumeration: every way the links and places could be is written out as plain
// equations, solved by a dense Newton of its own, and kept if nothing contradicts it. Exactly one set of
// flows may remain, and it must be ours.
#include <Eigen/Dense>
#include <algorithm>
#include <catch2/catch.hpp>
#include <cmath>
#include <map>

#include "runnel/losses/mouth.h"
#include "runnel/steady/line_plan.h"
#include "runnel/steady/state.h"
#include "steady/head_budget.h"
#include "steady/nasty_system.h"

using namespace runnel;

namespace {

constexpr double agree_m = 1e-9;    // heads nearer than this are one, as the solver has it
constexpr double nowhere_m = -1e6;  // the head of a place that no water comes to

/// One thing in the way of the water on a line: head at `from` less head at `to` (or at a fixed height) must
/// cover the loss up to there.
struct Hurdle {
  int from = -1, to = -1;
  double height_m = 0.0;  ///< if `to` < 0
  double quadratic_s2m5 = 0.0;
  std::vector<std::pair<int, double>> metres;  ///< pipe, length
  std::optional<losses::Mouth> mouth;          ///< asks for its own head in place of all that
};

struct Line {
  int a = -1, b = -1;
  std::vector<Hurdle> hurdles;  ///< forward ones, then backward ones
  std::size_t forward = 0;      ///< how many are forward
  std::vector<losses::PipeFriction> friction;
};

struct Place {
  bool fixed = false, box = false;
  double head_m = 0.0;  ///< fixed: level; box: lip; joint: its elevation, below which a draw fails
  double inflow_m3s = 0.0, draw_m3s = 0.0;
  int ways() const { return fixed ? 1 : box ? 2 : draw_m3s > 0.0 ? 3 : 1; }
};

/// The hurdles of a pipeline one way, in the order the water meets them.
void add_hurdles(const steady::LinePlan& plan, bool forward, int source, int sink, double end_m,
                 double opening_s2m5, std::vector<Hurdle>& out) {
  const std::size_t last = plan.vertices.size() - 1;
  Hurdle so_far;
  so_far.from = source;
  so_far.quadratic_s2m5 = forward ? plan.entrance_s2m5 : plan.back_entrance_s2m5;
  so_far.metres.resize(plan.friction.size());
  for (std::size_t p = 0; p < plan.friction.size(); ++p) so_far.metres[p] = {static_cast<int>(p), 0.0};
  const double exit = forward ? plan.exit_s2m5 + opening_s2m5 : plan.back_exit_s2m5;
  for (std::size_t i = 0; i <= last; ++i) {
    const auto& v = plan.vertices[forward ? i : last - i];
    const double local = forward ? v.local_forward_s2m5 : v.local_backward_s2m5;
    Hurdle floor = so_far;
    floor.height_m = v.floor_m;
    // Where the pipe changes on both sides, each with the velocity head of its own pipe; and in its end.
    if (i > 0 && (i == last || v.before_s2m5 != v.behind_s2m5)) {
      Hurdle before = floor;
      before.quadratic_s2m5 += forward ? v.before_s2m5 : v.behind_s2m5;
      out.push_back(before);
    }
    floor.quadratic_s2m5 += local + (i == last ? exit : forward ? v.behind_s2m5 : v.before_s2m5);
    out.push_back(floor);
    if (i == last) break;
    so_far.quadratic_s2m5 += local;
    const auto& reach = plan.course.points()[forward ? i : last - 1 - i];
    so_far.metres[static_cast<std::size_t>(reach.pipe)].second += reach.length_m;
  }
  Hurdle end = out.back();
  end.to = sink;
  end.height_m = end_m;
  out.push_back(end);
}

struct Tree {
  std::vector<Place> places;
  std::vector<Line> lines;  ///< pipelines, and then the openings of taps on joints
  std::map<std::string, int> index;
  std::size_t pipelines = 0;

  explicit Tree(const network::Model& s) {
    const auto add = [&](const std::string& name, const Place& place) {
      index[name] = static_cast<int>(places.size());
      places.push_back(place);
    };
    for (const auto& box : s.boxes) add(box.name, {false, true, box.lip.metres(), box.yield.si(), 0.0});
    for (const auto& tank : s.tanks) add(tank.name, {true, false, tank.level.metres(), 0.0, 0.0});
    for (const auto& joint : s.joints)
      add(joint.name, {false, false, joint.elevation.metres(), 0.0, joint.draw.si()});
    for (const auto& line : s.pipelines) add_line(s, line);
    pipelines = lines.size();
    for (const auto& outlet : s.outlets)
      if (!outlet.on.empty()) {
        Hurdle tap;
        tap.from = index.at(outlet.on);
        tap.height_m = outlet.elevation.metres();
        tap.quadratic_s2m5 = test::per_square(outlet.loss, outlet.opening.metres());
        lines.push_back({tap.from, -1, {tap}, 1, {}});
      }
  }

  void add_line(const network::Model& s, const network::Pipeline& pipeline) {
    const auto plan = steady::plan_line(s, pipeline);
    Line line;
    line.a = index.at(pipeline.from);
    line.friction = plan.friction;
    if (const auto* outlet = s.outlet(pipeline.to)) {
      const double bore = outlet->opening.metres();
      add_hurdles(plan, true, line.a, -1, outlet->elevation.metres(),
                  bore > 0.0 ? test::per_square(outlet->loss, bore) : 0.0, line.hurdles);
      add_mouth(s, pipeline, plan, true, line);
      line.forward = line.hurdles.size();
    } else {
      line.b = index.at(pipeline.to);
      add_hurdles(plan, true, line.a, line.b, 0.0, 0.0, line.hurdles);
      add_mouth(s, pipeline, plan, true, line);
      line.forward = line.hurdles.size();
      add_hurdles(plan, false, line.b, line.a, 0.0, 0.0, line.hurdles);
      add_mouth(s, pipeline, plan, false, line);
    }
    lines.push_back(line);
  }

  /// The last of the hurdles of its direction.
  static void add_mouth(const network::Model& s, const network::Pipeline& pipeline,
                        const steady::LinePlan& plan, bool forward, Line& line) {
    const std::string& place = forward ? pipeline.from : pipeline.to;
    if (!s.box(place) && !s.tank(place)) return;
    const auto& all = plan.course.points();
    const std::size_t last = all.size() - 1;
    const auto &first = all[forward ? 0 : last], &next = all[forward ? 1 : last - 1];
    const double length_m = all[forward ? 0 : last - 1].length_m;
    Hurdle mouth;
    mouth.from = forward ? line.a : line.b;
    mouth.height_m = first.elevation_m;
    mouth.mouth.emplace(pipeline.mouth, plan.friction[static_cast<std::size_t>(first.pipe)].bore_m(),
                        (first.elevation_m - next.elevation_m) / length_m);
    line.hurdles.push_back(mouth);
  }

  double candidates() const {
    double n = 1.0;
    for (const Line& line : lines) n *= 1.0 + static_cast<double>(line.hurdles.size());
    for (const Place& place : places) n *= place.ways();
    return n;
  }
};

losses::LossAndSlope loss(const Line& line, const Hurdle& hurdle, double q) {
  const double size = std::abs(q);
  if (hurdle.mouth) {
    const auto need = hurdle.mouth->over_axis(q);
    return {need.head_m, need.slope_sm2};
  }
  losses::LossAndSlope sum{hurdle.quadratic_s2m5 * q * size, 2.0 * hurdle.quadratic_s2m5 * size + 1e-9};
  for (const auto& [pipe, length] : hurdle.metres) {
    const auto one = line.friction[static_cast<std::size_t>(pipe)].per_metre(size);
    sum.head_m += (q < 0.0 ? -1.0 : 1.0) * one.head_m * length;
    sum.slope_sm2 += one.slope_sm2 * length;
  }
  return sum;
}

/// One candidate: which hurdle governs every line (0: still), and how every place is held (box: 0 finds its
/// level, 1 stands at its lip; draw: 0 met, 1 short at the joint's height, 2 nothing).
class Candidate {
 public:
  Candidate(const Tree& tree, const std::vector<int>& lines, const std::vector<int>& places)
      : tree_(tree),
        line_way_(lines),
        place_way_(places),
        q_(tree.lines.size(), 0.0),
        h_(tree.places.size(), nowhere_m) {}

  /// Flows from start to end if all of it can be; nothing otherwise.
  std::optional<std::vector<double>> flows() {
    if (!plausible() || !solve()) return std::nullopt;
    fill_dead_ends();
    if (!places_hold() || !lines_hold()) return std::nullopt;
    std::vector<double> out;
    for (std::size_t l = 0; l < q_.size(); ++l) out.push_back(forward(l) ? q_[l] : -q_[l]);
    return out;
  }

 private:
  bool flowing(std::size_t l) const { return line_way_[l] > 0; }
  bool forward(std::size_t l) const { return line_way_[l] <= static_cast<int>(tree_.lines[l].forward); }
  const Hurdle& governing(std::size_t l) const {
    return tree_.lines[l].hurdles[static_cast<std::size_t>(line_way_[l] - 1)];
  }
  int source(std::size_t l) const { return forward(l) ? tree_.lines[l].a : tree_.lines[l].b; }
  int sink(std::size_t l) const { return forward(l) ? tree_.lines[l].b : tree_.lines[l].a; }
  static std::size_t at(int i) { return static_cast<std::size_t>(i); }

  /// Held at a known head, with the balance left over.
  bool pinned(std::size_t v) const { return tree_.places[v].fixed || (place_way_[v] == 1); }
  double asks(std::size_t v) const {
    const Place& p = tree_.places[v];
    return p.inflow_m3s - (p.draw_m3s > 0.0 && place_way_[v] == 0 ? p.draw_m3s : 0.0);
  }

  /// Water that leaves a place must come to it.
  bool plausible() {
    live_.assign(h_.size(), 0);
    std::vector<int> in(h_.size(), 0), out(h_.size(), 0);
    for (std::size_t l = 0; l < q_.size(); ++l) {
      if (!flowing(l)) continue;
      ++out[at(source(l))];
      if (sink(l) >= 0) ++in[at(sink(l))];
    }
    for (std::size_t v = 0; v < h_.size(); ++v) {
      live_[v] = in[v] + out[v] > 0 || pinned(v);
      if (tree_.places[v].fixed) continue;
      const bool gives = out[v] > 0 || (tree_.places[v].draw_m3s > 0.0 && place_way_[v] == 0);
      const bool takes = in[v] > 0 || tree_.places[v].inflow_m3s > 0.0;
      if (gives && !takes) return false;
      if (takes && !gives && !(place_way_[v] == 1)) return false;
    }
    return true;
  }

  /// Newton on the flows of the lines that flow and the heads of the places they meet.
  bool solve() {
    std::vector<int> flow_row(q_.size(), -1), head_row(h_.size(), -1);
    int n = 0;
    for (std::size_t l = 0; l < q_.size(); ++l)
      if (flowing(l)) {
        flow_row[l] = n++;
        q_[l] = 1e-4;
      }
    for (std::size_t v = 0; v < h_.size(); ++v) {
      if (pinned(v))
        h_[v] = tree_.places[v].head_m;
      else if (live_[v]) {
        head_row[v] = n++;
        h_[v] = 95.0;
      }
    }
    int more = 0;  // a flow that tends to nothing is only halved by a step: it needs many
    for (int step = 0; step < 100; ++step) {
      Eigen::MatrixXd jacobian = Eigen::MatrixXd::Zero(n, n);
      Eigen::VectorXd wrong = Eigen::VectorXd::Zero(n);
      for (std::size_t v = 0; v < h_.size(); ++v)
        if (head_row[v] >= 0) wrong[head_row[v]] = asks(v);
      for (std::size_t l = 0; l < q_.size(); ++l)
        if (flowing(l)) write_line(l, flow_row[l], head_row, jacobian, wrong);
      // Metres and litres a second: both of order one.
      for (std::size_t v = 0; v < h_.size(); ++v)
        if (head_row[v] >= 0) jacobian.row(head_row[v]) *= 1e3, wrong[head_row[v]] *= 1e3;
      if (n == 0) return true;
      const double size = wrong.lpNorm<Eigen::Infinity>();
      if (size < 1e-11) {
        double least = 1.0;
        for (std::size_t l = 0; l < q_.size(); ++l)
          if (flowing(l)) least = std::min(least, std::abs(q_[l]));
        if (least > 1e-6 || least < 1e-13 || more++ == 40) return true;
      }
      const Eigen::VectorXd change = jacobian.partialPivLu().solve(-wrong);
      if (!change.allFinite() || change.lpNorm<Eigen::Infinity>() > 1e9) return false;
      for (std::size_t l = 0; l < q_.size(); ++l)
        if (flow_row[l] >= 0) q_[l] += change[flow_row[l]];
      for (std::size_t v = 0; v < h_.size(); ++v)
        if (head_row[v] >= 0) h_[v] += change[head_row[v]];
    }
    return false;
  }

  void write_line(std::size_t l, int row, const std::vector<int>& head_row, Eigen::MatrixXd& jacobian,
                  Eigen::VectorXd& wrong) const {
    const Hurdle& hurdle = governing(l);
    const auto spent = loss(tree_.lines[l], hurdle, q_[l]);
    wrong[row] = h_[at(hurdle.from)] - (hurdle.to >= 0 ? h_[at(hurdle.to)] : hurdle.height_m) - spent.head_m;
    jacobian(row, row) = -spent.slope_sm2;
    if (const int r = head_row[at(hurdle.from)]; r >= 0) jacobian(row, r) += 1.0;
    if (hurdle.to >= 0)
      if (const int r = head_row[at(hurdle.to)]; r >= 0) jacobian(row, r) -= 1.0;
    if (const int r = head_row[at(source(l))]; r >= 0) wrong[r] -= q_[l], jacobian(r, row) -= 1.0;
    if (sink(l) >= 0)
      if (const int r = head_row[at(sink(l))]; r >= 0) wrong[r] += q_[l], jacobian(r, row) += 1.0;
  }

  double height(const Hurdle& hurdle) const { return hurdle.to >= 0 ? h_[at(hurdle.to)] : hurdle.height_m; }
  /// Room for flow past all hurdles of one direction, at rest.
  double room(std::size_t l, bool ahead) const {
    const Line& line = tree_.lines[l];
    double least = 1e9;
    for (std::size_t k = ahead ? 0 : line.forward; k < (ahead ? line.forward : line.hurdles.size()); ++k)
      least = std::min(least, h_[at(line.hurdles[k].from)] - height(line.hurdles[k]));
    return least;
  }

  /// Behind lines that stand still, a place that nothing else fixes stands as high as what could come to it:
  /// a lower head would make water flow in, and a higher one is more likely to make it flow out.
  void fill_dead_ends() {
    for (std::size_t round = 0; round < h_.size(); ++round)
      for (std::size_t l = 0; l < tree_.pipelines; ++l) {
        const Line& line = tree_.lines[l];
        if (flowing(l) || line.b < 0) continue;
        if (!live_[at(line.b)] && room(l, true) > agree_m) h_[at(line.b)] = h_[at(line.a)];
        if (!live_[at(line.a)] && room(l, false) > agree_m) h_[at(line.a)] = h_[at(line.b)];
      }
  }

  bool places_hold() const {
    for (std::size_t v = 0; v < h_.size(); ++v) {
      const Place& place = tree_.places[v];
      if (place.fixed) continue;
      double net = asks(v);
      for (std::size_t l = 0; l < q_.size(); ++l) {
        if (!flowing(l)) continue;
        if (source(l) == static_cast<int>(v)) net -= q_[l];
        if (sink(l) == static_cast<int>(v)) net += q_[l];
      }
      const double h = h_[v];
      if (place.box && place_way_[v] == 0 && h > place.head_m + agree_m) return false;
      if (place.box && place_way_[v] == 1 && net < -1e-12) return false;
      if (place.box || place.draw_m3s == 0.0) continue;
      if (place_way_[v] == 0 && h < place.head_m - agree_m) return false;
      if (place_way_[v] == 1 && (net < -1e-12 || net > place.draw_m3s + 1e-12)) return false;
      if (place_way_[v] == 2 && h > place.head_m + agree_m) return false;
    }
    return true;
  }

  bool lines_hold() const {
    for (std::size_t l = 0; l < q_.size(); ++l) {
      const Line& line = tree_.lines[l];
      if (!flowing(l)) {
        if (room(l, true) > agree_m) return false;
        if (line.forward < line.hurdles.size() && room(l, false) > agree_m) return false;
        continue;
      }
      if (q_[l] < 0.0) return false;
      const bool ahead = forward(l);
      for (std::size_t k = ahead ? 0 : line.forward; k < (ahead ? line.forward : line.hurdles.size()); ++k) {
        const Hurdle& other = line.hurdles[k];
        if (h_[at(other.from)] - height(other) < loss(line, other, q_[l]).head_m - agree_m) return false;
      }
    }
    return true;
  }

  const Tree& tree_;
  const std::vector<int>&line_way_, &place_way_;
  std::vector<double> q_, h_;
  std::vector<char> live_;
};

/// The flow that a head of 1e-9 m drives past every hurdle of a line that the water just touches [m3/s].
double unseen(const Line& line) {
  double most = 1e-12;
  for (const Hurdle& hurdle : line.hurdles)
    if (hurdle.to < 0 && hurdle.quadratic_s2m5 > 0.0)
      most = std::max(most, std::sqrt(1e-9 / hurdle.quadratic_s2m5));
  return most;
}

/// All that is consistent, without repetition.
std::vector<std::vector<double>> enumerate(const Tree& tree) {
  std::vector<std::vector<double>> found;
  std::vector<int> lines(tree.lines.size(), 0), places(tree.places.size(), 0);
  const auto next = [&] {
    for (std::size_t l = 0; l < lines.size(); ++l) {
      if (++lines[l] <= static_cast<int>(tree.lines[l].hurdles.size())) return true;
      lines[l] = 0;
    }
    for (std::size_t v = 0; v < places.size(); ++v) {
      if (++places[v] < tree.places[v].ways()) return true;
      places[v] = 0;
    }
    return false;
  };
  do {
    const auto flows = Candidate(tree, lines, places).flows();
    if (!flows) continue;
    const bool known = std::any_of(found.begin(), found.end(), [&](const auto& other) {
      for (std::size_t l = 0; l < other.size(); ++l)
        if (std::abs(other[l] - (*flows)[l]) > 1e-8 * (1e-4 + std::abs(other[l]))) return false;
      return true;
    });
    if (!known) found.push_back(*flows);
  } while (next());
  return found;
}

}  // namespace

TEST_CASE("1,000 small trees have one consistent state among all that could be, and it is ours") {
  int trees = 0, crests = 0, short_draws = 0, spills = 0;
  for (std::uint64_t seed = 1; trees < 1000; ++seed) {
    const test::NastySystem nasty(seed, {5, 0, 1, false, true});
    const Tree tree(nasty.system);
    if (tree.candidates() > 4000.0) continue;  // the rest are too many to write out
    ++trees;
    CAPTURE(seed);
    const auto found = enumerate(tree);
    const auto state = steady::solve(nasty.system);
    REQUIRE(state.outcome == steady::Outcome::settled);
    for (const auto& flows : found)
      for (std::size_t l = 0; l < flows.size(); ++l)
        UNSCOPED_INFO((l == 0 ? "candidate: line " : "line ") << l << ": " << flows[l] << " m3/s");
    CHECK(found.size() == 1);
    if (found.size() != 1) continue;
    for (std::size_t l = 0; l < tree.pipelines; ++l) {
      INFO(state.lines[l].name << " " << state.lines[l].flow_m3s << " " << found[0][l]);
      // 1e-8 of the flow, and what the solver shows as none. Where nothing flows because the water just
      // touches the mouth of the line, a head of 1e-9 m, which is where the solver stops, drives this much
      // over it.
      const double truth = found[0][l], off = std::abs(state.lines[l].flow_m3s - truth);
      CHECK(off <= (std::abs(truth) < 1e-12 ? unseen(tree.lines[l]) : 1e-8 * std::abs(truth) + 2e-12));
      crests += state.lines[l].condition == steady::LineCondition::mixed;
    }
    for (const auto& joint : state.joints)
      short_draws += joint.draw_given_m3s > 0.0 && joint.draw_given_m3s < joint.draw_asked_m3s;
    for (const auto& box : state.boxes) spills += box.spill_m3s > 0.0;
  }
  // What the set must hold to mean anything.
  CAPTURE(crests, short_draws, spills);
  CHECK(std::min({crests, short_draws, spills}) >= 30);
}
