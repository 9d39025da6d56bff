// Names: every place has its own, and so has every part that a setting may name.
#include <unordered_map>

#include "runnel/network/complaints.h"

namespace runnel::network {

namespace {

struct First {
  std::string what;
  Mark mark;
};

std::string with_article(const std::string& what) { return (what == "outlet" ? "an " : "a ") + what; }

std::string used_for(const std::string& first, const std::string& second) {
  if (first == second) return ", both times for " + with_article(first);
  return ": for " + with_article(first) + " and for " + with_article(second);
}

class Names {
 public:
  explicit Names(Complaints& complaints) : complaints_(complaints) {}

  void add(const std::string& name, const std::string& what, const Mark& mark, std::string_view member = "") {
    if (name.empty()) {
      complaints_.error("empty-name", mark, member, "this " + what + " has an empty name");
      return;
    }
    const Mark here = complaints_.mark(mark, member);
    auto [at, fresh] = seen_.try_emplace(name, First{what, here});
    if (fresh) return;
    Finding& finding =
        complaints_.error("same-name", mark, member,
                          "the name " + quoted(name) + " is used twice" + used_for(at->second.what, what), {},
                          "give one of them another name; needs, settings and lines call things by name");
    finding.other = at->second.mark;
    finding.other_note = "first used here";
  }

 private:
  Complaints& complaints_;
  std::unordered_map<std::string, First> seen_;
};

}  // namespace

void validate_names(const Model& system, const NameIndex& index, Complaints& complaints) {
  Names names(complaints);
  for (const PlaceView& place : index.places()) names.add(*place.name, place.word, *place.mark);
  for (const Pipeline& line : system.pipelines)
    for (const Part& part : line.parts)  // the name of a fitting only describes it
      if (!part.name.empty() && part.kind != PartKind::fitting)
        names.add(part.name, "part of a line", part.mark, part.type);

  Names lines(complaints);
  for (const Pipeline& line : system.pipelines) lines.add(line.name, "pipeline", line.mark);
  Names settings(complaints);
  for (const Setting& setting : system.settings) settings.add(setting.name, "setting", setting.mark);
}

}  // namespace runnel::network
