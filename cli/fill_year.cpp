// `runnel fill MODEL --year`: storage through a year.
#include <unistd.h>

#include "exit_code.h"
#include "fill_parts.h"
#include "output.h"
#include "ruling_code.h"
#include "runnel/report/year.h"
#include "runnel/verdict/year_states.h"

namespace cli {

int fill_year(const Common& common, const Model& model, const std::optional<std::string>& setting) {
  if (!model.system->year())
    return refuse(
        common,
        {usage("no-year", "--year needs a year in the model",
               "add year: {{yields: {{box name: [12 flows]}}, demands: {{tank name: [12 flows]}}}}")});
  if (model.system->tanks().empty())
    return refuse(common, {usage("no-tanks", "--year needs a tank in the model", "add it under tanks:")});
  const auto answered = runnel::verdict::answer_year(*model.drawn, setting);
  if (!answered) return refuse(common, answered.findings);
  const runnel::verdict::YearRun& leading = answered.value->leading();
  const runnel::report::YearAnswer answer{leading.system, leading.parts, leading.setting, &*answered.value};
  const std::string text =
      common.json ? runnel::report::year_json(answer)
                  : runnel::report::year_text(answer, text_options(common, model.written_in, STDOUT_FILENO));
  const int written = write(text, common.output);
  return written == good ? code_of(runnel::report::year_ruling(leading)) : written;
}

}  // namespace cli
