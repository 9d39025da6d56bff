#include "runnel/input/reader.h"

#include <charconv>
#include <cmath>

#include "runnel/document/quote.h"
#include "runnel/units/unit_names.h"

namespace runnel::input {

namespace {

// A text that is wrong all over must not fill the memory with findings.
constexpr std::size_t most_findings = 100'000;

/// True if the last unit in the text is feet or inches.
bool in_feet(std::string_view text) {
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  if (text.empty()) return false;
  if (text.back() == '\'' || text.back() == '"') return true;
  const std::size_t start = text.find_last_of(" 0123456789.") + 1;  // npos + 1 is the whole text
  const auto unit = units::find_unit(text.substr(start));
  if (!unit || unit->measure != units::Measure::length) return false;
  const double metres = unit->factor().high;
  // By definition [nist-sp811]; the foot of old surveys differs by two in a million.
  return std::abs(metres - 0.3048) < 1e-5 || metres == 0.0254;
}

/// The node one step down a path: a member of a map or, by number, an item of a list.
const document::Node* step(const document::Node& node, std::string_view word, Mark& mark) {
  if (node.kind == document::Node::Kind::map) {
    for (const document::Entry& entry : node.entries) {
      if (entry.key != word) continue;
      const bool bare = !entry.value || entry.value->kind == document::Node::Kind::missing;
      mark = bare ? entry.key_mark : entry.value->mark;
      return entry.value.get();
    }
  } else if (node.kind == document::Node::Kind::sequence) {
    std::size_t index = 0;
    const auto [end, problem] = std::from_chars(word.data(), word.data() + word.size(), index);
    if (problem == std::errc{} && end == word.data() + word.size() && index < node.items.size()) {
      mark = node.items[index]->mark;
      return node.items[index].get();
    }
  }
  return nullptr;
}

}  // namespace

std::string literal(std::string_view text) {
  std::string out;
  for (const char c : text) {
    out += c;
    if (c == '{' || c == '}') out += c;
  }
  return out;
}

Finding& Reader::add(Severity severity, std::string code, const Mark& mark, std::string message,
                     std::string hint) {
  Finding finding;
  finding.code = std::move(code);
  finding.severity = severity;
  finding.message = std::move(message);
  finding.advice = std::move(hint);
  finding.mark = mark;
  if (findings_.size() >= most_findings) {
    ++dropped_[static_cast<std::size_t>(severity)];
    return unheard_ = std::move(finding);
  }
  findings_.push_back(std::move(finding));
  return findings_.back();
}

Finding& Reader::error(std::string code, const Mark& mark, std::string message, std::string hint) {
  known_[current_].incomplete = true;
  return add(Severity::error, std::move(code), mark, std::move(message), std::move(hint));
}

Finding& Reader::warning(std::string code, const Mark& mark, std::string message, std::string hint) {
  return add(Severity::warning, std::move(code), mark, std::move(message), std::move(hint));
}

void Reader::take(std::vector<Finding> findings) {
  if (any_error(findings)) known_[current_].incomplete = true;
  for (Finding& finding : findings) {
    if (findings_.size() < most_findings)
      findings_.push_back(std::move(finding));
    else
      ++dropped_[static_cast<std::size_t>(finding.severity)];
  }
}

std::string Reader::suggest(std::string_view word, const std::vector<std::string>& candidates) {
  const std::string near = suggestions_.nearest(word, candidates);
  return near.empty() ? std::string{} : "did you mean " + document::quote(near) + "?";
}

void Reader::note_elevation(std::string_view text, const Mark& mark) {
  const Key here{mark.line, mark.column};
  if (first_elevation_ != Key{0, 0} && first_elevation_ < here) return;
  first_elevation_ = here;
  first_elevation_units_ = in_feet(text) ? units::UnitSystem::us : units::UnitSystem::si;
}

bool Reader::whole(const Mark& object) const {
  const auto at = known_.find({object.line, object.column});
  return at == known_.end() || !at->second.incomplete;
}

std::optional<std::string> Reader::side_file(const std::string& name) const {
  return options_.side_file ? options_.side_file(name) : std::nullopt;
}

Reader::Object::Object(Reader& reader, const Mark& mark, const document::Node* node)
    : reader_(reader), key_{mark.line, mark.column}, outer_(reader.current_) {
  reader_.known_[key_].node = node;
  reader_.current_ = key_;
}

Reader::Object::~Object() { reader_.current_ = outer_; }

void Reader::Object::place(const std::string& member, const Mark& mark) {
  reader_.known_[key_].members[member] = mark;
}

bool Reader::Object::whole() const { return !reader_.known_[key_].incomplete; }

Mark Reader::member(const Mark& object, std::string_view path) const {
  const auto at = known_.find({object.line, object.column});
  if (at == known_.end()) return object;
  if (const auto named = at->second.members.find(path); named != at->second.members.end())
    return named->second;
  Mark mark = object;
  const document::Node* node = at->second.node;
  while (node && !path.empty()) {
    const auto dot = path.find('.');
    node = step(*node, path.substr(0, dot), mark);
    path = dot == std::string_view::npos ? std::string_view{} : path.substr(dot + 1);
  }
  return mark;
}

network::Origin Reader::origin() const {
  network::Origin origin;
  origin.member = [this](const Mark& object, std::string_view path) { return member(object, path); };
  origin.incomplete = [this](const Mark& object) { return !whole(object); };
  return origin;
}

}  // namespace runnel::input
