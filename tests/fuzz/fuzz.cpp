#include "tests/fuzz/fuzz.h"

#include <algorithm>
#include <cstdio>
#include <cstdlib>
#include <functional>
#include <iterator>

#include "presets/file_text.h"

namespace hitchwright::fuzz {
namespace {

/// Looked at by the engine after each input, and cleared.
[[gnu::section("__libfuzzer_extra_counters"), gnu::used]] std::uint8_t answers[4096];

}  // namespace

void note_answer(std::string_view answer) { answers[std::hash<std::string_view>{}(answer) % std::size(answers)] = 1; }

void require(bool holds, const char* property, std::string_view subject) {
    if (holds) return;
    std::fprintf(stderr, "does not hold: %s\nof: %s\n", property, escape_text(subject, 4000).c_str());
    std::abort();
}

std::string_view as_text(const std::uint8_t* data, std::size_t size) {
    return {reinterpret_cast<const char*>(data), size};
}

TypedInput split_typed(std::string_view input) {
    TypedInput result;
    while (input.starts_with("#=")) {
        const std::size_t end = std::min(input.find('\n'), input.size());
        result.typed.emplace_back(input.substr(2, end - 2));
        input.remove_prefix(std::min(end + 1, input.size()));
    }
    result.text = input;
    return result;
}

void require_sound(const Problem& problem, std::string_view text, bool placed) {
    note_answer(problem.message);
    const std::string sentence = format_problem(problem);
    require(!problem.file.empty(), "a problem names its file", sentence);
    require(!problem.message.empty(), "a problem says what is wrong", sentence);
    require(problem.line > 0 || !placed, "a problem has a line", sentence);
    require((problem.line > 0) == (problem.column > 0) || !placed, "a problem has line and column", sentence);
    const auto lines = std::count(text.begin(), text.end(), '\n') + 1;
    require(!placed || problem.line <= lines, "the line of a problem is one of the text", sentence);
    require(std::count(sentence.begin(), sentence.end(), '\n') <= 1, "a problem is at most two lines", sentence);
    require(!has_control_characters(sentence, false), "a problem holds no control character", sentence);
}

bool is_file_text(std::string_view text) {
    const FileText file = check_file_text(text, "x");
    return file.ok() && !file.byte_order_mark;
}

}  // namespace hitchwright::fuzz
