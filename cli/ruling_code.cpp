#include "ruling_code.h"

#include "exit_code.h"

namespace cli {

int code_of(runnel::verdict::Ruling ruling) {
  using runnel::verdict::Ruling;
  switch (ruling) {
    case Ruling::holds:
    case Ruling::only_if:
      return good;
    case Ruling::cannot_be_said:
    case Ruling::fails:
      return wrong_system;
    case Ruling::no_answer:
      return no_answer;
    case Ruling::unproved:
      return defect;
  }
  return defect;
}

}  // namespace cli
