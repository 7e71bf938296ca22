// From where to where a reading is taken, looked up by its dotted key in the one list of fields (setup_fields.h).
#pragma once

#include <optional>
#include <string>
#include <string_view>

#include "geometry/field_spec.h"

namespace hitchwright {

/// The hint of a key such as "tractor.pto.stub_x" or "tractor.upper_link_pin[2].z"; empty for a key that is no reading.
/// `drawn`: of an implement on the drawbar, whose points some readings are taken from.
std::string find_measure_hint(std::string_view key, bool drawn = false);

/// What is known about that field; nothing for a key that is no reading.
std::optional<FieldSpec> find_reading_spec(std::string_view key);

}  // namespace hitchwright
