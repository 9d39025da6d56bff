// `runnel fill MODEL --drain WASHOUT`: emptying a section of a line.
#include <fmt/format.h>
#include <unistd.h>

#include "exit_code.h"
#include "fill_parts.h"
#include "output.h"
#include "runnel/report/emptying.h"
#include "runnel/units/parse.h"

namespace cli {

int fill_drain(const Common& common, const Model& model, const std::string& washout,
               const std::string& bore) {
  runnel::filling::DrainOptions options;
  if (!bore.empty()) {
    const auto parsed = runnel::units::parse(bore, runnel::units::Dimension::length);
    if (!parsed.ok() || !(parsed.si > 0.0))
      return refuse(common, {usage("bad-option-value", "--drain-bore must be a length more than zero",
                                   "write for example --drain-bore 3/4in")});
    options.bore_m = parsed.si;
  }
  const auto drain = runnel::filling::drain_down(*model.system, washout, options);
  if (!drain) {
    std::string names;
    for (const std::string& name : runnel::filling::washouts_of(*model.system))
      names += (names.empty() ? "" : ", ") + name;
    return refuse(common,
                  {usage("no-such-washout", "--drain names no washout of the model",
                         names.empty() ? "the model has no washout with a name" : "it has " + names)});
  }
  const std::string text = common.json
                               ? runnel::report::drain_json(*drain, options)
                               : runnel::report::drain_text(
                                     *drain, options, text_options(common, model.written_in, STDOUT_FILENO));
  return write(text, common.output);
}

}  // namespace cli
