#include "runnel/network/complaints.h"

#include <cmath>
#include <utility>

#include "runnel/document/quote.h"
#include "runnel/document/tree.h"

namespace runnel::network {

namespace {

// More comparisons than this only happen in a text that is wrong all over; hints stop helping there,
// and the time they take would grow with the square of its size.
constexpr std::size_t most_comparisons = 500'000;

}  // namespace

Finding& Complaints::add(Severity severity, std::string code, const Mark& object, std::string_view member,
                         std::string message, std::vector<Figure> figures, std::string advice) {
  Finding finding;
  finding.code = std::move(code);
  finding.severity = severity;
  finding.message = std::move(message);
  finding.figures = std::move(figures);
  finding.advice = std::move(advice);
  finding.mark = mark(object, member);
  findings_.push_back(std::move(finding));
  return findings_.back();
}

Finding& Complaints::error(std::string code, const Mark& object, std::string_view member, std::string message,
                           std::vector<Figure> figures, std::string advice) {
  return add(Severity::error, std::move(code), object, member, std::move(message), std::move(figures),
             std::move(advice));
}

Finding& Complaints::warning(std::string code, const Mark& object, std::string_view member,
                             std::string message, std::vector<Figure> figures, std::string advice) {
  return add(Severity::warning, std::move(code), object, member, std::move(message), std::move(figures),
             std::move(advice));
}

bool Complaints::positive(const Mark& object, std::string_view member, Figure figure,
                          const std::string& what) {
  if (figure.si > 0.0 && std::isfinite(figure.si)) return true;
  error("not-positive", object, member, what + " is {0}; it must be more than zero", {figure});
  return false;
}

bool Complaints::not_negative(const Mark& object, std::string_view member, Figure figure,
                              const std::string& what) {
  if (figure.si >= 0.0 && std::isfinite(figure.si)) return true;
  error("negative", object, member, what + " is {0}; it cannot be less than zero", {figure});
  return false;
}

bool Complaints::on_earth(const Mark& object, std::string_view member, Length elevation,
                          const std::string& what) {
  if (std::abs(elevation.metres()) <= highest_ground_m) return true;
  error("absurd-elevation", object, member, what + " is {0}; no ground is that high or that low",
        {{Kind::elevation, elevation.metres()}}, "check the unit: feet and metres are easily swapped");
  return false;
}

Mark Complaints::mark(const Mark& object, std::string_view member) const {
  return origin_.member && object.known() ? origin_.member(object, member) : object;
}

std::string Complaints::suggest(const std::string& word, const std::vector<std::string>& candidates) {
  compared_ += candidates.size();
  if (compared_ > most_comparisons) return {};
  const std::string near = document::nearest(word, candidates);
  if (!near.empty()) return "did you mean " + quoted(near) + "?";
  if (candidates.empty() || candidates.size() > 12) return {};
  std::string list = "there is ";
  for (std::size_t i = 0; i < candidates.size(); ++i) list += (i ? ", " : "") + quoted(candidates[i]);
  return list;
}

std::string quoted(const std::string& name) { return document::quote(name); }

}  // namespace runnel::network
