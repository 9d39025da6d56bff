// `legs:` of a survey: each is a length taped along the pipe, and how far it rises or falls.
#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"

namespace runnel::input {

using document::Node;
using network::SurveyPoint;

std::vector<SurveyPoint> read_legs(Reader& reader, const Node& node, const std::string& of,
                                   const std::string& unit, Length start, Reader::Object& object) {
  constexpr const char* example = "legs: [[150, -12], [80, 3]]";
  const std::string in_survey = " in the survey of " + of;
  std::vector<SurveyPoint> points{{Length{}, start}};
  const auto* items = list_of(reader, node, "the legs" + in_survey, example);
  for (std::size_t i = 0; items && i < items->size(); ++i) {
    const Node& leg = *(*items)[i];
    if (leg.kind != Node::Kind::sequence || leg.items.size() != 2) {
      reader.error("bad-leg", leg.mark, "a leg" + in_survey + " must be a length and a rise",
                   "write for example [150, -12] for 150 of pipe that falls by 12");
      continue;
    }
    const auto length = read_surveyed(reader, *leg.items[0], unit, "the length of a leg" + in_survey);
    if (!length && unit.empty()) break;  // the same would be reported for all the rest
    const auto rise = read_surveyed(reader, *leg.items[1], unit, "the rise of a leg" + in_survey);
    if (!length || !rise) continue;
    const std::string member = "survey.points." + std::to_string(points.size());
    object.place(member + ".0", leg.items[0]->mark);
    object.place(member + ".1", leg.items[1]->mark);
    points.push_back({points.back().station + *length, points.back().elevation + *rise});
  }
  return points;
}

}  // namespace runnel::input
