// A command line, split: command, names and options as typed. Nothing is converted yet.
#pragma once

#include <map>
#include <string>
#include <string_view>
#include <vector>

#include "cli/command_table.h"
#include "cli/outcome.h"

namespace hitchwright {

/// What was typed, by place.
struct Arguments {
    const CommandSpec* command = nullptr;                                  ///< null: none was typed, or an unknown one
    std::vector<std::string> names;                                        ///< in the order of CommandSpec::names
    std::map<std::string, std::vector<std::string>, std::less<>> options;  ///< by long name, values in order

    bool has(std::string_view option) const { return options.find(option) != options.end(); }
    /// The value of an option that is not repeatable; empty when it was not typed.
    std::string value(std::string_view option) const;
    /// The name at a place; empty when it was not typed.
    std::string name(std::size_t place) const { return place < names.size() ? names[place] : std::string{}; }
};

/// The command line split, or what is wrong with it. With problems `arguments` holds as much as was understood.
struct SplitCommandLine {
    Arguments arguments;
    std::vector<UsageProblem> problems;
};

/// Splits the arguments behind the program's name. Never throws for bad input.
SplitCommandLine split_command_line(const std::vector<std::string>& args);

}  // namespace hitchwright
