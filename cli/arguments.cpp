// Splits the command line. The only file that knows the command line library: it finds commands, options and names;
// every sentence about what is wrong is our own, since it has to name what was read and what is allowed.
#include "cli/arguments.h"

#include <algorithm>

#include <fmt/format.h>
#include <CLI/App.hpp>
#include <CLI/Config.hpp>
#include <CLI/Formatter.hpp>

#include "presets/nearest.h"

namespace hitchwright {
namespace {

// What the library would take in silence for something else: a switch with "=", an option with nothing behind the "="
// (it would take the next word), "++" (it ends a command).
void check_single_words(const std::vector<std::string>& args, std::vector<UsageProblem>& problems) {
    for (const std::string& arg : args) {
        if (arg == "--") return;
        if (arg == "++") problems.push_back({{}, "\"++\" means nothing here; a file of that name is written ./++", {}});
        const std::size_t equals = arg.find('=');
        if (equals == std::string::npos || arg.front() != '-') continue;
        const std::string name = arg.substr(0, equals);
        const OptionSpec* option = find_option(name);
        if (option == nullptr) continue;
        if (option->value.empty()) {
            problems.push_back(
                {name, fmt::format("this is a switch and takes no value, but {} was read", in_quotes(arg)), {}});
        } else if (equals + 1 == arg.size()) {
            problems.push_back(
                {name, fmt::format("there is nothing behind the \"=\"; {} is wanted", option->value), {}});
        } else if (name == option->short_name) {
            problems.push_back({name, fmt::format("write {} {}, without \"=\"", name, option->value), {}});
        }
    }
}

// The library takes no "=" in the name of a name.
std::string name_word(const NameSpec& name) {
    std::string word(name.name);
    std::replace(word.begin(), word.end(), '=', '_');
    return word;
}

void add_names(CLI::App& app, const CommandSpec& command) {
    for (const NameSpec& name : command.names) {
        CLI::Option* option = app.add_option(name_word(name))->allow_extra_args(name.repeatable)->take_all();
        if (name.repeatable) option->expected(-1);
    }
}

void prepare(CLI::App& app) {
    app.set_help_flag();
    app.allow_extras();
    app.fallthrough();
    app.require_subcommand(0, 1);
}

// Setting the library up for every option and command takes as long as reading a set-up: it is told of those only that
// some word can mean. Values may look like options, so that more is added than is typed, never less.
bool may_mean(const std::string& word, const OptionSpec& option) {
    if (word.starts_with("--")) return std::string_view(word).substr(0, word.find('=')) == option.name;
    return word.starts_with('-') && !option.short_name.empty() && word.find(option.short_name.back()) != std::string::npos;
}

void add_commands(CLI::App& app, const std::vector<std::string>& args) {
    CLI::App* group = nullptr;
    for (const CommandSpec& command : command_specs()) {
        if (is_group(command)) group = nullptr;
        const std::size_t space = command.name.find(' ');
        const bool inside = space != std::string_view::npos;
        const std::string_view word = command.name.substr(inside ? space + 1 : 0);
        if ((inside && group == nullptr) || std::find(args.begin(), args.end(), word) == args.end()) continue;
        CLI::App* made = (inside ? *group : app).add_subcommand(std::string(word));
        prepare(*made);
        add_names(*made, command);
        if (is_group(command)) group = made;
    }
}

void add_options(CLI::App& app, const std::vector<std::string>& args) {
    for (const OptionSpec& option : option_specs()) {
        if (std::none_of(args.begin(), args.end(), [&](const std::string& word) { return may_mean(word, option); })) continue;
        const std::string names =
            std::string(option.name) + (option.short_name.empty() ? "" : ",") + std::string(option.short_name);
        if (option.value.empty()) {
            app.add_flag(names)->take_all();
        } else {
            app.add_option(names)->allow_extra_args(false)->take_all();
        }
    }
}

// The command that was typed, the innermost one.
CLI::App* find_parsed(CLI::App& app, std::string& name) {
    CLI::App* at = &app;
    while (!at->get_subcommands().empty()) {
        at = at->get_subcommands().front();
        name += (name.empty() ? "" : " ") + at->get_name();
    }
    return at;
}

void collect(CLI::App& app, Arguments& arguments) {
    std::string name;
    const CLI::App* command = find_parsed(app, name);
    arguments.command = find_command(name);
    for (const CLI::Option* option : app.get_options()) {
        if (option->count() > 0) {
            arguments.options["--" + option->get_lnames().front()] = option->results();
        }
    }
    if (arguments.command == nullptr) return;
    for (const NameSpec& spec : arguments.command->names) {
        const CLI::Option* option = command->get_option(name_word(spec));
        if (option->count() == 0) continue;
        const std::vector<std::string> typed = option->results();
        arguments.names.insert(arguments.names.end(), typed.begin(), spec.repeatable ? typed.end() : typed.begin() + 1);
    }
}

UsageProblem unknown_option(const std::string& typed, const CommandSpec* command) {
    const std::string name = typed.substr(0, typed.find('='));
    std::vector<std::string> known;
    for (const OptionSpec& option : option_specs()) {
        const bool everywhere = option.name == "--help" || command == nullptr;
        if (everywhere ||
            std::find(command->options.begin(), command->options.end(), option.name) != command->options.end()) {
            known.emplace_back(option.name);
        }
    }
    std::string allowed =
        command == nullptr || is_group(*command) ? std::string{} : fmt::format("; allowed: {}", join_words(known));
    return {{}, fmt::format("there is no option {}{}", in_quotes(name), allowed), nearest_word(name, known)};
}

UsageProblem unknown_word(const std::string& word, const CommandSpec* command) {
    if (command != nullptr && !is_group(*command)) {
        std::string takes;
        for (const NameSpec& name : command->names) takes += fmt::format(" {}", name.name);
        return {{},
                fmt::format("{} is one name too many; \"{}\" takes {}", in_quotes(word), command->name,
                            takes.empty() ? "none" : "no more than" + takes),
                {}};
    }
    const std::string group(command == nullptr ? std::string_view{} : command->name);
    const std::vector<std::string> words = list_words(group);
    return {{},
            fmt::format("there is no command {}; allowed: {}", in_quotes(group.empty() ? word : group + " " + word),
                        join_words(words)),
            nearest_word(word, words)};
}

// What was left over. Behind an unknown option a word may be its value, so that only the option is named then.
void check_leftovers(const std::vector<std::string>& left, const CommandSpec* command,
                     std::vector<UsageProblem>& problems) {
    const auto looks_like_option = [](const std::string& word) {
        return word.size() > 1 && word.front() == '-' && word != "--" && (word[1] < '0' || word[1] > '9');
    };
    bool option_seen = false;
    for (const std::string& word : left) {
        if (looks_like_option(word)) {
            problems.push_back(unknown_option(word, command));
            option_seen = true;
        }
    }
    const auto first = std::find_if(left.begin(), left.end(),
                                    [&](const std::string& word) { return word != "--" && !looks_like_option(word); });
    const bool names_command = command == nullptr || is_group(*command);
    if (first != left.end() && (names_command || !option_seen)) {
        problems.push_back(unknown_word(*first, command));
    }
}

void check_options(const Arguments& arguments, std::vector<UsageProblem>& problems) {
    for (const auto& [name, values] : arguments.options) {
        const OptionSpec& option = *find_option(name);
        if (values.size() > 1 && !option.repeatable && !option.value.empty()) {
            problems.push_back(
                {name,
                 fmt::format("given {} times, with {} last; once is allowed", values.size(), in_quotes(values.back())),
                 {}});
        }
        if (arguments.command == nullptr || name == "--help" || name == "--version") continue;
        const auto& own = arguments.command->options;
        if (std::find(own.begin(), own.end(), name) == own.end()) {
            problems.push_back(
                {name, fmt::format("this option does not belong to \"{}\"", arguments.command->name), {}});
        }
    }
}

void check_names(const Arguments& arguments, std::vector<UsageProblem>& problems) {
    const CommandSpec* command = arguments.command;
    if (command == nullptr || is_group(*command)) {
        const std::string group(command == nullptr ? std::string_view{} : command->name);
        problems.push_back(
            {{},
             fmt::format("a command is missing{}; allowed: {}",
                         group.empty() ? "" : fmt::format(" behind \"{}\"", group), join_words(list_words(group))),
             {}});
        return;
    }
    for (std::size_t i = arguments.names.size(); i < command->names.size(); ++i) {
        if (command->names[i].required) {
            problems.push_back(
                {{}, fmt::format("{} is missing behind \"{}\"", command->names[i].name, command->name), {}});
        }
    }
}

}  // namespace

std::string Arguments::value(std::string_view option) const {
    const auto found = options.find(option);
    return found == options.end() || found->second.empty() ? std::string{} : found->second.back();
}

SplitCommandLine split_command_line(const std::vector<std::string>& args) {
    SplitCommandLine result;
    CLI::App app;
    prepare(app);
    add_options(app, args);
    add_commands(app, args);
    check_single_words(args, result.problems);
    if (!result.problems.empty()) return result;
    try {
        app.parse(std::vector<std::string>(args.rbegin(), args.rend()));
    } catch (const CLI::ArgumentMismatch&) {
        // Values are taken whatever they look like, so only the last word can be an option without its value.
        const OptionSpec* option = args.empty() ? nullptr : find_option(args.back());
        result.problems.push_back(
            {args.empty() ? std::string{} : args.back(),
             fmt::format("{} is missing behind it", option == nullptr ? "a value" : option->value),
             {}});
        collect(app, result.arguments);
        return result;
    } catch (const CLI::Error& error) {
        result.problems.push_back({{}, fmt::format("this command line cannot be read: {}", error.what()), {}});
        return result;
    }
    collect(app, result.arguments);
    check_leftovers(app.remaining(true), result.arguments.command, result.problems);
    check_options(result.arguments, result.problems);
    const bool wants_help = result.arguments.has("--help") || result.arguments.has("--version");
    if (!wants_help && result.problems.empty()) check_names(result.arguments, result.problems);
    return result;
}

}  // namespace hitchwright
