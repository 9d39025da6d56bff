#pragma once
// The pieces of the schema. Besides what an editor needs, each key says what kind of value it takes and what
// applies if it is left out; the language page and `explain` are made from the same pieces.
#include <initializer_list>
#include <nlohmann/json.hpp>
#include <string>
#include <utility>
#include <vector>

#include "runnel/input/value_kinds.h"

namespace runnel::input::schema {

using Json = nlohmann::ordered_json;
using Members = std::initializer_list<std::pair<const char*, Json>>;

// Remarks in the pieces that are not printed in the schema, because draft-07 has no such words.
inline constexpr const char* kind_remark = "%kind";          ///< "a flow"
inline constexpr const char* left_out_remark = "%left out";  ///< what applies without the key
inline constexpr const char* written_remark = "%written";    ///< an example as typed

/// One value of a kind, with its meaning here, an example, and what applies if it is left out.
Json value(ValueKind kind, const std::string& meaning, const std::string& example,
           const std::string& left_out = {});
/// A number, or the text of one: `1/2` is a number too.
Json number(const std::string& meaning, double least, const std::string& example,
            const std::string& left_out = {});
/// One of a few words; the first is the example.
Json words(const std::string& meaning, std::vector<std::string> allowed);

/// A map with exactly these members.
Json block(const std::string& description, Members members, std::vector<std::string> required = {});
/// A map from names to values of one kind.
Json named(const std::string& title, const std::string& description, Json value);
Json list(const std::string& description, Json item, int least = 0);
Json either(const std::string& description, std::vector<Json> kinds);

/// The same piece with a remark: what applies if it is left out, or an example as typed.
Json unless(const std::string& left_out, Json piece);
Json shown(const std::string& written, Json piece);

/// text, quantity (with a unit), amount (a quantity not below zero), opening.
Json definitions();

/// The whole language, remarks included. `model_schema` prints it without them.
Json language();

// The sections, one schema each; those of places: place_sections.h.
Json site();
Json friction();
Json overflow();
/// The works by which a place spills, as a member of it.
Json spills();
Json draws();
Json float_valve();
/// A reference to the definition of that name, with a meaning of its own.
Json defined_as(const char* name, const char* meaning);
Json pipe();
Json pipelines();
Json parts();
Json settings();
Json asks();
Json claims();
Json year();
Json collection();
Json log();
Json ground();
Json prices();

}  // namespace runnel::input::schema
