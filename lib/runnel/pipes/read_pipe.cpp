#include "runnel/pipes/read_pipe.h"

#include <cctype>
#include <string>
#include <string_view>

#include "runnel/document/quote.h"
#include "runnel/pipes/factors.h"
#include "runnel/pipes/fields.h"

namespace runnel::pipes {

namespace {

using units::Dimension;

/// How far wall, bore and outside diameter may disagree, as a share of the outside diameter: printed tables
/// round walls and bores separately (common practice, no source).
constexpr double slack = 0.02;

void positive(Fields& fields, const char* key, double value, double& into, const std::string& what) {
  if (value > 0.0) {
    into = value;
  } else {
    fields.error("not-positive", fields.mark(key),
                 std::string("`") + key + "` of " + what + " must be more than nothing",
                 "write a value above zero, or take it out if it is not known");
  }
}

template <class Q>
bool read_positive(Fields& fields, const char* key, Dimension dimension, Q& into, const std::string& what) {
  const auto value = fields.quantity(key, dimension);
  if (!value) return false;
  double si = 0.0;
  positive(fields, key, *value, si, what);
  into = Q::from_si(si);
  return true;
}

bool read_positive(Fields& fields, const char* key, Dimension dimension, double& into,
                   const std::string& what) {
  const auto value = fields.quantity(key, dimension);
  if (value) positive(fields, key, *value, into, what);
  return value.has_value();
}

/// Recognised by the letters printed on it (PE, PE 80, PE100-RC, PE4710, PE-HD, HDPE) or by name. PEX and
/// PE-X are other plastics.
bool is_polyethylene(std::string_view material) {
  std::string word;
  for (const char c : material)
    if (std::isalnum(static_cast<unsigned char>(c)))
      word += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  const auto starts = [&](std::string_view with) { return word.starts_with(with); };
  if (starts("polyethylene") || starts("hdpe") || starts("mdpe") || starts("ldpe")) return true;
  return starts("pe") && (word.size() == 2 || std::isdigit(static_cast<unsigned char>(word[2])) ||
                          starts("pehd") || starts("pemd") || starts("peld"));
}

void read_texts(Fields& fields, Pipe& pipe) {
  if (auto text = fields.text("material")) pipe.material = *text;
  if (auto text = fields.text("standard")) pipe.standard = *text;
  if (auto text = fields.text("nominal")) pipe.nominal = *text;
  if (auto text = fields.text("source")) pipe.source = *text;
  if (auto word = fields.word("bore_convention",
                              {"stated", "outside less two minimum walls", "average", "inside controlled"}))
    pipe.bore_convention = static_cast<BoreConvention>(*word);
  if (auto word = fields.word("certainty", {"found", "secondary", "from memory", "computed", "user"}))
    pipe.certainty = static_cast<Certainty>(*word);
  if (fields.find("temperature_factors") != nullptr) {
    const std::vector<std::string> names = factor_table_names();
    if (auto word = fields.word("temperature_factors", names)) pipe.temperature_factors = names[*word];
  } else if (pipe.temperature_factors.empty() && is_polyethylene(pipe.material)) {
    pipe.temperature_factors = "pe";
  }
}

void check_roughness(Fields& fields, const Pipe& pipe, const std::string& what) {
  if (pipe.roughness.metres() < 0.0) {
    fields.error("negative", fields.mark("roughness"), "`roughness` of " + what + " is negative",
                 "smooth plastic has about 0.0015 mm [binder1973]");
  }
}

/// Checks the members against each other.
void check_fit(Fields& fields, const Pipe& pipe, const std::string& what) {
  const double outside = pipe.outside.metres();
  if (!(outside > 0.0)) return;
  const double largest =
      outside - 2.0 * pipe.wall.metres() + (pipe.wall.metres() > 0.0 ? slack * outside : 0.0);
  if (pipe.bore.metres() < outside && pipe.bore.metres() <= largest) return;
  Finding& f =
      fields.error("pipe-does-not-fit", fields.mark("bore"),
                   "the bore of " + what + " ({0}) does not fit inside its outside diameter ({1}) and wall",
                   "the bore is at most the outside diameter less two walls");
  f.figures = {{Kind::bore, pipe.bore.metres()}, {Kind::bore, outside}};
}

void smooth_note(std::vector<Finding>& findings, const document::Node& node, const std::string& what) {
  Finding f;
  f.code = "pipe-taken-as-smooth";
  f.severity = Severity::note;
  f.message = what + " gives no roughness, so it counts as smooth where the Darcy-Weisbach law is used";
  f.advice = "add for example roughness: 0.0015 mm";
  f.mark = node.mark;
  findings.push_back(std::move(f));
}

}  // namespace

Description read_description(const document::Node& node, std::vector<Finding>& findings,
                             const Description& common, const std::string& what) {
  Description d = common;
  Fields fields(node, findings, what);
  if (!fields.usable()) return d;
  Pipe& pipe = d.pipe;
  read_texts(fields, pipe);
  read_positive(fields, "outside", Dimension::length, pipe.outside, what);
  read_positive(fields, "wall", Dimension::length, pipe.wall, what);
  d.has_bore = read_positive(fields, "bore", Dimension::length, pipe.bore, what) || d.has_bore;
  read_positive(fields, "rating", Dimension::pressure, pipe.rating, what);
  read_positive(fields, "modulus", Dimension::pressure, pipe.modulus_pa, what);
  d.has_hazen_c = read_positive(fields, "C", Dimension::number, pipe.hazen_c, what) || d.has_hazen_c;
  if (const auto roughness = fields.quantity("roughness", Dimension::length)) {
    pipe.roughness = Length::metres(*roughness);
    d.has_roughness = true;
    check_roughness(fields, pipe, what);
  }
  fields.close();
  return d;
}

std::optional<Pipe> read_pipe(const document::Node& node, std::vector<Finding>& findings,
                              const Description& common, const std::string& what) {
  std::vector<Finding> own;
  Description d = read_description(node, own, common, what);
  const bool readable = !any_error(own);
  if (readable) {
    Fields fields(node, own, what);
    Pipe& pipe = d.pipe;
    const bool by_wall = !d.has_bore && pipe.outside > Length{} && pipe.wall > Length{};
    if (by_wall) {
      pipe.bore = pipe.outside - 2.0 * pipe.wall;
      pipe.bore_convention = BoreConvention::outside_less_two_minimum_walls;
      d.has_bore = true;
    }
    if (!d.has_bore) {
      fields.missing("bore", "bore: 38.1 mm");
    } else if (!(pipe.bore > Length{})) {
      fields.error("not-positive", fields.mark("wall"), "two walls of " + what + " leave no bore",
                   "the wall must be less than half the outside diameter");
    } else {
      check_fit(fields, pipe, what);
    }
    if (!d.has_roughness && !d.has_hazen_c) {
      fields.missing("roughness", "roughness: 0.0015 mm, and C: 150 if Hazen-Williams is used");
    } else if (!d.has_roughness) {
      smooth_note(own, node, what);
    }
  }
  const bool whole = !any_error(own);
  findings.insert(findings.end(), own.begin(), own.end());
  if (!whole) return std::nullopt;
  return d.pipe;
}

}  // namespace runnel::pipes
