// A switch of a set-up (geometry/variant.h) as the KEY=VALUE texts that `--set` takes.
#pragma once

#include <string>
#include <utility>
#include <vector>

#include "geometry/variant.h"

namespace hitchwright {

/// Key and value of each; an empty value takes away what stands there. Laid over the set-up's file they give what
/// apply_variant gives.
std::vector<std::pair<std::string, std::string>> list_variant_sets(const Setup& setup, const Variant& variant);

}  // namespace hitchwright
