// `outlets:` and `joints:`.
#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/place_sections.h"
#include "runnel/input/sections.h"
#include "runnel/network/draws.h"

namespace runnel::input {

namespace {

using document::Node;

network::Outlet read_outlet(Reader& reader, const std::string& name, const Mark& mark, const Node& node) {
  const Reader::Object object(reader, mark, &node);
  network::Outlet outlet;
  outlet.name = name;
  outlet.mark = mark;
  const std::string what = "outlet " + document::quote(name);
  Fields fields(reader, node, mark, what);
  outlet.on = fields.find_text("on").value_or("");
  outlet.elevation = fields.need_quantity<Length>("elevation", "elevation: 4640 ft").value_or(Length{});
  const auto opening = fields.find_quantity<Length>("opening");
  // Zero means "not given" in a model, so this must be caught here.
  if (opening && *opening == Length{})
    reader.error("not-positive", fields.mark("opening"), fields.label("opening") + " is zero",
                 "leave it out where the pipe simply ends");
  outlet.opening = opening.value_or(Length{});
  outlet.loss = fields.find_number("loss").value_or(1.0);
  if (fields.has("loss") && !fields.has("opening"))
    reader.error("loss-without-opening", fields.key_mark("loss"),
                 what + " has a loss but no opening to count it on",
                 "add the bore of the tap: opening: 1/2 in; or set exit_loss on the pipeline");
  if (const Node* set = fields.find("set")) {
    const auto open = read_opening(reader, *set, fields.label("set"));
    if (open && *open != 0.0 && *open != 1.0)
      reader.error("outlet-part-open", set->mark, what + " can only be shut or open",
                   "put a valve before it, and set the valve");
    outlet.shut = open && *open == 0.0;
  }
  outlet.draws = read_draws(reader, fields, "at " + what);
  fields.close();
  return outlet;
}

std::vector<std::string> read_straight(Reader& reader, const Node& node, const std::string& what) {
  std::vector<std::string> names;
  const auto* items = list_of(reader, node, what, "straight: [main, barn line]");
  for (std::size_t i = 0; items && i < items->size(); ++i)
    if (auto name = read_text(reader, *(*items)[i], "a pipeline in " + what))
      names.push_back(std::move(*name));
  if (items && items->empty())
    reader.error("not-two-lines", node.mark, what + " names no pipeline",
                 "write straight: [main, barn line]");
  return names;
}

network::Joint read_joint(Reader& reader, const std::string& name, const Mark& mark, const Node& node) {
  const Reader::Object object(reader, mark, &node);
  network::Joint joint;
  joint.name = name;
  joint.mark = mark;
  const std::string what = "joint " + document::quote(name);
  Fields fields(reader, node, mark, what);
  joint.elevation = fields.need_quantity<Length>("elevation", "elevation: 4701 ft").value_or(Length{});
  fields.not_both("draws", "draw");
  joint.draw = fields.find_quantity<Flow>("draw").value_or(Flow{});
  joint.draws = read_draws(reader, fields, "at " + what);
  if (!joint.draws.empty()) {
    joint.draw = network::busiest_hour(joint.draws);
  } else if (joint.draw.si() > 0.0) {
    joint.draws = {network::drawn_always(joint.draw)};
    joint.draws.back().mark = mark;
  }
  if (const Node* straight = fields.find("straight"))
    joint.straight = read_straight(reader, *straight, fields.label("straight"));
  fields.close();
  return joint;
}

}  // namespace

void read_outlets(Reader& reader, const Node& node, network::Model& system) {
  each_named(reader, node, node.mark, "outlets",
             [&](const std::string& name, const Mark& mark, const Node& value) {
               system.outlets.push_back(read_outlet(reader, name, mark, value));
             });
}

void read_joints(Reader& reader, const Node& node, network::Model& system) {
  each_named(reader, node, node.mark, "joints",
             [&](const std::string& name, const Mark& mark, const Node& value) {
               system.joints.push_back(read_joint(reader, name, mark, value));
             });
}

namespace schema {

Json outlets() {
  Json outlet = block(
      "A tap, a pipe end, a trough valve: open to the air.",
      {{"elevation", value(ValueKind::elevation, "The opening.", "4640 ft")},
       {"opening", value(ValueKind::length, "Bore of the opening.", "1/2 in", "the whole bore of the pipe")},
       {"loss", number("K on the opening, the jet's own 1.0 included.", 1, "2.5", "1.0")},
       {"on", value(ValueKind::name, "The joint it hangs on, if no pipeline ends at it.", "gate tee",
                    "a pipeline ends here")},
       {"set", value(ValueKind::opening, "Whether it is `shut` or `open`.", "shut", "open")},
       {"draws",
        unless("it stands open all day",
               shown("[{for: people at a tapstand, head: 60, hours: [6, 9]}]",
                     defined_as("draws",
                                "What is drawn here; the tap lets out no more, unless more is asked.")))}},
      {"elevation"});
  outlet["dependencies"] = Json{{"loss", {"opening"}}, {"on", {"opening"}}};
  return named("Outlets", "Where water leaves the system, by name.", outlet);
}

namespace {

/// The run of a tee.
Json straight() {
  Json two =
      shown("[main, barn line]",
            list("The two pipelines that lie straight through a tee. What it costs to run on and to turn "
                 "into a branch is then counted.",
                 value(ValueKind::name, "Name of a pipeline.", "main"), 2));
  two["maxItems"] = 2;
  two["examples"] = Json::array({Json::array({"main", "barn line"})});
  return two;
}

}  // namespace

Json joints() {
  Json joint = block(
      "A joint.",
      {{"elevation", value(ValueKind::elevation, "The pipe's axis there.", "4701 ft")},
       {"draw", value(ValueKind::flow, "What is taken there at all times.", "0.5 gal/min", "nothing")},
       {"draws",
        unless("nothing but `draw`", shown("[{flow: 600 gal/day, hours: [5, 8]}]",
                                           defined_as("draws", "What is taken there through the day.")))},
       {"straight", unless("its lines meet without loss", straight())}},
      {"elevation"});
  // Editors can say which key is one too many; of `not` they only say that something is not allowed.
  joint["dependencies"] = Json{{"draws", {{"properties", {{"draw", false}}}}}};
  return named("Joints", "Tees, reducers, ends; by name.", joint);
}

}  // namespace schema

}  // namespace runnel::input
