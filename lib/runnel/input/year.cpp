// `year:`.
#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"

namespace runnel::input {

namespace {

using document::Node;
using Row = network::Year::Row;

/// `yields: {upper box: [2 gal/min, ...]}`; each row is an object of its own, its flows its members.
void read_rows(Reader& reader, Fields& fields, const char* key, std::vector<Row>& rows) {
  const Node* node = fields.find(key);
  if (!node) return;
  each_named(reader, *node, fields.key_mark(key), key,
             [&](const std::string& name, const Mark& mark, const Node& value) {
               Reader::Object object(reader, mark, &value);
               object.place("value", value.mark);
               Row row{name, {}, mark};
               const std::string what = std::string("`") + key + "` of " + document::quote(name);
               const auto* items = list_of(reader, value, what, "[2 gal/min, 1.8 gal/min, ...]");
               for (std::size_t i = 0; items && i < items->size(); ++i) {
                 const auto flow = read_quantity<Flow>(reader, *(*items)[i], "a flow in " + what);
                 row.flows.push_back(flow.value_or(Flow{}));
               }
               rows.push_back(std::move(row));
             });
}

}  // namespace

network::Year read_year(Reader& reader, const Node& node) {
  network::Year year;
  const Reader::Object object(reader, node.mark, &node);
  Fields fields(reader, node, node.mark, "the year");
  read_rows(reader, fields, "yields", year.yields);
  read_rows(reader, fields, "demands", year.demands);
  const bool says = fields.has("yields") || fields.has("demands");
  fields.close();
  if (fields.usable() && !says && object.whole())
    reader.error("empty-year", node.mark, "the year names neither yields nor demands",
                 "write for example yields: {{upper box: [...]}}, with 12 or 52 flows");
  return year;
}

}  // namespace runnel::input
