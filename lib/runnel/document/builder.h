#pragma once
// Turns the events of the YAML parser into our tree and refuses what a model must not hold.
#include <yaml-cpp/eventhandler.h>

#include <memory>
#include <string>
#include <string_view>
#include <unordered_map>
#include <vector>

#include "runnel/document/limits.h"
#include "runnel/document/tree.h"

namespace runnel::document {

/// Thrown by the builder to end the parser's work when going on makes no sense (too deep, too many).
struct Stop {};

class Builder : public YAML::EventHandler {
 public:
  /// `source` is the text being parsed, so that a mark's position can be looked up; both must outlive it.
  Builder(std::string_view source, const std::string& file) : source_(source), file_(file) {}

  void OnDocumentStart(const YAML::Mark&) override {}
  void OnDocumentEnd() override {}
  void OnNull(const YAML::Mark& mark, YAML::anchor_t) override;
  void OnAlias(const YAML::Mark& mark, YAML::anchor_t) override;
  void OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                const std::string& value) override;
  void OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                       YAML::EmitterStyle::value) override;
  void OnSequenceEnd() override;
  void OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                  YAML::EmitterStyle::value) override;
  void OnMapEnd() override;
  void OnAnchor(const YAML::Mark& mark, const std::string& name) override;

  std::unique_ptr<Node> take_root() { return std::move(root_); }
  std::vector<Finding> take_findings() { return std::move(findings_); }

  /// Where the innermost [ or { that is still open stands; unknown if there is none.
  Mark open_bracket() const;

  /// Forgets the last findings if they only say that a name is wrong: when a bracket is never closed, the
  /// parser takes the last item for a name.
  void forget_doubtful_names();

  /// The parser counts from 0; this is the only place where that is corrected.
  Mark mark_at(const YAML::Mark& mark, int length = 1) const;

 private:
  /// A map or sequence that is not finished yet.
  struct Open {
    Node* node = nullptr;
    bool key_read = false;  ///< maps: the next node is a value
    bool key_good = false;  ///< maps: that value has an entry waiting for it
    std::unordered_map<std::string, Mark> seen;
  };

  void count_node(const Mark& mark);
  void check_tag(const YAML::Mark& mark, const std::string& tag);
  bool expects_key() const { return !open_.empty() && is_map(open_.back()) && !open_.back().key_read; }
  static bool is_map(const Open& open) { return open.node->kind == Node::Kind::map; }
  Node* place(std::unique_ptr<Node> node);
  void open(Node::Kind kind, const YAML::Mark& mark, const std::string& tag);
  void close();
  void key(const std::string& text, bool quoted, const Mark& mark);
  void bad_key(const Mark& mark, const char* what);
  void duplicate(const std::string& text, const Mark& mark, const Mark& first);
  void add(const char* code, const Mark& mark, std::string message, std::string advice);
  Mark missing_mark(const YAML::Mark& mark) const;
  std::string_view written(const YAML::Mark& mark, const std::string& value, bool quoted) const;
  void check_closed(const YAML::Mark& mark, const Mark& where);
  void check_colon(const YAML::Mark& mark, std::size_t bytes, const Mark& where);

  std::string_view source_;
  const std::string& file_;
  std::unique_ptr<Node> root_;
  std::vector<Open> open_;
  std::vector<std::unique_ptr<Node>> discarded_;  ///< nodes in the place of a key
  std::vector<Finding> findings_;
  std::size_t nodes_ = 0;
};

}  // namespace runnel::document
