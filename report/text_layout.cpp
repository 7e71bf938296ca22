// See text_layout.h.
#include "report/text_layout.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "report/text_clean.h"

namespace hitchwright {
namespace {

// Control characters of both sets, marks that turn or hide the text after them, separators, tags.
bool is_unprintable(char32_t code) {
    return code < 0x20 || (code >= 0x7F && code < 0xA0) || code == 0xAD || code == 0x61C ||
           (code >= 0x200B && code <= 0x200F) || (code >= 0x2028 && code <= 0x202E) ||
           (code >= 0x2060 && code <= 0x206F) || code == 0xFEFF || (code >= 0xFFF0 && code <= 0xFFFF) ||
           (code >= 0xE0000 && code <= 0xE0FFF);
}

/// Without a character of several bytes: a column is a byte.
bool is_ascii(std::string_view text) {
    unsigned all = 0;
    for (const char c : text) all |= static_cast<unsigned char>(c);
    return all < 0x80;
}

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// A fraction, or a unit with what may stand behind it: belongs to the number before it.
bool belongs_to_number(std::string_view word) {
    static constexpr std::array<std::string_view, 9> units{"in", "mm", "deg", "lb", "kg", "hp", "kW", "rpm", "%"};
    while (!word.empty() && std::string_view(".,;:)").find(word.back()) != std::string_view::npos)
        word.remove_suffix(1);
    if (std::find(units.begin(), units.end(), word) != units.end()) return true;
    const std::size_t slash = word.find('/');
    return slash != std::string_view::npos && slash > 0 && slash + 1 < word.size() && is_digit(word.front()) &&
           is_digit(word.back());
}

/// Words that must stay together as one piece: a number, its fraction, its unit, and "+-" before it.
std::vector<std::string> split_pieces(std::string_view text) {
    std::vector<std::string> pieces;
    pieces.reserve(text.size() / 4 + 1);
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t end = std::min(text.find(' ', at), text.size());
        const std::string_view word = text.substr(at, end - at);
        at = end + 1;
        if (word.empty()) continue;
        const bool glue = !pieces.empty() && ((is_digit(pieces.back().back()) && belongs_to_number(word)) || pieces.back() == "+-");
        if (glue)
            pieces.back().append(" ").append(word);
        else
            pieces.emplace_back(word);
    }
    return pieces;
}

/// Bytes of the beginning of `text` that fit into `columns`; at least one character.
std::size_t bytes_that_fit(std::string_view text, std::size_t columns) {
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t next = at + decode_character(text, at).bytes;
        if (at > 0 && count_columns(text.substr(0, next)) > columns) break;
        at = next;
    }
    return at;
}

/// Fills lines up to a width.
class LineFiller {
public:
    LineFiller(std::size_t width, std::size_t first_indent, std::size_t indent)
        : width_(width), indent_(indent), line_(first_indent, ' '), used_(first_indent), start_(first_indent) {}

    void add(std::string_view piece) {
        std::size_t columns = count_columns(piece);
        if (!empty() && used_ + 1 + columns > width_) end_line();
        while (used_ + columns > width_ && empty() && width_ > used_) {
            const std::size_t bytes = bytes_that_fit(piece, width_ - used_);
            if (bytes == piece.size()) break;
            append(piece.substr(0, bytes), count_columns(piece.substr(0, bytes)));
            piece.remove_prefix(bytes);
            columns = count_columns(piece);
            end_line();
        }
        append(piece, columns);
    }
    std::vector<std::string> finish() {
        if (!empty()) lines_.push_back(std::move(line_));
        return std::move(lines_);
    }

private:
    bool empty() const { return used_ == start_; }
    void append(std::string_view piece, std::size_t columns) {
        if (!empty()) line_ += ' ', ++used_;
        line_ += piece;
        used_ += columns;
    }
    void end_line() {
        lines_.push_back(line_);
        line_.assign(indent_, ' ');
        used_ = start_ = indent_;
    }

    std::size_t width_, indent_;
    std::string line_;
    std::size_t used_, start_;
    std::vector<std::string> lines_;
};

void strip_end(std::string& line) {
    while (!line.empty() && line.back() == ' ') line.pop_back();
}

}  // namespace

std::string printable_text(std::string_view text, std::size_t most) {
    const auto is_plain = [](char c) { return c >= 0x20 && c < 0x7F; };
    if (text.size() <= most && std::all_of(text.begin(), text.end(), is_plain)) return std::string(text);
    std::string result;
    std::size_t count = 0;
    for (std::size_t at = 0; at < text.size(); ++count) {
        if (count == most) return result + "...";
        const DecodedCharacter c = decode_character(text, at);
        if (!c.valid)
            result += fmt::format("\\x{:02x}", static_cast<unsigned char>(text[at]));
        else if (is_unprintable(c.code) && c.code < 0x100)
            result += fmt::format("\\x{:02x}", static_cast<unsigned>(c.code));
        else if (is_unprintable(c.code))
            result += fmt::format("\\u{{{:04x}}}", static_cast<unsigned>(c.code));
        else
            result += text.substr(at, c.bytes);
        at += c.bytes;
    }
    return result;
}

std::size_t count_columns(std::string_view text) {
    if (is_ascii(text)) return text.size();
    std::size_t columns = 0;
    for (std::size_t at = 0; at < text.size();) {
        const DecodedCharacter c = decode_character(text, at);
        const bool wide = (c.code >= 0x1100 && c.code < 0x1160) || (c.code >= 0x2E80 && c.code < 0xD7B0) ||
                          (c.code >= 0xF900 && c.code < 0xFB00) || (c.code >= 0xFE30 && c.code < 0xFE70) ||
                          (c.code >= 0xFF00 && c.code < 0xFFE7) || c.code >= 0x1F000;
        columns += wide ? 2 : 1;
        at += c.bytes;
    }
    return columns;
}

std::vector<std::string> wrap_columns(std::string_view text, std::size_t width, std::size_t first_indent,
                                      std::size_t indent) {
    LineFiller filler(std::max<std::size_t>(width, 8), first_indent, indent);
    for (const std::string& piece : split_pieces(text)) filler.add(piece);
    return filler.finish();
}

std::string format_paragraph(std::string_view text, std::size_t width, std::size_t first_indent, std::size_t indent) {
    std::string result;
    for (const std::string& line : wrap_columns(text, std::max<std::size_t>(width, 40), first_indent, indent))
        result.append(line).append(1, '\n');
    return result;
}

std::string format_labelled(std::string_view label, std::string_view text, std::size_t width, std::size_t indent,
                            std::size_t hang) {
    const std::size_t start = indent + count_columns(label);
    std::string lines = format_paragraph(text, width, start, hang);
    if (lines.empty()) return std::string(indent, ' ') + std::string(label) + '\n';
    return std::string(indent, ' ') + std::string(label) + lines.substr(start);
}

std::string pad_right(std::string_view text, std::size_t columns) {
    const std::size_t used = count_columns(text);
    return std::string(text) + std::string(used < columns ? columns - used : 0, ' ');
}

std::string pad_left(std::string_view text, std::size_t columns) {
    const std::size_t used = count_columns(text);
    return std::string(used < columns ? columns - used : 0, ' ') + std::string(text);
}

std::string format_columns(const std::vector<std::vector<std::string>>& rows, std::size_t indent, std::size_t spaces) {
    std::vector<std::size_t> widths;
    for (const std::vector<std::string>& row : rows) {
        widths.resize(std::max(widths.size(), row.size()), 0);
        for (std::size_t i = 0; i < row.size(); ++i) widths[i] = std::max(widths[i], count_columns(row[i]));
    }
    std::string result;
    for (const std::vector<std::string>& row : rows) {
        std::string line(indent, ' ');
        for (std::size_t i = 0; i < row.size(); ++i) {
            line += i == 0 ? pad_right(row[i], widths[i]) : std::string(spaces, ' ') + pad_left(row[i], widths[i]);
        }
        strip_end(line);
        result += line + '\n';
    }
    return result;
}

}  // namespace hitchwright
