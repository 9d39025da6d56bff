#pragma once
// A person's own words inside a message.
#include <string>
#include <string_view>

namespace runnel::document {

/// `text` between double quotes, safe to put into Finding::message and Finding::advice: control
/// characters and broken UTF-8 are shown as `?`, braces are doubled, and text past 60 characters is cut.
std::string quote(std::string_view text);

}  // namespace runnel::document
