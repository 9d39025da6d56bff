#include "runnel/report/codes.h"

#include "runnel/base/bibliography.h"
#include "runnel/report/json_parts.h"
#include "runnel/report/layout.h"
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

std::string section(const std::string& title, std::string_view text, const TextOptions& options) {
  if (text.empty()) return "";
  return "\n" + Paint{options.colour}.bold(title) + "\n" + paragraph(std::string(text), 2, 2, options.width);
}

}  // namespace

std::string code_text(const verdict::Code& code, const TextOptions& options) {
  std::string out =
      Paint{options.colour}.bold(std::string(code.code)) + ": " + std::string(code.title) + "\n";
  out += section("What was seen", code.meaning, options);
  out += section("Why it matters", code.why, options);
  out += section("What to do", code.remedy, options);
  out += section("Where the rule is from", code.source, options);
  for (const base::Reference* reference : base::cited(code.source))
    out += paragraph("[" + reference->key + "] " + reference->text + "; " + reference->status, 4, 6,
                     options.width);
  return out;
}

std::string codes_text(const TextOptions&) {
  Columns rows({Align::left, Align::left});
  for (const verdict::Code& code : verdict::finding_codes())
    rows.row({std::string(code.code), std::string(code.title)});
  return rows.text(0);
}

std::string code_json(const verdict::Code& code) { return dumped(as_json(code)); }

std::string codes_json() {
  Json list = Json::array();
  for (const verdict::Code& code : verdict::finding_codes()) list.push_back(as_json(code));
  return dumped(Json{{"runnel", version()}, {"codes", list}});
}

}  // namespace runnel::report
