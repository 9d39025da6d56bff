// `boxes:`.
#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"

namespace runnel::input {

namespace {

using document::Node;

void read_plan(Reader& reader, const Node& node, const Mark& key, const std::string& of, network::Box& box) {
  Fields fields(reader, node, key, "the plan of " + of);
  const auto length = fields.need_quantity<Length>("length", "length: 4 ft");
  const auto width = fields.need_quantity<Length>("width", "width: 3 ft");
  // Zero means "not given" in a model, so this must be caught here.
  if (length && *length == Length{})
    reader.error("not-positive", fields.mark("length"), fields.label("length") + " is zero");
  if (width && *width == Length{})
    reader.error("not-positive", fields.mark("width"), fields.label("width") + " is zero");
  box.plan_length = length.value_or(Length{});
  box.plan_width = width.value_or(Length{});
  fields.close();
}

network::Box read_box(Reader& reader, const std::string& name, const Mark& mark, const Node& node) {
  const Reader::Object object(reader, mark, &node);
  network::Box box;
  box.name = name;
  box.mark = mark;
  const std::string what = "box " + document::quote(name);
  Fields fields(reader, node, mark, what);
  read_spring(reader, fields, box);
  box.outlet = fields.need_quantity<Length>("outlet", "outlet: 4755.8 ft").value_or(Length{});
  box.lip = fields.need_quantity<Length>("lip", "lip: 4757.4 ft").value_or(Length{});
  box.floor = fields.find_quantity<Length>("floor");
  box.rim = fields.find_quantity<Length>("rim");
  if (const Node* works = fields.find("overflow"))
    box.overflow = read_overflow(reader, *works, fields.key_mark("overflow"), what);
  if (const Node* plan = fields.find("plan")) read_plan(reader, *plan, fields.key_mark("plan"), what, box);
  fields.close();
  return box;
}

}  // namespace

void read_boxes(Reader& reader, const Node& node, network::Model& system) {
  each_named(reader, node, node.mark, "boxes",
             [&](const std::string& name, const Mark& mark, const Node& value) {
               system.boxes.push_back(read_box(reader, name, mark, value));
             });
}

}  // namespace runnel::input
