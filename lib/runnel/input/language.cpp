#include "runnel/input/language.h"

#include <algorithm>
#include <cctype>

#include "runnel/input/schema_words.h"

namespace runnel::input {

namespace {

using schema::Json;

constexpr const char* block_kind = "a block";
constexpr const char* list_kind = "a list";

std::string text(const Json& piece, const char* key) {
  return piece.contains(key) ? piece[key].get<std::string>() : std::string();
}

/// Walks the pieces of the schema and collects the keys block by block, each block once.
class Walk {
 public:
  explicit Walk(const Json& language) : language_(language) { block(language, ""); }

  std::vector<LanguageKey> keys;
  std::vector<LanguageValue> values;

 private:
  struct Later {
    const Json* piece;
    std::string place;
  };

  /// The piece that a reference points to, if it is one with keys.
  const Json* referred(const Json& piece) const {
    if (piece.contains("allOf") && piece["allOf"][0].contains("$ref")) return referred(piece["allOf"][0]);
    if (!piece.contains("$ref")) return nullptr;
    const std::string name = piece["$ref"].get<std::string>().substr(std::string("#/definitions/").size());
    for (const char* with_keys : {"pipe", "parts", "overflow", "draws", "float_valve"})
      if (name == with_keys) return &language_["definitions"][name];
    return nullptr;
  }

  std::string example(const Json& piece) const {
    if (piece.contains(schema::written_remark)) return text(piece, schema::written_remark);
    if (piece.contains("examples") && piece["examples"][0].is_string()) return piece["examples"][0];
    if (piece.contains("anyOf"))
      for (const Json& kind : piece["anyOf"])
        if (std::string found = example(kind); !found.empty()) return found;
    return "";
  }

  std::string kind(const Json& piece) const {
    if (const Json* other = referred(piece)) return kind(*other);
    if (piece.contains(schema::kind_remark)) return text(piece, schema::kind_remark);
    if (piece.contains("properties")) return block_kind;
    if (piece.contains("additionalProperties")) return "a block by name";
    if (piece.contains("items")) return list_kind;
    std::vector<std::string> kinds;  // two blocks with different keys are one kind of value
    if (piece.contains("anyOf") && piece["anyOf"][0].is_object())
      for (const Json& one : piece["anyOf"])
        if (std::string other = kind(one); std::find(kinds.begin(), kinds.end(), other) == kinds.end())
          kinds.push_back(std::move(other));
    std::string all;
    for (const std::string& one : kinds) all += (all.empty() ? "" : " or ") + one;
    return all;
  }

  /// The words that a piece allows or, of a map by name, allows as names; keys of its own speak for
  /// themselves.
  void collect(const Json& piece, const std::string& place, const std::string& key) {
    if (!piece.is_object()) return;
    if (piece.contains("enum"))
      for (const Json& word : piece["enum"])
        if (word.is_string() && !std::isdigit(static_cast<unsigned char>(word.get<std::string>().front())))
          values.push_back({place, key, word});
    for (const char* inner : {"propertyNames", "items"})
      if (piece.contains(inner)) collect(piece[inner], place, key);
    for (const char* inner : {"anyOf", "allOf", "oneOf"})
      if (piece.contains(inner))
        for (const Json& one : piece[inner]) collect(one, place, key);
  }

  /// Words that only one of the ways to write a block allows: whom a `head` counts.
  void ways(const Json& piece, const std::string& place) {
    if (!piece.contains("oneOf")) return;
    for (const Json& way : piece["oneOf"])
      if (way.contains("properties"))
        for (const auto& [name, inner] : way["properties"].items()) collect(inner, place, name);
  }

  void block(const Json& piece, const std::string& place) {
    std::vector<Later> later;
    ways(piece, place);
    for (const auto& [name, inner] : piece["properties"].items()) {
      if (!inner.is_object()) continue;  // a key that is not allowed there
      const bool needed = piece.contains("required") &&
                          std::count(piece["required"].begin(), piece["required"].end(), Json(name)) > 0;
      keys.push_back({place, name, text(inner, "description"), kind(inner), example(inner),
                      needed ? "" : text(inner, schema::left_out_remark)});
      collect(inner, place, name);
      later.push_back({&inner, place + (place.empty() ? "" : " ") + name + ":"});
    }
    for (const Later& one : later) inside(*one.piece, one.place);
  }

  void inside(const Json& piece, const std::string& place) {
    if (const Json* other = referred(piece)) {
      const bool again = std::count(seen_.begin(), seen_.end(), other) > 0;
      seen_.push_back(other);
      return again ? void() : inside(*other, place);
    }
    if (piece.contains("properties")) return block(piece, place);
    if (piece.contains("additionalProperties") && piece["additionalProperties"].is_object())
      return inside(piece["additionalProperties"], place + " NAME:");
    if (piece.contains("items") && piece["items"].is_object()) return inside(piece["items"], place + " -");
    if (piece.contains("anyOf"))
      for (const Json& one : piece["anyOf"]) inside(one, place);
  }

  const Json& language_;
  std::vector<const Json*> seen_;
};

/// A cell of a table, as code or as plain words.
std::string cell(const std::string& words, bool code) {
  if (words.empty()) return "";
  return code ? "`" + words + "`" : words;
}

}  // namespace

const std::vector<LanguageKey>& language_keys() {
  static const std::vector<LanguageKey> keys = Walk(schema::language()).keys;
  return keys;
}

const std::vector<LanguageValue>& language_values() {
  static const std::vector<LanguageValue> values = Walk(schema::language()).values;
  return values;
}

std::vector<LanguageKey> find_keys(std::string_view key) {
  std::vector<LanguageKey> found;
  for (const LanguageKey& one : language_keys())
    if (one.key == key) found.push_back(one);
  return found;
}

std::string language_tables() {
  std::string page;
  const std::string* block = nullptr;
  for (const LanguageKey& one : language_keys()) {
    if (!block || *block != one.block) {
      page += "\n### " + (one.block.empty() ? std::string("The model itself") : "`" + one.block + "`") +
              "\n| key | meaning | value | example | if left out |\n|---|---|---|---|---|\n";
      block = &one.block;
    }
    page += "| `" + one.key + "` | " + one.meaning + " | " + one.kind + " | " + cell(one.example, true) +
            " | " + (one.left_out.empty() ? "it is needed" : one.left_out) + " |\n";
  }
  return page;
}

}  // namespace runnel::input
