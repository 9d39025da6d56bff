#include "runnel/report/pipes.h"

#include <fmt/format.h>

#include "runnel/report/json_parts.h"
#include "runnel/report/render_text.h"
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

Cell figure_if_known(Kind kind, double si) {
  if (!(si > 0.0)) return "-";
  return Figure{kind, si};
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
  using enum Align;
  Table rows({{"name"},
              {"bore", right, Kind::bore},
              {},
              {"rated", right, Kind::pressure},
              {.title = "rough", .align = right, .unit = "mm"},
              {"C", right},
              {"standard"},
              {"certainty"}});
  rows.level = 0;
  for (const Pipe& p : pipes)
    rows.row(
        {p.name, figure_if_known(Kind::bore, p.bore.metres()), std::string(word(p.bore_convention)),
         figure_if_known(Kind::pressure, p.rating.pascals()), fmt::format("{:g}", p.roughness.millimetres()),
         p.hazen_c > 0.0 ? fmt::format("{:g}", p.hazen_c) : "-", p.standard, std::string(word(p.certainty))});
  return render_text(Document().add(rows), options);
}

std::string pipes_json(const std::vector<Pipe>& pipes) {
  Json list = Json::array();
  for (const Pipe& p : pipes) list.push_back(as_json(p));
  return dumped(Json{{"runnel", version()}, {"pipes", list}});
}

}  // namespace runnel::report
