#pragma once
// The model language as a JSON Schema, for editors that check YAML while it is written.
#include <string>

namespace runnel::input {

/// JSON Schema draft-07 of a model. It judges structure: what may stand where, which members belong
/// together, that quantities carry a unit. Names that must exist and geometry are for `read_model`; what
/// `read_model` accepts, the schema accepts too (tested).
std::string model_schema();

}  // namespace runnel::input
