// The next sizes of one line of pipe, side by side.
#include "runnel/report/brief.h"
#include "runnel/report/harmless.h"
#include "runnel/report/text_parts.h"
#include "runnel/verdict/sizes_tried.h"

namespace runnel::report {
namespace {

std::string starts_cell(air::StartVerdict starts) {
  return starts == air::StartVerdict::starts     ? "yes"
         : starts == air::StartVerdict::doubtful ? "doubtful"
                                                 : "NO";
}

}  // namespace

std::string sizes_text(const FlowAnswer& answer, const TextOptions& options) {
  const auto sizes = verdict::next_sizes(answer.system, answer.verdict);
  if (sizes.empty()) return "";
  Columns rows({Align::left, Align::right, Align::left, Align::left, Align::right, Align::right});
  const Kind kind = sizes.front().gets.kind;
  const std::string pressure = units::unit_name(Kind::pressure, options.units);
  rows.row({"in the next sizes", kind == Kind::flow ? "gets" : "has", "", "starts", "pressure", "rated"});
  rows.row({"", units::unit_name(kind, options.units), "", "", pressure, pressure});
  for (const verdict::TriedSize& size : sizes)
    rows.row({harmless(size.pipe), units::show_number(size.gets, options.units), size.met ? "enough" : "",
              starts_cell(size.starts), units::show_number({Kind::pressure, size.most_pa}, options.units),
              size.rating_pa ? units::show_number({Kind::pressure, *size.rating_pa}, options.units) : "?"});
  return "\n" + rows.text(2);
}

}  // namespace runnel::report
