#include "runnel/report/finding_codes.h"

#include <algorithm>

#include "runnel/sizing/codes.h"

namespace runnel::report {

using verdict::Code;

const std::vector<Code>& finding_codes() {
  static const std::vector<Code> all = [] {
    std::vector<Code> codes = verdict::codes();
    for (auto part : {sizing::design_loops_codes, sizing::design_needs_codes, sizing::design_tree_codes,
                      sizing::size_codes}) {
      const std::vector<Code> some = part();
      codes.insert(codes.end(), some.begin(), some.end());
    }
    std::sort(codes.begin(), codes.end(), [](const Code& a, const Code& b) { return a.code < b.code; });
    return codes;
  }();
  return all;
}

const Code* find_code(std::string_view code) {
  const std::vector<Code>& all = finding_codes();
  const auto at = std::lower_bound(all.begin(), all.end(), code,
                                   [](const Code& c, std::string_view wanted) { return c.code < wanted; });
  return at != all.end() && at->code == code ? &*at : nullptr;
}

}  // namespace runnel::report
