// The whole program behind one function: arguments and streams in, exit code out.
//
// Nothing here ends the process, changes a global or writes to the process's own streams. The text of an answer is
// composed in full before it is written, so that an error never leaves half an answer behind.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "cli/outcome.h"
#include "cli/streams.h"
#include "presets/library.h"

namespace hitchwright {

/// The answer of one command, or what is wrong; nothing is printed. May throw what nobody foresaw.
Outcome answer_command(const std::vector<std::string>& args, const Library& library, const Streams& streams);

/// Runs one command. `args` are those behind the program's name. Returns one of the exit codes of exit_code.h.
/// Never throws: what goes wrong unexpectedly is one sentence on `streams.err` and exit code 4.
int run_cli(std::span<const std::string> args, const Streams& streams);

}  // namespace hitchwright
