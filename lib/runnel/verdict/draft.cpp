#include "runnel/verdict/draft.h"

#include <algorithm>
#include <cctype>
#include <utility>

namespace runnel::verdict {
namespace {

// `{3}` becomes `{3+offset}`; doubled braces stay.
std::string renumbered(const std::string& text, std::size_t offset) {
  std::string out;
  for (std::size_t i = 0; i < text.size(); ++i) {
    out += text[i];
    if (text[i] != '{' && text[i] != '}') continue;
    if (i + 1 < text.size() && text[i + 1] == text[i]) {
      out += text[++i];
    } else if (text[i] == '{') {
      std::size_t number = 0;
      while (i + 1 < text.size() && std::isdigit(static_cast<unsigned char>(text[i + 1])))
        number = number * 10 + static_cast<std::size_t>(text[++i] - '0');
      out += std::to_string(number + offset);
    }
  }
  return out;
}

}  // namespace

std::string brace_safe(std::string_view name) {
  std::string out;
  for (char c : name) {
    out += c;
    if (c == '{' || c == '}') out += c;
  }
  return out;
}

Sentence& Sentence::say(std::string_view words) {
  text_ += brace_safe(words);
  return *this;
}

Sentence& Sentence::name(std::string_view name) {
  text_ += brace_safe(name);
  return *this;
}

Sentence& Sentence::names(const std::vector<std::string>& names, std::size_t most) {
  const std::size_t named = names.size() <= most ? names.size() : most - 1;
  for (std::size_t i = 0; i < named; ++i)
    say(i == 0 ? "" : i + 1 == names.size() ? " and " : ", ").name(names[i]);
  if (names.size() > named) say(" and " + std::to_string(names.size() - named) + " more");
  return *this;
}

Sentence& Sentence::figure(Figure figure) {
  text_ += "{" + std::to_string(figures_.size()) + "}";
  figures_.push_back(figure);
  return *this;
}

Sentence& Sentence::append(const Sentence& other) {
  text_ += renumbered(other.text_, figures_.size());
  figures_.insert(figures_.end(), other.figures_.begin(), other.figures_.end());
  return *this;
}

bool same(const Sentence& a, const Sentence& b) {
  return a.text() == b.text() &&
         std::equal(a.figures().begin(), a.figures().end(), b.figures().begin(), b.figures().end(),
                    [](const Figure& x, const Figure& y) { return x.si == y.si; });
}

std::pair<std::size_t, bool> Said::number(const Sentence& sentence) {
  std::string key = sentence.text();
  for (const Figure& figure : sentence.figures()) {
    const double si = figure.si + 0.0;  // no difference between 0 and -0
    key.append(reinterpret_cast<const char*>(&si), sizeof si);
  }
  const auto [known, first] = known_.try_emplace(std::move(key), known_.size());
  return {known->second, first};
}

Sentence sentence_of(const Finding& finding) {
  Sentence s;
  s.text_ = finding.message;
  s.figures_ = finding.figures;
  return s;
}

Draft::Draft(std::string code, Severity severity) {
  finding_.code = std::move(code);
  finding_.severity = severity;
}

Draft::Draft(const Code& rule, Severity severity) : Draft(std::string(rule.code), severity) {
  finding_.source = rule.source;
}

Draft& Draft::at_place(const std::string& name) {
  finding_.where.place = name;
  return *this;
}

Draft& Draft::on_line(const std::string& name) {
  finding_.where.pipeline = name;
  return *this;
}

Draft& Draft::on_line(const std::string& name, double station_m) {
  finding_.where.pipeline = name;
  finding_.where.station_m = station_m;
  return *this;
}

Draft& Draft::against(Figure figure, Figure limit) {
  finding_.figure = figure;
  finding_.limit = limit;
  return *this;
}

Draft& Draft::source(std::string text) {
  finding_.source = std::move(text);
  return *this;
}

Finding Draft::done() const {
  Finding out = finding_;
  out.message = message.text();
  out.figures = message.figures();
  // A piece that may follow others begins with a blank.
  const std::string& text = advice.text();
  out.advice =
      renumbered(text.substr(std::min(text.size(), text.find_first_not_of(' '))), out.figures.size());
  out.figures.insert(out.figures.end(), advice.figures().begin(), advice.figures().end());
  return out;
}

}  // namespace runnel::verdict
