// In what form the value of a key of a set-up stands in its file: bare, in quotes, in brackets.
#pragma once

#include <map>
#include <string>
#include <string_view>

namespace hitchwright {

/// What a field takes.
enum class FieldForm { reading, word, text, whole, whole_list, flag };

/// Every key of a set-up file that is a value of its own, with its tables and without items:
/// "tractor.upper_link_pin.z", "choices.lift_stop", "coupler.fitted", "rules", "name". Not among them: what the file is
/// (kind, version, unit, origin), and which machines it uses.
const std::map<std::string, FieldForm, std::less<>>& setup_field_forms();

/// The value as it is written into a file. `typed` has passed the reader for the command line. `old`: the literal it
/// takes the place of, empty for none; single quotes and bare whole numbers stay where the new value allows it.
std::string format_literal(FieldForm form, std::string_view typed, std::string_view old);

}  // namespace hitchwright
