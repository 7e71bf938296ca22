// One line of a batch, any bytes. Second route for what is JSON: the library nlohmann/json.
//
// The answer is one line of valid JSON that names its input line and its id, with a verdict or with errors; what our reader
// takes is JSON, and what it refuses is not, but for the limits it names.
#include <algorithm>
#include <cmath>

#include <nlohmann/json.hpp>

#include "cli/batch_line.h"
#include "presets/json_tree.h"
#include "tests/fuzz/fuzz.h"

using namespace hitchwright;
using fuzz::require;
using nlohmann::json;

namespace {

constexpr std::int64_t line_number = 7;

// A path would read the disk.
bool names_path(std::string_view text) {
    return text.find('/') != std::string_view::npos || text.find(".toml") != std::string_view::npos || text.find("\\u") != std::string_view::npos;
}

bool is_own_limit(const std::string& message) {
    return message.find("nesting") != std::string::npos || message.find("too many") != std::string::npos || message.find("number") != std::string::npos;
}

// The same tree by the other library: texts, numbers and words are what they are there.
void compare_trees(const SourceNode& node, const json& other, std::string_view subject) {
    switch (node.kind) {
        case SourceKind::text: return require(other.is_string() && other.get<std::string>() == node.typed, "a text is the same by both", subject);
        case SourceKind::flag: return require(other.is_boolean() && other.get<bool>() == node.flag, "a flag is the same by both", subject);
        case SourceKind::removed: return require(other.is_null(), "null is null by both", subject);
        case SourceKind::number:
        case SourceKind::whole: return require(other.is_number() && other.get<double>() == node.number, "a number is the same by both", subject);
        case SourceKind::list:
            require(other.is_array() && other.size() == node.members.size(), "a list is as long by both", subject);
            for (std::size_t i = 0; i < node.members.size(); ++i) compare_trees(node.members[i], other[i], subject);
            return;
        case SourceKind::table:
            require(other.is_object() && other.size() == node.members.size(), "an object is as large by both", subject);
            for (const SourceNode& m : node.members) {
                require(other.contains(m.key), "a key is there by both", subject);
                compare_trees(m, other[m.key], subject);
            }
            return;
        default: require(false, "JSON has no such kind", subject);
    }
}

// RFC 8259 knows numbers beyond a double, the other library does not.
bool has_infinite(const SourceNode& node) {
    const bool number = node.kind == SourceKind::number || node.kind == SourceKind::whole;
    return (number && std::isinf(node.number)) || std::any_of(node.members.begin(), node.members.end(), has_infinite);
}

/// True where the other library gives up for such a number, be it under a key that stands twice and keeps another value.
bool stops_at_infinite(std::string_view text) {
    try {
        [[maybe_unused]] const json read = json::parse(text);
    } catch (const json::out_of_range&) {
        return true;
    } catch (const json::exception&) {
    }
    return false;
}

void check_reading(std::string_view text) {
    const ParsedJson parsed = parse_json(text, "x", 3);
    for (const Problem& problem : parsed.problems) {
        fuzz::require_sound(problem, text, false);
        require(problem.line == 3 && problem.column >= 1, "a problem of a line has its place", format_problem(problem));
    }
    // To the other library a zero byte ends the text.
    if (text.find('\0') != std::string_view::npos) return;
    const json other = json::parse(text, nullptr, false);
    if (other.is_discarded() && stops_at_infinite(text)) return;
    require(!parsed.readable || !other.is_discarded(), "what is read as JSON is JSON", text);
    if (!parsed.readable) return require(other.is_discarded() || is_own_limit(parsed.problems.back().message), "what is refused is no JSON, or over a limit", text);
    // Of a key that stands twice one is kept, and it is said.
    if (!parsed.ok()) return;
    compare_trees(parsed.root, other, text);
    const std::string written = format_source_json(parsed.root);
    require(json::parse(written, nullptr, false) == other, "a tree written as JSON is the same", written);
}

void check_errors(const json& errors, const std::string& answer) {
    require(errors.is_array() && !errors.empty(), "errors are a list", answer);
    for (const json& error : errors) {
        require(error.contains("file") && error.contains("message") && error.contains("line"), "an error has file, line and message", answer);
        require(error["message"].is_string() && !error["message"].get<std::string>().empty(), "an error says what is wrong", answer);
        require(!error["message"].get<std::string>().starts_with("an error of the program"), "nothing goes wrong unforeseen", answer);
        require(error["file"] != "standard input" || error["line"] == line_number, "an error names its input line", answer);
    }
}

}  // namespace

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const Library library{std::string()};
    const std::string_view text = fuzz::as_text(data, size);
    check_reading(text);
    if (text.find('\n') != std::string_view::npos || names_path(text)) return 0;
    const BatchOptions options{library, {}, text.size() % 8 == 0};
    const BatchAnswer answer = answer_batch_line({line_number, std::string(text), false}, options);
    require(!answer.text.empty() && std::count(answer.text.begin(), answer.text.end(), '\n') == 1 && answer.text.back() == '\n', "an answer is one line", answer.text);
    require(std::all_of(answer.text.begin(), answer.text.end() - 1, [](char c) { return c >= ' ' && c <= '~'; }), "an answer is printable ASCII", answer.text);
    if (has_infinite(parse_json(text, "x").root)) return 0;
    const json parsed = json::parse(answer.text, nullptr, false);
    require(parsed.is_object(), "an answer is an object", answer.text);
    require(parsed.contains("line") && parsed["line"] == line_number, "an answer names its line", answer.text);
    require(parsed.contains("id"), "an answer has an id", answer.text);
    require(parsed.contains("errors") == answer.has_errors, "an answer has errors, or none", answer.text);
    const ParsedJson line = parse_json(text, "x");
    if (line.ok() && line.root.kind == SourceKind::table) {
        const SourceNode* id = line.root.find("id");
        require(id == nullptr ? parsed["id"].is_null() : parsed["id"] == json::parse(format_source_json(*id), nullptr, false), "an answer has the id of its line", answer.text);
    }
    if (answer.has_errors) check_errors(parsed["errors"], answer.text);
    else require(parsed.contains("verdict") || parsed.contains("fit"), "an answer without errors has a verdict", answer.text);
    return 0;
}
