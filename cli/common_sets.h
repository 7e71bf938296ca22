// `--set` and `--rules` of a command that makes many set-ups: what is wrong in all of them is said once, before any is made.
#pragma once

#include "cli/option_values.h"
#include "presets/library.h"

namespace hitchwright {

/// Adds a problem for each `--set` that is malformed or has a key that no set-up has, and for rules that cannot be read.
/// Values, and items that only some machines have, are a matter of the single set-up.
void check_common_sets(OptionReader& reader, const CommonValues& common, const Library& library);

/// True when the key of a `--set` begins with this table. False for a malformed one.
bool is_set_of(const std::string& set, std::string_view table);

/// The value of the last `--set` of this key; empty when there is none.
std::string find_set_value(const CommonValues& common, std::string_view key);

}  // namespace hitchwright
