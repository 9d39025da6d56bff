#include "runnel/verdict/answer_sentence.h"

#include <algorithm>

#include "runnel/network/hours.h"
#include "runnel/verdict/asked.h"
#include "runnel/verdict/settings.h"
#include "runnel/verdict/store_rules.h"

namespace runnel::verdict {

bool any_judged(const std::vector<AskResult>& asks) {
  return std::any_of(asks.begin(), asks.end(), [](const AskResult& r) { return r.judged; });
}

bool has_to_show(const network::System& system, const std::vector<AskResult>& asks) {
  const network::Model& model = system.model();
  return any_judged(asks) || (asks.empty() && (!model.velocity_asks.empty() || network::has_draws(model)));
}

namespace {

constexpr std::string_view before_hours = ", ";

std::string hours_of_turn(const std::string& hours) { return "hours " + hours; }

/// The first setting, besides the one that leads, whose state does not last.
const Run* not_for_ever(const Answer& answer) {
  for (const Run& run : answer.runs)
    if (&run != &answer.leading() && run.verdict.lasting) return &run;
  return nullptr;
}

/// Settings whose answer is no better than `ruling`, except the one that leads.
std::vector<const Run*> others_no_better(const Answer& answer, Ruling ruling) {
  std::vector<const Run*> all;
  for (const Run& run : answer.runs)
    if (&run != &answer.leading() && run.verdict.ruling >= ruling) all.push_back(&run);
  return all;
}

/// The more, the more is asked: of a time to fill, the shorter.
double demand_of(const network::Ask& ask) {
  const double asked_si = asked_figure(ask).si;
  return ask.kind == network::AskKind::full_within ? -asked_si : asked_si;
}

/// Whether the model as drawn has a need of which another setting asks less, or nothing.
bool asks_less(const network::System& drawn, const network::System& other) {
  const auto& asks = other.asks();
  return std::any_of(drawn.asks().begin(), drawn.asks().end(), [&](const network::Ask& wanted) {
    return std::none_of(asks.begin(), asks.end(), [&](const network::Ask& ask) {
      return ask.at == wanted.at && ask.kind == wanted.kind && demand_of(ask) >= demand_of(wanted);
    });
  });
}

/// The same of the runs of an answer, of which each setting is told once.
Sentence asking_less(const Answer& answer) {
  std::vector<SettingRun> runs;
  for (const Run& run : answer.runs)
    if (run.hours.empty()) runs.push_back({run.setting, run.system});
  return asking_less(answer.runs.front().system, runs);
}

/// "Under the setting "service"", or "In the hours 17 to 20" for a later turn of the model as drawn.
Sentence where_run(const Run& run, bool begins_sentence) {
  Sentence s;
  const std::string hours = hours_of_turn(run.hours);
  if (!run.hours.empty() && run.setting == hours)
    return s.say(begins_sentence ? "In the " : "in the ").say(hours);
  return s.say(begins_sentence ? "Under" : "under").say(" the setting \"").name(run.setting).say("\"");
}

bool all_turns(const std::vector<const Run*>& runs) {
  return std::all_of(runs.begin(), runs.end(), [](const Run* run) { return !run->hours.empty(); });
}

/// "under one more setting", "under 3 more settings"; "at other hours" if they are all turns.
std::string how_many_more(const std::vector<const Run*>& runs) {
  if (all_turns(runs)) return "at other hours";
  return runs.size() == 1 ? "under one more setting"
                          : "under " + std::to_string(runs.size()) + " more settings";
}

/// What stands against the answer under other settings as well: their own conditions, where those differ from
/// the one that leads, or how many settings do as badly.
Sentence of_the_others(const Answer& answer) {
  Sentence s;
  const auto others = others_no_better(answer, answer.ruling());
  if (others.empty()) return s;
  if (answer.ruling() != Ruling::only_if) return s.say(" It is no better " + how_many_more(others) + ".");
  const Sentence leading = condition_of(answer.leading().verdict);
  std::vector<const Run*> unlike;
  for (const Run* run : others)
    if (!same(condition_of(run->verdict), leading)) unlike.push_back(run);
  if (unlike.empty()) return s.say(" The same condition holds " + how_many_more(others) + ".");
  if (unlike.front()->setting == as_drawn)
    s.say(" As drawn it does so only ");
  else
    s.say(" ").append(where_run(*unlike.front(), true)).say(" it does so only ");
  s.append(condition_of(unlike.front()->verdict)).say(".");
  if (unlike.size() > 1)
    s.say(all_turns(unlike) ? std::string(" Other hours have conditions of their own.")
          : unlike.size() == 2
              ? std::string(" One more setting has a condition of its own.")
              : " " + std::to_string(unlike.size() - 1) + " more settings have a condition of their own.");
  return s;
}

}  // namespace

Sentence asking_less(const network::System& drawn, const std::vector<SettingRun>& runs) {
  std::vector<const SettingRun*> less;
  for (const SettingRun& run : runs)
    if (asks_less(drawn, run.system)) less.push_back(&run);
  Sentence s;
  if (less.empty()) return s;
  s.say(" Less is asked under the setting \"").name(less.front()->setting).say("\"");
  if (less.size() > 1) s.say(" and " + std::to_string(less.size() - 1) + " more");
  return s.say(".");
}

Sentence whole_sentence(const Answer& answer) {
  const Run& leading = answer.leading();
  Sentence s;
  if (answer.runs.size() == 1) return leading.verdict.sentence;
  if (answer.ruling() == Ruling::holds) {
    s.append(leading.verdict.sentence);
    if (leading.setting != as_drawn)
      s.say(" That is ").append(where_run(leading, false)).say("; nothing fails under the others.");
    const bool all_asked = std::all_of(answer.runs.begin(), answer.runs.end(), [](const Run& run) {
      return has_to_show(run.system, run.verdict.asks);
    });
    if (leading.setting == as_drawn)
      s.say(all_asked ? " So it does under every setting." : " Nothing fails under the other settings.");
    s.append(asking_less(answer));
    if (const Run* run = not_for_ever(answer)) {
      Sentence under;
      under.say(" But ").append(where_run(*run, false)).say(" ");
      s.append(lasts_how_long(run->verdict, under));
    }
    return s;
  }
  if (leading.setting != as_drawn) s.append(where_run(leading, true)).say(": ");
  s.append(leading.verdict.sentence);
  s.append(of_the_others(answer));
  if (answer.good()) s.append(asking_less(answer));
  return s;
}

std::string name_of_turn(const std::string& setting, const std::string& hours) {
  const std::string turn = hours_of_turn(hours);
  return setting == as_drawn ? turn : setting + std::string(before_hours) + turn;
}

}  // namespace runnel::verdict
