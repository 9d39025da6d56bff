// `overflow:` of a box or a tank: how it spills over.
#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"

namespace runnel::input {

namespace {

using document::Node;

constexpr const char* overflow_example = "overflow: {weir: {length: 2 ft}}";

losses::WeirLip read_weir(Fields& fields) {
  losses::WeirLip weir;
  weir.length_m = fields.need_quantity<Length>("length", "length: 2 ft").value_or(Length{}).metres();
  const double ends = fields.find_number("pinched_ends").value_or(weir.pinched_ends);
  weir.pinched_ends = ends == 0.0 || ends == 1.0 || ends == 2.0 ? static_cast<int>(ends) : -1;
  return weir;
}

losses::DrainPipe read_drain(Reader& reader, const Node& node, const Mark& key, const std::string& of) {
  Fields fields(reader, node, key, "the drain of " + of);
  losses::DrainPipe drain;
  drain.bore_m = fields.need_quantity<Length>("bore", "bore: 3 in").value_or(Length{}).metres();
  drain.loss = fields.need_number("loss", "loss: 4").value_or(1.0);
  drain.drop_m = fields.need_quantity<Length>("drop", "drop: 4 ft").value_or(Length{}).metres();
  fields.close();
  return drain;
}

losses::Standpipe read_standpipe(Reader& reader, Fields& fields) {
  losses::Standpipe pipe;
  pipe.bore_m = fields.need_quantity<Length>("bore", "bore: 3 in").value_or(Length{}).metres();
  if (const Node* drain = fields.find("drain"))
    pipe.drain = read_drain(reader, *drain, fields.key_mark("drain"), fields.what());
  return pipe;
}

losses::DrilledRiser read_riser(Reader& reader, Fields& fields) {
  constexpr const char* example = "rows: [{above: 1/4 in, bore: 1/2 in, holes: 8}]";
  losses::DrilledRiser riser;
  const Node* rows = fields.need("rows", example);
  if (!rows) return riser;
  const auto* items = list_of(reader, *rows, fields.label("rows"), example);
  for (std::size_t i = 0; items && i < items->size(); ++i) {
    Fields row(reader, *(*items)[i], (*items)[i]->mark, "a row of " + fields.what());
    losses::HoleRow holes;
    holes.centre_m = row.need_quantity<Length>("above", "above: 1/4 in").value_or(Length{}).metres();
    holes.bore_m = row.need_quantity<Length>("bore", "bore: 1/2 in").value_or(Length{}).metres();
    const double count = row.need_number("holes", "holes: 8").value_or(1.0);
    holes.count = count >= 1.0 && count <= 1e6 ? static_cast<int>(count) : 0;
    row.close();
    riser.rows.push_back(holes);
  }
  return riser;
}

losses::WallPipe read_wall_pipe(Reader& reader, Fields& fields) {
  losses::WallPipe pipe;
  pipe.bore_m = fields.need_quantity<Length>("bore", "bore: 4 in").value_or(Length{}).metres();
  if (const Node* slope = fields.find("slope")) {
    const auto parsed = read_parsed(reader, *slope, units::Dimension::slope, fields.label("slope"));
    if (parsed) pipe.slope = parsed->si;
  }
  return pipe;
}

}  // namespace

std::optional<losses::Overflow> read_overflow(Reader& reader, const Node& node, const Mark& key,
                                              const std::string& of) {
  Fields fields(reader, node, key, "the overflow of " + of);
  std::optional<losses::Overflow> overflow;
  int said = 0;
  for (const char* word : {"weir", "standpipe", "drilled_riser", "wall_pipe"}) {
    const Node* one = fields.find(word);
    if (!one) continue;
    ++said;
    const std::string kind = word;
    Fields made(reader, *one, fields.key_mark(word), "the " + kind + " of " + of);
    if (kind == "weir") overflow = read_weir(made);
    if (kind == "standpipe") overflow = read_standpipe(reader, made);
    if (kind == "drilled_riser") overflow = read_riser(reader, made);
    if (kind == "wall_pipe") overflow = read_wall_pipe(reader, made);
    made.close();
  }
  fields.close();
  if (fields.usable() && said != 1)
    reader.error("one-overflow", node.mark,
                 fields.what() + " must be one of weir, standpipe, drilled_riser, wall_pipe",
                 std::string("write for example ") + literal(overflow_example));
  return overflow;
}

}  // namespace runnel::input
