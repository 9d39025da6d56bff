// `runnel fill MODEL`: tanks over time.
#include "runnel/report/fill.h"

#include <fmt/format.h>
#include <unistd.h>

#include <algorithm>
#include <cmath>
#include <csignal>
#include <memory>

#include "commands.h"
#include "common.h"
#include "exit_code.h"
#include "fill_parts.h"
#include "model_source.h"
#include "output.h"
#include "ruling_code.h"
#include "runnel/report/emptying.h"
#include "runnel/report/render_text.h"
#include "runnel/units/choice.h"
#include "runnel/units/parse.h"
#include "runnel/verdict/settings.h"

namespace cli {
namespace {

struct Fill {
  Common common;
  std::string model, setting, duration, until, drain, drain_bore;
  bool from_empty = false, csv = false, year = false, springs_stop = false;
  std::optional<double> start_hour;
};

std::optional<runnel::units::UnitSystem> csv_units(const Common& common,
                                                   runnel::units::UnitSystem written_in) {
  if (common.units.empty()) return std::nullopt;
  return runnel::units::read_choice(common.units, written_in);
}

volatile std::sig_atomic_t interrupted = 0;
void on_interrupt(int) { interrupted = 1; }

/// While it lives, Ctrl-C only asks the run to end, so that no file is left half written.
class Interruptible {
 public:
  Interruptible() : before_(std::signal(SIGINT, on_interrupt)) { interrupted = 0; }
  ~Interruptible() { std::signal(SIGINT, before_); }
  Interruptible(const Interruptible&) = delete;
  Interruptible& operator=(const Interruptible&) = delete;

 private:
  void (*before_)(int);
};

/// The time reached, on standard error, only if a person is looking.
class Progress {
 public:
  bool operator()(double time_s) {
    if (shown_) fmt::print(stderr, "\r{:.1f} days ", time_s / 86400.0);
    if (shown_) std::fflush(stderr);
    printed_ = printed_ || shown_;
    return interrupted == 0;
  }
  void clear() const {
    if (printed_) fmt::print(stderr, "\r{:24}\r", "");
  }

 private:
  bool shown_ = isatty(STDERR_FILENO) == 1;
  bool printed_ = false;
};

std::optional<runnel::Finding> read_options(const Fill& fill, runnel::filling::FillOptions& options) {
  options.from_empty = fill.from_empty;
  options.start_hour = fill.start_hour.value_or(0.0);
  if (!(options.start_hour >= 0.0 && options.start_hour < 24.0))
    return usage("usage", "--start-hour must be an hour of the day, 0 to less than 24");
  if (!fill.until.empty() && fill.until != "full")
    return usage("usage", "--until knows only `full`", "for a time write --for 5days");
  options.until_full = fill.until == "full";
  if (fill.csv && fill.common.json)
    return usage("usage", "--csv and --json are two forms of one answer", "keep one of the two");
  const bool other = fill.year || !fill.drain.empty();
  if (fill.year && !fill.drain.empty())
    return usage("usage", "--year and --drain are two questions", "ask one after the other");
  if (other &&
      (fill.csv || fill.from_empty || fill.springs_stop || !fill.until.empty() || !fill.duration.empty()))
    return usage("usage",
                 "--for, --until, --from-empty, --spring-stops and --csv go with neither --year nor --drain",
                 "leave them out");
  if (fill.drain.empty() && !fill.drain_bore.empty())
    return usage("usage", "--drain-bore needs --drain", "name the washout: --drain W1");
  if (fill.duration.empty()) return std::nullopt;
  const auto parsed = runnel::units::parse(fill.duration, runnel::units::Dimension::duration);
  if (!parsed.ok()) return usage("usage", "--for must be a time: " + parsed.error, parsed.hint);
  constexpr double most_days = 36500.0;  // a hundred years
  if (!(parsed.si > 0.0) || parsed.si > most_days * 86400.0)
    return usage("usage", "--for must be a time: more than nothing, at most 36500 days",
                 "write for example --for 5days");
  options.duration_s = parsed.si;
  options.keep_steps = options.duration_s <= 400.0 * 86400.0;
  return std::nullopt;
}

/// Prints the setting that leads, with what all of them come to.
int show(const Fill& fill, const Model& model, const runnel::verdict::FillAnswered& whole) {
  if (const auto& last = whole.runs.back().history; last.outcome == runnel::filling::FillOutcome::stopped) {
    fmt::print(stderr, "runnel: stopped after {:.1f} days of the run; nothing was written\n",
               last.duration_s / 86400.0);
    return stopped;
  }
  const runnel::verdict::FillRun& run = whole.leading();
  const runnel::report::FillAnswer answer{run.system,
                                          run.history,
                                          run.verdict,
                                          run.setting,
                                          run.options,
                                          fill.springs_stop,
                                          csv_units(fill.common, model.written_in),
                                          &whole};
  const auto options = text_options(fill.common, model.written_in, STDOUT_FILENO);
  const auto in_words = [&] {
    runnel::report::Document said;
    if (fill.springs_stop)
      said.append(runnel::report::springs_stop_document(run.history, run.options, options)).section();
    return runnel::report::render_text(said.append(runnel::report::fill_document(answer, options)), options);
  };
  const std::string text = fill.common.json ? runnel::report::fill_json(answer)
                           : fill.csv       ? runnel::report::fill_csv(answer)
                                            : in_words();
  const int written = write(text, fill.common.output);
  return written == good ? code_of(run.verdict.ruling) : written;
}

int run(const Fill& fill) {
  runnel::filling::FillOptions options;
  if (const auto finding = read_options(fill, options)) return refuse(fill.common, {*finding});
  const std::string first = fill.setting.empty() ? runnel::verdict::as_drawn : fill.setting;
  Model model = read_model(fill.model, first);
  if (!model.system) return refuse(fill.common, model.findings, model.texts, model.written_in);
  if (!fill.common.json && !model.findings.empty())
    refuse(fill.common, model.findings, model.texts, model.written_in);

  std::optional<std::string> setting;
  if (!fill.setting.empty()) setting = fill.setting;
  if (fill.year) return fill_year(fill.common, model, setting);
  if (!fill.drain.empty()) return fill_drain(fill.common, model, fill.drain, fill.drain_bore);

  const Interruptible guard;
  Progress progress;
  options.progress = [&](double time_s) { return progress(time_s); };
  runnel::verdict::FillAsked asked{.options = options,
                                   .springs_stop = fill.springs_stop,
                                   .start_hour = fill.start_hour,
                                   .remarks = model.findings};
  asked.setting = setting;
  const auto answered = runnel::verdict::fill_model(*model.drawn, asked);
  progress.clear();
  if (!answered) return refuse(fill.common, answered.findings);
  return show(fill, model, *answered.value);
}

}  // namespace

void add_fill(CLI::App& app, int& exit) {
  auto fill = std::make_shared<Fill>();
  CLI::App* command =
      app.add_subcommand("fill", "Tanks over time: when full, when empty, what spills, what is missing");
  command->add_option("MODEL", fill->model, "A model file, or - for standard input")
      ->required()
      ->type_name("");
  command
      ->add_option("--for", fill->duration,
                   "How long to run; left out: until all is full, at rest, or the same every day")
      ->type_name("TIME");
  command->add_option("--until", fill->until, "Stop when every tank has been full")->type_name("full");
  command->add_flag("--from-empty", fill->from_empty,
                    "Tanks and boxes start empty instead of at their level");
  command
      ->add_option("--start-hour", fill->start_hour,
                   "Hour of the day at which it starts (0; with --spring-stops that of the first draws)")
      ->type_name("HOUR");
  command
      ->add_option(
          "--setting", fill->setting,
          "Only this way of running it, which the model names; left out: as drawn and under every setting")
      ->type_name("NAME");
  command->add_flag("--spring-stops", fill->springs_stop,
                    "Every spring gives nothing from the start: how long each tank lasts");
  command->add_option("--drain", fill->drain, "How long the section of a washout takes to empty through it")
      ->type_name("WASHOUT");
  command->add_option("--drain-bore", fill->drain_bore, "Bore of that washout; left out: as wide as its pipe")
      ->type_name("LENGTH");
  command->add_flag(
      "--year", fill->year,
      "A year of yields and demands: what reaches the tanks, what storage that takes, what the tanks cover");
  command->add_flag("--csv", fill->csv,
                    "Write the course of every level, tap and draw as CSV (SI, or --units). What lines "
                    "bring counts as inflow, less what they take away");
  add_common(*command, fill->common, true);
  command->footer("Example:\n  runnel fill models/herd_tanks/model.yaml --for 5days");
  command->callback([fill, &exit] { exit = run(*fill); });
}

}  // namespace cli
