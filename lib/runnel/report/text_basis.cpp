// What the answer was worked out with, what was checked, and what it does not say.
#include <fmt/format.h>

#include <set>

#include "runnel/losses/law_table.h"
#include "runnel/pipes/rating.h"
#include "runnel/report/harmless.h"
#include "runnel/report/proof_words.h"
#include "runnel/report/text_parts.h"
#include "runnel/report/words.h"

namespace runnel::report {
namespace {

std::string water_text(const network::Site& site, const TextOptions& options) {
  return fmt::format(
      "Water at {}: {:.2f} kg/m3, kinematic viscosity {:.3e} m2/s. Air pressure {}, which holds up {} of "
      "water.",
      shown(Kind::temperature, site.water.temperature_c, options), site.water.density_kgm3,
      site.water.kinematic_viscosity_m2s, shown(Kind::pressure, site.air_pressure_pa, options),
      shown(Kind::head, site.atmospheric_head_m(), options));
}

std::string friction_text(const losses::FrictionLaw& law) {
  switch (law.law) {
    case losses::Law::hazen_williams:
      return fmt::format(
          "Friction by Hazen-Williams: h = k L Q^n / (C^n D^m) in metres and m3/s, with k = {}, n = {}, m = "
          "{}.",
          law.k, law.n, law.m);
    case losses::Law::darcy_weisbach:
      break;
  }
  return "Friction by Darcy-Weisbach: 64/Re below Re 2000, Colebrook-White (3.7, 2.51) above 4000, a smooth "
         "rising join between.";
}

std::string convention(pipes::BoreConvention bore) {
  switch (bore) {
    case pipes::BoreConvention::stated:
      return "as stated";
    case pipes::BoreConvention::outside_less_two_minimum_walls:
      return "outside less two least walls";
    case pipes::BoreConvention::average:
      return "average";
    case pipes::BoreConvention::inside_controlled:
      return "held by the standard";
  }
  return "";
}

Document pipes_laid(const network::System& system, const TextOptions& options) {
  std::set<std::string> seen;
  Document out;
  const bool by_c = losses::law_row(system.friction().law).needs_c;
  for (const network::Line& line : system.lines())
    for (const network::FittedPipe& laid : line.pipes) {
      if (!seen.insert(laid.pipe.name).second) continue;
      if (seen.size() > 12 && !options.every_point) return out.line("... and other pipes; -v shows all.");
      std::string text = cut(harmless(laid.pipe.name.empty() ? "pipe" : laid.pipe.name), 40);
      text += ": bore " + shown(Kind::bore, laid.pipe.bore.metres(), options) + " (" +
              convention(laid.pipe.bore_convention) + ")";
      text += by_c ? fmt::format(", C = {:g}", laid.pipe.hazen_c)
                   : fmt::format(", roughness {:g} mm", laid.pipe.roughness.millimetres());
      const Pressure reckoned = pipes::known_rating(laid.pipe);
      text += laid.pipe.rating.pascals() > 0.0
                  ? ", rated for " + shown(Kind::pressure, laid.pipe.rating.pascals(), options)
              : reckoned > Pressure{}
                  ? ", by its wall good for " + shown(Kind::pressure, reckoned.pascals(), options)
                  : ", rating not known";
      if (!laid.pipe.standard.empty()) text += "; " + laid.pipe.standard;
      out.line(text + ".");
    }
  return out;
}

Document proof_told(const steady::Proof& proof, const TextOptions& options) {
  Document out;
  out.line(fmt::format(
      "Worked out a second time by a part that shares nothing with the first: water balances at every"
      " place to {:.0e} m3/s, head along every line to {:.0e} m, one-way rules to {:.0e} m{}.",
      proof.continuity_m3s, proof.energy_m, proof.one_way_m,
      proof.consistent ? "" : " - NOT within the limits"));
  if (options.every_point)
    for (const std::string& check : proof_words(proof)) out.item(check);
  return out;
}

}  // namespace

Document basis_section(const FlowAnswer& answer, const TextOptions& options) {
  Document out;
  out.section("Worked out with");
  out.line(water_text(answer.system.site(), options));
  out.line(friction_text(answer.system.friction()));
  out.append(pipes_laid(answer.system, options));
  if (answer.system.some_tap_held())
    out.line("Taps with draws are opened just so far that no more comes than is drawn or asked there.");
  out.line(
      "Pressures are above the air's. \"Water up to\" is where it would rise in an open tube: pipe height"
      " plus pressure. Velocity heads at places are neglected, entrance and exit losses are not.");
  out.section("Checked").append(proof_told(answer.state.proof, options));
  out.section("Mind");
  out.line(
      "This is a steady answer for the spring yield and the levels written in the model. It is no better than"
      " the survey behind it. Have a person who answers for it look at the plan before pipe is bought.");
  return out;
}

}  // namespace runnel::report
