#include "cli/help_text.h"

#include <algorithm>

#include <fmt/format.h>

#include "cli/outcome.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr std::size_t name_column = 26;

// A name with its meaning beside it, or below it where the name is long.
std::string format_entry(const std::string& name, std::string_view meaning) {
    const std::string lines = format_paragraph(meaning, page_width, name_column, name_column);
    if (name.size() + 4 > name_column) return "  " + name + "\n" + lines;
    return pad_right("  " + name, name_column) + lines.substr(std::min(name_column, lines.size()));
}

std::string format_usage_line(const CommandSpec& command) {
    std::string line = fmt::format("hitchwright {}", command.name);
    for (const NameSpec& name : command.names) {
        line += " " + format_name(name);
    }
    return line + (command.options.empty() ? "" : " [OPTIONS]");
}

std::string format_paragraphs(std::string_view text) {
    std::string result;
    while (!text.empty()) {
        const std::size_t end = std::min(text.find("\n\n"), text.size());
        result.append("\n").append(format_paragraph(text.substr(0, end), page_width, 0, 0));
        text.remove_prefix(std::min(text.size(), end + 2));
    }
    return result;
}

OwnMeaning find_meaning(const CommandSpec& command, const OptionSpec& option) {
    for (const OwnMeaning& own : command.meanings) {
        if (own.option == option.name) return own;
    }
    return {option.name, option.value, option.meaning};
}

std::string format_options(const CommandSpec& command) {
    std::string text = "\nOptions (before or behind the command; --name VALUE or --name=VALUE):\n";
    for (const OptionSpec& option : option_specs()) {
        const bool own =
            std::find(command.options.begin(), command.options.end(), option.name) != command.options.end();
        if (!own && option.name != "--help") continue;
        const OwnMeaning words = find_meaning(command, option);
        std::string name = option.short_name.empty() ? std::string{} : std::string(option.short_name) + ", ";
        name += std::string(option.name) + (words.value.empty() ? "" : " ") + std::string(words.value);
        std::string meaning(words.meaning);
        if (option.repeatable) meaning += "; may be repeated";
        text += format_entry(name, meaning);
    }
    return text;
}

// The commands of a group, or the top-level ones with those of the groups.
std::string format_commands(std::string_view group) {
    std::string text = "\nCommands:\n";
    for (const CommandSpec& command : command_specs()) {
        if (is_group(command) || (!group.empty() && !command.name.starts_with(std::string(group) + " "))) continue;
        std::string name(command.name);
        for (const NameSpec& word : command.names) {
            if (word.name == "SUBCOMMAND") continue;
            name += " " + format_name(word);
        }
        text += format_entry(name, command.summary);
    }
    return text;
}

std::string format_program_help() {
    std::string text = "hitchwright: hitching and driveline geometry of a tractor and its implement\n";
    text += "\nUsage: hitchwright COMMAND [OPTIONS]\n";
    text += format_commands({});
    text += "\nStart with:\n  hitchwright presets list setup\n  hitchwright fit compact-tiller-bottoms-out\n";
    text += "\nHelp of a command: hitchwright COMMAND --help\n";
    text += format_paragraphs(
        "Lengths carry their unit: 38 7/8in, 3'2 1/2\", 986mm. Without one they are in the unit of --units (in).");
    text += format_paragraphs(
        "Exit codes: 0 it fits, or done; 1 it fits after a change, or must not run; 5 too close to call, or not "
        "known; 2 wrong command line; 3 wrong file or --set; 4 output that cannot be written, or an error of the "
        "program.");
    return text + format_paragraphs(
                      "Results are an aid. The makers' manuals, local code and licensed practice rule. Engine off, "
                      "key out and rotation stopped before connecting, measuring, cutting or greasing.");
}

}  // namespace

std::string format_help(const CommandSpec* command) {
    if (command == nullptr) return format_program_help();
    if (is_group(*command)) {
        std::string text = fmt::format("hitchwright {}: {}\n", command->name, command->summary);
        return text + format_commands(command->name) +
               fmt::format("\nHelp of a command: hitchwright {} COMMAND --help\n", command->name);
    }
    std::string text =
        fmt::format("hitchwright {}: {}\n\nUsage: {}\n", command->name, command->summary, format_usage_line(*command));
    text += format_paragraphs(command->details);
    text += format_options(*command);
    text += fmt::format("\nExamples:\n{}", command->examples);
    return text +
           format_paragraphs(fmt::format(
               "Exit codes: {}", command->codes.empty() ? "0 done; 2 wrong command line; 3 wrong file or --set; 4 "
                                                          "output that cannot be written, or an error of the program."
                                                        : command->codes));
}

}  // namespace hitchwright
