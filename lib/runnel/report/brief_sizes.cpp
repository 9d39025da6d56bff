// The next sizes of one line of pipe, side by side.
#include "runnel/report/brief.h"
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

Document sizes_section(const FlowAnswer& answer, const TextOptions&) {
  using enum Align;
  const auto sizes = verdict::next_sizes(answer.system, answer.verdict);
  if (sizes.empty()) return {};
  const Kind kind = sizes.front().gets.kind;
  Table rows({{"in the next sizes"},
              {kind == Kind::flow ? "gets" : "has", right, kind},
              {},
              {"starts"},
              {"pressure", right, Kind::pressure},
              {"rated", right, Kind::pressure}});
  for (const verdict::TriedSize& size : sizes)
    rows.row({size.pipe, size.gets, size.met ? "enough" : "", starts_cell(size.starts),
              Figure{Kind::pressure, size.most_pa}, figure_or(size.rating_pa, Kind::pressure, "?")});
  return Document().section().add(rows);
}

}  // namespace runnel::report
