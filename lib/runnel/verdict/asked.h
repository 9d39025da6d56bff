#pragma once
// What a need asks, as a figure.
#include "runnel/base/figure.h"
#include "runnel/network/model.h"

namespace runnel::verdict {

/// The flow or the pressure that is asked, or the time within which a tank is to be full.
inline Figure asked_figure(const network::Ask& ask) {
  switch (ask.kind) {
    case network::AskKind::flow:
      return {Kind::flow, ask.flow.si()};
    case network::AskKind::pressure:
      return {Kind::pressure, ask.pressure.si()};
    case network::AskKind::full_within:
      break;
  }
  return {Kind::duration, ask.within.si()};
}

}  // namespace runnel::verdict
