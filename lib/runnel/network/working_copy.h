#pragma once
// A system of one's own that is changed in place, for whoever tries many changes one after another. Only what
// a change touches is worked out anew, by the code that resolves a model.
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

  // Lines and places of a kind are counted as in the system; std::out_of_range if there is none such.

  /// Another pipe in the place of one of the line's pipes. False, and nothing changed, if the line cannot be
  /// computed with it: a part that no table knows on that bore, an outlet's opening wider than the pipe.
  bool lay(int line, int pipe, const pipes::Pipe& by);
  /// Raises a point of the survey between its ends, which stand at their places (std::out_of_range for them).
  void raise(int line, int point, Length by);
  /// Opens a valve, from 0 (shut) to 1. False, and nothing changed, if no table gives its loss so far open.
  bool set_valve(int line, int part, double open);
  void yield(int box, Flow flow);
  void level(int tank, Length level);
  void draw(int joint, Flow flow);
  void shut(int outlet, bool shut);

 private:
  Pipeline& pipeline(int line) { return model_->pipelines.at(static_cast<std::size_t>(line)); }
  bool computable(int line) const;
  void refit(int line);

  std::shared_ptr<Model> model_;
  System system_;
};

}  // namespace runnel::network
