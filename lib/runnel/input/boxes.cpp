// `boxes:`.
#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/place_sections.h"
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

namespace schema {

Json boxes() {
  Json times = shown("[157 s, 161 s, 155 s]", list("How long it took to fill, each time.",
                                                   value(ValueKind::duration, "A time.", "157 s"), 1));
  Json tests =
      block("Timed buckets; the yield is the volume over the mean time.",
            {{"volume", value(ValueKind::volume, "What the bucket holds.", "5 gal")}, {"times", times}},
            {"volume", "times"});
  Json plan = block("Inside measures, seen from above.",
                    {{"length", value(ValueKind::length, "Length.", "4 ft")},
                     {"width", value(ValueKind::length, "Width.", "3 ft")}},
                    {"length", "width"});
  Json falling = block("A yield that falls while no rain comes.",
                       {{"at", value(ValueKind::flow, "What the spring gave on that day.", "1.9 gal/min")},
                        {"date", value(ValueKind::text, "The day.", "2026-05-02", "not known")},
                        {"halves_in", value(ValueKind::duration, "The time in which it falls by half.",
                                            "90 days", "it stays as it is")}},
                       {"at"});
  Json yield =
      unless("it has no spring of its own",
             shown("1.9 gal/min",
                   either("What the spring gives; or what it gave on a day, and how it falls from then on.",
                          {value(ValueKind::flow, "What the spring gives.", "1.9 gal/min"), falling})));
  Json years = unless("not known, and no chance is told",
                      shown("{2024: 1.2 gal/min, 2025: 1.6 gal/min}",
                            named("Yields of years", "The least that the spring gave in each year.",
                                  value(ValueKind::flow, "The least of that year.", "1.2 gal/min"))));
  years["propertyNames"] = Json{{"pattern", "^[0-9]{4}$"}};
  Json spread =
      value(ValueKind::opening, "Deviation between years as a share of their mean, of springs like it.",
            "30 %", "not known");
  spread[kind_remark] = "a share";
  Json box = block(
      "A collection box; without yield an open break-pressure box.",
      {{"yield", yield},
       {"bucket_tests", unless("`yield` says it", tests)},
       {"yearly_yields", years},
       {"yearly_spread", spread},
       {"outlet", value(ValueKind::elevation, "Where the outlet pipe leaves, on its axis.", "4755.8 ft")},
       {"lip", value(ValueKind::elevation, "The overflow lip; water cannot stand higher.", "4757.4 ft")},
       {"floor", value(ValueKind::elevation, "The floor.", "4755.0 ft", "not known")},
       {"rim", value(ValueKind::elevation, "Top of the wall.", "4758.0 ft", "not known")},
       {"overflow", spills()},
       {"plan", unless("not known", plan)}},
      {"outlet", "lip"});
  // Editors can say which key is one too many; of `not` they only say that something is not allowed.
  box["dependencies"] = Json{{"yield", {{"properties", {{"bucket_tests", false}}}}}};
  return named("Collection boxes", "Collection boxes and open break-pressure boxes, by name.", box);
}

}  // namespace schema

}  // namespace runnel::input
