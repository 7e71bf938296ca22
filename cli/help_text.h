// Help texts, made from the command table: 80 columns, examples and exit codes included.
#pragma once

#include <string>

#include "cli/command_table.h"

namespace hitchwright {

/// Help of a command or group; null: of the program.
std::string format_help(const CommandSpec* command);

}  // namespace hitchwright
