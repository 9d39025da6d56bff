// `settings:`.
#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"

namespace runnel::input {

namespace {

using document::Node;
using network::Setting;

/// A list of names, or one name.
void read_names(Reader& reader, const Node& node, const std::string& what,
                std::vector<std::pair<std::string, Mark>>& names) {
  if (node.kind == Node::Kind::scalar) {
    if (const auto name = read_text(reader, node, what)) names.emplace_back(*name, node.mark);
    return;
  }
  const auto* items = list_of(reader, node, what, "[V1, V2]");
  for (std::size_t i = 0; items && i < items->size(); ++i)
    if (const auto name = read_text(reader, *(*items)[i], "a name in " + what))
      names.emplace_back(*name, (*items)[i]->mark);
}

/// `V1: 40 %` or `V1: {open: 40 %, loss: 20}`.
Setting::Opening read_turned(Reader& reader, const std::string& name, const Mark& mark, const Node& node) {
  Setting::Opening turned{name, 1.0, mark, std::nullopt};
  const std::string what = "the setting of " + document::quote(name);
  if (node.kind != Node::Kind::map) {
    turned.open = read_opening(reader, node, what).value_or(1.0);
    return turned;
  }
  Fields fields(reader, node, mark, what);
  if (const Node* open = fields.need("open", "open: 40 %"))
    turned.open = read_opening(reader, *open, fields.label("open")).value_or(1.0);
  turned.loss = fields.find_number("loss");
  fields.close();
  return turned;
}

/// Calls `read(name, mark, value)` for the entries of a member such as `yield: {upper box: 2 gpm}`; each is
/// an object of its own, so that findings point at its value.
template <class Read>
void each_figure(Reader& reader, Fields& fields, const char* key, Read read) {
  const Node* node = fields.find(key);
  if (!node) return;
  each_named(reader, *node, fields.key_mark(key), key,
             [&](const std::string& name, const Mark& mark, const Node& value) {
               Reader::Object object(reader, mark, &value);
               const Node* open = value.find("open");
               object.place("value", open ? open->mark : value.mark);
               read(name, mark, value);
             });
}

Setting read_setting(Reader& reader, const std::string& name, const Mark& mark, const Node& node) {
  const Reader::Object object(reader, mark, &node);
  Setting setting;
  setting.name = name;
  setting.mark = mark;
  Fields fields(reader, node, mark, "setting " + document::quote(name));
  if (const Node* shut = fields.find("shut")) read_names(reader, *shut, fields.label("shut"), setting.shut);
  if (const Node* open = fields.find("open")) read_names(reader, *open, fields.label("open"), setting.open);
  each_figure(reader, fields, "set", [&](const std::string& part, const Mark& at, const Node& value) {
    setting.partly.push_back(read_turned(reader, part, at, value));
  });
  each_figure(reader, fields, "yield", [&](const std::string& box, const Mark& at, const Node& value) {
    const auto yield = read_quantity<Flow>(reader, value, "the yield of " + document::quote(box));
    setting.yields.push_back({box, yield.value_or(Flow{}), at});
  });
  each_figure(reader, fields, "level", [&](const std::string& tank, const Mark& at, const Node& value) {
    const auto level = read_quantity<Length>(reader, value, "the level of " + document::quote(tank));
    setting.levels.push_back({tank, level.value_or(Length{}), at});
  });
  each_figure(reader, fields, "draw", [&](const std::string& joint, const Mark& at, const Node& value) {
    const auto draw = read_quantity<Flow>(reader, value, "the draw of " + document::quote(joint));
    setting.draws.push_back({joint, draw.value_or(Flow{}), at});
  });
  // Its content is read with the whole model it is laid over (read_model.cpp).
  if (const Node* with = fields.find("with"); with && with->kind != Node::Kind::map)
    reader.error("not-a-block", with->mark, fields.label("with") + " must be a block written like the model",
                 "write for example with: {{pipelines: {{main: {{pipe: PE4710 DR11 2 in}}}}}}");
  fields.close();
  return setting;
}

}  // namespace

void read_settings(Reader& reader, const Node& node, network::Model& system) {
  each_named(reader, node, node.mark, "settings",
             [&](const std::string& name, const Mark& mark, const Node& value) {
               system.settings.push_back(read_setting(reader, name, mark, value));
             });
}

}  // namespace runnel::input
