// The commands, each from a split command line to an answer or a failure. Files are read and written here and nowhere
// below; nothing is printed here.
#pragma once

#include <functional>
#include <iosfwd>

#include "cli/arguments.h"
#include "cli/outcome.h"
#include "presets/library.h"

namespace hitchwright {

/// What a command has beside its arguments.
struct CommandContext {
    const Arguments& arguments;
    const Library& library;
    bool terminal = false;  ///< the answer goes to a terminal
    bool colour = false;    ///< colour is wanted there
    std::istream* in = nullptr;       ///< for a dialogue
    std::ostream* prompts = nullptr;  ///< the error stream: questions of a dialogue, what was left out; answers stay on the output
    bool somebody_answers = false;    ///< the input is a terminal
    /// An environment variable, or null when it is not set.
    std::function<const char*(const char*)> variable = [](const char*) -> const char* { return nullptr; };
    std::ostream* out = nullptr;      ///< for answers that leave one by one
    bool progress_shown = false;      ///< `prompts` goes to a terminal: a line there that changes is welcome
};

Outcome run_fit(const CommandContext& context);
Outcome run_cut(const CommandContext& context);
Outcome run_sweep(const CommandContext& context);
Outcome run_draw(const CommandContext& context);
Outcome run_holes(const CommandContext& context);
Outcome run_drawbar(const CommandContext& context);
Outcome run_code(const CommandContext& context);
Outcome run_sheet(const CommandContext& context);
Outcome run_load(const CommandContext& context);
Outcome run_lines(const CommandContext& context);
Outcome run_envelope(const CommandContext& context);
Outcome run_ditch(const CommandContext& context);
Outcome run_trace(const CommandContext& context);
Outcome run_shafts(const CommandContext& context);
Outcome run_measure(const CommandContext& context);
Outcome run_new(const CommandContext& context);
Outcome run_record(const CommandContext& context);
Outcome run_batch(const CommandContext& context);
Outcome run_matrix(const CommandContext& context);
Outcome run_compare(const CommandContext& context);
Outcome run_diff(const CommandContext& context);
Outcome run_presets_list(const CommandContext& context);
Outcome run_presets_show(const CommandContext& context);
Outcome run_presets_copy(const CommandContext& context);
Outcome run_presets_verify(const CommandContext& context);
Outcome run_rules_list(const CommandContext& context);
Outcome run_rules_show(const CommandContext& context);
Outcome run_completion(const CommandContext& context);
Outcome run_manual(const CommandContext& context);
Outcome run_version(const CommandContext& context);
Outcome run_help(const CommandContext& context);

}  // namespace hitchwright
