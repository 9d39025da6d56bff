#include "runnel/report/pipes.h"

#include <fmt/format.h>

#include "runnel/report/harmless.h"
#include "runnel/report/json_parts.h"
#include "runnel/report/layout.h"
#include "runnel/report/words.h"

namespace runnel::report {
namespace {

using pipes::Pipe;

std::string_view word(pipes::Certainty certainty) {
  switch (certainty) {
    case pipes::Certainty::found:
      return "found";
    case pipes::Certainty::secondary:
      return "second-hand";
    case pipes::Certainty::from_memory:
      return "from memory";
    case pipes::Certainty::computed:
      return "computed";
    case pipes::Certainty::user:
      return "yours";
  }
  return "";
}

std::string_view word(pipes::BoreConvention bore) {
  switch (bore) {
    case pipes::BoreConvention::stated:
      return "as stated";
    case pipes::BoreConvention::outside_less_two_minimum_walls:
      return "least walls";
    case pipes::BoreConvention::average:
      return "average";
    case pipes::BoreConvention::inside_controlled:
      return "inside held";
  }
  return "";
}

std::string number_or_dash(Kind kind, double si, const TextOptions& options) {
  return si > 0.0 ? units::show_number({kind, si}, options.units) : "-";
}

Json unknown_if_zero(double si, const char* key) { return si > 0.0 ? number(si, key) : Json(nullptr); }

Json as_json(const Pipe& p) {
  return {{"name", p.name},
          {"material", p.material},
          {"standard", p.standard},
          {"nominal", p.nominal},
          {"outside_m", unknown_if_zero(p.outside.metres(), "outside_m")},
          {"wall_m", unknown_if_zero(p.wall.metres(), "wall_m")},
          {"bore_m", number(p.bore.metres(), "bore_m")},
          {"bore_is", word(p.bore_convention)},
          {"roughness_m", number(p.roughness.metres(), "roughness_m")},
          {"hazen_williams_c", unknown_if_zero(p.hazen_c, "hazen_williams_c")},
          {"rating_pa", unknown_if_zero(p.rating.pascals(), "rating_pa")},
          {"modulus_pa", unknown_if_zero(p.modulus_pa, "modulus_pa")},
          {"certainty", word(p.certainty)},
          {"source", p.source}};
}

}  // namespace

std::string pipes_text(const std::vector<Pipe>& pipes, const TextOptions& options) {
  Columns rows({Align::left, Align::right, Align::left, Align::right, Align::right, Align::right, Align::left,
                Align::left});
  const std::string bore = units::unit_name(Kind::bore, options.units);
  rows.row({"name", "bore", "", "rated for", "rough", "C", "standard", "certainty"});
  rows.row({"", bore, "", units::unit_name(Kind::pressure, options.units), "mm", "", "", ""});
  for (const Pipe& p : pipes)
    rows.row({cut(harmless(p.name), 30), number_or_dash(Kind::bore, p.bore.metres(), options),
              std::string(word(p.bore_convention)),
              number_or_dash(Kind::pressure, p.rating.pascals(), options),
              fmt::format("{:g}", p.roughness.millimetres()),
              p.hazen_c > 0.0 ? fmt::format("{:g}", p.hazen_c) : "-", cut(harmless(p.standard), 18),
              std::string(word(p.certainty))});
  return rows.text(0);
}

std::string pipes_json(const std::vector<Pipe>& pipes) {
  Json list = Json::array();
  for (const Pipe& p : pipes) list.push_back(as_json(p));
  return dumped(Json{{"runnel", version()}, {"pipes", list}});
}

}  // namespace runnel::report
