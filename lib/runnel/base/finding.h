#pragma once
// One thing worth saying: about the input (with a mark) or about the system (with a place).
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/base/figure.h"
#include "runnel/base/mark.h"

namespace runnel {

enum class Severity { note, warning, error };

/// Where in the system a finding applies. Any member may be empty.
struct Where {
  std::string place;                ///< name of a box, tank, outlet or joint
  std::string pipeline;             ///< name of a pipeline
  std::string part;                 ///< name of a part on it
  std::optional<double> station_m;  ///< station on the pipeline [m]
};

/// The text of `message` and `advice` may hold {0}, {1}, ...: the figures, which are printed in the
/// reader's units only when the finding is shown (units/print.h, `render`). Literal braces are {{ }}.
struct Finding {
  // Written in finding.cpp: nearly every file copies or drops findings.
  Finding();
  Finding(const Finding&);
  Finding(Finding&&) noexcept;
  Finding& operator=(const Finding&);
  Finding& operator=(Finding&&) noexcept;
  ~Finding();

  std::string code;  ///< stable, in words: "air-crest-near-grade"; `runnel explain CODE`
  Severity severity = Severity::error;
  std::string message;           ///< one sentence a farmer can act on
  std::vector<Figure> figures;   ///< for the placeholders
  std::string advice;            ///< what to do about it; may be empty (input findings: the hint)
  std::string source;            ///< where the rule or limit is from; empty for input findings
  std::optional<Figure> figure;  ///< what the system does (physics findings)
  std::optional<Figure> limit;   ///< what the rule allows (physics findings)
  Where where;                   ///< physics findings
  Mark mark;                     ///< input findings
  std::optional<Mark> other;     ///< a second place in the text, for conflicts
  std::string other_note;        ///< what is there: "first written here"
};

/// True if any finding is an error.
bool any_error(const std::vector<Finding>& findings);
/// Whether one of them has this code and speaks of this place.
bool any_at(const std::vector<Finding>& findings, std::string_view code, std::string_view place);

/// A value, or none, with the findings about it.
template <class T>
struct Checked {
  std::optional<T> value;
  std::vector<Finding> findings;

  explicit operator bool() const { return value.has_value(); }
};

}  // namespace runnel
