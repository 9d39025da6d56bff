#include "runnel/verdict/next_size.h"

#include "runnel/pipes/catalogue.h"
#include "runnel/units/print.h"

namespace runnel::verdict {
namespace {

constexpr double step = 1.25;

/// The name without the nominal size at its end: the series.
std::string series_of(const pipes::Pipe& pipe) {
  const std::string& name = pipe.name;
  if (pipe.nominal.empty() || name.size() < pipe.nominal.size()) return name;
  const std::size_t at = name.size() - pipe.nominal.size();
  return name.compare(at, std::string::npos, pipe.nominal) == 0 ? name.substr(0, at) : name;
}

}  // namespace

std::optional<pipes::Pipe> next_size(const pipes::Pipe& pipe) {
  const pipes::Catalogue& catalogue = pipes::standard_catalogue();
  if (!catalogue.find(pipe.name)) {
    pipes::Pipe wider = pipe;
    wider.bore = pipe.bore * step;
    wider.wall = pipe.wall * step;
    wider.outside = pipe.outside * step;
    wider.name = "a bore of " + units::show({Kind::bore, wider.bore.metres()}, units::UnitSystem::si);
    return wider;
  }
  const pipes::Pipe* next = nullptr;
  for (const pipes::Pipe& other : catalogue.pipes())
    if (other.standard == pipe.standard && series_of(other) == series_of(pipe) && other.bore > pipe.bore &&
        (!next || other.bore < next->bore))
      next = &other;
  if (!next) return std::nullopt;
  return *next;
}

}  // namespace runnel::verdict
