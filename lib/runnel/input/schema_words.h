#pragma once
// Pieces that the schema is put together from.
#include <initializer_list>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

namespace runnel::input::schema {

using Json = nlohmann::ordered_json;
using Members = std::initializer_list<std::pair<const char*, Json>>;

/// A reference to one of `definitions()`, with what it means here and an example.
Json ref(const char* definition, const std::string& description, const std::string& example = {});

/// A map with just these members.
Json block(const std::string& description, Members members, std::vector<std::string> required = {});
/// A map from names to values of one kind.
Json named(const std::string& title, const std::string& description, Json value);
Json list(const std::string& description, Json item, int least = 0);
Json words(const std::string& description, std::vector<std::string> allowed);
/// A number, or the text of one: `1/2` is a number too.
Json number(const std::string& description, double least);
Json either(const std::string& description, std::vector<Json> kinds);

/// text, quantity (with a unit), amount (a quantity not below zero), opening.
Json definitions();

// The sections, one schema each.
Json site();
Json friction();
Json boxes();
Json tanks();
Json outlets();
Json joints();
Json pipe();
Json pipelines();
Json parts();
Json settings();
Json asks();
Json claims();
Json year();

}  // namespace runnel::input::schema
