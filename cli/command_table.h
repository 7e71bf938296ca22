// The one list of commands and options: names, what they take, and their help. The command line is read by this list,
// the help is printed from it, and "nearest" names come from it.
#pragma once

#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace hitchwright {

/// An option. `value` names what it takes; empty: nothing, it is a switch.
struct OptionSpec {
    std::string_view name;        ///< with its dashes: "--units"
    std::string_view short_name;  ///< "-o"; empty: none
    std::string_view value;       ///< "LENGTH"
    std::string_view meaning;     ///< sentence for the help
    bool repeatable = false;
};

/// A name that stands on the command line without dashes.
struct NameSpec {
    std::string_view name;  ///< "SETUP"
    bool required = true;
    bool repeatable = false;  ///< the last one only: as many as wanted
};

/// What an option means to one command, where that differs from its meaning elsewhere.
struct OwnMeaning {
    std::string_view option;   ///< "--output"
    std::string_view value;    ///< what it takes here
    std::string_view meaning;  ///< sentence for the help
};

/// A command, or a group of commands (then `names` and `options` are empty).
struct CommandSpec {
    std::string_view name;     ///< "fit", "presets list"
    std::string_view summary;  ///< for the list of commands
    std::vector<NameSpec> names;
    std::vector<std::string_view> options;  ///< names of options
    std::string_view
        details;  ///< paragraphs, separated by empty lines; a line that begins with a space is left as it is
    std::string_view examples;  ///< lines, left as they are
    std::string_view codes;     ///< exit codes; empty: the general ones
    std::vector<OwnMeaning> meanings = {};
};

/// All options in the order of the help.
std::span<const OptionSpec> option_specs();

/// All commands in the order of the help; groups stand before their commands.
std::span<const CommandSpec> command_specs();

/// The command or group of that name, null when there is none.
const CommandSpec* find_command(std::string_view name);

/// The option of that name (long or short, with dashes), null when there is none.
const OptionSpec* find_option(std::string_view name);

/// True for "presets" and "rules".
bool is_group(const CommandSpec& command);

/// How the help shows a name: "SETUP", "[SETUP]", "KEY=VALUE ...".
std::string format_name(const NameSpec& name);

/// Commands of a group ("list", "show"); for the empty name the top-level words ("fit", "presets").
std::vector<std::string> list_words(std::string_view group);

}  // namespace hitchwright
