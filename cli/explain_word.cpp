#include "explain_word.h"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <optional>

#include "runnel/input/language.h"
#include "runnel/losses/fittings.h"
#include "runnel/network/part_table.h"
#include "runnel/report/render_text.h"
#include "runnel/report/terms.h"
#include "runnel/report/value_words.h"
#include "runnel/units/expected.h"
#include "runnel/units/unit_names.h"

namespace cli {
namespace {

namespace input = runnel::input;
namespace network = runnel::network;
namespace report = runnel::report;
namespace units = runnel::units;
using Json = nlohmann::ordered_json;

struct KindOfUnit {
  const char* word;
  units::Dimension dimension;
};
constexpr KindOfUnit kinds_of_unit[] = {
    {"length", units::Dimension::length},     {"flow", units::Dimension::flow},
    {"pressure", units::Dimension::pressure}, {"velocity", units::Dimension::velocity},
    {"volume", units::Dimension::volume},     {"duration", units::Dimension::duration},
    {"time", units::Dimension::duration},     {"temperature", units::Dimension::temperature},
    {"density", units::Dimension::density},   {"viscosity", units::Dimension::kinematic_viscosity},
    {"share", units::Dimension::ratio},       {"slope", units::Dimension::slope},
    {"number", units::Dimension::number},
};

/// Whether the spellings of a key or part agree, whatever their capitals; blanks and `-` may stand for `_`.
bool same(std::string_view word, std::string_view asked) {
  return report::plain_word(word) == report::plain_word(asked);
}

std::optional<std::string> part(const std::string& word) {
  for (const std::string& known : network::part_words())
    if (same(known, word)) return known;
  return std::nullopt;
}

std::vector<input::LanguageKey> keys(const std::string& word) {
  std::vector<input::LanguageKey> found;
  for (const input::LanguageKey& key : input::language_keys())
    if (same(key.key, word) && !part(key.key)) found.push_back(key);
  return found;
}

/// What a part takes from the water in pipes of two common bores, and how far printed values differ.
std::string loss_words(const std::string& word) {
  const auto small = runnel::losses::published_loss(word, 0.026),
             large = runnel::losses::published_loss(word, 0.052);
  if (!small || !large) return "No published loss is known for it: write its `loss`.";
  std::string words = fmt::format("K {:.2g} in a bore of 26 mm", small->k);
  if (large->k != small->k) words += fmt::format(", {:.2g} in one of 52 mm", large->k);
  if (small->low < small->high)
    words += fmt::format("; printed values run from {:.2g} to {:.2g}", small->low, small->high);
  return words + ". Source: " + small->source + ".";
}

const units::Expected* kind(const std::string& word) {
  for (const KindOfUnit& one : kinds_of_unit)
    if (same(one.word, word)) return &units::expected(one.dimension);
  return nullptr;
}

std::string kind_words(const units::Expected& expected) {
  return "Written as " + std::string(expected.what) + ": " + std::string(expected.examples) + ".";
}

std::string unit_words(const std::string& word) {
  const auto unit = units::find_unit(word);
  return unit ? "`" + word + "` is a unit for " + std::string(units::name_of(unit->measure)) + "." : "";
}

std::string place_of(const input::LanguageKey& key) {
  return key.block.empty() ? "in the model itself" : "in `" + key.block + "`";
}

/// Which keys take the word as their value.
std::string takers(const std::string& word) {
  std::string all;
  for (const input::LanguageValue& value : input::language_values())
    if (same(value.word, word))
      all += (all.empty() ? "A value of `" : ", and of `") + value.key + "` " +
             (value.block.empty() ? "in the model itself" : "in `" + value.block + "`");
  return all.empty() ? "" : " " + all + ".";
}

std::string key_words(const input::LanguageKey& key) {
  std::string words = key.meaning + " Value: " + key.kind + ".";
  if (!key.example.empty()) words += " For example `" + key.key + ": " + key.example + "`.";
  return words + (key.left_out.empty() ? " It is needed." : " Left out: " + key.left_out + ".");
}

/// All that is known of a word, below it.
report::Document page_of(const std::string& word) {
  report::Document page;
  const auto section = [&](const std::string& title, const std::string& text) {
    page.section(title).paragraph(text, 1);
  };
  if (const report::Term* term = report::find_term(word)) {
    page.paragraph(std::string(term->meaning), 1);
    if (!term->others.empty()) page.paragraph("Also called: " + std::string(term->others) + ".", 1);
  }
  if (const auto found = part(word))
    section("The part `" + *found + "`",
            std::string(network::part_meaning(*found)) + " " + loss_words(*found));
  if (const report::ValueWord* value = report::find_value_word(word))
    section("The value `" + value->word + "`", value->meaning + takers(value->word));
  for (const input::LanguageKey& key : keys(word))
    section("The key `" + key.key + "` " + place_of(key), key_words(key));
  if (const units::Expected* expected = kind(word)) section("How it is written", kind_words(*expected));
  if (const std::string unit = unit_words(word); !unit.empty()) section("The unit", unit);
  return page;
}

}  // namespace

std::string word_text(const std::string& word, const report::TextOptions& options) {
  const report::Document page = page_of(word);
  if (page.empty()) return "";
  const report::Term* term = report::find_term(word);
  report::Document out;
  out.add(report::Prose{.lead = term ? std::string(term->word) : word}).append(page);
  return report::render_text(out, options);
}

std::string word_json(const std::string& word) {
  Json json{{"word", word}};
  if (const report::Term* term = report::find_term(word))
    json["term"] = {{"word", term->word}, {"others", term->others}, {"meaning", term->meaning}};
  if (const auto found = part(word))
    json["part"] = {
        {"word", *found}, {"meaning", network::part_meaning(*found)}, {"loss", loss_words(*found)}};
  if (const report::ValueWord* value = report::find_value_word(word))
    json["value"] = {{"word", value->word}, {"meaning", value->meaning + takers(value->word)}};
  for (const input::LanguageKey& key : keys(word))
    json["keys"].push_back({{"block", key.block},
                            {"key", key.key},
                            {"meaning", key.meaning},
                            {"value", key.kind},
                            {"example", key.example},
                            {"needed", key.left_out.empty()},
                            {"left_out", key.left_out}});
  if (const units::Expected* expected = kind(word)) json["kind"] = kind_words(*expected);
  if (const std::string unit = unit_words(word); !unit.empty()) json["unit"] = unit;
  return json.size() == 1 ? "" : json.dump(2) + "\n";
}

std::string terms_text(const report::TextOptions& options) {
  report::Document out;
  for (const report::Term& term : report::terms())
    out.entry(std::string(term.word) + ": " + std::string(term.meaning));
  return report::render_text(out, options);
}

std::string terms_json() {
  Json list = Json::array();
  for (const report::Term& term : report::terms())
    list.push_back({{"word", term.word}, {"others", term.others}, {"meaning", term.meaning}});
  return Json{{"terms", list}}.dump(2) + "\n";
}

std::vector<std::string> known_words() {
  std::vector<std::string> words;
  for (const report::Term& term : report::terms()) words.emplace_back(term.word);
  for (const input::LanguageKey& key : input::language_keys()) words.push_back(key.key);
  for (const report::ValueWord& value : report::value_words()) words.push_back(value.word);
  for (const KindOfUnit& one : kinds_of_unit) words.emplace_back(one.word);
  std::sort(words.begin(), words.end());
  words.erase(std::unique(words.begin(), words.end()), words.end());
  return words;
}

}  // namespace cli
