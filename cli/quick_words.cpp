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

std::optional<runnel::network::BucketTests> bucketful(const std::string& text) {
  const auto in = text.find(" in ");
  if (in == std::string::npos) return std::nullopt;
  const units::Parsed volume = units::parse(text.substr(0, in), units::Dimension::volume);
  const units::Parsed time = units::parse(text.substr(in + 4), units::Dimension::duration);
  if (!volume.ok() || !time.ok() || !(time.si > 0.0)) return std::nullopt;
  return runnel::network::BucketTests{runnel::Volume::from_si(volume.si),
                                      {runnel::Duration::from_si(time.si)}};
}

double WordReader::value(const std::string& option, const std::string& text, units::Dimension dimension) {
  if (dimension == units::Dimension::flow)
    if (const auto test = bucketful(text)) return test->volume.si() / test->times.front().si();
  const units::Parsed parsed = units::parse(text, dimension);
  if (!parsed.ok()) wrong(option, text, parsed.error, parsed.hint);
  return parsed.ok() ? parsed.si : 0.0;
}

double WordReader::positive(const std::string& option, const std::string& text, units::Dimension dimension) {
  const double si = value(option, text, dimension);
  if (sound() && !(si > 0.0)) wrong(option, text, "must be more than zero");
  return si;
}

namespace {

/// A figure without a unit.
bool is_bare(const std::string& size) {
  return size.find_first_not_of("0123456789./- ") == std::string::npos;
}

/// A size alone as a bore. A fraction or a single figure counts inches; no pipe has so few millimetres.
std::string as_bore(const std::string& size) {
  const bool inches = size.find('/') != std::string::npos || size.size() < 2;
  return "bore " + size + (!is_bare(size) ? "" : inches ? " in" : " mm");
}

/// How somebody comes from what he says to one pipe of the catalogue.
std::string hint_for(const std::string& text) {
  const runnel::pipes::Catalogue& catalogue = runnel::pipes::standard_catalogue();
  const std::string unknown = runnel::pipes::unknown_word(catalogue, text);
  if (!unknown.empty()) {
    const std::string near = runnel::document::nearest(text, catalogue.names());
    return (near.empty() ? "" : "did you mean " + near + "? ") + "No pipe there is called " + quote(unknown) +
           "; `runnel pipes` lists them, and `bore 1.38 in` will do too";
  }
  std::string sizes;
  for (const std::string& size : runnel::pipes::sizes_called(catalogue, text))
    sizes += (sizes.empty() ? "" : ", ") + size;
  return (sizes.empty() ? "" : "there it comes in " + sizes + ". ") +
         std::string("`runnel pipes` lists them; `bore 1.38 in` will do too");
}

}  // namespace

runnel::pipes::Pipe quick_pipe(const std::string& text, std::vector<runnel::Finding>& findings) {
  const runnel::pipes::Catalogue& catalogue = runnel::pipes::standard_catalogue();
  if (const runnel::pipes::Pipe* known = catalogue.find(text)) return *known;
  WordReader reader(findings);
  if (text.rfind("bore ", 0) == 0) {
    const std::string size = text.substr(5);
    if (is_bare(size)) {
      reader.wrong("--pipe", text, "needs the unit of the bore",
                   "write `bore " + size + " mm` or `bore " + size + " in`");
      return {};
    }
    const double bore_m = reader.positive("--pipe", size, units::Dimension::length);
    return of_bore(text, bore_m);
  }
  const auto meant = runnel::pipes::called(catalogue, text);
  const bool size_alone = runnel::pipes::only_a_size(text);
  if (meant.size() == 1 && !size_alone) return *meant.front();
  if (size_alone) {
    findings.push_back(
        usage("size-alone", quote(text) + " is a size, and pipes of one size differ in bore",
              (meant.empty() ? std::string() : "pipes of that size: " + runnel::pipes::listed(meant) + ". ") +
                  "If it is the bore itself, write: " + brace_safe(as_bore(text))));
  } else if (!meant.empty()) {
    findings.push_back(usage("several-pipes", "several pipes are called " + quote(text),
                             "the print on the pipe tells which; say it too, as in " + meant.front()->name +
                                 ". There are " + runnel::pipes::listed(meant)));
  } else {
    findings.push_back(
        usage("no-such-pipe", "the catalogue has no pipe " + quote(text), brace_safe(hint_for(text))));
  }
  return {};
}

}  // namespace cli
