#pragma once
// A finding is stated once: the worst of its places in full, the others by name.
#include <algorithm>
#include <map>
#include <string>
#include <vector>

#include "runnel/verdict/draft.h"

namespace runnel::verdict {

/// How many places a finding names before it counts the rest.
inline constexpr std::size_t most_named = 6;

/// "The same is true of a, b and 3 more." of all items but the first, each as `one` says it; nothing if it is
/// alone.
template <class Item, class One>
void say_each_other(Sentence& s, const std::vector<Item>& items, One one) {
  if (items.size() < 2) return;
  s.say(" The same is true of ");
  const std::size_t last = std::min(items.size(), most_named + 1);
  for (std::size_t i = 1; i < last; ++i) {
    if (i > 1) s.say(", ");
    one(items[i]);
  }
  if (items.size() > last) s.say(" and " + std::to_string(items.size() - last) + " more");
  s.say(".");
}

/// Each with its line and its valve: "a (tap 1), b (tap 2)".
template <class Item, class Line, class Valve>
void say_others(Sentence& s, const std::vector<Item>& items, Line line, Valve valve) {
  say_each_other(s, items, [&](const Item& x) { s.name(line(x)).say(" (").name(valve(x)).say(")"); });
}

/// Each by its name alone.
template <class Item, class Name>
void say_others(Sentence& s, const std::vector<Item>& items, Name name) {
  say_each_other(s, items, [&](const Item& x) { s.name(name(x)); });
}

/// What a map holds, in the order of its keys.
template <class Key, class Item>
std::vector<Item> values_of(const std::map<Key, Item>& map) {
  std::vector<Item> items;
  for (const auto& [key, item] : map) items.push_back(item);
  return items;
}

}  // namespace runnel::verdict
