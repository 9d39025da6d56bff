#pragma once
// Pieces of `collection:` that are written in a form of their own.
#include <string>
#include <vector>

#include "runnel/input/fields.h"
#include "runnel/network/collection.h"

namespace runnel::input {

/// A share of the whole, 0 to 1, written `40 %`.
std::optional<double> read_share(Reader& reader, const document::Node& node, const std::string& what);

/// `yes` or `no`; no if the key is absent.
bool yes_or_no(Reader& reader, Fields& fields, const char* key);

/// Reports a `word` that is none of `allowed`, with the nearest of them. `kind` is "a kind of ground".
void check_word(Reader& reader, const Mark& mark, const std::string& word,
                const std::vector<std::string>& allowed, const char* kind);

network::BaseSoil read_base_soil(Reader& reader, const document::Node& node, const Mark& key,
                                 const std::string& of);
std::vector<network::FilterLayer> read_filter_layers(Reader& reader, const document::Node& node,
                                                     const std::string& what);
network::SpringWall read_spring_wall(Reader& reader, const document::Node& node, const Mark& key,
                                     const std::string& of);

}  // namespace runnel::input
