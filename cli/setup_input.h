// The set-up a command is about, loaded and analysed.
#pragma once

#include <string>
#include <variant>

#include "cli/commands.h"
#include "cli/option_values.h"
#include "geometry/analysis.h"
#include "presets/load_setup.h"

namespace hitchwright {

/// The set-up named on the command line, with `--rules` and `--set` applied; or all problems of its files.
std::variant<Setup, Failure> load_named_setup(const CommandContext& context, const CommonValues& common);

/// The failure of a set-up with these problems.
Failure make_setup_failure(std::vector<Problem> problems);

/// A command that is not for this kind of set-up: one sentence that names the right one, code 5.
Answer make_other_kind_answer(const std::string& schema, const std::string& sentence, const CommonValues& common);

/// The name to show for a set-up: its own, else the one typed.
std::string find_title(const Setup& setup, const Arguments& arguments);

}  // namespace hitchwright
