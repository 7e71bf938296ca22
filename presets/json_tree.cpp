// Recursive descent; see json_tree.h.
#include "presets/json_tree.h"

#include <algorithm>
#include <charconv>
#include <limits>
#include <optional>

#include <fmt/format.h>

#include "presets/file_text.h"
#include "presets/number_text.h"
#include "presets/toml_reader.h"
#include "presets/utf8.h"

namespace hitchwright {
namespace {

void append_utf8(std::string& text, std::uint32_t code) {
    const auto byte = [&](std::uint32_t value) { text += static_cast<char>(static_cast<unsigned char>(value)); };
    if (code < 0x80) {
        byte(code);
    } else if (code < 0x800) {
        byte(0xC0 | (code >> 6));
        byte(0x80 | (code & 0x3F));
    } else if (code < 0x10000) {
        byte(0xE0 | (code >> 12));
        byte(0x80 | ((code >> 6) & 0x3F));
        byte(0x80 | (code & 0x3F));
    } else {
        byte(0xF0 | (code >> 18));
        byte(0x80 | ((code >> 12) & 0x3F));
        byte(0x80 | ((code >> 6) & 0x3F));
        byte(0x80 | (code & 0x3F));
    }
}

/// What stands behind a backslash, but for u.
std::optional<char> find_escape(char c) {
    switch (c) {
        case '"':
        case '\\':
        case '/': return c;
        case 'b': return '\b';
        case 'f': return '\f';
        case 'n': return '\n';
        case 'r': return '\r';
        case 't': return '\t';
        default: return std::nullopt;
    }
}

/// Reads one text. Every function gives false after a syntax error, which is then the last problem.
class Reader {
public:
    Reader(std::string_view text, const std::string& file, int line, ParsedJson& result)
        : text_(text), file_(file), line_(line), result_(result) {}

    void read() {
        skip_blanks();
        if (at_ == text_.size()) {
            refuse("there is nothing in it");
            return;
        }
        if (!read_value(result_.root, 0)) return;
        skip_blanks();
        if (at_ < text_.size()) refuse("something stands behind the value");
    }

private:
    char peek() const { return at_ < text_.size() ? text_[at_] : '\0'; }
    bool takes(char c) {
        if (peek() != c || at_ == text_.size()) return false;
        ++at_;
        return true;
    }
    void skip_blanks() {
        while (at_ < text_.size() && (text_[at_] == ' ' || text_[at_] == '\t' || text_[at_] == '\r' || text_[at_] == '\n')) ++at_;
    }

    /// Characters before a byte, counted on from the last call: places are asked for in their order.
    int column(std::size_t at) {
        for (; counted_ < at; ++counted_) columns_ += (static_cast<unsigned char>(text_[counted_]) & 0xC0) == 0x80 ? 0 : 1;
        return columns_ + 1;
    }

    bool refuse(const std::string& what, std::string allowed = "one JSON value, such as {\"setup\": \"NAME\"}") {
        const std::string rest(text_.substr(std::min(at_, text_.size()), 40));
        result_.readable = false;
        result_.problems.push_back({file_, line_, column(at_), {}, "this cannot be read as JSON: " + what, rest, std::move(allowed), {}});
        return false;
    }

    bool read_value(SourceNode& node, int depth) {
        skip_blanks();
        node.line = line_;
        node.column = column(at_);
        if (depth > most_nesting) return refuse("the nesting is too deep", fmt::format("at most {} levels", most_nesting));
        if (++values_ > most_json_values) return refuse("there are too many values", fmt::format("at most {}", most_json_values));
        switch (peek()) {
            case '{': return read_object(node, depth);
            case '[': return read_list(node, depth);
            case '"': node.kind = SourceKind::text; return read_string(node.typed);
            case 't': return read_word(node, "true");
            case 'f': return read_word(node, "false");
            case 'n': return read_word(node, "null");
            default: return read_number(node);
        }
    }

    bool read_word(SourceNode& node, std::string_view word) {
        if (text_.substr(at_, word.size()) != word) return refuse("this is no value", "text in double quotes, a number, true, false, null, [...] or {...}");
        at_ += word.size();
        node.kind = word == "null" ? SourceKind::removed : SourceKind::flag;
        node.flag = word == "true";
        node.typed = node.kind == SourceKind::flag ? std::string(word) : std::string();
        return true;
    }

    bool read_object(SourceNode& node, int depth) {
        node.kind = SourceKind::table;
        ++at_;
        skip_blanks();
        if (takes('}')) return true;
        do {
            skip_blanks();
            if (peek() != '"') return refuse("a key in double quotes is missing", "{\"KEY\": value, \"KEY\": value}");
            SourceNode member;
            member.key_line = line_;
            member.key_column = column(at_);
            if (!read_string(member.key)) return false;
            skip_blanks();
            if (!takes(':')) return refuse("the : behind a key is missing", "{\"KEY\": value, \"KEY\": value}");
            if (!read_value(member, depth + 1)) return false;
            add_member(node, std::move(member));
            skip_blanks();
        } while (takes(','));
        return takes('}') || refuse("a } or a , is missing", "{\"KEY\": value, \"KEY\": value}");
    }

    void add_member(SourceNode& node, SourceNode&& member) {
        if (node.find(member.key) == nullptr) {
            node.members.push_back(std::move(member));
            return;
        }
        result_.problems.push_back({file_, line_, member.key_column, member.key, "this name was given before", member.key, "each key once", {}});
    }

    bool read_list(SourceNode& node, int depth) {
        node.kind = SourceKind::list;
        ++at_;
        skip_blanks();
        if (takes(']')) return true;
        do {
            node.members.emplace_back();
            if (!read_value(node.members.back(), depth + 1)) return false;
            skip_blanks();
        } while (takes(','));
        return takes(']') || refuse("a ] or a , is missing", "[value, value]");
    }

    bool read_string(std::string& text) {
        ++at_;
        while (at_ < text_.size() && text_[at_] != '"') {
            if (static_cast<unsigned char>(text_[at_]) < 0x20) return refuse("a text holds a control character", "\\n, \\t or \\u000a in its place");
            if (text_[at_] != '\\') {
                text += text_[at_++];
            } else if (!read_escape(text)) {
                return false;
            }
        }
        return takes('"') || refuse("a text does not end", "a text between two double quotes");
    }

    bool read_escape(std::string& text) {
        ++at_;
        if (!takes('u')) {
            const std::optional<char> plain = find_escape(peek());
            if (!plain) return refuse("a backslash in a text stands before a letter it does not go with", "\\\" \\\\ \\/ \\b \\f \\n \\r \\t \\uXXXX");
            text += *plain;
            ++at_;
            return true;
        }
        std::optional<std::uint32_t> code = read_hex();
        const bool high = code && *code >= 0xD800 && *code < 0xDC00;
        if (high && text_.substr(at_, 2) == "\\u") {
            at_ += 2;
            const std::optional<std::uint32_t> low = read_hex();
            const bool pair = low && *low >= 0xDC00 && *low < 0xE000;
            code = pair ? std::optional(0x10000 + ((*code - 0xD800) << 10) + (*low - 0xDC00)) : std::nullopt;
        }
        if (!code || (*code >= 0xD800 && *code < 0xE000)) return refuse("a \\u stands for no character", "four hexadecimal digits; beyond \\uffff two such, \\ud83d\\ude9c");
        append_utf8(text, *code);
        return true;
    }

    std::optional<std::uint32_t> read_hex() {
        std::uint32_t code = 0;
        const std::string_view digits = text_.substr(std::min(at_, text_.size()), 4);
        const auto [end, error] = std::from_chars(digits.data(), digits.data() + digits.size(), code, 16);
        if (digits.size() < 4 || error != std::errc{} || end != digits.data() + 4) return std::nullopt;
        at_ += 4;
        return code;
    }

    bool skip_digits() {
        const std::size_t before = at_;
        while (is_digit(peek())) ++at_;
        return at_ > before;
    }

    bool read_number(SourceNode& node) {
        const std::size_t begin = at_;
        const auto wrong = [&] {
            at_ = begin;
            return refuse("this is no value", "a number such as 3.25 or -4, text in double quotes, true, false, null, [...] or {...}");
        };
        takes('-');
        if (!takes('0') && !skip_digits()) return wrong();
        if (is_digit(peek())) return wrong();
        node.kind = SourceKind::whole;
        if (takes('.')) {
            node.kind = SourceKind::number;
            if (!skip_digits()) return wrong();
        }
        if (takes('e') || takes('E')) {
            node.kind = SourceKind::number;
            if (!takes('+')) takes('-');
            if (!skip_digits()) return wrong();
        }
        node.typed = std::string(text_.substr(begin, at_ - begin));
        return keep_number(node, begin);
    }

    /// What is beyond a double counts as infinite, or as 0: whoever takes numbers refuses the one, and an id may be either.
    bool keep_number(SourceNode& node, std::size_t begin) {
        const char* const first = text_.data() + begin;
        const char* const last = text_.data() + at_;
        if (node.kind == SourceKind::whole && std::from_chars(first, last, node.whole).ec != std::errc{}) node.kind = SourceKind::number;
        if (std::from_chars(first, last, node.number).ec == std::errc{}) return true;
        const bool small = node.typed.find("e-") != std::string::npos || node.typed.find("E-") != std::string::npos;
        node.number = small ? 0.0 : std::numeric_limits<double>::infinity();
        return true;
    }

    std::string_view text_;
    const std::string& file_;
    int line_;
    ParsedJson& result_;
    std::size_t at_ = 0, counted_ = 0, values_ = 0;
    int columns_ = 0;
};

void append_json_text(std::string& out, std::string_view text) {
    out += '"';
    for (std::size_t at = 0; at < text.size();) {
        const Utf8Character c = decode_utf8(text, at);
        if (c.code == '"' || c.code == '\\') {
            out += '\\';
            out += static_cast<char>(c.code);
        } else if (c.code >= 0x20 && c.code < 0x7F) {
            out += static_cast<char>(c.code);
        } else if (c.code < 0x10000) {
            out += fmt::format("\\u{:04x}", c.code);
        } else {
            out += fmt::format("\\u{:04x}\\u{:04x}", 0xD800 + ((c.code - 0x10000) >> 10), 0xDC00 + ((c.code - 0x10000) & 0x3FF));
        }
        at += c.size == 0 ? 1 : c.size;
    }
    out += '"';
}

void append_json(std::string& out, const SourceNode& node) {
    switch (node.kind) {
        case SourceKind::text: append_json_text(out, node.typed); return;
        case SourceKind::list:
        case SourceKind::table:
        case SourceKind::by_name: break;
        case SourceKind::removed: out += "null"; return;
        default: out += node.typed; return;
    }
    const bool list = node.kind == SourceKind::list;
    out += list ? '[' : '{';
    for (const SourceNode& member : node.members) {
        if (&member != &node.members.front()) out += ',';
        if (!list) {
            append_json_text(out, member.key);
            out += ':';
        }
        append_json(out, member);
    }
    out += list ? ']' : '}';
}

}  // namespace

ParsedJson parse_json(std::string_view text, const std::string& file, int line) {
    ParsedJson result;
    FileText checked = check_file_text(text, file);
    if (!checked.ok()) {
        result.readable = false;
        result.problems = std::move(checked.problems);
        result.problems.front().line = line;
        return result;
    }
    Reader(checked.text, file, line, result).read();
    return result;
}

std::string format_source_json(const SourceNode& node) {
    std::string text;
    append_json(text, node);
    return text;
}

}  // namespace hitchwright
