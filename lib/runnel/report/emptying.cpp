#include "runnel/report/emptying.h"

#include <fmt/format.h>

#include <algorithm>

#include "runnel/report/json_parts.h"
#include "runnel/report/render_text.h"
#include "runnel/report/text_parts.h"
#include "runnel/report/words.h"

namespace runnel::report {

Document drain_document(const filling::DrainDown& drain, const filling::DrainOptions& used,
                        const TextOptions& options) {
  const auto length = [&](double m) { return shown(Kind::length, m, options); };
  const std::string where =
      fmt::format("{} from {} to {}", short_name(drain.pipeline), length(drain.from_m), length(drain.to_m));
  std::string said;
  if (drain.draining.time_s == 0.0)
    said = fmt::format("Washout {} drains nothing: no water of {} stands above it.",
                       short_name(drain.washout), where);
  else
    said =
        fmt::format("Washout {} empties {}{} in {}: {} run out, at first with {}.", short_name(drain.washout),
                    where, drain.stays_m3 > 0.0 ? ", but for what lies below the washout," : "",
                    shown(Kind::duration, drain.draining.time_s, options),
                    shown(Kind::volume, drain.draining.drained_m3, options),
                    shown(Kind::flow, drain.draining.first_m3s, options));
  if (drain.stays_m3 > 0.0)
    said +=
        fmt::format(" {} stay in the pipe: they lie below the washout and have to be pumped or blown out.",
                    shown(Kind::volume, drain.stays_m3, options));
  said += " What lies beyond the high points at both ends stays where it is.";
  Document out;
  out.paragraph(said);
  out.paragraph("Whether all that is asked of the model comes is not judged here: `runnel flow` tells that.");
  out.section("Worked out with");
  out.line(fmt::format(
      "A falling head of at first {}, an opening of {} with Cd {:g} [britannica1911], the friction "
      "of the pipe between the water and the washout. Empty is half a bore above the washout.",
      length(drain.height_m), shown(Kind::bore, drain.bore_m, options), used.cd));
  out.section("Mind");
  out.line(
      "No water comes after, and air follows freely at the high points; valves between them are open. "
      "Without an "
      "air valve or an open end up there it takes longer.");
  return out;
}

std::string drain_text(const filling::DrainDown& drain, const filling::DrainOptions& used,
                       const TextOptions& options) {
  return render_text(drain_document(drain, used, options), options);
}

std::string drain_json(const filling::DrainDown& drain, const filling::DrainOptions& used) {
  Json json{{"runnel", version()}, {"washout", drain.washout}, {"pipeline", drain.pipeline}};
  json["judged"] = false;  // of what is asked of the model
  json["good"] = nullptr;
  json["ruling"] = nullptr;
  json["station_m"] = number(drain.station_m, "station_m");
  json["from_m"] = number(drain.from_m, "from_m");
  json["to_m"] = number(drain.to_m, "to_m");
  json["height_m"] = number(drain.height_m, "height_m");
  json["bore_m"] = number(drain.bore_m, "bore_m");
  json["cd"] = number(used.cd, "cd");
  json["time_s"] = number(drain.draining.time_s, "time_s");
  json["first_m3s"] = number(drain.draining.first_m3s, "first_m3s");
  json["drained_m3"] = number(drain.draining.drained_m3, "drained_m3");
  json["stays_m3"] = number(drain.stays_m3, "stays_m3");
  return dumped(json);
}

Document springs_stop_document(const filling::FillHistory& history, const filling::FillOptions& used,
                               const TextOptions& options) {
  Document out;
  for (const filling::StorageHistory& s : history.storages) {
    if (s.kind != network::PlaceKind::tank) continue;
    std::string line = "When every spring stops, " + short_name(s.name);
    if (s.emptied_at_s && *s.emptied_at_s == 0.0)
      line += " is empty from the start.";
    else if (s.emptied_at_s)
      line += " lasts " + shown(Kind::duration, *s.emptied_at_s, options) + ".";
    else
      line += fmt::format(" is not empty after {}: it then stands at {}.",
                          shown(Kind::duration, history.duration_s, options),
                          shown(Kind::elevation, s.end_level_m, options));
    out.line(line, 0);
  }
  out.paragraph(fmt::format("Counted from {:g} o'clock and from the levels that the model starts with{}.",
                            used.start_hour,
                            used.start_hour > 0.0 ? "; a day's draws lie in their hours" : ""));
  return out;
}

}  // namespace runnel::report
