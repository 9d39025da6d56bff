#include "runnel/document/builder.h"

#include <fmt/format.h>
#include <yaml-cpp/mark.h>

#include "runnel/document/lines.h"
#include "runnel/document/quote.h"
#include "runnel/document/utf8.h"

namespace runnel::document {

namespace {

constexpr std::size_t most_findings = 100;  // more would not be read

char byte_at(std::string_view text, int at) {
  return at >= 0 && static_cast<std::size_t>(at) < text.size() ? text[static_cast<std::size_t>(at)] : '\0';
}

std::size_t start_of(const YAML::Mark& mark) { return static_cast<std::size_t>(std::max(mark.pos, 0)); }

int characters(std::string_view text) {
  int count = 0;
  for (std::size_t at = 0; at < text.size(); at += character_at(text, at).bytes) ++count;
  return count;
}

/// True if `~` or a word for null is written at `at`, rather than nothing at all.
bool null_written(std::string_view source, int at) {
  const std::string_view rest = source.substr(std::min(static_cast<std::size_t>(at), source.size()));
  if (rest.substr(0, 1) == "~") return true;
  for (const char* word : {"null", "Null", "NULL"}) {
    if (rest.substr(0, 4) != word) continue;
    return rest.size() == 4 || std::string_view(" \t\n,]}#").find(rest[4]) != std::string_view::npos;
  }
  return false;
}

/// How many bytes a text in quotes takes, both quotes counted, if `text` starts with one; a text in another
/// style takes everything. npos if the quote is never closed.
std::size_t closing_quote(std::string_view text) {
  const char sign = text.empty() ? '\0' : text[0];
  if (sign != '"' && sign != '\'') return text.size();
  for (std::size_t end = 1; end < text.size(); ++end) {
    if (sign == '"' && text[end] == '\\') {
      ++end;
    } else if (text[end] == sign) {
      if (sign == '"' || text.substr(end + 1, 1) != "'") return end + 1;
      ++end;  // '' is one quote inside the text
    }
  }
  return std::string_view::npos;
}

}  // namespace

Mark Builder::mark_at(const YAML::Mark& mark, int length) const {
  return {file_, mark.line + 1, mark.column + 1, length};
}

Mark Builder::open_bracket() const {
  for (auto open = open_.rbegin(); open != open_.rend(); ++open) {
    const Mark& mark = open->node->mark;
    const char sign = byte_at(line_of(source_, mark.line), mark.column - 1);
    if (sign == '[' || sign == '{') return mark;
  }
  return {};
}

void Builder::forget_doubtful_names() {
  while (!findings_.empty()) {
    const std::string& code = findings_.back().code;
    if (code != "yaml-missing-colon" && code != "yaml-key-not-text") return;
    findings_.pop_back();
  }
}

void Builder::add(const char* code, const Mark& mark, std::string message, std::string advice) {
  Finding f;
  f.code = code;
  f.message = std::move(message);
  f.advice = std::move(advice);
  f.mark = mark;
  findings_.push_back(std::move(f));
  if (findings_.size() >= most_findings) throw Stop{};
}

void Builder::count_node(const Mark& mark) {
  if (++nodes_ <= most_nodes) return;
  add("yaml-too-many-values", mark, fmt::format("the file holds more than {} values", most_nodes),
      "keep long surveys in CSV or GPX files and name those in the model");
  throw Stop{};
}

/// Without a tag the parser reports `?` for plain scalars, maps and lists, and `!` for quoted scalars.
void Builder::check_tag(const YAML::Mark& mark, const std::string& tag) {
  const char first = byte_at(source_, mark.pos);
  const bool written = (!tag.empty() && tag != "?" && tag != "!") || (tag == "!" && first == '!');
  if (!written) return;
  add("yaml-tag", mark_at(mark),
      "a tag (a word that starts with !) stands here; tags are not used in these files",
      "delete the tag, or put the value in quotes if the ! belongs to it");
}

/// Puts a finished scalar or a new container where the parser is.
Node* Builder::place(std::unique_ptr<Node> node) {
  Node* raw = node.get();
  if (open_.empty()) {
    root_ = std::move(node);
    return raw;
  }
  Open& parent = open_.back();
  if (!is_map(parent)) {
    parent.node->items.push_back(std::move(node));
  } else if (parent.key_read && parent.key_good) {
    parent.node->entries.back().value = std::move(node);
    parent.key_read = false;
  } else {
    discarded_.push_back(std::move(node));  // a key that is not text, or the value of such a key
    parent.key_read = false;
  }
  return raw;
}

void Builder::bad_key(const Mark& mark, const char* what) {
  add("yaml-key-not-text", mark, fmt::format("{} stands where a name should", what),
      "write a name and a colon; put the name in quotes if it is null, ~ or starts with a sign");
}

void Builder::duplicate(const std::string& text, const Mark& mark, const Mark& first) {
  add("yaml-duplicate-key", mark, fmt::format("{} is written twice in the same block", quote(text)),
      "keep one of the two, or give one of them another name");
  findings_.back().other = first;
  findings_.back().other_note = "first written here";
}

void Builder::key(const std::string& text, bool quoted, const Mark& mark) {
  Open& map = open_.back();
  map.key_read = true;
  map.key_good = false;
  if (text == "<<" && !quoted) {
    add("yaml-merge-key", mark, "<< does not merge blocks in these files", "write the entries out");
    return;
  }
  const auto [seen, fresh] = map.seen.emplace(text, mark);
  if (!fresh) {
    duplicate(text, mark, seen->second);
    return;
  }
  Entry entry;
  entry.key = text;
  entry.key_mark = mark;
  map.node->entries.push_back(std::move(entry));
  map.key_good = true;
}

/// The parser marks an absent value at whatever follows it; the name, or the block, is the better place.
Mark Builder::missing_mark(const YAML::Mark& mark) const {
  const Mark given = mark_at(mark);
  if (open_.empty()) return given;
  const Open& parent = open_.back();
  const bool keyed = is_map(parent) && parent.key_good;
  const Mark& owner = keyed ? parent.node->entries.back().key_mark : parent.node->mark;
  const bool inside = given.line == owner.line || given.column > owner.column;
  if (inside && null_written(source_, mark.pos)) return given;
  const char next = byte_at(source_, mark.pos);
  if (!keyed && (next == ',' || next == ']')) return given;  // a gap in a list
  return owner;
}

void Builder::OnNull(const YAML::Mark& mark, YAML::anchor_t) {
  if (byte_at(source_, mark.pos) == '!') check_tag(mark, "!");  // the parser drops a tag without a value
  auto node = std::make_unique<Node>();
  node->mark = mark_at(mark);
  count_node(node->mark);
  if (expects_key()) {
    bad_key(node->mark, "nothing");
    open_.back().key_read = true;
    open_.back().key_good = false;
    return;
  }
  node->mark = missing_mark(mark);
  const bool in_list = !open_.empty() && !is_map(open_.back());
  if (in_list && byte_at(source_, mark.pos) == ',') {
    add("yaml-gap-in-list", mark_at(mark), "a comma stands where a value should",
        "write the value, or delete the comma");
  }
  place(std::move(node));
}

void Builder::OnAlias(const YAML::Mark& mark, YAML::anchor_t) {
  add("yaml-alias", mark_at(mark),
      "a reference (a word that starts with *) stands here; references are not used in these files",
      "write the value out, or put it in quotes if the * belongs to it");
  auto node = std::make_unique<Node>();
  node->mark = mark_at(mark);
  count_node(node->mark);
  if (expects_key()) {
    open_.back().key_read = true;
    open_.back().key_good = false;
    return;
  }
  place(std::move(node));
}

void Builder::OnAnchor(const YAML::Mark& mark, const std::string&) {
  add("yaml-anchor", mark_at(mark),
      "an anchor (a word that starts with &) stands here; anchors are not used in these files",
      "delete the anchor, or put the value in quotes if the & belongs to it");
}

void Builder::OnScalar(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                       const std::string& value) {
  check_tag(mark, tag);
  const bool quoted = tag == "!";
  const std::string_view text = written(mark, value, quoted);
  const Mark where = mark_at(mark, std::max(1, characters(text)));
  count_node(where);
  if (quoted) check_closed(mark, where);
  if (expects_key()) {
    check_colon(mark, text.size(), where);
    key(value, quoted, where);
    return;
  }
  auto node = std::make_unique<Node>();
  node->kind = Node::Kind::scalar;
  node->text = value;
  node->quoted = quoted;
  node->mark = where;
  place(std::move(node));
}

/// The scalar as written, up to the end of the line where it starts. Looks no further than needed: a file may
/// be one line of many thousand scalars.
std::string_view Builder::written(const YAML::Mark& mark, const std::string& value, bool quoted) const {
  const std::string_view rest = source_.substr(std::min(start_of(mark), source_.size()));
  if (!quoted && rest.substr(0, value.size()) == value) return rest.substr(0, value.size());
  constexpr std::size_t far_enough = 1024;  // a plain text over several lines, or a | or > block
  std::size_t end = std::min(rest.size(), far_enough);
  if (quoted && (rest.substr(0, 1) == "'" || rest.substr(0, 1) == "\""))
    end = std::min(closing_quote(rest), rest.size());
  const std::string_view all = rest.substr(0, end);
  return all.substr(0, all.find('\n'));
}

/// The parser accepts a quote that is never closed as if the end of the file closed it.
void Builder::check_closed(const YAML::Mark& mark, const Mark& where) {
  if (closing_quote(source_.substr(std::min(start_of(mark), source_.size()))) != std::string_view::npos)
    return;
  add("yaml-open-quote", where, "the quote that opens here is never closed", "add the closing quote");
}

namespace {

/// "`0.3 L/s`" of `0,3 L/s`, and without the comma if that may be of thousands, if the text at `start` may be
/// what follows a decimal comma.
std::string with_decimal_point(std::string_view source, std::size_t start, std::size_t bytes) {
  const auto is_digit = [&](std::size_t at) {
    return at < source.size() && source[at] >= '0' && source[at] <= '9';
  };
  if (start < 2 || source[start - 1] != ',' || !is_digit(start) || !is_digit(start - 2)) return {};
  std::size_t first = start - 2;
  while (first > 0 && is_digit(first - 1)) --first;
  const std::string whole(source.substr(first, start - 1 - first)), rest(source.substr(start, bytes));
  // 1,200 may be twelve hundred.
  const bool thousands = is_digit(start + 1) && is_digit(start + 2) && !is_digit(start + 3);
  return "`" + whole + "." + rest + "`" +
         (thousands ? ", or `" + whole + rest + "` if thousands are meant" : "");
}

}  // namespace

/// The parser takes a name without a colon for a name without a value; a person means something else.
void Builder::check_colon(const YAML::Mark& mark, std::size_t bytes, const Mark& where) {
  const char first = byte_at(source_, mark.pos);
  if (first == '&' || first == '!') return;  // already refused, and the name comes later
  const std::size_t next = source_.find_first_not_of(" \t", start_of(mark) + bytes);
  if (next != std::string_view::npos && source_[next] == ':') return;
  if (const std::string number = with_decimal_point(source_, start_of(mark), bytes); !number.empty()) {
    add("yaml-missing-colon", where, "a comma ends the value before it, and no name stands here",
        "write a decimal point: " + number);
    return;
  }
  add("yaml-missing-colon", where, "a colon and a space must follow the name that stands here",
      "write `name: value`");
}

void Builder::open(Node::Kind kind, const YAML::Mark& mark, const std::string& tag) {
  check_tag(mark, tag);
  const Mark where = mark_at(mark);
  count_node(where);
  if (open_.size() >= deepest_level) {
    add("yaml-too-deep", where, fmt::format("blocks are nested deeper than {} levels here", deepest_level),
        "a model needs fewer than ten levels; look for brackets that are never closed");
    throw Stop{};
  }
  const bool as_key = expects_key();
  if (as_key) bad_key(where, kind == Node::Kind::map ? "a block of entries" : "a list");
  auto node = std::make_unique<Node>();
  node->kind = kind;
  node->mark = where;
  Node* raw = place(std::move(node));
  if (as_key) {
    open_.back().key_read = true;  // its value comes next and is thrown away as well
    open_.back().key_good = false;
  }
  open_.push_back({raw, false, false, {}});
}

void Builder::close() { open_.pop_back(); }

void Builder::OnSequenceStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                              YAML::EmitterStyle::value) {
  open(Node::Kind::sequence, mark, tag);
}

void Builder::OnSequenceEnd() { close(); }

void Builder::OnMapStart(const YAML::Mark& mark, const std::string& tag, YAML::anchor_t,
                         YAML::EmitterStyle::value) {
  open(Node::Kind::map, mark, tag);
}

void Builder::OnMapEnd() { close(); }

}  // namespace runnel::document
