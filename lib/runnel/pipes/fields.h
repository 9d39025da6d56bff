#pragma once
// Reading one map of a pipe description or a catalogue, member by member. (The room `input`, above this one,
// has a richer reader of its own.)
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "runnel/document/tree.h"
#include "runnel/units/parse.h"

namespace runnel::pipes {

class Fields {
 public:
  /// `what` names the map in messages: `the pipe`. Both references must outlive this.
  Fields(const document::Node& node, std::vector<Finding>& findings, std::string what);

  /// False if it is not a map, which has then been reported.
  bool usable() const { return usable_; }

  /// The member, or nullptr if it is absent or empty (empty is reported).
  const document::Node* find(const char* key);
  std::optional<std::string> text(const char* key);
  /// In SI. A pressure written as a height of water is converted with the heaviest water, 999.97 kg/m3.
  std::optional<double> quantity(const char* key, units::Dimension dimension);
  /// One of `words`; gives its place in the list.
  std::optional<std::size_t> word(const char* key, const std::vector<std::string>& words);
  void missing(const char* key, const std::string& example);
  /// Reports every member that was never looked up.
  void close();

  Finding& error(const char* code, const Mark& mark, std::string message, std::string advice);
  /// Where a member's value was written; the map if it is absent.
  Mark mark(const char* key) const;

 private:
  const document::Node& node_;
  std::vector<Finding>& findings_;
  std::string what_;
  bool usable_;
  std::vector<std::string> asked_;
};

}  // namespace runnel::pipes
