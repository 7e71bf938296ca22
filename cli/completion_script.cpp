// See completion_script.h. The words after "hitchwright" are looked up in two case tables: which options a command
// takes, and which values an option or a name can have. Everything else completes to files.
#include "cli/completion_script.h"

#include <algorithm>

#include <fmt/format.h>

#include "cli/command_table.h"

namespace hitchwright {
namespace {

std::string join(const std::vector<std::string>& words) {
    std::string text;
    for (const std::string& word : words) text += (text.empty() ? "" : " ") + word;
    return text;
}

/// What can stand for a value by its name in the help; empty: a file, or nothing that could be listed.
std::string_view find_values(std::string_view option, std::string_view value) {
    if (value == "UNIT") return "in mm";
    if (value == "FORM") return "text json csv";
    if (value == "SIZE") return "a4 letter";
    if (value == "POINTS") return "joint_centres locking_grooves shaft_ends";
    if (value == "JOB") return "mounted-pto mounted-blade drawn-pto";
    if (value == "KIND") return "tractor implement driveline setup rules specification_list";
    if (value == "VIEW") return "side travel plan rear envelope ditch";
    if (value == "SHELL") return "bash zsh";
    if (value == "COMMAND") return "$(_hitchwright_commands)";
    if (value == "SETUP" || value == "OLD" || value == "NEW") return "$(_hitchwright_names setup)";
    if (option == "--rules") return "$(_hitchwright_names rules)";
    if (option == "--tractors") return "$(_hitchwright_names tractor)";
    if (option == "--implements") return "$(_hitchwright_names implement)";
    if (option == "--drivelines") return "$(_hitchwright_names driveline)";
    if (option == "--list") return "$(_hitchwright_names specification_list)";
    return {};
}

std::string list_options(const CommandSpec& command) {
    std::vector<std::string> words(command.options.begin(), command.options.end());
    words.emplace_back("--help");
    return join(words);
}

/// Values of options that mean something else with one command; they stand before those of all commands.
std::string format_own_values() {
    std::string text;
    for (const CommandSpec& command : command_specs()) {
        for (const OwnMeaning& own : command.meanings) {
            const std::string_view values = find_values(own.option, own.value);
            if (!values.empty())
                text += fmt::format("        {}:{}) _hitchwright_reply \"{}\"; return ;;\n", command.name, own.option,
                                    values);
        }
    }
    return text;
}

std::string format_option_values() {
    std::string text = format_own_values();
    for (const OptionSpec& option : option_specs()) {
        const std::string_view values = find_values(option.name, option.value);
        if (option.value.empty()) continue;
        const std::string names = option.short_name.empty() ? fmt::format("*:{}", option.name)
                                                            : fmt::format("*:{}|*:{}", option.name, option.short_name);
        text += fmt::format("        {}) _hitchwright_reply \"{}\"; return ;;\n", names, values);
    }
    return text;
}

/// Lines of the table "command) options and names".
std::string format_command_words() {
    std::string text;
    for (const CommandSpec& command : command_specs()) {
        if (is_group(command)) {
            text += fmt::format("        {}) words=\"{} --help\" ;;\n", command.name, join(list_words(command.name)));
            continue;
        }
        std::string names;
        for (const NameSpec& name : command.names) {
            std::string_view values = find_values({}, name.name);
            if (name.name == "NAME") values = command.name.starts_with("rules") ? "$(_hitchwright_names rules)" : "$(_hitchwright_names '')";
            if (!values.empty()) names += fmt::format(" {}", values);
        }
        text += fmt::format("        \"{}\") words=\"{}\" names=\"{}\" ;;\n", command.name, list_options(command), names);
    }
    return text;
}

/// %C: top-level words, %V: values of options, %W: words of commands, %G: groups.
constexpr std::string_view bash_script = R"SH(# Completion of hitchwright for bash, made by the program. Source it, or put it where your shell looks for such.
_hitchwright_commands() { echo "%C"; }
_hitchwright_names() {
    hitchwright presets list ${1:+"$1"} --format csv 2>/dev/null | awk -F, 'NR > 1 { print $2 }'
}
_hitchwright_reply() {
    if [ -n "$1" ]; then
        COMPREPLY=($(compgen -W "$1" -- "$cur"))
    fi
    if [ ${#COMPREPLY[@]} -eq 0 ] && [ "${cur#-}" = "$cur" ]; then
        COMPREPLY=($(compgen -f -- "$cur"))
    fi
}
_hitchwright() {
    local cur=${COMP_WORDS[COMP_CWORD]} previous=${COMP_WORDS[COMP_CWORD-1]} command=${COMP_WORDS[1]} words="" names=""
    COMPREPLY=()
    if [ "$COMP_CWORD" -eq 1 ]; then
        COMPREPLY=($(compgen -W "$(_hitchwright_commands) --help --version" -- "$cur"))
        return
    fi
    case $command:$previous in
%V    esac
    case $command in
        %G) if [ "$COMP_CWORD" -gt 2 ]; then command="$command ${COMP_WORDS[2]}"; fi ;;
    esac
    case $command in
%W    esac
    case $cur in
        -*) _hitchwright_reply "$words" ;;
        *) if [ -n "$names" ]; then _hitchwright_reply "$names"; else _hitchwright_reply "$words"; fi ;;
    esac
}
complete -o filenames -F _hitchwright hitchwright
)SH";

std::string replace(std::string text, std::string_view mark, std::string_view with) {
    return text.replace(text.find(mark), mark.size(), with);
}

}  // namespace

std::string format_completion_script(Shell shell) {
    std::vector<std::string> groups;
    for (const CommandSpec& command : command_specs()) {
        if (is_group(command)) groups.emplace_back(command.name);
    }
    std::string group_pattern = join(groups);
    std::replace(group_pattern.begin(), group_pattern.end(), ' ', '|');
    std::string text = replace(std::string(bash_script), "%C", join(list_words({})));
    text = replace(std::move(text), "%V", format_option_values());
    text = replace(std::move(text), "%G", group_pattern);
    text = replace(std::move(text), "%W", format_command_words());
    return shell == Shell::zsh ? "autoload -U +X bashcompinit && bashcompinit\n" + text : text;
}

}  // namespace hitchwright
