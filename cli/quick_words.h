#pragma once
// Reads one word of the command line of `runnel quick`, and says what is wrong with it.
#include <optional>
#include <string>
#include <vector>

#include "runnel/base/finding.h"
#include "runnel/network/place.h"
#include "runnel/pipes/pipe.h"
#include "runnel/units/parse.h"

namespace cli {

class WordReader {
 public:
  explicit WordReader(std::vector<runnel::Finding>& findings) : findings_(findings) {}

  void wrong(const std::string& option, const std::string& text, const std::string& error,
             const std::string& hint = "");
  /// The SI value; 0 and a finding if it is none.
  double value(const std::string& option, const std::string& text, runnel::units::Dimension dimension);
  double positive(const std::string& option, const std::string& text, runnel::units::Dimension dimension);
  bool sound() const { return findings_.empty(); }

 private:
  std::vector<runnel::Finding>& findings_;
};

/// A pipe by name, by what people call it if that means just one, or by its bore: `bore 26 mm`.
runnel::pipes::Pipe quick_pipe(const std::string& text, std::vector<runnel::Finding>& findings);

/// `20 L in 45 s`, as a bucket is timed; none if it is not written so.
std::optional<runnel::network::BucketTests> bucketful(const std::string& text);

}  // namespace cli
