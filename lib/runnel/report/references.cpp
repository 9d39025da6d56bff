#include "runnel/report/references.h"

#include <algorithm>

#include "runnel/report/json_parts.h"
#include "runnel/report/layout.h"
#include "runnel/report/words.h"
#include "runnel/verdict/codes.h"

namespace runnel::report {
namespace {

/// Codes of the findings whose rule stands on the reference.
std::vector<std::string> findings_on(const base::Reference& reference) {
  std::vector<std::string> codes;
  for (const verdict::Code& code : verdict::finding_codes()) {
    const auto sources = base::cited(code.source);
    if (std::find(sources.begin(), sources.end(), &reference) != sources.end()) codes.emplace_back(code.code);
  }
  return codes;
}

std::string list_of(const std::string& title, const std::vector<std::string>& rows,
                    const TextOptions& options) {
  if (rows.empty()) return "";
  std::string out = "\n" + Paint{options.colour}.bold(title) + "\n";
  for (const std::string& row : rows) out += "  " + row + "\n";
  return out;
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
  const Paint paint{options.colour};
  std::string out =
      paint.bold("[" + reference.key + "]") + "\n" + paragraph(reference.text, 2, 2, options.width);
  out += "\n" + paint.bold("How it was come by") + "\n" + paragraph(reference.status, 2, 2, options.width);
  out += list_of("Findings that stand on it", findings_on(reference), options);
  return out + list_of("Where it is used", reference.used_in, options);
}

std::string references_text(const TextOptions& options) {
  std::string out;
  for (const base::Reference& reference : base::references())
    out +=
        paragraph("[" + reference.key + "] " + reference.text + "; " + reference.status, 0, 4, options.width);
  return out;
}

std::string reference_json(const base::Reference& reference) { return dumped(as_json(reference)); }

std::string references_json() {
  Json list = Json::array();
  for (const base::Reference& reference : base::references()) list.push_back(as_json(reference));
  return dumped(Json{{"runnel", version()}, {"references", list}});
}

}  // namespace runnel::report
