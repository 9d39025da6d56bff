// Pages of the bibliography.
#include "runnel/report/references.h"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "runnel/report/finding_codes.h"

using namespace runnel;

TEST_CASE("the page of a source tells what it is, how sure it is and what stands on it") {
  const base::Reference* reference = base::find_reference("nrcs-430");
  REQUIRE(reference);
  const std::string page = report::reference_text(*reference, {});
  for (const char* word : {"[nrcs-430]", "practice standard 430", "How it was come by", "from memory",
                           "Findings that stand on it", "static-above-rating", "Where it is used",
                           "lib/runnel/verdict/pressure_rules.cpp"})
    CHECK_THAT(page, Catch::Contains(word));
  const auto json = nlohmann::json::parse(report::reference_json(*reference));
  CHECK(json.at("key") == "nrcs-430");
  CHECK(json.at("status") == reference->status);
  CHECK(json.at("findings").size() >= 2);
}

TEST_CASE("every source is listed, in both forms") {
  const auto json = nlohmann::json::parse(report::references_json());
  CHECK(json.at("references").size() == base::references().size());
  const std::string text = report::references_text({});
  for (const base::Reference& reference : base::references())
    CHECK_THAT(text, Catch::Contains("[" + reference.key + "]"));
}

TEST_CASE("no key of a source is the code of a finding, so `explain` has one page for each") {
  for (const base::Reference& reference : base::references()) {
    INFO(reference.key);
    CHECK_FALSE(report::find_code(reference.key));
  }
}
