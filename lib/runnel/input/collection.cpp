// `collection:`, the works at the spring.
#include "runnel/input/collection_parts.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"

namespace runnel::input {

namespace {

using document::Node;

network::GatheringPipe read_gathering_pipe(Reader& reader, const Node& node, const Mark& key,
                                           const std::string& of) {
  Fields fields(reader, node, key, "the drilled pipe of " + of);
  network::GatheringPipe pipe;
  pipe.mark = key;
  pipe.bore = fields.need_quantity<Length>("bore", "bore: 4 in").value_or(Length{});
  pipe.drilled = fields.need_quantity<Length>("length", "length: 10 ft").value_or(Length{});
  pipe.holes_a_metre = fields.need_number("holes_per_metre", "holes_per_metre: 60").value_or(0.0);
  fields.not_both("hole", "slot");
  const auto slot = fields.find_quantity<Length>("slot");
  pipe.slots = slot.has_value();
  pipe.hole = slot ? *slot : fields.need_quantity<Length>("hole", "hole: 8 mm").value_or(Length{});
  pipe.head = fields.find_quantity<Length>("head").value_or(Length{});
  fields.close();
  return pipe;
}

network::SeepageFace read_seepage(Reader& reader, const Node& node, const Mark& key, const std::string& of) {
  Fields fields(reader, node, key, "the seepage of " + of);
  network::SeepageFace face;
  face.mark = key;
  face.width = fields.need_quantity<Length>("width", "width: 10 m").value_or(Length{});
  face.height = fields.need_quantity<Length>("height", "height: 0.5 m").value_or(Length{});
  if (const Node* slope = fields.need("slope", "slope: 5 %")) {
    const auto parsed = read_parsed(reader, *slope, units::Dimension::slope, fields.label("slope"));
    if (parsed) face.slope = parsed->si;
  }
  fields.close();
  return face;
}

std::vector<network::RiserRow> read_intake_riser(Reader& reader, const Node& node, const std::string& what) {
  constexpr const char* example = "riser: [{at: 4756.2 ft, hole: 10 mm, count: 8}]";
  std::vector<network::RiserRow> rows;
  const auto* items = list_of(reader, node, what, example);
  for (std::size_t i = 0; items && i < items->size(); ++i) {
    Fields fields(reader, *(*items)[i], (*items)[i]->mark, "a row of " + what);
    network::RiserRow row;
    row.elevation = fields.need_quantity<Length>("at", "at: 4756.2 ft").value_or(Length{});
    row.hole = fields.need_quantity<Length>("hole", "hole: 10 mm").value_or(Length{});
    row.count = fields.need_number("count", "count: 8").value_or(0.0);
    fields.close();
    rows.push_back(row);
  }
  return rows;
}

std::vector<network::KeptDistance> read_distances(Reader& reader, const Node& node, const Mark& key) {
  std::vector<network::KeptDistance> distances;
  each_named(reader, node, key, "distances",
             [&](const std::string& name, const Mark& mark, const Node& value) {
               check_word(reader, mark, name, network::distance_words(), "a thing to keep away from");
               const auto far = read_quantity<Length>(reader, value, "the distance of " + literal(name));
               distances.push_back({name, far.value_or(Length{}), mark});
             });
  return distances;
}

network::Collection read_one(Reader& reader, const std::string& name, const Mark& mark, const Node& node) {
  const Reader::Object object(reader, mark, &node);
  network::Collection works;
  works.box = name;
  works.mark = mark;
  const std::string what = "the collection of box " + literal("\"" + name + "\"");
  Fields fields(reader, node, mark, what);
  works.greatest_flow = fields.find_quantity<Flow>("greatest_flow");
  if (const Node* soil = fields.find("base_soil"))
    works.soil = read_base_soil(reader, *soil, fields.key_mark("base_soil"), what);
  if (const Node* rules = fields.find("filter_rules")) {
    works.filter_rules = read_text(reader, *rules, fields.label("filter_rules")).value_or("");
    check_word(reader, rules->mark, works.filter_rules, network::filter_rules_words(), "an edition of rules");
  }
  if (const Node* layers = fields.find("layers"))
    works.layers = read_filter_layers(reader, *layers, fields.label("layers"));
  if (const Node* seepage = fields.find("seepage"))
    works.seepage = read_seepage(reader, *seepage, fields.key_mark("seepage"), what);
  if (const Node* pipe = fields.find("drilled_pipe"))
    works.pipe = read_gathering_pipe(reader, *pipe, fields.key_mark("drilled_pipe"), what);
  if (const Node* riser = fields.find("riser"))
    works.riser = read_intake_riser(reader, *riser, fields.label("riser"));
  if (fields.has("overflow_screened"))
    works.overflow_screened = yes_or_no(reader, fields, "overflow_screened");
  works.vent = fields.find_quantity<Length>("vent").value_or(Length{});
  works.strainer = fields.find_quantity<Length>("strainer").value_or(Length{});
  works.depth = fields.find_quantity<Length>("water_depth").value_or(Length{});
  if (const Node* wall = fields.find("wall"))
    works.wall = read_spring_wall(reader, *wall, fields.key_mark("wall"), what);
  if (const Node* distances = fields.find("distances"))
    works.distances = read_distances(reader, *distances, fields.key_mark("distances"));
  if (const Node* bleach = fields.find("bleach"))
    works.bleach_percent = 100.0 * read_share(reader, *bleach, fields.label("bleach")).value_or(0.0);
  fields.close();
  return works;
}

}  // namespace

void read_collections(Reader& reader, const Node& node, network::Model& model) {
  each_named(reader, node, node.mark, "collection",
             [&](const std::string& name, const Mark& mark, const Node& value) {
               model.collections.push_back(read_one(reader, name, mark, value));
             });
}

}  // namespace runnel::input
