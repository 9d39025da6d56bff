#include "runnel/pipes/called.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <cmath>
#include <optional>
#include <utility>

#include "runnel/pipes/name_key.h"
#include "runnel/units/parse.h"

namespace runnel::pipes {
namespace {

std::string lower(std::string_view text) {
  std::string out(text);
  for (char& c : out) c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
  return out;
}

/// Replaces the inch marks of `1"` and `1''` by the unit.
std::string without_marks(std::string text) {
  for (const std::string_view mark : {"\"", "''", "\u2033", "\u201D"})
    for (std::size_t at = text.find(mark); at != std::string::npos; at = text.find(mark, at))
      text.replace(at, mark.size(), "in ");
  return text;
}

std::vector<std::string> words_of(std::string_view call) {
  std::vector<std::string> words;
  std::string word;
  for (const char c : without_marks(lower(call))) {
    if (c != ' ' && c != '\t' && c != ',') {
      word += c;
      continue;
    }
    if (!word.empty()) words.push_back(std::move(word));
    word.clear();
  }
  if (!word.empty()) words.push_back(std::move(word));
  return words;
}

/// A size in metres: by its own unit or, without one, both as inches and as millimetres.
struct Size {
  std::optional<double> own_m, inches_m, millimetres_m;
};

std::optional<double> length_m(const std::string& text) {
  const units::Parsed parsed = units::parse(text, units::Dimension::length);
  if (!parsed.ok() || !(parsed.si > 0.0)) return std::nullopt;
  return parsed.si;
}

/// A size from the text of one word or of several: `1 1/4`, `32 mm`.
std::optional<Size> size_from(const std::string& text) {
  if (text.empty() || !std::isdigit(static_cast<unsigned char>(text.front()))) return std::nullopt;
  Size size;
  if (const auto own = length_m(text)) {
    size.own_m = own;
    return size;
  }
  if (!units::parse(text, units::Dimension::number).ok()) return std::nullopt;
  size.inches_m = length_m(text + " in");
  size.millimetres_m = length_m(text + " mm");
  return size;
}

bool is(double a_m, std::optional<double> b_m) { return b_m && std::abs(a_m - *b_m) < 1e-6; }

bool is_of_size(const Pipe& pipe, const Size& size) {
  const auto nominal = length_m(pipe.nominal);
  if (!nominal) return false;
  const bool metric = pipe.nominal.find("mm") != std::string::npos;
  return is(*nominal, size.own_m) || is(*nominal, metric ? size.millimetres_m : size.inches_m);
}

/// Words that people use for a material, and how the catalogue writes it.
struct Byname {
  std::string_view called, written;
};
constexpr std::array<Byname, 13> bynames{{{"poly", "pe"},
                                          {"polyethylene", "pe"},
                                          {"hdpe", "pe"},
                                          {"pe", "pe"},
                                          {"black", "pe"},
                                          {"galvanised", "galvanized"},
                                          {"galv", "galvanized"},
                                          {"iron", "steel"},
                                          {"steel", "steel"},
                                          {"plastic", "p"},
                                          {"schedule40", "sch40"},
                                          {"schedule80", "sch80"},
                                          {"pipe", ""}}};

bool has_word(const Pipe& pipe, const std::string& word) {
  const std::string material = lower(pipe.material), text = name_key(pipe.name + " " + pipe.standard);
  for (const Byname& by : bynames)
    if (word == by.called)
      return material.rfind(by.written, 0) == 0 || name_key(pipe.name).rfind(by.written, 0) == 0 ||
             (by.written.rfind("sch", 0) == 0 && text.find(by.written) != std::string::npos);
  // Only whole words count: `dr11` is not `sdr11`, nor is `pe10` `pe100`.
  for (const std::string& part : words_of(pipe.name + " " + pipe.standard))
    if (name_key(part) == name_key(word)) return true;
  return false;
}

/// A call taken apart: its size, the pressure printed on the pipe, and the other words.
struct Call {
  std::vector<std::string> words;
  std::optional<Size> size;
  std::optional<double> rating_pa;
};

/// `pn10`, `pn 10`: a nominal pressure in bar at 20 degC [iso-4427-1].
std::optional<double> nominal_pressure_pa(const std::string& word) {
  if (word.rfind("pn", 0) != 0) return std::nullopt;
  const units::Parsed bar = units::parse(word.substr(2) + " bar", units::Dimension::pressure);
  return bar.ok() && bar.si > 0.0 ? std::optional(bar.si) : std::nullopt;
}

/// `100 psi`, `16bar`.
std::optional<double> pressure_pa(const std::string& text) {
  const units::Parsed parsed = units::parse(text, units::Dimension::pressure);
  return parsed.ok() && !parsed.head_of_water && parsed.si > 0.0 ? std::optional(parsed.si) : std::nullopt;
}

/// The pressure that the words from `i` on give, and how many words it takes.
std::pair<std::optional<double>, std::size_t> pressure_at(const std::vector<std::string>& words,
                                                          std::size_t i) {
  const bool more = i + 1 < words.size();
  if (words[i] == "pn" && more) return {nominal_pressure_pa(words[i] + words[i + 1]), 2};
  if (const auto pn = nominal_pressure_pa(words[i])) return {pn, 1};
  if (const auto one = pressure_pa(words[i])) return {one, 1};
  if (more)
    if (const auto two = pressure_pa(words[i] + " " + words[i + 1])) return {two, 2};
  return {std::nullopt, 0};
}

/// Ratings are printed in round figures, hence the 2 %.
bool is_rated(const Pipe& pipe, double rating_pa) {
  return pipe.rating.pascals() > 0.0 && std::abs(pipe.rating.pascals() - rating_pa) <= 0.02 * rating_pa;
}

/// `dn32`, `dn 32` and `d32` are 32 mm, and `pe 100` is one word.
std::vector<std::string> as_catalogued(const std::vector<std::string>& words) {
  const auto number = [](const std::string& text) {
    return !text.empty() &&
           std::all_of(text.begin(), text.end(), [](unsigned char c) { return std::isdigit(c) != 0; });
  };
  std::vector<std::string> out;
  for (std::size_t i = 0; i < words.size(); ++i) {
    const std::string& word = words[i];
    const bool before_number = i + 1 < words.size() && number(words[i + 1]);
    const std::size_t size_at = word.rfind("dn", 0) == 0 ? 2 : word.rfind('d', 0) == 0 ? 1 : 0;
    if (size_at > 0 && number(word.substr(size_at))) {
      out.insert(out.end(), {word.substr(size_at), "mm"});
    } else if (before_number && (word == "dn" || word == "d")) {
      out.insert(out.end(), {words[++i], "mm"});
    } else if (before_number && word == "pe" && words[i + 1].size() > 2) {
      out.push_back(word + words[++i]);
    } else {
      out.push_back(word);
    }
  }
  return out;
}

Call taken_apart(std::string_view call) {
  Call out;
  std::vector<std::string> words = as_catalogued(words_of(call));
  for (std::size_t i = 0; i < words.size(); ++i) {
    const bool schedule = words[i] == "sch" || words[i] == "schedule" || words[i] == "dr" ||
                          words[i] == "sdr" || words[i] == "sidr";
    if (schedule && i + 1 < words.size()) {
      out.words.push_back((words[i] == "schedule" ? "sch" : words[i]) + words[i + 1]);
      ++i;
      continue;
    }
    if (const auto [rating_pa, taken] = pressure_at(words, i); rating_pa && !out.rating_pa) {
      out.rating_pa = rating_pa;
      i += taken - 1;
      continue;
    }
    const auto joined = i + 1 < words.size() ? size_from(words[i] + " " + words[i + 1]) : std::nullopt;
    const auto three = joined && !joined->own_m && i + 2 < words.size()
                           ? size_from(words[i] + " " + words[i + 1] + " " + words[i + 2])
                           : std::nullopt;
    const auto single = size_from(words[i]);
    if (!out.size && (three || joined || single)) {
      out.size = three ? three : joined ? joined : single;
      i += three ? 2 : joined ? 1 : 0;
      continue;
    }
    out.words.push_back(words[i]);
  }
  return out;
}

}  // namespace

std::vector<const Pipe*> called(const Catalogue& catalogue, std::string_view call) {
  const Call said = taken_apart(call);
  std::vector<const Pipe*> found;
  if (said.words.empty() && !said.size && !said.rating_pa) return found;
  for (const Pipe& pipe : catalogue.pipes()) {
    const bool fits =
        (!said.size || is_of_size(pipe, *said.size)) &&
        (!said.rating_pa || is_rated(pipe, *said.rating_pa)) &&
        std::all_of(said.words.begin(), said.words.end(), [&](const auto& w) { return has_word(pipe, w); });
    if (fits) found.push_back(&pipe);
  }
  return found;
}

bool only_a_size(std::string_view call) {
  const Call said = taken_apart(call);
  return said.size && said.words.empty() && !said.rating_pa;
}

std::string unknown_word(const Catalogue& catalogue, std::string_view call) {
  for (const std::string& word : taken_apart(call).words)
    if (std::none_of(catalogue.pipes().begin(), catalogue.pipes().end(),
                     [&](const Pipe& pipe) { return has_word(pipe, word); }))
      return word;
  return "";
}

std::vector<std::string> sizes_called(const Catalogue& catalogue, std::string_view call) {
  const Call said = taken_apart(call);
  std::vector<std::string> sizes;
  if (said.words.empty()) return sizes;
  for (const Pipe& pipe : catalogue.pipes())
    if (std::all_of(said.words.begin(), said.words.end(), [&](const auto& w) { return has_word(pipe, w); }) &&
        std::find(sizes.begin(), sizes.end(), pipe.nominal) == sizes.end())
      sizes.push_back(pipe.nominal);
  return sizes;
}

namespace {

/// Pipes of one material that come in the same sizes.
struct Listing {
  std::string material;
  std::vector<std::string> ratings, sizes;
};

/// A name in three: `PE100`, `SDR11`, `32 mm`. A name that ends otherwise is all material.
Listing listing_of(const Pipe& pipe) {
  const std::string& name = pipe.name;
  const std::string end = " " + pipe.nominal;
  if (pipe.nominal.empty() || name.size() <= end.size() ||
      name.compare(name.size() - end.size(), end.size(), end) != 0)
    return {name, {}, {}};
  const std::string kind = name.substr(0, name.size() - end.size());
  const std::size_t at = kind.rfind(' ');
  if (at == std::string::npos) return {kind, {}, {pipe.nominal}};
  return {kind.substr(0, at), {kind.substr(at + 1)}, {pipe.nominal}};
}

std::string joined(const std::vector<std::string>& words) {
  std::string out;
  for (const std::string& word : words) out += (out.empty() ? "" : ", ") + word;
  return out;
}

/// Puts what is `alike` in the list into its last entry by `merge`, else at its end.
template <class Alike, class Merge>
void put_with(std::vector<Listing>& families, Listing one, const Alike& alike, const Merge& merge) {
  const auto known =
      std::find_if(families.begin(), families.end(), [&](const Listing& other) { return alike(one, other); });
  if (known == families.end())
    families.push_back(std::move(one));
  else
    merge(std::move(one), *known);
}

}  // namespace

std::string listed(const std::vector<const Pipe*>& pipes) {
  std::vector<Listing> by_rating, families;
  for (const Pipe* pipe : pipes)
    put_with(
        by_rating, listing_of(*pipe),
        [](const Listing& a, const Listing& b) { return a.material == b.material && a.ratings == b.ratings; },
        [](Listing&& one, Listing& known) {
          known.sizes.insert(known.sizes.end(), one.sizes.begin(), one.sizes.end());
        });
  for (Listing& one : by_rating)
    put_with(
        families, std::move(one),
        [](const Listing& a, const Listing& b) { return a.material == b.material && a.sizes == b.sizes; },
        [](Listing&& more, Listing& known) {
          known.ratings.insert(known.ratings.end(), more.ratings.begin(), more.ratings.end());
        });
  std::string out;
  for (const Listing& one : families) {
    out += (out.empty() ? "" : "; ") + one.material;
    if (!one.ratings.empty()) out += " " + joined(one.ratings);
    if (one.sizes.empty()) continue;
    out += (one.ratings.size() > 1 || one.sizes.size() > 1 ? " of " : " ") + joined(one.sizes);
  }
  return out;
}

}  // namespace runnel::pipes
