// Where the window keeps what is its own and no set-up's: XDG_STATE_HOME/hitchwright, else HOME/.local/state/hitchwright
// (XDG Base Directory Specification).
#pragma once

#include <functional>
#include <string>

namespace hitchwright {

/// The folder, without a slash at its end; empty when neither variable gives one. `variable` gives an environment
/// variable or null; a relative XDG_STATE_HOME is ignored, as the specification asks.
std::string find_state_folder(const std::function<const char*(const char*)>& variable);

/// Makes the folder where it is missing. Empty: it is there; else why not, without a full stop.
std::string make_state_folder(const std::string& folder);

}  // namespace hitchwright
