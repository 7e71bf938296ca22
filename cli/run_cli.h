// The whole program behind one function: arguments and streams in, exit code out.
//
// Nothing here ends the process, changes a global or writes to the process's own streams. The text of an answer is
// composed in full before it is written, so that an error never leaves half an answer behind.
#pragma once

#include <span>
#include <string>

#include "cli/streams.h"

namespace hitchwright {

/// Runs one command. `args` are those behind the program's name. Returns one of the exit codes of exit_code.h.
/// Never throws: what goes wrong unexpectedly is one sentence on `streams.err` and exit code 4.
int run_cli(std::span<const std::string> args, const Streams& streams);

}  // namespace hitchwright
