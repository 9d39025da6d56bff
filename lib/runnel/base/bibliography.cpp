#include "runnel/base/bibliography.h"

#include <algorithm>
#include <array>

#include "runnel/base/embedded.h"

namespace runnel::base {
namespace {

/// Calls `take` for each line of a text.
template <class Take>
void each_line(std::string_view text, Take take) {
  while (!text.empty()) {
    const std::size_t end = std::min(text.find('\n'), text.size());
    take(text.substr(0, end));
    text.remove_prefix(std::min(end + 1, text.size()));
  }
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

bool tells_status(std::string_view text) {
  constexpr std::array<std::string_view, 6> words = {"FOUND",    "secondary",    "from memory",
                                                     "computed", "derived here", "not read"};
  return std::any_of(words.begin(), words.end(),
                     [&](std::string_view word) { return text.find(word) != std::string_view::npos; });
}

/// Where the status begins: at the last semicolon that is followed by one.
std::size_t status_at(std::string_view text) {
  std::size_t at = text.rfind(';');
  while (at != std::string_view::npos && !tells_status(text.substr(at)))
    at = at == 0 ? std::string_view::npos : text.rfind(';', at - 1);
  return at;
}

/// A key ends at the bracket or before what is cited of it.
std::string_view key_of(std::string_view citation) {
  if (!citation.empty() && citation.front() == '[') citation.remove_prefix(1);
  return citation.substr(0, citation.find_first_of("],;: \n"));
}

template <class List>
auto find_in(List& list, std::string_view key) {
  const auto at =
      std::lower_bound(list.begin(), list.end(), key,
                       [](const Reference& r, std::string_view wanted) { return r.key < wanted; });
  return at != list.end() && at->key == key ? &*at : nullptr;
}

}  // namespace

std::vector<Reference> read_references(std::string_view list, std::string_view uses) {
  std::vector<Reference> all;
  each_line(list, [&](std::string_view line) {
    constexpr std::string_view start = "// [";
    const std::size_t close = line.find(']');
    if (line.substr(0, start.size()) != start || close == std::string_view::npos) return;
    const std::string_view text = trimmed(line.substr(close + 1));
    const std::size_t at = status_at(text);
    Reference reference;
    reference.key = line.substr(start.size(), close - start.size());
    reference.text = trimmed(text.substr(0, at));
    if (at != std::string_view::npos) reference.status = trimmed(text.substr(at + 1));
    all.push_back(std::move(reference));
  });
  std::sort(all.begin(), all.end(), [](const Reference& a, const Reference& b) { return a.key < b.key; });
  each_line(uses, [&](std::string_view line) {
    const std::size_t space = line.find(' ');
    if (space == std::string_view::npos) return;
    if (Reference* reference = find_in(all, line.substr(0, space)))
      reference->used_in.emplace_back(line.substr(space + 1));
  });
  return all;
}

const std::vector<Reference>& references() {
  static const std::vector<Reference> all = [] {
    std::string_view list, uses;
    for (const EmbeddedFile& file : bibliography_files())
      (file.name == "references.h" ? list : uses) = file.text;
    return read_references(list, uses);
  }();
  return all;
}

const Reference* find_reference(std::string_view key) { return find_in(references(), key_of(key)); }

std::vector<const Reference*> cited(std::string_view text) {
  std::vector<const Reference*> found;
  for (std::size_t at = text.find('['); at != std::string_view::npos; at = text.find('[', at + 1)) {
    const Reference* reference = find_reference(text.substr(at));
    if (reference && std::find(found.begin(), found.end(), reference) == found.end())
      found.push_back(reference);
  }
  return found;
}

}  // namespace runnel::base
