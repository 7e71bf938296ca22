// What a command gives back: the text of its answer with an exit code, or what is wrong.
#pragma once

#include <cstddef>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "cli/exit_code.h"
#include "presets/problem.h"

namespace hitchwright {

/// Columns of all text.
inline constexpr std::size_t page_width = 80;

/// A finished answer.
struct Answer {
    int code = exit_code::fits;
    std::string text;  ///< goes to the output as it is
};

/// One thing wrong with a command line.
struct UsageProblem {
    std::string where;    ///< option or command it is about: "--units"; may be empty
    std::string message;  ///< one sentence without its full stop: what was read, what is allowed
    std::string nearest;  ///< the known word that looks most like the one read; may be empty
};

/// Why there is no answer.
struct Failure {
    int code = exit_code::internal;
    std::string message;              ///< one sentence without its full stop; heads `problems` of files
    std::vector<UsageProblem> usage;  ///< code usage: all of them
    std::vector<Problem> problems;    ///< code bad_file: all of them
    std::string command;              ///< whose help to read: "cut"; empty: the program's
};

using Outcome = std::variant<Answer, Failure>;

/// A command line that is wrong in one place.
Failure make_usage_failure(const std::string& command, UsageProblem problem);

/// The words with `between` after each but the last.
std::string join_words(const std::vector<std::string>& words, std::string_view between = ", ");

/// The text in double quotes, escaped and shortened: how something typed stands in a sentence.
std::string in_quotes(std::string_view typed);

/// The sentences of a failure for a person, each line at most 80 columns where words allow it, ending in a line end.
/// `program` is the name the sentences begin with.
std::string format_failure(const Failure& failure, std::string_view program = "hitchwright");

}  // namespace hitchwright
