// The check behind source_edit.h: what a text means before and after new values went in.
#pragma once

#include <string_view>
#include <vector>

#include "presets/overrides.h"
#include "presets/source_edit.h"

namespace hitchwright {

/// True when `after` reads as `before` does with the literals of `edits` put in under the keys of `values`, and as
/// nothing else; a value that was taken away is in neither, and with one tables that are empty do not count. Both are
/// compared by the TOML library's tree, whatever it says about places left aside.
bool has_recorded_meaning(std::string_view before, std::string_view after, const std::vector<KeyValue>& values,
                          const std::vector<ValueEdit>& edits);

}  // namespace hitchwright
