#include "runnel/network/complaints.h"

#include <cmath>
#include <utility>

#include "runnel/document/quote.h"
#include "runnel/document/tree.h"

namespace runnel::network {

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

bool Complaints::within(const Mark& object, std::string_view member, Figure figure, const std::string& what,
                        Bounds bounds) {
  if (figure.si == 0.0 || (figure.si >= bounds.low && figure.si <= bounds.high)) return true;
  error("absurd-figure", object, member,
        what + (figure.si < bounds.low ? " is {0}; less than {1} cannot be meant"
                                       : " is {0}; more than {1} cannot be meant"),
        {figure, {figure.kind, figure.si < bounds.low ? bounds.low : bounds.high}},
        "check the unit and the powers of ten");
  return false;
}

bool Complaints::positive(const Mark& object, std::string_view member, Figure figure, const std::string& what,
                          Bounds bounds) {
  return positive(object, member, figure, what) && within(object, member, figure, what, bounds);
}

bool Complaints::not_negative(const Mark& object, std::string_view member, Figure figure,
                              const std::string& what, Bounds bounds) {
  return not_negative(object, member, figure, what) && within(object, member, figure, what, bounds);
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
  const std::string near = suggestions_.nearest(word, candidates);
  if (!near.empty()) return "did you mean " + quoted(near) + "?";
  if (!suggests() || candidates.empty() || candidates.size() > 12) return {};
  std::string list = "there is ";
  for (std::size_t i = 0; i < candidates.size(); ++i) list += (i ? ", " : "") + quoted(candidates[i]);
  return list;
}

std::string quoted(const std::string& name) { return document::quote(name); }

}  // namespace runnel::network
