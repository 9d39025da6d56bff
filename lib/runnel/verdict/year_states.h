#pragma once
// The year in the states that the system will be in: siphons that a dry month empties are broken, the air of
// the start is in the lines as far as the current leaves it, and a way that trapped air blocks brings
// nothing.
#include <cstddef>
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/filling/year.h"
#include "runnel/network/model.h"
#include "runnel/network/system.h"
#include "runnel/verdict/draft.h"
#include "runnel/verdict/ruling.h"

namespace runnel::verdict {

/// As filling::look_at_year. Never throws for a system with a year.
std::vector<filling::YearPart> look_at_year(const network::System& system);

/// A year of the model as it runs under one setting.
struct YearRun {
  std::string setting;  ///< "normal": as drawn
  network::System system;
  std::vector<filling::YearPart> parts;
  Ruling flow = Ruling::holds;  ///< of the steady answer, which holds the needs to every period of the year
  Sentence flow_sentence;
  bool lasts() const;  ///< every part lasts, month by month and hour by hour
  bool good() const { return lasts() && is_good(flow); }
};

struct YearAnswered {
  std::vector<YearRun>
      runs;  ///< at least one: as drawn, then every setting in the model's order; or the one named
  std::size_t leads = 0;  ///< the first that fails; as drawn if none does
  const YearRun& leading() const { return runs[leads]; }
  bool good() const { return leading().good(); }
};

/// The year under each setting, or under the one named. Findings instead if the model cannot be computed on
/// or has no setting of that name. Precondition: the model has a year and a tank.
Checked<YearAnswered> answer_year(const network::Model& model, const std::optional<std::string>& setting);

}  // namespace runnel::verdict
