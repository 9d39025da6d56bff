#include "runnel/input/values.h"

#include "runnel/document/quote.h"
#include "runnel/units/expected.h"
#include "runnel/units/unit_names.h"

namespace runnel::input {

namespace {

using document::Node;
using units::Dimension;

// The common spellings, as candidates for "did you mean"; what does not fit the dimension is left out.
constexpr const char* common_units[] = {
    "ft",   "in",    "m",    "mm",   "cm",   "km",    "gal/min", "gpm",   "gal/day", "L/s",  "L/min",
    "m3/h", "psi",   "kPa",  "bar",  "ft/s", "m/s",   "gal",     "litre", "L",       "m3",   "s",
    "min",  "hours", "days", "degC", "degF", "kg/m3", "mm2/s",   "inch",  "%",       "feet", "metres"};

std::string nearest_unit(Reader& reader, std::string_view word, Dimension dimension) {
  std::vector<std::string> fitting;
  for (const char* name : common_units) {
    const auto unit = units::find_unit(name);
    if (unit && units::accepts(dimension, unit->measure)) fitting.emplace_back(name);
  }
  return reader.suggest(word, fitting);
}

std::string_view trimmed(std::string_view text) {
  while (!text.empty() && text.front() == ' ') text.remove_prefix(1);
  while (!text.empty() && text.back() == ' ') text.remove_suffix(1);
  return text;
}

const char* code_of(std::string_view text, const units::Parsed& parsed, Dimension dimension) {
  if (dimension == Dimension::number) return "bad-number";
  if (!units::accepts_bare(dimension) && units::parse(text, Dimension::number).ok()) return "missing-unit";
  const std::string_view rest =
      trimmed(text.substr(std::min(text.size(), static_cast<std::size_t>(parsed.at))));
  if (units::find_unit(rest)) return "wrong-unit";
  const bool word =
      !rest.empty() && std::string_view(",.-+/0123456789").find(rest[0]) == std::string_view::npos;
  return parsed.at > 0 && word ? "unknown-unit" : "not-a-quantity";
}

/// True if it is a scalar with something in it; otherwise reports a finding.
bool is_scalar(Reader& reader, const Node& node, const std::string& what, std::string_view example) {
  if (node.kind == Node::Kind::scalar && !trimmed(node.text).empty()) return true;
  const bool empty = node.kind == Node::Kind::missing || node.kind == Node::Kind::scalar;
  const std::string hint = example.empty() ? "" : "write for example " + literal(example);
  if (empty)
    reader.error("empty-value", node.mark, what + " is left empty", hint);
  else
    reader.error("not-a-value", node.mark,
                 what + " is a " + (node.kind == Node::Kind::map ? "block of entries" : "list") +
                     ", but one value belongs here",
                 hint);
  return false;
}

}  // namespace

std::optional<units::Parsed> read_parsed(Reader& reader, const Node& node, Dimension dimension,
                                         const std::string& what) {
  if (!is_scalar(reader, node, what, units::expected(dimension).examples)) return std::nullopt;
  units::Parsed parsed = units::parse(node.text, dimension);
  if (parsed.ok()) return parsed;
  const std::string_view text = node.text;
  const char* code = code_of(text, parsed, dimension);
  std::string hint = literal(parsed.hint);
  if (std::string_view(code) == "unknown-unit") {
    const auto rest = trimmed(text.substr(std::min(text.size(), static_cast<std::size_t>(parsed.at))));
    const std::string near = nearest_unit(reader, rest, dimension);
    if (!near.empty()) hint = near + (hint.empty() ? "" : " Or " + hint);
  }
  reader.error(code, document::within(node, parsed.at, parsed.length), what + ": " + literal(parsed.error),
               hint);
  return std::nullopt;
}

std::optional<double> read_number(Reader& reader, const Node& node, const std::string& what) {
  const auto parsed = read_parsed(reader, node, Dimension::number, what);
  if (!parsed) return std::nullopt;
  return parsed->si;
}

std::optional<Pressure> read_pressure(Reader& reader, const Node& node, const std::string& what,
                                      double specific_weight_nm3) {
  const auto parsed = read_parsed(reader, node, Dimension::pressure, what);
  if (!parsed) return std::nullopt;
  return Pressure::pascals(parsed->head_of_water ? parsed->si * specific_weight_nm3 : parsed->si);
}

std::optional<double> read_opening(Reader& reader, const Node& node, const std::string& what) {
  if (!is_scalar(reader, node, what, "`shut`, `open` or `40 %`")) return std::nullopt;
  if (node.text == "shut") return 0.0;
  if (node.text == "open") return 1.0;
  const units::Parsed parsed = units::parse(node.text, Dimension::ratio);
  if (parsed.ok()) return parsed.si;
  const std::string near = reader.suggest(node.text, {"shut", "open"});
  reader.error("bad-opening", node.mark,
               what + " says " + document::quote(node.text) + ", which is no opening",
               near.empty() ? "write `shut`, `open` or a share such as `40 %`" : near);
  return std::nullopt;
}

std::optional<std::string> read_text(Reader& reader, const Node& node, const std::string& what) {
  if (!is_scalar(reader, node, what, "")) return std::nullopt;
  return node.text;
}

}  // namespace runnel::input
