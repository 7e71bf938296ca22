#include "cli/outcome.h"

#include <fmt/format.h>

#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr std::size_t hanging = 4;

std::string format_usage(const UsageProblem& problem, std::string_view program) {
    std::string text = fmt::format("{}: ", program);
    if (!problem.where.empty()) {
        text += escape_text(problem.where, 80) + ": ";
    }
    text += escape_text(problem.message, 600) + ".";
    if (!problem.nearest.empty()) {
        text += fmt::format(" Nearest: \"{}\".", escape_text(problem.nearest, 80));
    }
    return format_paragraph(text, page_width, 0, hanging);
}

// The first line begins with file:line:column, as editors expect it; only the words behind it are wrapped.
std::string format_file_problem(const Problem& problem) {
    const std::string text = format_problem(problem);
    const std::size_t end = text.find('\n');
    std::string result = format_paragraph(text.substr(0, end), page_width, 0, hanging);
    if (end != std::string::npos) {
        result += format_paragraph(text.substr(text.find_first_not_of(' ', end + 1)), page_width, hanging, hanging);
    }
    return result;
}

}  // namespace

Failure make_usage_failure(const std::string& command, UsageProblem problem) {
    Failure failure;
    failure.code = exit_code::usage;
    failure.command = command;
    failure.usage.push_back(std::move(problem));
    return failure;
}

std::string join_words(const std::vector<std::string>& words, std::string_view between) {
    std::string text;
    for (const std::string& word : words) {
        if (&word != &words.front()) text += between;
        text += word;
    }
    return text;
}

std::string in_quotes(std::string_view typed) { return fmt::format("\"{}\"", escape_text(typed, 80)); }

std::string format_failure(const Failure& failure, std::string_view program) {
    std::string text;
    if (!failure.message.empty()) {
        const std::string end = failure.problems.empty() ? "." : ":";
        text += format_paragraph(fmt::format("{}: {}{}", program, failure.message, end), page_width, 0, hanging);
    }
    for (const UsageProblem& problem : failure.usage) {
        text += format_usage(problem, program);
    }
    for (const Problem& problem : failure.problems) {
        text += format_file_problem(problem);
    }
    if (failure.code == exit_code::usage) {
        text += fmt::format("Help: {} {}{}--help\n", program, failure.command, failure.command.empty() ? "" : " ");
    }
    return text;
}

}  // namespace hitchwright
