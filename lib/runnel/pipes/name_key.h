#pragma once
// One key for the many ways to write the name of a pipe.
#include <string>
#include <string_view>

namespace runnel::pipes {

/// A form in which `PVC Sch40 1-1/2 in`, `pvc schedule 40 1 1/2"` and `PVC SCH 40 1.5in` are the same.
std::string name_key(std::string_view name);

}  // namespace runnel::pipes
