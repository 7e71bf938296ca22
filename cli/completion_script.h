// Completion scripts for shells, from the one list of commands and options.
#pragma once

#include <string>

namespace hitchwright {

/// Shells a script is made for; zsh uses the script of bash through its bashcompinit.
enum class Shell { bash, zsh };

/// Script to be sourced by the shell. Names of presets are asked from the program when they are needed.
std::string format_completion_script(Shell shell);

}  // namespace hitchwright
