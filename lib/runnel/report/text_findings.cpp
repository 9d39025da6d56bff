// Findings by weight: what is wrong, what to watch, what is good to know.
#include "runnel/report/harmless.h"
#include "runnel/report/text_parts.h"

namespace runnel::report {
namespace {

std::string where_text(const Where& where, const TextOptions& options) {
  std::string text = where.place.empty() ? where.pipeline : where.place;
  text = short_name(text);
  if (where.station_m)
    text += (text.empty() ? "at " : " at ") + shown(Kind::length, *where.station_m, options);
  if (!where.part.empty()) text += " (" + short_name(where.part) + ")";
  return text;
}

std::string group(const std::vector<Finding>& findings, Severity severity, const std::string& title,
                  const TextOptions& options) {
  std::string out;
  const Finding* before = nullptr;
  for (const Finding& f : findings) {
    if (f.severity != severity) continue;
    const std::string where = where_text(f.where, options);
    const std::string tag = "[" + f.code + (where.empty() ? "" : "; " + where) + "]";
    out += paragraph("- " + harmless(units::render(f.message, f.figures, options.units)) + " " + tag, 2, 4,
                     options.width);
    const bool repeated = before && before->code == f.code && before->advice == f.advice && f.figures.empty();
    before = &f;
    if (!f.advice.empty() && !repeated)
      out += paragraph(harmless(units::render(f.advice, f.figures, options.units)), 4, 4, options.width);
  }
  return out.empty() ? out : heading(title, options) + out;
}

}  // namespace

std::string findings_text(const std::vector<Finding>& findings, const TextOptions& options) {
  return group(findings, Severity::error, "Wrong", options) +
         group(findings, Severity::warning, "Watch", options) +
         group(findings, Severity::note, "Good to know", options);
}

}  // namespace runnel::report
