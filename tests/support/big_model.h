#pragma once
// Models of any size as text, to see how reading and answering grow. Systems and figures are invented.
#include <cmath>
#include <string>

namespace runnel::test {

enum class Shape {
  chain,  ///< one line of joints down a slope
  star,   ///< all joints hang on the spring's own tee
  grid,   ///< a square of joints, each joined to its right and lower neighbour
  boxes,  ///< break-pressure box below break-pressure box
};
inline constexpr const char* shape_names[] = {"chain", "star", "grid", "chain of boxes"};

namespace big_model {

inline std::string metres(double value) {
  const long long millimetres = std::llround(value * 1000.0);
  std::string digits = std::to_string(millimetres % 1000);
  return std::to_string(millimetres / 1000) + "." + std::string(3 - digits.size(), '0') + digits + " m";
}

inline void line(std::string& text, const std::string& name, const std::string& from, const std::string& to) {
  text += "  " + name + ": {from: " + from + ", to: " + to + ", pipe: PE4710 DR11 1-1/2 in, length: 120 m}\n";
}

}  // namespace big_model

/// A model of a spring, about `places` places and a tap at the end.
inline std::string big_model_text(Shape shape, int places) {
  using big_model::line;
  using big_model::metres;
  const double top_m = 3000.0, step_m = 2900.0 / places;  // so that the last one still lies above the sea
  const int side = shape == Shape::grid ? static_cast<int>(std::sqrt(places)) : 0;
  if (side > 0) places = side * side;
  const auto height = [&](int i) {
    if (shape == Shape::star) return top_m - 20.0 - 0.0005 * i;
    if (shape == Shape::grid) return top_m - 2900.0 / (2.0 * side) * (i / side + i % side + 1);
    return top_m - step_m * (i + 1);
  };
  const auto name = [](int i) { return "p" + std::to_string(i); };
  std::string inner, lines;
  for (int i = 0; i < places; ++i) {
    const double z = height(i);
    inner += "  " + name(i) +
             (shape == Shape::boxes ? ": {outlet: " + metres(z) + ", lip: " + metres(z + 0.3)
                                    : ": {elevation: " + metres(z)) +
             "}\n";
    if (shape == Shape::grid) {
      if (i % side + 1 < side) line(lines, "r" + std::to_string(i), name(i), name(i + 1));
      if (i + side < places) line(lines, "d" + std::to_string(i), name(i), name(i + side));
    } else if (i > 0) {
      line(lines, "l" + std::to_string(i), name(shape == Shape::star ? 0 : i - 1), name(i));
    }
  }
  std::string text = "runnel: 1\nname: Invented " + std::string(shape_names[static_cast<int>(shape)]) +
                     "\nboxes:\n  spring: {yield: 0.5 L/s, outlet: " + metres(top_m) +
                     ", lip: " + metres(top_m + 1.0) + "}\n";
  text += (shape == Shape::boxes ? "" : "joints:\n") + inner;
  text += "outlets:\n  tap: {elevation: 20 m}\npipelines:\n";
  line(text, "first", "spring", name(0));
  text += lines;
  text += "  last: {from: " + name(places - 1) +
          ", to: tap, pipe: PE4710 DR11 1-1/2 in, length: " + metres(height(places - 1) + 200.0) + "}\n";
  return text;
}

/// The same with a slip in every line of pipe: a place that is not there.
inline std::string big_model_of_slips(int places) {
  std::string text = big_model_text(Shape::chain, places);
  for (auto at = text.find("to: p"); at != std::string::npos; at = text.find("to: p", at)) text[at + 4] = 'q';
  return text;
}

}  // namespace runnel::test
