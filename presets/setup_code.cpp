// See setup_code.h. The compression library stays in this file.
#include "presets/setup_code.h"

#include <fmt/format.h>
#include <zlib.h>

#include <algorithm>
#include <charconv>
#include <optional>

#include "presets/base45.h"

namespace hitchwright {
namespace {

constexpr std::string_view head = "HITCHWRIGHT1:";

std::string compress_bytes(const std::string& text) {
    uLongf size = compressBound(static_cast<uLong>(text.size()));
    std::string packed(size, '\0');
    const int status =
        compress2(reinterpret_cast<Bytef*>(packed.data()), &size, reinterpret_cast<const Bytef*>(text.data()),
                  static_cast<uLong>(text.size()), Z_BEST_COMPRESSION);
    packed.resize(status == Z_OK ? size : 0);
    return packed;
}

std::optional<std::string> expand_bytes(const std::string& packed) {
    std::string text(most_code_bytes, '\0');
    uLongf size = static_cast<uLongf>(text.size());
    const int status = uncompress(reinterpret_cast<Bytef*>(text.data()), &size,
                                  reinterpret_cast<const Bytef*>(packed.data()), static_cast<uLong>(packed.size()));
    if (status != Z_OK) return std::nullopt;
    text.resize(size);
    return text;
}

/// A name that is a file in whatever folder it is put, and nothing else.
bool is_plain_name(std::string_view name) {
    if (name.empty() || name.size() > 120 || name.front() == '.' || name.front() == '-' || !name.ends_with(".toml"))
        return false;
    return name.find_first_not_of("abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789-_.") ==
           std::string_view::npos;
}

std::string lower(std::string name) {
    for (char& c : name) c = c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    return name;
}

std::string_view strip(std::string_view text) {
    const auto blank = [](char c) { return c == ' ' || c == '\t' || c == '\r' || c == '\n'; };
    while (!text.empty() && blank(text.front())) text.remove_prefix(1);
    while (!text.empty() && (text.back() == '\n' || text.back() == '\r')) text.remove_suffix(1);
    return text;
}

/// Copies a quoted string that begins at `at`; returns the place behind it.
std::size_t copy_string(std::string_view toml, std::size_t at, std::string& out) {
    const char quote = toml[at];
    const std::string triple(3, quote);
    const std::string_view close =
        toml.substr(at, 3) == triple ? std::string_view(triple) : std::string_view(triple).substr(0, 1);
    std::size_t i = at + close.size();
    while (i < toml.size() && toml.substr(i, close.size()) != close)
        i += quote == '"' && toml[i] == '\\' ? std::size_t{2} : std::size_t{1};
    // Up to two more quotes may stand before the three that close.
    std::size_t end = std::min(i + close.size(), toml.size());
    while (close.size() == 3 && end < toml.size() && toml[end] == quote) ++end;
    out += toml.substr(at, end - at);
    return end;
}

void end_line(std::string& out, std::size_t line_begin) {
    while (out.size() > line_begin && (out.back() == ' ' || out.back() == '\t' || out.back() == '\r')) out.pop_back();
    if (out.size() > line_begin) out += '\n';
}

}  // namespace

std::string drop_comments(std::string_view toml) {
    std::string out;
    std::size_t line_begin = 0;
    for (std::size_t i = 0; i < toml.size();) {
        const char c = toml[i];
        if (c == '"' || c == '\'') {
            i = copy_string(toml, i, out);
        } else if (c == '#') {
            while (i < toml.size() && toml[i] != '\n') ++i;
        } else if (c == '\n') {
            end_line(out, line_begin);
            line_begin = out.size();
            ++i;
        } else {
            out += c;
            ++i;
        }
    }
    end_line(out, line_begin);
    return out;
}

std::string pack_code(const std::vector<CodeFile>& files) {
    std::string all;
    for (const CodeFile& f : files) {
        const std::string text = drop_comments(f.text);
        all += fmt::format("{} {}\n{}", f.name, text.size(), text);
    }
    return std::string(head) + encode_base45(compress_bytes(all));
}

UnpackedCode unpack_code(std::string_view code) {
    code = strip(code);
    UnpackedCode result;
    const auto fail = [&](std::string why) {
        result.files.clear();
        result.error = std::move(why);
        return result;
    };
    if (!code.starts_with(head))
        return fail(fmt::format("this is no code of a set-up: it does not begin with {}", head));
    if (code.size() > most_code_bytes) return fail("the code is too long");
    const std::optional<std::string> packed = decode_base45(code.substr(head.size()));
    const std::optional<std::string> text = packed ? expand_bytes(*packed) : std::nullopt;
    if (!text) return fail("the code was not read whole, or a letter of it is wrong");
    for (std::size_t at = 0; at < text->size();) {
        const std::size_t blank = text->find(' ', at), end = text->find('\n', at);
        std::size_t size = 0;
        bool line = blank != std::string::npos && end != std::string::npos && blank < end;
        if (line) {
            const auto read = std::from_chars(text->data() + blank + 1, text->data() + end, size);
            line = read.ec == std::errc() && read.ptr == text->data() + end;
        }
        if (!line || size > text->size() || end + 1 + size > text->size()) return fail("the code holds no files");
        const std::string name = text->substr(at, blank - at);
        const bool again = std::any_of(result.files.begin(), result.files.end(),
                                       [&](const CodeFile& f) { return lower(f.name) == lower(name); });
        if (!is_plain_name(name) || again) return fail("the code names a file that may not be written");
        if (result.files.size() == most_code_files) return fail("the code holds too many files");
        if (result.files.empty() && name != setup_file_name) return fail("the code does not begin with a set-up");
        result.files.push_back({name, text->substr(end + 1, size)});
        at = end + 1 + size;
    }
    if (result.files.empty()) return fail("the code holds no files");
    return result;
}

}  // namespace hitchwright
