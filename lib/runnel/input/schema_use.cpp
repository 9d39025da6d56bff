// Settings, needs, claims.
#include "runnel/input/schema_words.h"

namespace runnel::input::schema {

namespace {

Json needs_any(std::vector<std::string> keys) {
  Json kinds = Json::array();
  for (const std::string& key : keys) kinds.push_back(Json{{"required", Json::array({key})}});
  return kinds;
}

}  // namespace

Json settings() {
  const std::string drawn = "as drawn";
  const auto names = [&](const char* what, const char* written) {
    return unless(
        drawn,
        either(what, {value(ValueKind::name, "One name.", "V1"),
                      shown(written, list("Several names.", value(ValueKind::name, "A name.", "V1")))}));
  };
  Json turned = either("How far it is open.",
                       {value(ValueKind::opening, "How far it is open.", "40 %"),
                        block("With its loss there.",
                              {{"open", value(ValueKind::opening, "How far it is open.", "40 %")},
                               {"loss", number("K as set.", 0, "24", "the published one, if there is one")}},
                              {"open"})});
  const auto rows = [&](const char* title, const char* what, const char* written, Json one) {
    return unless(drawn, shown(written, named(title, what, std::move(one))));
  };
  // The sections are those of the model itself. They are checked when the whole is read, because only then
  // can a change be told from an incomplete piece.
  Json with{
      {"description", "Anything else that differs, written as in the model; a key left empty is taken out."},
      {"type", "object"},
      {"properties", {{"runnel", false}, {"settings", false}}}};
  with[kind_remark] = "a part of a model";
  with = unless(drawn, shown("{pipelines: {main: {pipe: PE4710 DR11 2 in}}}", with));
  return named(
      "Settings", "Named ways of running the system; `normal` is as drawn.",
      block("What differs from the system as drawn.",
            {{"shut", names("Valves and outlets that are shut.", "[V1, V2]")},
             {"open", names("Valves and outlets that are open.", "[V3]")},
             {"set", rows("Part open", "Valves that are part open.", "{V1: 40 %}", turned)},
             {"yield", rows("Yields", "What boxes yield.", "{upper box: 1.9 gal/min}",
                            value(ValueKind::flow, "Yield.", "1.9 gal/min"))},
             {"level", rows("Levels", "Where tanks stand.", "{barn tank: 4615 ft}",
                            value(ValueKind::level, "Elevation.", "4615 ft"))},
             {"draw", rows("Draws", "What is taken at joints and taps, all day.", "{gate tee: 0.5 gal/min}",
                           value(ValueKind::flow, "Draw.", "0.5 gal/min"))},
             {"with", with}}));
}

Json asks() {
  Json ask = block(
      "One need at a place, or how fast water may run in the lines.",
      {{"at", value(ValueKind::name, "The place.", "barn tank", "a velocity is asked, which has no place")},
       {"flow", value(ValueKind::flow, "At least this flow.", "1.2 gal/min", "any flow will do")},
       {"pressure", value(ValueKind::pressure, "At least this pressure.", "5 psi", "any pressure will do")},
       {"full_within",
        value(ValueKind::duration, "A tank: full within this time.", "2 days", "no time is set")},
       {"in", value(ValueKind::name, "The pipeline whose velocity is meant.", "main", "every pipeline")},
       {"velocity_at_most", value(ValueKind::velocity, "No faster than this: the flow over the whole bore.",
                                  "1.5 m/s", "it may run as fast as it will")},
       {"velocity_at_least", value(ValueKind::velocity, "No slower than this where water runs.", "0.5 m/s",
                                   "it may run as slowly as it will")},
       {"note", value(ValueKind::text, "Why.", "evening milking", "nothing is said")}});
  // That a velocity has no place is left to the reader: editors say nothing helpful when a schema must not
  // match.
  ask["anyOf"] = needs_any({"velocity_at_most", "velocity_at_least"});
  for (const char* wanted : {"flow", "pressure", "full_within"})
    ask["anyOf"].push_back({{"required", Json::array({"at", wanted})}});
  return list("What the owner needs.", ask);
}

Json claims() {
  Json claim =
      block("One thing that a proposal claims.",
            {{"at", value(ValueKind::name, "The place.", "barn tank")},
             {"flow", value(ValueKind::flow, "The flow claimed.", "3 gal/min", "no flow is claimed")},
             {"pressure", value(ValueKind::pressure, "The pressure claimed while the water runs.", "30 psi",
                                "no such pressure is claimed")},
             {"static_pressure", value(ValueKind::pressure, "The pressure claimed with everything shut.",
                                       "60 psi", "no such pressure is claimed")},
             {"full_after", value(ValueKind::duration, "A tank: the time after which it is said to be full.",
                                  "2 days", "no time is claimed")},
             {"setting", value(ValueKind::name, "The setting under which it is claimed.", "dry season",
                               "it is claimed of the system as drawn")},
             {"from", value(ValueKind::text, "Where it is claimed.", "proposal sheet 2", "nothing is said")}},
            {"at"});
  claim["anyOf"] = needs_any({"flow", "pressure", "static_pressure", "full_after"});
  return list("What a proposal says.", claim);
}

Json year() {
  const auto rows = [](const char* title, const char* what, const char* written, const char* left_out) {
    return unless(left_out, shown(written, named(title, what,
                                                 list("12 flows (months from January) or 52 (weeks).",
                                                      value(ValueKind::flow, what, "1.9 gal/min"), 12))));
  };
  Json block_of = block("What springs give and tanks need through a year.",
                        {{"yields", rows("Yields", "What boxes yield: 12 or 52 flows each.",
                                         "{upper box: [2 gal/min, ...]}", "as in `boxes`")},
                         {"demands", rows("Demands", "What is taken from tanks: 12 or 52 flows each.",
                                          "{barn tank: [0.5 gal/min, ...]}", "as in `draws`")}});
  block_of["anyOf"] = needs_any({"yields", "demands"});
  return block_of;
}

Json prices() {
  return either(
      "What pipes and parts cost, in one currency: of a pipe by the length, as 0.90 per m or 0.28 per ft, "
      "of a part by the piece, as 12 each. By name, or in a CSV file (name, price, unit).",
      {value(ValueKind::text, "Name of a file.", "prices.csv"),
       named("Prices",
             "Prices by name of pipe or word of part; of a `reducer`, `float_valve` or `throttle` as well.",
             value(ValueKind::text, "An amount and what it is for.", "0.90 per m"))});
}

}  // namespace runnel::input::schema
