// A machine as the text of a file of its own: every value with its error and origin, so that the file read back gives
// the same machine.
#pragma once

#include <functional>
#include <string>
#include <string_view>

#include "geometry/setup.h"
#include "presets/file_kind.h"

namespace hitchwright {

/// What a machine's text is made with.
struct MachineTextOptions {
    std::string unit = "in";  ///< of lengths: "in" or "mm"
    std::string name;         ///< the name shown; empty: the machine's own
    std::string note;         ///< empty: the machine's own
    /// True for a value (by its key in the file, items by name: "upper_link_pin[2].z") that is not written, since it is
    /// filled in again when the file is read; null: all are written.
    std::function<bool(const std::string&)> left_out;
};

/// The text. T: Tractor, Implement or Driveline. Values that are computed from others are not written.
template <class T>
std::string format_machine(const T& machine, const MachineTextOptions& options);

}  // namespace hitchwright
