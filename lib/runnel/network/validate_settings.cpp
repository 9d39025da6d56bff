// Settings: they change things that exist and can be changed.
#include <unordered_map>

#include "runnel/network/complaints.h"
#include "runnel/network/part_loss.h"

namespace runnel::network {

namespace {

/// Everything that a setting could name, and what it is.
struct Movables {
  enum class What { valve, outlet, other_part };
  std::unordered_map<std::string, What> parts;
  std::unordered_map<std::string, std::pair<const Pipeline*, const Part*>> valve_on;
  std::vector<std::string> valves, boxes, tanks, drawn;

  explicit Movables(const Model& system) {
    for (const Pipeline& line : system.pipelines)
      for (const Part& part : line.parts) {
        if (part.name.empty() || part.kind == PartKind::fitting) continue;
        const bool valve = part.kind == PartKind::valve;
        parts.emplace(part.name, valve ? What::valve : What::other_part);
        if (!valve) continue;
        valves.push_back(part.name);
        valve_on.emplace(part.name, std::pair{&line, &part});
      }
    for (const Outlet& o : system.outlets) {
      drawn.push_back(o.name);
      parts.emplace(o.name, What::outlet);
      valves.push_back(o.name);
    }
    for (const Box& b : system.boxes) boxes.push_back(b.name);
    for (const Tank& t : system.tanks) tanks.push_back(t.name);
    for (const Joint& j : system.joints) drawn.push_back(j.name);
  }
};

class SettingCheck {
 public:
  SettingCheck(const NameIndex& index, const Movables& movables, const Setting& setting,
               Complaints& complaints)
      : index_(index), movables_(movables), setting_(setting), complaints_(complaints) {}

  void check() {
    for (const auto& [name, mark] : setting_.shut) moves(name, mark);
    for (const auto& [name, mark] : setting_.open) moves(name, mark);
    for (const auto& part : setting_.partly) {
      const auto what = moves(part.name, part.mark);
      if (!complaints_.whole(part.mark)) continue;
      if (!(part.open >= 0.0 && part.open <= 1.0))
        complaints_.error("opening-out-of-range", part.mark, "value",
                          quoted(part.name) + " is set {0} open; it can be anything from 0 % (shut) to 100 %",
                          {{Kind::percent, part.open}});
      else if (what == Movables::What::valve)
        check_loss(part);
      else if (what == Movables::What::outlet && part.open > 0.0 && part.open < 1.0)
        complaints_.error("outlet-part-open", part.mark, "value",
                          "the outlet " + quoted(part.name) + " can only be shut or open", {},
                          "put a valve before it, and set the valve");
    }
    check_figures();
  }

 private:
  void check_loss(const Setting::Opening& opening) {
    if (opening.loss) {
      complaints_.not_negative(opening.mark, "loss", {Kind::number, *opening.loss},
                               "the loss of " + quoted(opening.name), loss_bounds);
      return;
    }
    if (opening.open <= 0.0 || opening.open >= 1.0) return;
    const auto& [line, part] = movables_.valve_on.at(opening.name);
    if (!complaints_.whole(part->mark) || !complaints_.whole(line->mark) || part->open == opening.open)
      return;
    if (published_loss_of(*line, *part, opening.open)) return;
    complaints_.error(
        "needs-loss", opening.mark, "value",
        "no table gives the loss of " + part->type + " " + quoted(opening.name) + " at {0} open",
        {{Kind::percent, opening.open}}, "give it yourself: V1: {{open: 40 %, loss: 20}}");
  }

  /// A washout is opened only for flushing, which no steady state shows.
  static std::string with_washouts(const std::string& suggestion) {
    const std::string flush = "to see a washout run, write it as an outlet that hangs on a joint";
    return suggestion.empty() ? flush : suggestion + "; " + flush;
  }

  std::optional<Movables::What> moves(const std::string& name, const Mark& mark) {
    auto [first, fresh] = seen_.try_emplace(name, mark);
    if (!fresh) {
      Finding& f = complaints_.error(
          "set-twice", mark, "", "setting " + quoted(setting_.name) + " names " + quoted(name) + " twice");
      f.other = first->second;
      f.other_note = "first named here";
    }
    auto at = movables_.parts.find(name);
    if (at == movables_.parts.end()) {
      complaints_.error("no-such-valve", mark, "", "there is no valve and no outlet named " + quoted(name),
                        {}, complaints_.suggest(name, movables_.valves));
      return std::nullopt;
    }
    if (at->second == Movables::What::other_part)
      complaints_.error("not-a-valve", mark, "",
                        quoted(name) + " is neither a valve nor a tap, so no setting can shut or open it", {},
                        with_washouts(complaints_.suggest(name, movables_.valves)));
    return at->second;
  }

  void missing(const char* code, const char* what, const std::string& name, const Mark& mark,
               const std::vector<std::string>& names) {
    complaints_.error(code, mark, "", std::string("there is no ") + what + " named " + quoted(name), {},
                      complaints_.suggest(name, names));
  }

  void check_figures() {
    for (const auto& y : setting_.yields) {
      if (!index_.box(y.box)) missing("no-such-box", "box", y.box, y.mark, movables_.boxes);
      complaints_.not_negative(y.mark, "value", {Kind::flow, y.yield.cubic_metres_per_second()},
                               "the yield of box " + quoted(y.box), flow_bounds_m3s);
    }
    for (const auto& l : setting_.levels) {
      const Tank* tank = index_.tank(l.tank);
      if (!tank) missing("no-such-tank", "tank", l.tank, l.mark, movables_.tanks);
      if (!tank || !complaints_.whole(tank->mark) || !complaints_.whole(l.mark)) continue;
      const Figure level{Kind::elevation, l.level.metres()};
      if (l.level > tank->lip)
        complaints_.error("level-above-lip", l.mark, "value",
                          "the level of tank " + quoted(l.tank) + " ({0}) is above its lip ({1})",
                          {level, {Kind::elevation, tank->lip.metres()}});
      else if (l.level < tank->floor)
        complaints_.error("level-below-floor", l.mark, "value",
                          "the level of tank " + quoted(l.tank) + " ({0}) is below its floor ({1})",
                          {level, {Kind::elevation, tank->floor.metres()}});
    }
    for (const auto& d : setting_.draws) {
      if (!index_.joint(d.joint) && !index_.outlet(d.joint))
        missing("no-such-joint", "joint or tap", d.joint, d.mark, movables_.drawn);
      complaints_.not_negative(d.mark, "value", {Kind::flow, d.draw.cubic_metres_per_second()},
                               "the draw at " + quoted(d.joint), flow_bounds_m3s);
    }
  }

  const NameIndex& index_;
  const Movables& movables_;
  const Setting& setting_;
  Complaints& complaints_;
  std::unordered_map<std::string, Mark> seen_;
};

}  // namespace

void validate_settings(const Model& system, const NameIndex& index, Complaints& complaints) {
  if (system.settings.empty()) return;
  const Movables movables(system);
  for (const Setting& setting : system.settings) {
    const bool changes = !setting.shut.empty() || !setting.open.empty() || !setting.partly.empty() ||
                         !setting.yields.empty() || !setting.levels.empty() || !setting.draws.empty();
    if (setting.name == "normal" && changes)
      complaints.error("normal-is-as-drawn", setting.mark, "",
                       "the setting \"normal\" is the system as drawn; it cannot change anything", {},
                       "draw it as it is, or give this setting another name");
    SettingCheck(index, movables, setting, complaints).check();
  }
}

}  // namespace runnel::network
