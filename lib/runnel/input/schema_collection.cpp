// The works at the spring, yield logs, cover and frost.
#include "runnel/input/schema_words.h"
#include "runnel/network/collection.h"

namespace runnel::input::schema {

namespace {

Json share(const std::string& meaning, const std::string& example, const std::string& left_out = {}) {
  Json json = value(ValueKind::opening, meaning, example, left_out);
  json[kind_remark] = "a share";
  return json;
}

Json yes_or_no(const std::string& meaning) {
  return unless("no", Json{{"description", meaning},
                           {written_remark, "yes"},
                           {kind_remark, "`yes` or `no`"},
                           {"enum", Json::array({"yes", "no", true, false})}});
}

Json length(const char* meaning, const char* example, const char* left_out = "") {
  return value(ValueKind::length, meaning, example, left_out);
}

Json elevation(const char* meaning, const char* example, const char* left_out) {
  return value(ValueKind::elevation, meaning, example, left_out);
}

Json sieves() {
  Json pair = list("A sieve and the share of the weight that passes it.",
                   either("Size or share.",
                          {length("Opening of the sieve.", "0.25 mm"), share("Share that passes.", "40 %")}),
                   2);
  return unless("it has none", shown("[[0.25 mm, 40 %], [1 mm, 85 %]]",
                                     list("Sieves from the finest to the coarsest.", std::move(pair))));
}

Json layers() {
  const char* not_counted = "its amount is not counted";
  Json layer = block("Stone, or a cloth.",
                     {{"name", value(ValueKind::text, "What it is called.", "pea gravel", "by its number")},
                      {"sieves", sieves()},
                      {"cloth_opening", length("Largest opening of a cloth (O95).", "0.2 mm", "it is stone")},
                      {"cloth_permittivity",
                       number("Flow through the cloth per area and head, 1/s.", 0, "0.5", "not known")},
                      {"length", length("Length of the layer.", "12 ft", not_counted)},
                      {"width", length("Its width.", "2 ft", not_counted)},
                      {"thickness", length("Its thickness.", "6 in", not_counted)}});
  return unless("no filter is judged",
                shown("[{sieves: [[2 mm, 15 %], [8 mm, 85 %]], thickness: 6 in}]",
                      list("Layers from the soil inward to the pipe.", std::move(layer))));
}

Json drilled_pipe() {
  return unless("its holes are not judged",
                block("The pipe that gathers the water.",
                      {{"bore", length("Inside.", "4 in")},
                       {"length", length("Length that carries holes.", "10 ft")},
                       {"holes_per_metre", number("Holes or slots in a metre.", 0, "60")},
                       {"hole", length("Bore of a hole.", "8 mm", "it has slots")},
                       {"slot", length("Width of a slot.", "2 mm", "it has holes")},
                       {"head", length("Water over the pipe that may be counted on.", "4 in",
                                       "what it can take in is not judged")}},
                      {"bore", "length", "holes_per_metre"}));
}

Json intake_riser() {
  Json row = block("A row of holes.",
                   {{"at", value(ValueKind::elevation, "Elevation of their centres.", "4756.2 ft")},
                    {"hole", length("Bore of a hole.", "10 mm")},
                    {"count", number("How many.", 0, "8")}},
                   {"at", "hole", "count"});
  return unless("none", shown("[{at: 4756.2 ft, hole: 10 mm, count: 8}]",
                              list("A drilled riser in the box, row by row.", std::move(row))));
}

Json wall() {
  const char* not_judged = "not judged";
  return unless(
      "no wall is judged",
      block("The tight wall below the spring.",
            {{"spring", elevation("Where the water came out before the work.", "4759.6 ft", not_judged)},
             {"water_behind",
              elevation("Water behind the wall at the greatest flow.", "4759.5 ft", not_judged)},
             {"water_in_front", elevation("Water in front of it.", "4758 ft", "dry")},
             {"top", elevation("Top of the wall.", "4762 ft", not_judged)},
             {"highest_ground", elevation("Highest ground beside it.", "4761 ft", not_judged)},
             {"depth_behind", length("Its foot below the ground behind.", "3 ft", "none")},
             {"depth_in_front", length("Its foot below the ground in front.", "2 ft", "none")},
             {"width", length("Of its foot along the flow.", "1 ft", "none")},
             {"ground",
              unless("its creep is not judged", words("What it stands in.", network::ground_words()))}}));
}

}  // namespace

Json collection() {
  const char* not_judged = "not judged";
  Json soil =
      unless("the filter is not judged against it",
             block("The ground the water comes out of.",
                   {{"sieves", sieves()}, {"dispersive", yes_or_no("Clay that clouds still water.")}}));
  Json distances =
      unless("cannot be judged",
             shown("{latrine: 40 m, fence: 15 m}",
                   named("Distances", "What lies how far from the spring.", length("How far.", "40 m"))));
  distances["propertyNames"] = Json{{"enum", network::distance_words()}};
  return named(
      "Collection", "The works at the spring, by the name of the box they lead to.",
      block("The works at one spring.",
            {{"greatest_flow", value(ValueKind::flow, "What the spring gives in the wettest time.",
                                     "6 gal/min", "the yield of the box")},
             {"base_soil", std::move(soil)},
             {"filter_rules", unless("nrcs 2017", words("By which rules.", network::filter_rules_words()))},
             {"layers", layers()},
             {"seepage",
              unless("not estimated",
                     block("The face that the water comes out of, for an estimate from the soil alone.",
                           {{"width", length("Its width.", "10 m")},
                            {"height", length("Its height.", "0.5 m")},
                            {"slope", share("Slope of the water table towards it.", "5 %")}},
                           {"width", "height", "slope"}))},
             {"drilled_pipe", drilled_pipe()},
             {"riser", intake_riser()},
             {"overflow_screened", yes_or_no("A screen keeps animals out of the box's overflow.")},
             {"vent", length("Bore of the vent.", "2 in", "none")},
             {"strainer", length("Its openings.", "0.5 mm", "none")},
             {"water_depth", length("Water over the mud in the box.", "2 ft", not_judged)},
             {"wall", wall()},
             {"distances", std::move(distances)},
             {"bleach", share("Strength of the bleach at hand.", "5.25 %", "5.25 %")}}));
}

Json log() {
  Json entry = block(
      "One day.",
      {{"at", value(ValueKind::name, "The box.", "spring box")},
       {"date", value(ValueKind::text, "Year, month, day.", "2026-08-30")},
       {"yield", value(ValueKind::flow, "Yield of that day.", "1.9 gal/min", "from a bucket")},
       {"volume", value(ValueKind::volume, "What the bucket holds.", "5 gal", "`yield` is given")},
       {"times", unless("`yield` is given",
                        shown("[157 s, 161 s]", list("How long it took to fill.",
                                                     value(ValueKind::duration, "A time.", "157 s"))))}},
      {"at", "date"});
  return list("Yields written down over the years, in any order.", std::move(entry));
}

Json ground() {
  return block(
      "Cover and frost.",
      {{"frost", length("Depth to which the ground freezes in a hard winter.", "30 in", "not judged")},
       {"cover", unless("not judged",
                        shown("{main: 3 ft}", named("Cover", "Least cover over the pipe, by pipeline.",
                                                    length("Ground over the top of the pipe.", "3 ft"))))}});
}

}  // namespace runnel::input::schema
