// `runnel size MODEL`: the cheapest pipe that does what is asked.
#include "runnel/report/size.h"

#include <fmt/format.h>
#include <unistd.h>

#include <atomic>
#include <chrono>
#include <csignal>
#include <memory>
#include <thread>

#include "commands.h"
#include "common.h"
#include "exit_code.h"
#include "model_source.h"
#include "output.h"
#include "patience.h"
#include "replace_file.h"
#include "runnel/document/quote.h"
#include "runnel/units/parse.h"
#include "size_write.h"

namespace cli {
namespace {

struct Size {
  Common common;
  std::string model, list, write_to, present, trench_width, trench_depth;
  bool parts = false;
  std::string sure;
  int samples = 0;
  std::uint64_t seed = 1;
};

std::atomic<bool> search_stopped{false};

/// While it lives, Ctrl-C asks the search to stop with the best it has.
class StopAsked {
 public:
  StopAsked() : before_(std::signal(SIGINT, [](int) { search_stopped = true; })) {}
  ~StopAsked() { std::signal(SIGINT, before_); }
  StopAsked(const StopAsked&) = delete;
  StopAsked& operator=(const StopAsked&) = delete;

 private:
  void (*before_)(int);
};

/// A line on the terminal every second or so.
class SearchProgress {
 public:
  void operator()(const runnel::sizing::SizeProgress& at) {
    const auto now = std::chrono::steady_clock::now();
    if (isatty(STDERR_FILENO) != 1 || now - last_ < std::chrono::seconds(1)) return;
    last_ = now;
    tell(fmt::format("\r\x1b[Krunnel: {} choices looked at, {} (Ctrl-C keeps the best)", at.looked_at,
                     at.best_so_far ? fmt::format("the best so far for {:.2f}", at.cost)
                                    : fmt::format("none below {:.2f} does", at.cost)));
    shown_ = true;
  }
  void clear() {
    if (shown_) tell("\r\x1b[K");
  }

 private:
  std::chrono::steady_clock::time_point last_ = std::chrono::steady_clock::now();
  bool shown_ = false;
};

constexpr int usual_samples = 2000, first_samples = 100;

int samples_of(const Size& size) { return size.samples > 0 ? size.samples : usual_samples; }

/// Work shared among the processors.
void share_out(std::size_t count, const std::function<void(std::size_t)>& work) {
  const std::size_t threads = std::clamp<std::size_t>(std::thread::hardware_concurrency(), 1, 64);
  const auto every = [&](std::size_t first) {
    for (std::size_t i = first; i < count; i += threads) work(i);
  };
  std::vector<std::thread> others;
  for (std::size_t t = 1; t < threads; ++t) others.emplace_back(every, t);
  every(0);
  for (std::thread& other : others) other.join();
}

/// 0.95 of "95 %" or "95%"; nothing, and a finding, if it is no share.
std::optional<double> share_of(const std::string& text, std::vector<runnel::Finding>& findings) {
  if (text.empty()) return std::nullopt;
  char* end = nullptr;
  const double percent = std::strtod(text.c_str(), &end);
  const std::string unit(end);
  const bool known = unit == "%" || unit == " %";
  if (known && percent > 0.0 && percent < 100.0) return 0.01 * percent;
  findings.push_back(usage("bad-option-value", "--sure is not a share below 100 %", "write it as 95%"));
  return std::nullopt;
}

runnel::Checked<runnel::sizing::SizeAnswer> search(const runnel::network::Model& model, const Size& size,
                                                   std::optional<double> sure) {
  SearchProgress progress;
  const StopAsked stop;
  runnel::sizing::SizeLimits limits;
  limits.stop = [] { return search_stopped.load(); };
  if (sure)
    limits.accept = [&](const runnel::network::Model& laid) {
      // Few samples show what is far from sure.
      const auto first = runnel::sizing::chances_of(laid, size.seed, first_samples, share_out);
      if (std::any_of(first.begin(), first.end(),
                      [&](const auto& one) { return one.chance + 4.0 * one.error < *sure; }))
        return false;
      const auto all = runnel::sizing::chances_of(laid, size.seed, samples_of(size), share_out);
      return std::all_of(all.begin(), all.end(), [&](const auto& one) { return one.chance >= *sure; });
    };
  limits.progress = [&](const runnel::sizing::SizeProgress& at) { progress(at); };
  auto answer = runnel::sizing::size(model, limits);
  progress.clear();
  return answer;
}

/// Width and depth, if both are given and are lengths; `findings` says what is wrong with them.
std::optional<runnel::sizing::Trench> trench_of(const Size& size, std::vector<runnel::Finding>& findings) {
  if (size.trench_width.empty() && size.trench_depth.empty()) return std::nullopt;
  const auto length = [&](const std::string& text, const char* option) {
    const auto parsed = runnel::units::parse(text, runnel::units::Dimension::length);
    if (parsed.ok() && parsed.si > 0.0) return runnel::Length::metres(parsed.si);
    const bool left_out = text.empty();
    findings.push_back(usage("bad-option-value",
                             std::string(option) + (left_out ? " is needed as well, for a volume"
                                                             : " " + runnel::document::quote(text) +
                                                                   " is no length of more than nothing"),
                             "write it with its unit, for example 40 cm"));
    return runnel::Length{};
  };
  return runnel::sizing::Trench{length(size.trench_width, "--trench-width"),
                                length(size.trench_depth, "--trench-depth")};
}

/// Writes the model with what was chosen; an exit code.
int write_model(const Size& size, const Model& model, const runnel::sizing::SizeAnswer& answer) {
  // What it names beside it (a survey, prices) is found from its own folder alone.
  if (model.texts.size() > 1 && folder_of(size.write_to) != folder_of(size.model))
    return refuse(size.common,
                  {usage("names-side-files", "the model names other files, which are looked for beside it",
                         "write the chosen model into the folder " + folder_of(size.model))});
  auto text = written_choice(model.texts.at(size.model), size.model, *model.drawn, answer);
  if (!text) return refuse(size.common, text.findings, model.texts, model.written_in);
  return write(*text.value, size.write_to);
}

int run(const Size& size) {
  const Model model = patiently("reading the model", [&] { return read_written(size.model); });
  if (!model.drawn) return refuse(size.common, model.findings, model.texts, model.written_in);
  if (!size.common.json && !model.findings.empty())
    refuse(size.common, model.findings, model.texts, model.written_in);
  std::vector<runnel::Finding> slips;
  const auto trench = trench_of(size, slips);
  const auto sure = share_of(size.sure, slips);
  if (!slips.empty()) return refuse(size.common, slips);
  std::optional<runnel::sizing::Sizes> present;
  if (!size.present.empty()) {
    const Model now = read_written(size.present);
    if (!now.drawn) return refuse(size.common, now.findings, now.texts, now.written_in);
    present = runnel::sizing::sizes_laid(*model.drawn, *now.drawn);
    if (!present)
      return refuse(size.common, {usage("not-to-choose-from",
                                        "--present lays some line in a pipe that is not to choose from",
                                        "add it to the line's `choose`, with its price")});
  }
  auto answer = search(*model.drawn, size, sure);
  if (!answer) return refuse(size.common, answer.findings, model.texts, model.written_in);
  runnel::report::SizeReport report{*model.drawn, *answer.value, {}, {}, {}, {}};
  const bool chosen = answer.value->outcome == runnel::sizing::SizeOutcome::chosen;
  if (!search_stopped)
    report.split = runnel::sizing::split(*model.drawn, *answer.value, [] { return search_stopped.load(); });
  if (!search_stopped)
    report.frontier =
        runnel::sizing::frontier(*model.drawn, *answer.value, present, [] { return search_stopped.load(); });
  if (chosen && (sure || size.samples > 0)) {
    report.sureness = runnel::sizing::sureness(answer.value->laid, answer.value->trial.model, size.seed,
                                               samples_of(size), share_out);
  }
  if (chosen && (size.parts || !size.list.empty() || trench))
    report.parts =
        runnel::sizing::parts_list(answer.value->trial.model, runnel::sizing::PriceList(*model.drawn),
                                   answer.value->trial.throttles, trench);
  if (report.parts && !size.list.empty())
    if (const int written = write(runnel::report::parts_csv(*report.parts), size.list); written != good)
      return written;
  if (chosen && !size.write_to.empty())
    if (const int written = write_model(size, model, *answer.value); written != good) return written;
  const auto options = text_options(size.common, model.written_in, STDOUT_FILENO);
  const std::string text =
      size.common.json ? runnel::report::size_json(report) : runnel::report::size_text(report, options);
  if (const int written = write(text, size.common.output); written != good) return written;
  return chosen ? good : wrong_system;
}

}  // namespace

void add_size(CLI::App& app, int& exit) {
  auto size = std::make_shared<Size>();
  CLI::App* command =
      app.add_subcommand("size", "The cheapest pipe that does what is asked, and what more would cost");
  command->add_option("MODEL", size->model, "A model file, or - for standard input")
      ->required()
      ->type_name("");
  command
      ->add_option("--write", size->write_to,
                   "Write the model with the pipe chosen and the taps throttled to FILE")
      ->type_name("FILE");
  command->add_option("--present", size->present, "The model as it is laid now, for its row in the trade-off")
      ->type_name("MODEL");
  command->add_flag("--parts", size->parts, "Also what has to be bought and dug");
  command->add_option("--parts-list", size->list, "Write what has to be bought to FILE (comma-separated)")
      ->type_name("FILE");
  command->add_option("--trench-width", size->trench_width, "Width of the trench, for its volume")
      ->type_name("LENGTH");
  command->add_option("--trench-depth", size->trench_depth, "Depth of the trench, for its volume")
      ->type_name("LENGTH");
  command->add_option("--sure", size->sure, "Only what holds with this chance, for example 95%")
      ->type_name("SHARE");
  command
      ->add_option("--samples", size->samples,
                   "Say with what chance each need is met, from so many random samples")
      ->type_name("COUNT")
      ->check(CLI::Range(2, 10'000'000));
  command->add_option("--seed", size->seed, "Of the samples; the same seed gives the same answer")
      ->type_name("NUMBER");
  add_common(*command, size->common, true);
  command->footer("Example:\n  runnel size models/village/open.yaml --parts");
  command->callback([size, &exit] { exit = run(*size); });
}

}  // namespace cli
