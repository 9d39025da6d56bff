// `boxes:`.
#include <algorithm>
#include <numeric>

#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"

namespace runnel::input {

namespace {

using document::Node;

/// The mean of bucket tests: the volume over the mean time. (The mean of the single flows would favour
/// the quick ones.) Zero if the tests say nothing; `validate` then complains.
Flow mean_yield(const network::BucketTests& tests) {
  const double sum_s = std::accumulate(tests.times.begin(), tests.times.end(), 0.0,
                                       [](double sum, Duration t) { return sum + t.seconds(); });
  if (!(sum_s > 0.0)) return {};
  const double mean_s = sum_s / static_cast<double>(tests.times.size());
  return Flow::cubic_metres_per_second(tests.volume.cubic_metres() / mean_s);
}

std::optional<network::BucketTests> read_bucket_tests(Reader& reader, const Node& node, const Mark& key,
                                                      const std::string& of) {
  Fields fields(reader, node, key, "the bucket tests of " + of);
  network::BucketTests tests;
  const auto volume = fields.need_quantity<Volume>("volume", "volume: 5 gal");
  if (volume) tests.volume = *volume;
  const Node* times = fields.need("times", "times: [157 s, 161 s, 155 s]");
  bool good = volume && times;
  if (times) {
    const auto* items = list_of(reader, *times, fields.label("times"), "times: [157 s, 161 s, 155 s]");
    good = good && items;
    for (std::size_t i = 0; items && i < items->size(); ++i) {
      const auto time = read_quantity<Duration>(reader, *(*items)[i], "a time in " + fields.what());
      good = good && time;
      if (time) tests.times.push_back(*time);
    }
  }
  fields.close();
  if (!good) return std::nullopt;
  return tests;
}

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
  fields.not_both("yield", "bucket_tests");
  if (const auto yield = fields.find_quantity<Flow>("yield")) box.yield = *yield;
  if (const Node* tests = fields.find("bucket_tests")) {
    box.bucket_tests = read_bucket_tests(reader, *tests, fields.key_mark("bucket_tests"), what);
    if (box.bucket_tests) box.yield = mean_yield(*box.bucket_tests);
  }
  box.outlet = fields.need_quantity<Length>("outlet", "outlet: 4755.8 ft").value_or(Length{});
  box.lip = fields.need_quantity<Length>("lip", "lip: 4757.4 ft").value_or(Length{});
  box.floor = fields.find_quantity<Length>("floor");
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
