// Exit codes of the program. Fixed: scripts rely on them (docs/commands.md).
#pragma once

#include <string_view>

#include "geometry/finding.h"
#include "geometry/shaft_cut.h"

namespace hitchwright {

namespace exit_code {
inline constexpr int fits = 0;         ///< it fits, or the command did what was asked
inline constexpr int change = 1;       ///< fits after a change, or must not run
inline constexpr int usage = 2;        ///< the command line is wrong
inline constexpr int bad_file = 3;     ///< a file is missing or wrong, or a `--set` is
inline constexpr int internal = 4;     ///< output that cannot be written, or an error of the program
inline constexpr int not_decided = 5;  ///< too close to call, or not known
inline constexpr int interrupted = 130;  ///< batch, matrix: ended by Ctrl-C before all was done, 128 + SIGINT as shells count
}  // namespace exit_code

/// Exit code of a verdict.
int find_exit_code(Verdict verdict);

/// Exit code of the answer to "what do I cut": 0 nothing, 1 something or no cut works, 5 not known.
int find_exit_code(CutAnswer answer);

/// Fixed word of a failing exit code for machine-readable output: usage, bad_file, internal.
std::string_view failure_word(int code);

}  // namespace hitchwright
