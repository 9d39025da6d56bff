#pragma once
// The answer of `size`: what is chosen, what it costs, and how sure that is; or what stands in the way.
#include <optional>
#include <string>

#include "runnel/report/text.h"
#include "runnel/sizing/frontier.h"
#include "runnel/sizing/parts_list.h"
#include "runnel/sizing/size.h"
#include "runnel/sizing/split.h"
#include "runnel/sizing/sureness.h"

namespace runnel::report {

struct SizeReport {
  const network::Model& model;
  const sizing::SizeAnswer& answer;
  std::vector<sizing::FrontierRow> frontier;
  std::optional<sizing::PartsList> parts;
  std::optional<sizing::SplitDesign> split;
  std::optional<sizing::Sureness> sureness;
};

Document size_document(const SizeReport& report, const TextOptions& options);
std::string size_text(const SizeReport& report, const TextOptions& options);
std::string size_json(const SizeReport& report);
/// The parts list as lines of comma-separated values, SI.
std::string parts_csv(const sizing::PartsList& list);

}  // namespace runnel::report
