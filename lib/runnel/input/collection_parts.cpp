#include "runnel/input/collection_parts.h"

#include <algorithm>

#include "runnel/document/quote.h"

namespace runnel::input {

namespace {

using document::Node;

std::vector<network::Sieve> read_sieves(Reader& reader, Fields& fields) {
  constexpr const char* example = "sieves: [[0.25 mm, 40 %], [1 mm, 85 %]]";
  std::vector<network::Sieve> sieves;
  const Node* node = fields.find("sieves");
  if (!node) return sieves;
  const std::string what = fields.label("sieves");
  const auto* items = list_of(reader, *node, what, example);
  for (std::size_t i = 0; items && i < items->size(); ++i) {
    const Node& pair = *(*items)[i];
    if (pair.kind != Node::Kind::sequence || pair.items.size() != 2) {
      reader.error("not-a-sieve", pair.mark, "each of " + what + " is a size and the share that passes it",
                   std::string("write for example ") + example);
      continue;
    }
    const auto size = read_quantity<Length>(reader, *pair.items[0], "a sieve of " + fields.what());
    const auto finer = read_share(reader, *pair.items[1], "the share that passes in " + fields.what());
    if (size && finer) sieves.push_back({*size, *finer});
  }
  return sieves;
}

network::FilterLayer read_filter_layer(Reader& reader, const Node& node) {
  const Reader::Object object(reader, node.mark, &node);
  Fields fields(reader, node, node.mark, "this layer");
  network::FilterLayer layer;
  layer.mark = node.mark;
  layer.name = fields.find_text("name").value_or("");
  layer.sieves = read_sieves(reader, fields);
  layer.cloth_opening = fields.find_quantity<Length>("cloth_opening").value_or(Length{});
  layer.cloth_permittivity_ps = fields.find_number("cloth_permittivity");
  layer.length = fields.find_quantity<Length>("length").value_or(Length{});
  layer.width = fields.find_quantity<Length>("width").value_or(Length{});
  layer.thickness = fields.find_quantity<Length>("thickness").value_or(Length{});
  fields.not_both("sieves", "cloth_opening");
  const bool is = fields.has("sieves") || fields.has("cloth_opening");
  fields.close();
  if (fields.usable() && !is && object.whole())
    reader.error("layer-of-nothing", node.mark,
                 "this layer says neither its sieves nor the opening of a cloth",
                 "write sieves: [[2 mm, 15 %], [8 mm, 85 %]] for stone, or cloth_opening: 0.2 mm");
  return layer;
}

}  // namespace

std::optional<double> read_share(Reader& reader, const Node& node, const std::string& what) {
  const auto parsed = read_parsed(reader, node, units::Dimension::ratio, what);
  if (!parsed) return std::nullopt;
  if (parsed->si >= 0.0 && parsed->si <= 1.0) return parsed->si;
  reader.error("not-a-share", node.mark, what + " must lie between 0 % and 100 %", "write for example 40 %");
  return std::nullopt;
}

bool yes_or_no(Reader& reader, Fields& fields, const char* key) {
  const auto text = fields.find_text(key);
  if (!text || *text == "yes" || *text == "true") return text.has_value();
  if (*text != "no" && *text != "false")
    reader.error("not-yes-or-no", fields.mark(key), fields.label(key) + " is either yes or no",
                 "write yes or no");
  return false;
}

void check_word(Reader& reader, const Mark& mark, const std::string& word,
                const std::vector<std::string>& allowed, const char* kind) {
  if (word.empty() || std::find(allowed.begin(), allowed.end(), word) != allowed.end()) return;
  std::string hint = reader.suggest(word, allowed);
  if (hint.empty()) {
    hint = "there are ";
    for (const std::string& one : allowed) hint += (one == allowed.front() ? "" : ", ") + one;
  }
  reader.error("unknown-word", mark, document::quote(word) + " is not " + kind + " that is known here", hint);
}

network::BaseSoil read_base_soil(Reader& reader, const Node& node, const Mark& key, const std::string& of) {
  Fields fields(reader, node, key, "the soil of " + of);
  network::BaseSoil soil;
  soil.mark = key;
  soil.sieves = read_sieves(reader, fields);
  soil.dispersive = yes_or_no(reader, fields, "dispersive");
  fields.close();
  return soil;
}

std::vector<network::FilterLayer> read_filter_layers(Reader& reader, const Node& node,
                                                     const std::string& what) {
  std::vector<network::FilterLayer> layers;
  const auto* items = list_of(reader, node, what, "layers: [{sieves: [[2 mm, 15 %], [8 mm, 85 %]]}]");
  for (std::size_t i = 0; items && i < items->size(); ++i)
    layers.push_back(read_filter_layer(reader, *(*items)[i]));
  return layers;
}

network::SpringWall read_spring_wall(Reader& reader, const Node& node, const Mark& key,
                                     const std::string& of) {
  Fields fields(reader, node, key, "the wall of " + of);
  network::SpringWall wall;
  wall.mark = key;
  wall.spring = fields.find_quantity<Length>("spring");
  wall.water_behind = fields.find_quantity<Length>("water_behind");
  wall.water_in_front = fields.find_quantity<Length>("water_in_front");
  wall.top = fields.find_quantity<Length>("top");
  wall.highest_ground = fields.find_quantity<Length>("highest_ground");
  wall.depth_behind = fields.find_quantity<Length>("depth_behind").value_or(Length{});
  wall.depth_in_front = fields.find_quantity<Length>("depth_in_front").value_or(Length{});
  wall.width = fields.find_quantity<Length>("width").value_or(Length{});
  if (const Node* ground = fields.find("ground")) {
    wall.ground = read_text(reader, *ground, fields.label("ground")).value_or("");
    check_word(reader, ground->mark, wall.ground, network::ground_words(), "a kind of ground");
  }
  fields.close();
  return wall;
}

}  // namespace runnel::input
