// The manual page in roff (man macros), from the one list of commands and options.
#pragma once

#include <string>

namespace hitchwright {

/// hitchwright(1) as roff; `version` stands in the footer. ASCII only.
std::string format_manual_page(const std::string& version);

}  // namespace hitchwright
