#pragma once
// The model language as a JSON Schema, for editors that check YAML as it is typed.
#include <string>

namespace runnel::input {

/// JSON Schema draft-07 of a model. It checks structure: what may be where, which members belong together,
/// that quantities carry a unit. Names that must exist and geometry are left to `read_model`; the schema
/// accepts all that `read_model` accepts (tested).
std::string model_schema();

}  // namespace runnel::input
