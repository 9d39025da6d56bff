#include "runnel/verdict/settings.h"

namespace runnel::verdict {

std::vector<std::string> settings_to_run(const network::Model& model,
                                         const std::optional<std::string>& named) {
  std::vector<std::string> settings{named.value_or(as_drawn)};
  if (named) return settings;
  for (const network::Setting& setting : model.settings)
    if (setting.name != as_drawn) settings.push_back(setting.name);
  return settings;
}

}  // namespace runnel::verdict
