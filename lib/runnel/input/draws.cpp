// `draws:` of tanks, outlets and joints, and float valves.
#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"
#include "runnel/network/daily_needs.h"

namespace runnel::input {

namespace {
using document::Node;
}

network::FloatValve read_float_valve(Reader& reader, const Node& node, const Mark& key,
                                     const std::string& of) {
  Fields fields(reader, node, key, "the float valve of " + of);
  network::FloatValve valve;
  valve.shuts_at = fields.need_quantity<Length>("shuts_at", "shuts_at: 4619.0 ft").value_or(Length{});
  const auto opens = fields.find_quantity<Length>("opens_at");
  valve.opens_at = opens.value_or(valve.shuts_at);
  valve.opens_stated = opens.has_value();
  valve.loss = fields.need_number("loss", "loss: 6").value_or(0.0);
  fields.close();
  return valve;
}

namespace {

void read_hours(Reader& reader, const Node& node, const std::string& what, network::Draw& draw) {
  constexpr const char* example = "hours: [6, 20]";
  const auto* items = list_of(reader, node, what, example);
  if (!items) return;
  if (items->size() != 2) {
    reader.error("bad-hours", node.mark, what + " must be two hours of the day: from and to",
                 std::string("write for example ") + example);
    return;
  }
  const auto from = read_number(reader, *(*items)[0], what), to = read_number(reader, *(*items)[1], what);
  draw.from_hour = from.value_or(0.0);
  draw.to_hour = to.value_or(0.0);
  if (from && from == to)
    reader.error("bad-hours", node.mark, what + " must end at another hour than they begin",
                 "leave `hours` out for day and night");
}

/// `for: beef cattle, head: 40`: that many times the published need of one.
void read_head(Reader& reader, Fields& fields, network::Draw& draw) {
  fields.not_both("head", "flow");
  fields.find("flow");
  const auto head = fields.find_number("head");
  if (!head) return;
  if (!(*head > 0.0)) {
    reader.error("not-positive", fields.mark("head"), fields.label("head") + " must be more than zero",
                 "write how many drink there: head: 40");
    return;
  }
  const network::DailyNeed* need = network::daily_need(draw.purpose);
  if (need) {
    draw.head = *head;
    draw.flow = Flow::from_si(*head * need->a_day.si() / 86400.0);
    draw.source = need->source;
    return;
  }
  std::vector<std::string> known;
  for (const network::DailyNeed& one : network::daily_needs()) known.push_back(one.who);
  std::string hint = reader.suggest(draw.purpose, known);
  if (hint.empty()) {
    hint = "there are ";
    for (const std::string& who : known) hint += (who == known.front() ? "" : ", ") + who;
    hint += "; for others write the flow: flow: 600 gal/day";
  }
  reader.error("unknown-drinkers", fields.mark("for"),
               "the daily need of " + document::quote(draw.purpose) + " is not known here", hint);
}

network::Draw read_draw(Reader& reader, const Node& node, const std::string& of) {
  const Reader::Object object(reader, node.mark, &node);
  network::Draw draw;
  draw.mark = node.mark;
  Fields fields(reader, node, node.mark, "a draw " + of);
  draw.purpose = fields.find_text("for").value_or("");
  if (fields.has("head"))
    read_head(reader, fields, draw);
  else
    draw.flow = fields.need_quantity<Flow>("flow", "flow: 600 gal/day").value_or(Flow{});
  if (const Node* hours = fields.find("hours")) read_hours(reader, *hours, fields.label("hours"), draw);
  fields.close();
  return draw;
}

}  // namespace

std::vector<network::Draw> read_draws(Reader& reader, Fields& fields, const std::string& of) {
  std::vector<network::Draw> draws;
  const Node* node = fields.find("draws");
  const auto* items =
      node ? list_of(reader, *node, fields.label("draws"), "draws: [{flow: 600 gal/day}]") : nullptr;
  for (std::size_t i = 0; items && i < items->size(); ++i)
    draws.push_back(read_draw(reader, *(*items)[i], of));
  return draws;
}

}  // namespace runnel::input
