#pragma once
// A private copy of a system that is changed in place, for callers that try many changes one after another.
// Only what a change affects is computed anew, by the code that resolves a model.
#include <memory>

#include "runnel/network/system.h"

namespace runnel::network {

class WorkingCopy {
 public:
  explicit WorkingCopy(const System& system);
  WorkingCopy(const WorkingCopy&) = delete;
  WorkingCopy& operator=(const WorkingCopy&) = delete;

  /// As it stands. It changes with this one, and so does every copy of it.
  const System& system() const { return system_; }

  // Lines, and places within their kind, have the numbers of the system; std::out_of_range for any other.

  /// Replaces one of the line's pipes. False, with nothing changed, if the line cannot be computed then: no
  /// table knows a part on that bore, or the opening of an outlet is wider than the pipe.
  bool lay(int line, int pipe, const pipes::Pipe& by);
  /// Raises a point of the survey; its ends are fixed to their places (std::out_of_range for them).
  void raise(int line, int point, Length by);
  /// Opens a valve, from 0 (shut) to 1. False, with nothing changed, if no table gives its loss at that
  /// opening.
  bool set_valve(int line, int part, double open);
  void yield(int box, Flow flow);
  void level(int tank, Length level);
  void draw(int joint, Flow flow);
  void shut(int outlet, bool shut);
  /// Opens a tap so far that no more than this comes; none: wide.
  void open(int outlet, std::optional<Flow> to);

 private:
  Pipeline& pipeline(int line) { return model_->pipelines.at(static_cast<std::size_t>(line)); }
  bool computable(int line) const;
  void refit(int line);

  std::shared_ptr<Model> model_;
  System system_;
};

}  // namespace runnel::network
