// version, help.
#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/help_text.h"
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
