#pragma once
// What all parts of the model reader share: it collects findings, and remembers where things were written in
// the text, so that `network::validate` can point at them.
#include <array>
#include <map>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "runnel/document/suggestions.h"
#include "runnel/document/tree.h"
#include "runnel/input/read_model.h"
#include "runnel/network/validate.h"
#include "runnel/units/print.h"

namespace runnel::input {

class Reader {
 public:
  Reader(std::string file, const ReadOptions& options) : file_(std::move(file)), options_(options) {}
  Reader(const Reader&) = delete;
  Reader& operator=(const Reader&) = delete;

  /// Braces of quoted text in `message` and `hint` must be doubled, by document::quote or `literal`. An error
  /// makes the object that is being read incomplete.
  Finding& error(std::string code, const Mark& mark, std::string message, std::string hint = {});
  Finding& warning(std::string code, const Mark& mark, std::string message, std::string hint = {});
  void take(std::vector<Finding> findings);  ///< from a reader in another room

  /// Makes the object that is being read incomplete without a finding, when the cause is reported elsewhere.
  void spoil() { known_[current_].incomplete = true; }
  bool whole(const Mark& object) const;

  /// `did you mean "x"?` or nothing; after very many hints always nothing.
  std::string suggest(std::string_view word, const std::vector<std::string>& candidates);
  /// False once `suggest` has nothing more to say.
  bool suggests() const { return suggestions_.patient(); }

  /// Notes that an elevation, or the unit of a survey, is written as `text` at `mark`.
  void note_elevation(std::string_view text, const Mark& mark);
  /// The units of the elevation that stands first in the text; SI if there is none.
  units::UnitSystem written_in() const { return first_elevation_units_; }

  /// While it exists, errors belong to the object at `mark`, whose members are found under `node`.
  class Object {
   public:
    Object(Reader& reader, const Mark& mark, const document::Node* node);
    ~Object();
    Object(const Object&) = delete;
    Object& operator=(const Object&) = delete;

    /// Says where a member is that is not under `node`, or is under another name there.
    void place(const std::string& member, const Mark& mark);
    bool whole() const;

   private:
    Reader& reader_;
    std::pair<int, int> key_, outer_;
  };

  /// What `network::validate` needs to point into the text. Holds a reference to this reader.
  network::Origin origin() const;

  const std::string& file() const { return file_; }
  std::optional<std::string> side_file(const std::string& name) const;
  std::vector<Finding> take_findings() { return std::move(findings_); }
  /// How many findings of each severity were dropped after the first hundred thousand.
  const std::array<std::size_t, 3>& dropped() const { return dropped_; }

 private:
  using Key = std::pair<int, int>;  // line and column suffice: every object is in the model's own text
  struct Known {
    const document::Node* node = nullptr;
    bool incomplete = false;
    std::map<std::string, Mark, std::less<>> members;
  };

  Finding& add(Severity severity, std::string code, const Mark& mark, std::string message, std::string hint);
  Mark member(const Mark& object, std::string_view path) const;

  std::string file_;
  const ReadOptions& options_;
  std::vector<Finding> findings_;
  std::map<Key, Known> known_;
  Key current_{0, 0};
  document::Suggestions suggestions_;
  Finding unheard_;  ///< returned in place of one that is dropped
  std::array<std::size_t, 3> dropped_{};
  units::UnitSystem first_elevation_units_ = units::UnitSystem::si;
  Key first_elevation_{0, 0};
};

/// Doubles the braces of text that `render` must leave alone.
std::string literal(std::string_view text);

}  // namespace runnel::input
