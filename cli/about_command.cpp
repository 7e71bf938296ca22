// completion, manual, version, help.
#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/completion_script.h"
#include "cli/help_text.h"
#include "cli/manual_page.h"
#include "cli/option_values.h"
#include "cli/records.h"
#include "presets/file_kind.h"
#include "presets/nearest.h"

namespace hitchwright {

Outcome run_version(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const Form form = reader.form({Form::text, Form::json});
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    if (form == Form::text) return Answer{exit_code::fits, fmt::format("hitchwright {}\n", HITCHWRIGHT_VERSION)};
    return Answer{exit_code::fits, format_json("version", {{"version", std::string(HITCHWRIGHT_VERSION)},
                                                           {"file_version", file_version}})};
}

Outcome run_completion(const CommandContext& context) {
    const std::string shell = context.arguments.names.front();
    if (shell == "bash") return Answer{exit_code::fits, format_completion_script(Shell::bash)};
    if (shell == "zsh") return Answer{exit_code::fits, format_completion_script(Shell::zsh)};
    return make_failure({{"SHELL", fmt::format("{} was read; allowed: bash, zsh", in_quotes(shell)), {}}},
                        context.arguments.command);
}

Outcome run_manual(const CommandContext&) {
    return Answer{exit_code::fits, format_manual_page(HITCHWRIGHT_VERSION)};
}

Outcome run_help(const CommandContext& context) {
    if (context.arguments.names.empty()) return Answer{exit_code::fits, format_help(nullptr)};
    const std::string name = join_words(context.arguments.names, " ");
    if (const CommandSpec* command = find_command(name)) return Answer{exit_code::fits, format_help(command)};
    std::vector<std::string> known;
    for (const CommandSpec& command : command_specs()) known.emplace_back(command.name);
    return make_usage_failure({},
                              {{},
                               fmt::format("there is no command {}; allowed: {}", in_quotes(name), join_words(known)),
                               nearest_word(name, known)});
}

}  // namespace hitchwright
