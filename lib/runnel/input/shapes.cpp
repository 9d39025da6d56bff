// The `shape:` of a tank.
#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"

namespace runnel::input {

namespace {

using document::Node;

constexpr const char* shape_example = "shape: {upright_cylinder: {diameter: 8 ft}}";

Length member(Fields& fields, const char* key, const char* example) {
  return fields.need_quantity<Length>(key, example).value_or(Length{});
}

network::DepthVolumeTable read_table(Reader& reader, const Node& node, const std::string& what) {
  constexpr const char* example = "table: [[0 ft, 0 gal], [2 ft, 350 gal], [4 ft, 900 gal]]";
  network::DepthVolumeTable table;
  const auto* rows = list_of(reader, node, what, example);
  if (!rows) return table;
  for (const auto& row : *rows) {
    if (row->kind != Node::Kind::sequence || row->items.size() != 2) {
      reader.error("bad-row", row->mark, "a row of " + what + " must be a depth and a volume",
                   "write for example [2 ft, 350 gal]");
      continue;
    }
    const auto depth = read_quantity<Length>(reader, *row->items[0], "a depth of " + what);
    const auto volume = read_quantity<Volume>(reader, *row->items[1], "a volume of " + what);
    table.depth.push_back(depth.value_or(Length{}));
    table.volume.push_back(volume.value_or(Volume{}));
  }
  return table;
}

network::TankShape read_sized(Reader& reader, const std::string& word, const Node& node, const Mark& key,
                              const std::string& of) {
  Fields fields(reader, node, key, "the shape of " + of);
  network::TankShape shape;
  if (word == "upright_cylinder") {
    shape = network::UprightCylinder{member(fields, "diameter", "diameter: 8 ft")};
  } else if (word == "lying_cylinder") {
    const Length diameter = member(fields, "diameter", "diameter: 5 ft");
    shape = network::LyingCylinder{diameter, member(fields, "length", "length: 12 ft")};
  } else if (word == "box") {
    const Length length = member(fields, "length", "length: 10 ft");
    shape = network::Cuboid{length, member(fields, "width", "width: 6 ft")};
  } else {
    const Length bottom = member(fields, "bottom_diameter", "bottom_diameter: 6 ft");
    const Length top = member(fields, "top_diameter", "top_diameter: 8 ft");
    shape = network::Frustum{bottom, top, member(fields, "height", "height: 5 ft")};
  }
  fields.close();
  return shape;
}

}  // namespace

network::TankShape read_shape(Reader& reader, const Node& node, const std::string& of) {
  static const std::vector<std::string> words{"upright_cylinder", "lying_cylinder", "box", "frustum",
                                              "table"};
  if (node.kind != Node::Kind::map || node.entries.size() != 1) {
    reader.error(
        "bad-shape", node.mark, "the shape of " + of + " must be one of the shapes with its measures",
        literal(shape_example) + "; there are upright_cylinder, lying_cylinder, box, frustum, table");
    return {};
  }
  const document::Entry& entry = node.entries.front();
  if (entry.key == "table") return read_table(reader, *entry.value, "the table of " + of);
  for (const std::string& word : words)
    if (entry.key == word) return read_sized(reader, word, *entry.value, entry.key_mark, of);
  const std::string near = reader.suggest(entry.key, words);
  reader.error("unknown-shape", entry.key_mark, document::quote(entry.key) + " is not a shape known here",
               near.empty() ? "there are upright_cylinder, lying_cylinder, box, frustum, table" : near);
  return {};
}

}  // namespace runnel::input
