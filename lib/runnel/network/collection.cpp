#include "runnel/network/collection.h"

namespace runnel::network {

const std::vector<std::string>& ground_words() {
  static const std::vector<std::string> words = {
      "silt",          "fine sand", "medium sand", "coarse sand", "fine gravel", "medium gravel",
      "coarse gravel", "boulders",  "soft clay",   "medium clay", "hard clay"};
  return words;
}

const std::vector<std::string>& filter_rules_words() {
  static const std::vector<std::string> words = {"earth manual 1960", "river manual", "nrcs 1994",
                                                 "nrcs 2017",         "nrcs band",    "corps 2005",
                                                 "reclamation 2011"};
  return words;
}

const std::vector<std::string>& distance_words() {
  static const std::vector<std::string> words = {"clear ground uphill",
                                                 "clear ground sideways",
                                                 "clear ground downhill",
                                                 "sewer",
                                                 "manure",
                                                 "stock",
                                                 "latrine",
                                                 "privy uphill",
                                                 "fence",
                                                 "ditch outfall"};
  return words;
}

}  // namespace runnel::network
