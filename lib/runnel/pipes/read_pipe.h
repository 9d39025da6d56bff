#pragma once
// One pipe described in a document: in a model, or as a row of a catalogue.
#include <optional>
#include <vector>

#include "runnel/document/tree.h"
#include "runnel/pipes/pipe.h"

namespace runnel::pipes {

/// A description, and which of its members were written, since zero is a value too.
struct Description {
  Pipe pipe;
  bool has_bore = false;
  bool has_roughness = false;
  bool has_hazen_c = false;
};

/// Reads the members that are written and keeps the others of `common`. Only what is written is checked.
Description read_description(const document::Node& node, std::vector<Finding>& findings,
                             const Description& common = {}, const std::string& what = "the pipe");

/// Reads a whole pipe, such as {bore: 38.1 mm, roughness: 0.0015 mm, C: 150, wall: 3 mm, rating: 10 bar,
/// modulus: 900 MPa}. Without `bore`, it is `outside` less two `wall`. Roughness or C must be there; with C
/// alone the roughness is 0 (smooth), and a note says so. No pipe if there is any error.
std::optional<Pipe> read_pipe(const document::Node& node, std::vector<Finding>& findings,
                              const Description& common = {}, const std::string& what = "the pipe");

}  // namespace runnel::pipes
