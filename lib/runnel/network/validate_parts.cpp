// Parts on a pipeline.
#include "runnel/network/complaints.h"
#include "runnel/network/part_loss.h"
#include "runnel/network/part_table.h"

namespace runnel::network {

namespace {

/// A part whose loss is not stated must have one in the tables, for its bore and opening.
void check_published(const Pipeline& line, const Part& part, Complaints& complaints) {
  if (line.pipes.empty() || pipe_at(line, part.at).pipe.bore <= Length{}) return;  // reported elsewhere
  const bool partly = part.open > 0.0 && part.open < 1.0;
  if (published_loss_of(line, part, partly ? part.open : 1.0)) return;
  if (partly)
    complaints.error("needs-loss", part.mark, "set",
                     "no table gives the loss of this " + part.type + " where it is set", {},
                     "add it: loss: 20 (the K on the bore of the pipe)");
  else
    complaints.error("needs-loss", part.mark, "", "no table gives the loss of this " + part.type, {},
                     "add it: loss: 1.2 (the K on the bore of the pipe)");
}

void check_part(const Pipeline& line, const Part& part, Complaints& complaints) {
  const std::string what = part.name.empty() ? part.type : part.type + " " + quoted(part.name);
  const Length start = line.survey.front().station, end = line.survey.back().station;
  if (part.at < start || part.at > end)
    complaints.error(
        "part-outside", part.mark, "at",
        what + " at {0} is not on pipeline " + quoted(line.name) + ", which runs from {1} to {2}",
        {{Kind::length, part.at.metres()}, {Kind::length, start.metres()}, {Kind::length, end.metres()}},
        "`at` is a station of this line's own survey");
  if (part.count < 1)
    complaints.error("not-positive", part.mark, part.type,
                     "{0} of " + part.type + " on " + quoted(line.name) + " cannot be; write how many",
                     {{Kind::number, static_cast<double>(part.count)}});
  if (part.loss)
    complaints.not_negative(part.mark, "loss", {Kind::number, *part.loss}, "the loss of " + what,
                            loss_bounds);
  else
    check_published(line, part, complaints);
  if (!(part.open >= 0.0 && part.open <= 1.0))
    complaints.error("opening-out-of-range", part.mark, "set",
                     what + " is set {0} open; it can be anything from 0 % (shut) to 100 %",
                     {{Kind::percent, part.open}});
  for (const PartKey& key : part_kind_row(part.kind).keys)
    if (const auto* pressure = std::get_if<Pressure Part::*>(&key.member))
      complaints.positive(part.mark, key.key, {Kind::pressure, (part.**pressure).pascals()},
                          "the pressure that " + what + " is set to", pressure_bounds_pa);
}

}  // namespace

void validate_parts(const Model& /*system*/, const Pipeline& line, Complaints& complaints) {
  const Part* before = nullptr;
  for (const Part& part : line.parts) {
    if (!complaints.whole(part.mark)) continue;
    check_part(line, part, complaints);
    if (before && part.at < before->at)
      complaints.error(
          "parts-out-of-order", part.mark, "at",
          "parts stand in order from the start of a line, but this one at {0} follows one at {1}",
          {{Kind::length, part.at.metres()}, {Kind::length, before->at.metres()}});
    before = &part;
  }
}

}  // namespace runnel::network
