// Findings by severity: what is wrong, what to watch, what is good to know.
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

Document group(const std::vector<Finding>& findings, Severity severity, const std::string& title,
               const TextOptions& options) {
  Document out;
  const Finding* before = nullptr;
  for (const Finding& f : findings) {
    if (f.severity != severity) continue;
    const std::string where = where_text(f.where, options);
    const std::string tag = "[" + f.code + (where.empty() ? "" : "; " + where) + "]";
    out.item(units::render(f.message, f.figures, options.units) + " " + tag);
    const bool repeated = before && before->code == f.code && before->advice == f.advice && f.figures.empty();
    before = &f;
    if (!f.advice.empty() && !repeated) out.paragraph(units::render(f.advice, f.figures, options.units), 2);
  }
  return out.empty() ? out : Document().section(title).append(out);
}

}  // namespace

Document findings_sections(const std::vector<Finding>& findings, const TextOptions& options) {
  return group(findings, Severity::error, "Wrong", options) +
         group(findings, Severity::warning, "Watch", options) +
         group(findings, Severity::note, "Good to know", options);
}

}  // namespace runnel::report
