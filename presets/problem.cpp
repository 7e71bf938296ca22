// Problems as text that is safe to print on a terminal.
#include "presets/problem.h"

#include <algorithm>
#include <map>

#include <fmt/format.h>

#include "presets/utf8.h"

namespace hitchwright {
namespace {

// Control characters of both sets, marks that turn or hide the text after them, the byte order mark,
// and the two line separators.
bool is_unprintable(std::uint32_t code) {
    return code < 0x20 || (code >= 0x7F && code < 0xA0) || code == 0xAD || code == 0x61C ||
           (code >= 0x200B && code <= 0x200F) || (code >= 0x2028 && code <= 0x202E) ||
           (code >= 0x2060 && code <= 0x206F) || code == 0xFEFF || (code >= 0xFFF0 && code <= 0xFFFB) ||
           (code >= 0xE0000 && code <= 0xE0FFF);
}

std::string escape_character(std::uint32_t code) {
    switch (code) {
        case '\n': return "\\n";
        case '\t': return "\\t";
        case '\r': return "\\r";
        default: return code < 0x100 ? fmt::format("\\x{:02x}", code) : fmt::format("\\u{:04x}", code);
    }
}

}  // namespace

std::string escape_text(std::string_view text, std::size_t most_characters) {
    std::string result;
    std::size_t count = 0;
    for (std::size_t at = 0; at < text.size(); ++count) {
        if (count == most_characters) {
            return result + "...";
        }
        const Utf8Character c = decode_utf8(text, at);
        if (c.size == 0) {
            result += fmt::format("\\x{:02x}", static_cast<unsigned char>(text[at]));
            ++at;
            continue;
        }
        if (is_unprintable(c.code)) {
            result += escape_character(c.code);
        } else {
            result += text.substr(at, c.size);
        }
        at += c.size;
    }
    return result;
}

bool has_control_characters(std::string_view text, bool one_line) {
    for (std::size_t at = 0; at < text.size();) {
        const Utf8Character c = decode_utf8(text, at);
        if (c.size == 0) {
            return true;
        }
        const bool allowed = !one_line && (c.code == '\n' || c.code == '\t');
        if (is_unprintable(c.code) && !allowed) {
            return true;
        }
        at += c.size;
    }
    return false;
}

std::string format_problem(const Problem& problem) {
    std::string text = escape_text(problem.file);
    if (problem.line > 0) {
        text += fmt::format(":{}:{}", problem.line, problem.column);
    }
    text += ": ";
    if (!problem.key.empty()) {
        text += escape_text(problem.key, 120) + ": ";
    }
    text += escape_text(problem.message, 400);
    std::string more;
    const auto add = [&more](std::string part) { more += (more.empty() ? "" : "; ") + std::move(part); };
    if (!problem.read.empty()) {
        add(fmt::format("read: {}", escape_text(problem.read, 80)));
    }
    if (!problem.allowed.empty()) {
        add(fmt::format("allowed: {}", escape_text(problem.allowed, 400)));
    }
    if (!problem.nearest_key.empty()) {
        add(fmt::format("nearest: {}", escape_text(problem.nearest_key, 120)));
    }
    return more.empty() ? text : text + "\n    " + more;
}

void sort_problems(std::vector<Problem>& problems) {
    std::map<std::string, std::size_t> first_seen;
    for (const Problem& problem : problems) {
        first_seen.emplace(problem.file, first_seen.size());
    }
    std::stable_sort(problems.begin(), problems.end(), [&](const Problem& a, const Problem& b) {
        const std::size_t file_a = first_seen.at(a.file), file_b = first_seen.at(b.file);
        if (file_a != file_b) {
            return file_a < file_b;
        }
        return a.line != b.line ? a.line < b.line : a.column < b.column;
    });
}

}  // namespace hitchwright
