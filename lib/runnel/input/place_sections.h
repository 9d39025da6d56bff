#pragma once
// The sections of a model that describe places, one a kind. The reader of a kind and what the schema says of
// it stand in one file.
#include "runnel/document/tree.h"
#include "runnel/input/reader.h"
#include "runnel/input/schema_words.h"
#include "runnel/network/model.h"

namespace runnel::input {

void read_boxes(Reader& reader, const document::Node& node, network::Model& system);
void read_tanks(Reader& reader, const document::Node& node, network::Model& system);
void read_outlets(Reader& reader, const document::Node& node, network::Model& system);
void read_joints(Reader& reader, const document::Node& node, network::Model& system);

namespace schema {

Json boxes();
Json tanks();
Json outlets();
Json joints();

}  // namespace schema

struct PlaceSection {
  const char* key;
  void (*read)(Reader& reader, const document::Node& node, network::Model& system);
  schema::Json (*schema)();
};

/// In the order in which they are read and shown.
inline constexpr PlaceSection place_sections[] = {
    {"boxes", read_boxes, schema::boxes},
    {"tanks", read_tanks, schema::tanks},
    {"outlets", read_outlets, schema::outlets},
    {"joints", read_joints, schema::joints},
};

}  // namespace runnel::input
