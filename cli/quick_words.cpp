#include "quick_words.h"

#include "common.h"
#include "runnel/document/quote.h"
#include "runnel/document/tree.h"
#include "runnel/pipes/called.h"
#include "runnel/verdict/draft.h"

namespace cli {
namespace {

using runnel::Length;
using runnel::document::quote;
using runnel::verdict::brace_safe;
namespace units = runnel::units;

runnel::pipes::Pipe of_bore(const std::string& text, double bore_m) {
  runnel::pipes::Pipe own;
  own.name = text;
  own.bore = Length::metres(bore_m);
  own.roughness = Length::millimetres(0.0015);  // plastic, the rough end of 0 to 0.0015 mm [binder1973]
  own.hazen_c = 140.0;                          // thermoplastics [hi-data-book]
  return own;
}

}  // namespace

void WordReader::wrong(const std::string& option, const std::string& text, const std::string& error,
                       const std::string& hint) {
  findings_.push_back(
      usage("bad-option-value", option + " " + quote(text) + ": " + brace_safe(error), brace_safe(hint)));
}

double WordReader::value(const std::string& option, const std::string& text, units::Dimension dimension) {
  const units::Parsed parsed = units::parse(text, dimension);
  if (!parsed.ok()) wrong(option, text, parsed.error, parsed.hint);
  return parsed.ok() ? parsed.si : 0.0;
}

double WordReader::positive(const std::string& option, const std::string& text, units::Dimension dimension) {
  const double si = value(option, text, dimension);
  if (sound() && !(si > 0.0)) wrong(option, text, "must be more than zero");
  return si;
}

runnel::pipes::Pipe quick_pipe(const std::string& text, std::vector<runnel::Finding>& findings) {
  const runnel::pipes::Catalogue& catalogue = runnel::pipes::standard_catalogue();
  if (const runnel::pipes::Pipe* known = catalogue.find(text)) return *known;
  WordReader reader(findings);
  if (text.rfind("bore ", 0) == 0) {
    const double bore_m = reader.positive("--pipe", text.substr(5), units::Dimension::length);
    return of_bore(text, bore_m);
  }
  const auto meant = runnel::pipes::called(catalogue, text);
  const bool size_alone = runnel::pipes::only_a_size(text);
  if (meant.size() == 1 && !size_alone) return *meant.front();
  if (size_alone) {
    findings.push_back(
        usage("size-alone", quote(text) + " is a size, and pipes of one size differ in bore",
              (meant.empty() ? std::string() : "pipes of that size: " + runnel::pipes::listed(meant) + ". ") +
                  "If it is the bore itself, write: bore " + brace_safe(text)));
  } else if (!meant.empty()) {
    findings.push_back(usage("several-pipes", "several pipes are called " + quote(text),
                             "say which: " + runnel::pipes::listed(meant, 12)));
  } else {
    const std::string near = runnel::document::nearest(text, catalogue.names());
    findings.push_back(usage("no-such-pipe", "the catalogue has no pipe " + quote(text),
                             (near.empty() ? "" : "did you mean " + near + "? ") +
                                 std::string("`runnel pipes` lists them; `bore 1.38 in` will do too")));
  }
  return {};
}

}  // namespace cli
