#include "common.h"

#include <unistd.h>

#include <cstdlib>

#include "exit_code.h"
#include "output.h"
#include "runnel/report/json.h"
#include "runnel/units/choice.h"

namespace cli {

void add_common(CLI::App& command, Common& common, bool figures) {
  command.add_flag("--json", common.json, "Write the answer as JSON (SI units, findings included)");
  command.add_option("-o,--output", common.output, "Write to FILE, whole or not at all")->type_name("FILE");
  command.add_flag("--no-color", common.no_color, "No colours, even on a terminal");
  if (!figures) return;
  command
      .add_option(
          "--units", common.units,
          "us or si, and units for pressure (kPa, bar, m of water, psi) and flow (L/s, L/min, gal/min): "
          "si,bar; left out: as the model writes its elevations")
      ->type_name("UNITS")
      ->check([](const std::string& words) { return runnel::units::wrong_choice(words); });
  command.add_flag("-v,--verbose", common.verbose, "Every survey point, and how the calculation went");
}

bool colour_wanted(const Common& common, int descriptor) {
  const char* no_color = std::getenv("NO_COLOR");
  const char* term = std::getenv("TERM");
  if (common.no_color || (no_color && *no_color) || !common.output.empty()) return false;
  if (term && std::string_view(term) == "dumb") return false;
  return isatty(descriptor) == 1;
}

runnel::report::TextOptions text_options(const Common& common, runnel::units::UnitSystem as_written,
                                         int descriptor) {
  runnel::report::TextOptions options;
  options.units = common.units.empty()
                      ? as_written
                      : runnel::units::read_choice(common.units, as_written).value_or(as_written);
  options.colour = colour_wanted(common, descriptor);
  options.every_point = common.verbose;
  return options;
}

int refuse(const Common& common, const std::vector<runnel::Finding>& findings,
           const runnel::report::Texts& texts, runnel::units::UnitSystem as_written) {
  if (common.json) {
    const int written = write(runnel::report::input_json(findings), common.output);
    return written == good ? wrong_input : written;
  }
  const auto options = text_options(common, as_written, STDERR_FILENO);
  tell(runnel::report::input_text(findings, texts, options));
  return wrong_input;
}

runnel::Finding usage(std::string code, std::string message, std::string advice) {
  runnel::Finding finding;
  finding.code = std::move(code);
  finding.message = std::move(message);
  finding.advice = std::move(advice);
  return finding;
}

}  // namespace cli
