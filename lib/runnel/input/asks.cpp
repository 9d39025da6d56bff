// `asks:` and `claims:`.
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"

namespace runnel::input {

namespace {

using document::Node;
using network::Ask;
using network::AskKind;

std::optional<Pressure> find_pressure(Reader& reader, Fields& fields, const network::Site& site,
                                      const char* key = "pressure") {
  const Node* node = fields.find(key);
  return node ? read_pressure(reader, *node, fields.label(key), site.specific_weight_nm3()) : std::nullopt;
}

/// How fast water may run: a need of a line or of all lines, at no place.
void read_velocity_ask(Reader& reader, const Node& node, Fields& fields, network::Model& system) {
  const Reader::Object object(reader, node.mark, &node);
  network::VelocityAsk ask;
  ask.mark = node.mark;
  ask.in = fields.find_text("in").value_or("");
  ask.at_most = fields.find_quantity<Velocity>("velocity_at_most");
  ask.at_least = fields.find_quantity<Velocity>("velocity_at_least");
  ask.note = fields.find_text("note").value_or("");
  for (const char* key : {"at", "flow", "pressure", "full_within"})
    if (fields.find(key))
      reader.error(
          "velocity-has-no-place", fields.key_mark(key),
          std::string("a velocity is asked of a pipeline, so `") + key + "` does not stand beside it",
          "write two asks: {{in: main, velocity_at_most: 1.5 m/s}} and one with `at`");
  fields.close();
  system.velocity_asks.push_back(ask);
}

/// One entry may state several needs; each becomes an Ask of its own.
void read_ask(Reader& reader, const Node& node, network::Model& system) {
  const Reader::Object object(reader, node.mark, &node);
  Fields fields(reader, node, node.mark, "this ask");
  if (fields.has("velocity_at_most") || fields.has("velocity_at_least"))
    return read_velocity_ask(reader, node, fields, system);
  Ask ask;
  ask.mark = node.mark;
  ask.at = fields.need_text("at", "at: barn tank").value_or("");
  const auto flow = fields.find_quantity<Flow>("flow");
  const auto pressure = find_pressure(reader, fields, system.site);
  const auto within = fields.find_quantity<Duration>("full_within");
  ask.note = fields.find_text("note").value_or("");
  const bool asks = fields.has("flow") || fields.has("pressure") || fields.has("full_within");
  fields.close();
  if (fields.usable() && !asks && object.whole())
    reader.error("asks-nothing", node.mark, "this need does not say what is wanted",
                 "add a flow, a pressure or full_within: {{at: barn tank, flow: 1.2 gal/min}}");
  const auto add = [&](AskKind kind) {
    ask.kind = kind;
    system.asks.push_back(ask);
  };
  ask.flow = flow.value_or(Flow{});
  ask.pressure = pressure.value_or(Pressure{});
  ask.within = within.value_or(Duration{});
  if (flow) add(AskKind::flow);
  if (pressure) add(AskKind::pressure);
  if (within) add(AskKind::full_within);
  if (!flow && !pressure && !within) add(AskKind::flow);  // so that its place is still checked
}

void read_claim(Reader& reader, const Node& node, network::Model& system) {
  const Reader::Object object(reader, node.mark, &node);
  Fields fields(reader, node, node.mark, "this claim");
  network::Claim claim;
  claim.mark = node.mark;
  claim.at = fields.need_text("at", "at: barn tank").value_or("");
  claim.flow = fields.find_quantity<Flow>("flow");
  claim.pressure = find_pressure(reader, fields, system.site);
  claim.static_pressure = find_pressure(reader, fields, system.site, "static_pressure");
  claim.full_after = fields.find_quantity<Duration>("full_after");
  claim.setting = fields.find_text("setting").value_or("");
  claim.from = fields.find_text("from").value_or("");
  bool claims = false;
  for (const char* key : {"flow", "pressure", "static_pressure", "full_after"})
    claims = claims || fields.has(key);
  fields.close();
  if (fields.usable() && !claims && object.whole())
    reader.error("claims-nothing", node.mark, "this claim does not say what is claimed",
                 "add a flow, a pressure or full_after: {{at: barn tank, flow: 3 gal/min}}");
  system.claims.push_back(claim);
}

}  // namespace

void read_asks(Reader& reader, const Node& node, network::Model& system) {
  const auto* items = list_of(reader, node, "`asks`", "asks: [{at: barn tank, flow: 1.2 gal/min}]");
  for (std::size_t i = 0; items && i < items->size(); ++i) read_ask(reader, *(*items)[i], system);
}

void read_claims(Reader& reader, const Node& node, network::Model& system) {
  const auto* items = list_of(reader, node, "`claims`", "claims: [{at: barn tank, flow: 3 gal/min}]");
  for (std::size_t i = 0; items && i < items->size(); ++i) read_claim(reader, *(*items)[i], system);
}

}  // namespace runnel::input
