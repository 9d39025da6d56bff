#include "runnel/report/references.h"

#include <algorithm>

#include "runnel/report/finding_codes.h"
#include "runnel/report/json_parts.h"
#include "runnel/report/render_text.h"
#include "runnel/report/words.h"

namespace runnel::report {
namespace {

/// Codes of the findings whose rule rests on the reference.
std::vector<std::string> findings_on(const base::Reference& reference) {
  std::vector<std::string> codes;
  for (const verdict::Code& code : finding_codes()) {
    const auto sources = base::cited(code.source);
    if (std::find(sources.begin(), sources.end(), &reference) != sources.end()) codes.emplace_back(code.code);
  }
  return codes;
}

void list(Document& out, const std::string& title, const std::vector<std::string>& rows) {
  if (rows.empty()) return;
  out.section(title);
  for (const std::string& row : rows) out.paragraph(row, 1);
}

Json as_json(const base::Reference& reference) {
  return {{"key", reference.key},
          {"text", reference.text},
          {"status", reference.status},
          {"findings", findings_on(reference)},
          {"used_in", reference.used_in}};
}

}  // namespace

std::string reference_text(const base::Reference& reference, const TextOptions& options) {
  Document out;
  out.add(Prose{.lead = "[" + reference.key + "]"}).paragraph(reference.text, 1);
  out.section("How it was come by").paragraph(reference.status, 1);
  list(out, "Findings that stand on it", findings_on(reference));
  list(out, "Where it is used", reference.used_in);
  return render_text(out, options);
}

std::string references_text(const TextOptions& options) {
  Document out;
  for (const base::Reference& reference : base::references())
    out.entry("[" + reference.key + "] " + reference.text + "; " + reference.status);
  return render_text(out, options);
}

std::string reference_json(const base::Reference& reference) { return dumped(as_json(reference)); }

std::string references_json() {
  Json list = Json::array();
  for (const base::Reference& reference : base::references()) list.push_back(as_json(reference));
  return dumped(Json{{"runnel", version()}, {"references", list}});
}

}  // namespace runnel::report
