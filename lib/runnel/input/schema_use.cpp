// Settings, asks, claims.
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
  const auto names = [](const char* what) {
    return either(what,
                  {ref("text", "One name.", "V1"), list("Several names.", ref("text", "A name.", "V1"))});
  };
  Json turned = either(
      "How far it is open.",
      {ref("opening", "How far it is open.", "40 %"),
       block("With its loss there.",
             {{"open", ref("opening", "How far it is open.", "40 %")}, {"loss", number("K as set.", 0)}},
             {"open"})});
  return named(
      "Settings", "Named ways of running the system; `normal` is as drawn.",
      block("What differs from the system as drawn.",
            {{"shut", names("Valves and outlets that are shut.")},
             {"open", names("Valves and outlets that are open.")},
             {"set", named("Part open", "Valves that are part open.", turned)},
             {"yield", named("Yields", "What boxes yield.", ref("amount", "Yield.", "1.9 gal/min"))},
             {"level", named("Levels", "Where tanks stand.", ref("quantity", "Elevation.", "4615 ft"))},
             {"draw", named("Draws", "What joints give.", ref("amount", "Draw.", "0.5 gal/min"))}}));
}

Json asks() {
  Json ask = block("One thing that is asked for.",
                   {{"at", ref("text", "Name of a place.", "barn tank")},
                    {"flow", ref("amount", "At least this flow.", "1.2 gal/min")},
                    {"pressure", ref("amount", "At least this pressure.", "5 psi")},
                    {"full_within", ref("amount", "Full within this time.", "2 days")},
                    {"note", ref("text", "Why.")}},
                   {"at"});
  ask["anyOf"] = needs_any({"flow", "pressure", "full_within"});
  return list("What the owner needs.", ask);
}

Json claims() {
  Json claim = block("One thing that is claimed.",
                     {{"at", ref("text", "Name of a place.", "barn tank")},
                      {"flow", ref("amount", "The flow claimed.", "3 gal/min")},
                      {"pressure", ref("amount", "The pressure claimed.", "30 psi")},
                      {"from", ref("text", "Where it is claimed.", "proposal sheet 2")}},
                     {"at"});
  claim["anyOf"] = needs_any({"flow", "pressure"});
  return list("What a proposal says.", claim);
}

Json year() {
  const auto rows = [](const char* title, const char* what, const char* example) {
    return named(title, what,
                 list("12 flows (months from January) or 52 (weeks).", ref("amount", what, example), 12));
  };
  Json block_of = block("What springs give and tanks need through a year.",
                        {{"yields", rows("Yields", "What boxes yield.", "1.9 gal/min")},
                         {"demands", rows("Demands", "What is taken from tanks.", "0.5 gal/min")}});
  block_of["anyOf"] = needs_any({"yields", "demands"});
  return block_of;
}

}  // namespace runnel::input::schema
