// `log:`, yields written down by date, and `ground:`, cover and frost.
#include <algorithm>
#include <chrono>

#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"

namespace runnel::input {

namespace {

using document::Node;

/// Volume over the mean time, as for the bucket tests of a box.
std::optional<Flow> flow_of_times(Reader& reader, Fields& fields) {
  const auto volume = fields.need_quantity<Volume>("volume", "volume: 5 gal");
  const Node* times = fields.need("times", "times: [157 s, 161 s, 155 s]");
  if (!times) return std::nullopt;
  const auto* items = list_of(reader, *times, fields.label("times"), "times: [157 s, 161 s, 155 s]");
  double sum_s = 0.0;
  for (std::size_t i = 0; items && i < items->size(); ++i) {
    const auto time = read_quantity<Duration>(reader, *(*items)[i], "a time in " + fields.what());
    if (time && !(time->seconds() > 0.0))
      reader.error("not-positive", (*items)[i]->mark,
                   "a time in " + fields.what() + " must be more than zero");
    else if (time)
      sum_s += time->seconds();
  }
  if (!volume || !(sum_s > 0.0)) return std::nullopt;
  return Flow::from_si(volume->si() * static_cast<double>(items->size()) / sum_s);
}

void read_entry(Reader& reader, const Node& node, network::Model& model) {
  const Reader::Object object(reader, node.mark, &node);
  Fields fields(reader, node, node.mark, "this entry of the log");
  network::LoggedYield entry;
  entry.mark = node.mark;
  const std::string box = fields.need_text("at", "at: spring box").value_or("");
  const Node* written = fields.need("date", "date: 2026-08-30");
  if (const auto date = written ? read_date(reader, *written, fields.label("date")) : std::nullopt) {
    const std::chrono::year_month_day day(*date);
    entry.year = static_cast<int>(day.year());
    entry.month = static_cast<int>(static_cast<unsigned>(day.month()));
    entry.day = static_cast<int>(static_cast<unsigned>(day.day()));
  }
  fields.not_both("yield", "volume");
  if (!fields.has("yield")) {
    entry.yield = flow_of_times(reader, fields).value_or(Flow{});
  } else {
    entry.yield = fields.find_quantity<Flow>("yield").value_or(Flow{});
    for (const char* key : {"volume", "times"}) fields.find(key);  // already reported as said twice
  }
  fields.close();
  const auto same = [&](const network::SpringLog& log) { return log.box == box; };
  auto at = std::find_if(model.logs.begin(), model.logs.end(), same);
  if (at == model.logs.end()) at = model.logs.insert(at, {box, {}, node.mark});
  at->entries.push_back(entry);
}

}  // namespace

void read_logs(Reader& reader, const Node& node, network::Model& model) {
  const auto* items =
      list_of(reader, node, "`log`", "log: [{at: spring box, date: 2026-08-30, yield: 1.9 gal/min}]");
  for (std::size_t i = 0; items && i < items->size(); ++i) read_entry(reader, *(*items)[i], model);
}

network::Ground read_ground(Reader& reader, const Node& node) {
  const Reader::Object object(reader, node.mark, &node);
  Fields fields(reader, node, node.mark, "the ground");
  network::Ground ground;
  ground.mark = node.mark;
  ground.frost = fields.find_quantity<Length>("frost");
  if (const Node* covers = fields.find("cover"))
    each_named(reader, *covers, fields.key_mark("cover"), "cover",
               [&](const std::string& name, const Mark& mark, const Node& value) {
                 const auto depth =
                     read_quantity<Length>(reader, value, "the cover of " + document::quote(name));
                 ground.covers.push_back({name, depth.value_or(Length{}), mark});
               });
  fields.close();
  return ground;
}

}  // namespace runnel::input
