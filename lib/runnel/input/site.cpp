// `site:` and `friction:`.
#include <cmath>

#include "runnel/document/quote.h"
#include "runnel/input/fields.h"
#include "runnel/input/sections.h"
#include "runnel/losses/law_table.h"

namespace runnel::input {

namespace {

using document::Node;

std::optional<double> find_si(Reader& reader, Fields& fields, const char* key, units::Dimension dimension) {
  const Node* node = fields.find(key);
  if (!node) return std::nullopt;
  const auto parsed = read_parsed(reader, *node, dimension, fields.label(key));
  if (!parsed) return std::nullopt;
  return parsed->si;
}

/// An absolute pressure: a height of water is refused, because it would need the density that is being read.
std::optional<double> find_absolute(Reader& reader, Fields& fields, const char* key) {
  const Node* node = fields.find(key);
  if (!node) return std::nullopt;
  const auto parsed = read_parsed(reader, *node, units::Dimension::pressure, fields.label(key));
  if (!parsed) return std::nullopt;
  if (!parsed->head_of_water) return parsed->si;
  reader.error("wrong-unit", node->mark,
               fields.label(key) + " is an absolute pressure, not a height of water",
               "write it in kPa, bar or psi, for example 85 kPa");
  return std::nullopt;
}

/// The water at a temperature; outside the range of the formulas only the temperature is kept, for `validate`
/// to report.
water::Water water_at(double temperature_c) {
  if (temperature_c >= 0.0 && temperature_c <= 40.0) return water::at(Temperature::celsius(temperature_c));
  water::Water water = water::at(Temperature::celsius(10.0));
  water.temperature_c = temperature_c;
  return water;
}

// What is dissolved or suspended makes water more viscous, never less; the tenth allows for the measurement.
constexpr double thinner_than_water = 0.9;
// Weather moves the air's pressure by some 3 % about its mean (95 to 105 kPa at the sea); common practice, no
// source.
constexpr double weather_share = 0.06;

void too_thin(Reader& reader, const Mark& mark, double stated_m2s, double of_water_m2s) {
  Finding& f = reader.error(
      "viscosity-out-of-range", mark,
      "a kinematic viscosity of {0} mm2/s does not go with the temperature, at which water has {1} mm2/s",
      "leave `kinematic_viscosity` out: it follows from the temperature");
  f.figures = {{Kind::number, stated_m2s * 1e6}, {Kind::number, of_water_m2s * 1e6}};
}

void another_altitude(Reader& reader, const Mark& mark, double stated_pa, double there_pa) {
  Finding& f = reader.error("air-pressure-out-of-range", mark,
                            "an air pressure of {0} does not go with the altitude, where it is about {1}",
                            "leave `air_pressure` out: it follows from the altitude");
  f.figures = {{Kind::pressure, stated_pa}, {Kind::pressure, there_pa}};
}

water::Water read_water_block(Reader& reader, const Node& node, const Mark& key) {
  Fields fields(reader, node, key, "the water");
  const auto temperature = fields.find_quantity<Temperature>("temperature");
  water::Water water = water_at(temperature ? temperature->celsius() : water::Water{}.temperature_c);
  if (const auto v = find_si(reader, fields, "density", units::Dimension::density)) water.density_kgm3 = *v;
  if (const auto v = find_si(reader, fields, "kinematic_viscosity", units::Dimension::kinematic_viscosity)) {
    if (temperature && *v < thinner_than_water * water.kinematic_viscosity_m2s)
      too_thin(reader, fields.key_mark("kinematic_viscosity"), *v, water.kinematic_viscosity_m2s);
    water.kinematic_viscosity_m2s = *v;
  }
  if (const auto v = find_absolute(reader, fields, "vapour_pressure")) water.vapour_pressure_pa = *v;
  fields.close();
  return water;
}

water::Water read_water(Reader& reader, const Node& node, const Mark& key) {
  if (node.kind == Node::Kind::map) return read_water_block(reader, node, key);
  const auto temperature = read_quantity<Temperature>(reader, node, "the temperature of the water");
  return water_at(temperature ? temperature->celsius() : water::Water{}.temperature_c);
}

/// The air pressure at an altitude; that at sea level for an absurd one, which is left to `validate`.
double air_pressure_at(Length altitude) {
  const bool sane = altitude.metres() >= water::lowest_m && altitude.metres() <= water::highest_m;
  return water::air_pressure_pa(sane ? altitude : Length{});
}

}  // namespace

network::Site read_site(Reader& reader, const Node* node) {
  network::Site site;
  site.water = water_at(water::Water{}.temperature_c);
  if (node) {
    Fields fields(reader, *node, node->mark, "the site");
    const auto altitude = fields.find_quantity<Length>("altitude");
    if (altitude) site.altitude = *altitude;
    if (const Node* water = fields.find("water"))
      site.water = read_water(reader, *water, fields.key_mark("water"));
    const auto pressure = find_absolute(reader, fields, "air_pressure");
    const double there_pa = air_pressure_at(site.altitude);
    site.air_pressure_pa = pressure.value_or(there_pa);
    if (altitude && pressure && std::abs(*pressure - there_pa) > weather_share * there_pa)
      another_altitude(reader, fields.key_mark("air_pressure"), *pressure, there_pa);
    fields.close();
  } else {
    site.air_pressure_pa = air_pressure_at(site.altitude);
  }
  return site;
}

namespace {

losses::Law read_law(Reader& reader, const Node& node) {
  const auto text = read_text(reader, node, "the friction law");
  if (!text) return losses::Law::darcy_weisbach;
  if (const losses::LawRow* row = losses::find_law(*text)) return row->law;
  const std::vector<std::string> words = losses::law_words();
  std::string hint = reader.suggest(*text, words);
  if (hint.empty()) {
    hint = "there are ";
    for (std::size_t i = 0; i < words.size(); ++i)
      hint += (i == 0 ? "" : i + 1 == words.size() ? " and " : ", ") + words[i];
  }
  reader.error("unknown-law", node.mark, document::quote(*text) + " is not a friction law known here", hint);
  return losses::Law::darcy_weisbach;
}

}  // namespace

losses::FrictionLaw read_friction(Reader& reader, const Node& node) {
  losses::FrictionLaw friction;
  if (node.kind != Node::Kind::map) {
    friction.law = read_law(reader, node);
    return friction;
  }
  Fields fields(reader, node, node.mark, "the friction law");
  if (const Node* law = fields.need("law", "law: hazen-williams")) friction.law = read_law(reader, *law);
  if (losses::law_row(friction.law).has_constants || !fields.has("law")) {
    if (const auto k = fields.find_number("k")) friction.k = *k;
    if (const auto n = fields.find_number("n")) friction.n = *n;
    if (const auto m = fields.find_number("m")) friction.m = *m;
  }
  fields.close();
  return friction;
}

}  // namespace runnel::input
