#pragma once
// Reading one map of the model, member by member.
#include <optional>
#include <string>
#include <string_view>
#include <type_traits>
#include <vector>

#include "runnel/input/reader.h"
#include "runnel/input/values.h"
#include "runnel/units/quantity.h"

namespace runnel::input {

/// A map whose members are looked up by name. A member that was never looked up is unknown: `close` reports
/// it, with the name that was probably meant. One that is looked up but absent is either fine (`find`) or an
/// error (`need`), which `close` reports too, so that a mistyped name gives one finding, not two.
class Fields {
 public:
  /// `owner` is where the map is named, `what` names it in messages: `box "upper box"`.
  Fields(Reader& reader, const document::Node& node, Mark owner, std::string what);

  /// False if it is not a map, which has then been reported.
  bool usable() const { return usable_; }

  bool has(std::string_view key) const { return usable_ && node_.find(key) != nullptr; }
  const document::Node* find(const char* key);
  /// `example` is shown when the member is absent: `lip: 4757.4 ft`.
  const document::Node* need(const char* key, const char* example);

  template <class Q>
  std::optional<Q> find_quantity(const char* key) {
    const document::Node* node = find(key);
    if (node && std::is_same_v<Q, Length>) note_elevation(key, *node);
    return node ? read_quantity<Q>(reader_, *node, label(key)) : std::nullopt;
  }
  template <class Q>
  std::optional<Q> need_quantity(const char* key, const char* example) {
    const document::Node* node = need(key, example);
    if (node && std::is_same_v<Q, Length>) note_elevation(key, *node);
    return node ? read_quantity<Q>(reader_, *node, label(key)) : std::nullopt;
  }
  std::optional<double> find_number(const char* key);
  std::optional<double> need_number(const char* key, const char* example);
  std::optional<std::string> find_text(const char* key);
  std::optional<std::string> need_text(const char* key, const char* example);

  /// Two members that say the same thing: an error if both are there.
  void not_both(const char* key, const char* other);

  /// Reports unknown and absent members. Call it last.
  void close();

  /// `the lip of box "upper box"`, for messages.
  std::string label(std::string_view key) const;
  const std::string& what() const { return what_; }
  const Mark& owner() const { return owner_; }
  /// Where the member's value was written; the owner if it is absent.
  Mark mark(std::string_view key) const;
  Mark key_mark(std::string_view key) const;

 private:
  struct Missing {
    const char *key, *example;
  };

  void note_elevation(std::string_view key, const document::Node& node);

  Reader& reader_;
  const document::Node& node_;
  Mark owner_;
  std::string what_;
  bool usable_;
  std::vector<const char*> asked_;
  std::vector<Missing> missing_;
};

/// A list, or an error: `what` names the member, `example` shows how it is written.
const std::vector<std::unique_ptr<document::Node>>* list_of(Reader& reader, const document::Node& node,
                                                            const std::string& what, const char* example);

}  // namespace runnel::input
