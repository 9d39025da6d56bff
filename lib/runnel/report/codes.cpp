#include "runnel/report/codes.h"

#include "runnel/base/bibliography.h"
#include "runnel/report/finding_codes.h"
#include "runnel/report/json_parts.h"
#include "runnel/report/render_text.h"
#include "runnel/report/words.h"

namespace runnel::report {
namespace {

Json as_json(const verdict::Code& code) {
  Json json{{"code", code.code},
            {"title", code.title},
            {"meaning", code.meaning},
            {"why", code.why},
            {"remedy", code.remedy}};
  if (!code.source.empty()) json["source"] = code.source;
  return json;
}

void section(Document& out, const std::string& title, std::string_view text) {
  if (!text.empty()) out.section(title).paragraph(std::string(text), 1);
}

}  // namespace

std::string code_text(const verdict::Code& code, const TextOptions& options) {
  Document out;
  out.add(Prose{.text = ": " + std::string(code.title), .lead = std::string(code.code)});
  section(out, "What was seen", code.meaning);
  section(out, "Why it matters", code.why);
  section(out, "What to do", code.remedy);
  section(out, "Where the rule is from", code.source);
  for (const base::Reference* reference : base::cited(code.source))
    out.line("[" + reference->key + "] " + reference->text + "; " + reference->status, 2);
  return render_text(out, options);
}

std::string codes_text(const TextOptions& options) {
  Table rows({{}, {}});
  rows.level = 0;
  for (const verdict::Code& code : finding_codes())
    rows.row({std::string(code.code), std::string(code.title)});
  return render_text(Document().add(rows), options);
}

std::string code_json(const verdict::Code& code) { return dumped(as_json(code)); }

std::string codes_json() {
  Json list = Json::array();
  for (const verdict::Code& code : finding_codes()) list.push_back(as_json(code));
  return dumped(Json{{"runnel", version()}, {"codes", list}});
}

}  // namespace runnel::report
