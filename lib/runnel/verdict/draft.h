#pragma once
// Building a finding piece by piece: words, names and figures in the order a person reads them.
#include <string>
#include <string_view>
#include <unordered_map>
#include <utility>

#include "runnel/base/finding.h"
#include "runnel/verdict/codes.h"

namespace runnel::verdict {

/// A name made safe to stand in a finding's text: braces doubled, so that `{0}` in a name stays a name.
std::string brace_safe(std::string_view name);

/// A sentence whose figures are filled in only when it is shown.
class Sentence {
 public:
  Sentence& say(std::string_view words);  ///< our own words
  Sentence& name(std::string_view name);  ///< a name the person gave
  /// Names as "a, b and c"; where there are more than `most`, "a, b and 2 more".
  Sentence& names(const std::vector<std::string>& names, std::size_t most = 3);
  Sentence& figure(Figure figure);
  Sentence& figure(Kind kind, double si) { return figure(Figure{kind, si}); }
  /// What is asked for at least: shown, it is never less.
  Sentence& least(Kind kind, double si) { return figure(Figure{kind, si, true}); }
  /// Adds a whole sentence; its figures are renumbered behind ours.
  Sentence& append(const Sentence& other);

  bool empty() const { return text_.empty(); }
  const std::string& text() const { return text_; }
  const std::vector<Figure>& figures() const { return figures_; }

 private:
  friend Sentence sentence_of(const Finding& finding);
  std::string text_;
  std::vector<Figure> figures_;
};

/// Whether both say the same, figures counted.
bool same(const Sentence& a, const Sentence& b);

/// Numbers sentences from 0 in the order in which they are first met; one that says the same has the number
/// of the first.
class Said {
 public:
  /// The number of the sentence, and whether it is the first that says so.
  std::pair<std::size_t, bool> number(const Sentence& sentence);

 private:
  std::unordered_map<std::string, std::size_t> known_;
};

/// The message of a finding as a sentence.
Sentence sentence_of(const Finding& finding);

/// A finding in the making. `done` joins message and advice on one list of figures.
class Draft {
 public:
  Draft(std::string code, Severity severity);
  /// By a rule, whose source the finding names unless it is given another.
  Draft(const Code& rule, Severity severity);

  Sentence message, advice;
  Draft& at_place(const std::string& name);
  Draft& on_line(const std::string& name);
  Draft& on_line(const std::string& name, double station_m);
  Draft& against(Figure figure, Figure limit);
  Draft& source(std::string text);
  Finding done() const;

 private:
  Finding finding_;
};

}  // namespace runnel::verdict
