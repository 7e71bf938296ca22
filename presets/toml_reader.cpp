// The TOML library is guarded twice: by the size limit of file_text.h and by the nesting check here
// (it builds and frees nested tables recursively, so a key of ten thousand dots would end the stack).
#include "presets/toml_reader.h"

#include <algorithm>

#include <fmt/format.h>

#include "presets/utf8.h"
#include "third_party/toml.h"

namespace hitchwright {
namespace {

/// The source text by line and column.
class TextPlaces {
public:
    explicit TextPlaces(std::string_view text) : text_(text) {
        starts_.push_back(0);
        for (std::size_t at = text.find('\n'); at != std::string_view::npos; at = text.find('\n', at + 1)) starts_.push_back(at + 1);
        ascii_ = std::none_of(text.begin(), text.end(), [](char c) { return static_cast<unsigned char>(c) >= 0x80; });
    }

    std::string_view line(std::size_t number) const {
        if (number < 1 || number > starts_.size()) {
            return {};
        }
        const std::size_t begin = starts_[number - 1];
        return number < starts_.size() ? text_.substr(begin, starts_[number] - 1 - begin) : text_.substr(begin);
    }

    // What stands between two places of one line; empty when the region spans lines.
    std::string slice(const toml::source_region& region) const {
        if (region.begin.line != region.end.line || region.begin.column >= region.end.column) {
            return {};
        }
        const std::size_t begin = find_byte(region.begin), end = find_byte(region.end);
        return std::string(line(region.begin.line).substr(begin, end - begin));
    }

private:
    // In its line. Asked for in the order of the text a line is gone through once, however many values it has.
    std::size_t find_byte(const toml::source_position& place) const {
        const std::string_view whole = line(place.line);
        const std::size_t column = std::max<std::size_t>(place.column, 1);
        if (ascii_) return std::min(column - 1, whole.size());
        if (found_.line != place.line || found_.column > column) found_ = {place.line, 1, 0};
        for (; found_.column < column && found_.byte < whole.size(); ++found_.column)
            found_.byte += std::max<std::size_t>(decode_utf8(whole, found_.byte).size, 1);
        return std::min(found_.byte, whole.size());
    }

    struct Found {
        std::size_t line = 0, column = 1, byte = 0;
    };

    std::string_view text_;
    std::vector<std::size_t> starts_;
    bool ascii_ = true;  ///< a column is a byte
    mutable Found found_;
};

struct Place {
    int line = 1, column = 1;
};

Place find_place(std::string_view text, std::size_t at) {
    const std::string_view before = text.substr(0, at);
    const std::size_t line_end = before.rfind('\n');
    return {static_cast<int>(std::count(before.begin(), before.end(), '\n')) + 1,
            static_cast<int>(line_end == std::string_view::npos ? at : at - line_end - 1) + 1};
}

// Behind the text in quotes that begins at `at`: a short one ends with its line at the latest.
std::size_t skip_quoted(std::string_view text, std::size_t at) {
    const char quote = text[at];
    const auto triple = [&](std::size_t i) { return text.substr(i, 3) == std::string(3, quote); };
    const bool is_long = triple(at);
    for (at += is_long ? 3 : 1; at < text.size(); ++at) {
        if (quote == '"' && text[at] == '\\') {
            ++at;
        } else if (text[at] == quote && (!is_long || triple(at))) {
            return at + (is_long ? 3 : 1);
        } else if (text[at] == '\n' && !is_long) {
            return at;
        }
    }
    return at;
}

// The first place nested deeper than allowed; line 0: none. Texts and comments are skipped.
Place find_deep_nesting(std::string_view text) {
    int brackets = 0, dots = 0;
    for (std::size_t at = 0; at < text.size();) {
        const char c = text[at];
        if (c == '"' || c == '\'') {
            at = skip_quoted(text, at);
            continue;
        }
        if (c == '#') {
            at = std::min(text.find('\n', at), text.size());
            continue;
        }
        brackets = std::max(brackets + (c == '[' || c == '{' ? 1 : (c == ']' || c == '}' ? -1 : 0)), 0);
        dots = c == '.' ? dots + 1 : (c == '\n' || c == '=' || c == ',' || c == '{' ? 0 : dots);
        if (brackets > most_nesting || dots > most_nesting) {
            return find_place(text, at);
        }
        ++at;
    }
    return {0, 0};
}

int to_int(toml::source_index index) { return static_cast<int>(index); }

void convert(const toml::node& node, const TextPlaces& places, SourceNode& result);

// The library keeps keys by the alphabet; here they stand as in the file.
void convert_table(const toml::table& table, const TextPlaces& places, SourceNode& result) {
    struct Member {
        const toml::key* key;
        const toml::node* value;
    };
    std::vector<Member> members;
    members.reserve(table.size());
    for (auto&& [key, value] : table) members.push_back({&key, &value});
    std::sort(members.begin(), members.end(), [](const Member& a, const Member& b) {
        const toml::source_position p = a.key->source().begin, q = b.key->source().begin;
        return p.line != q.line ? p.line < q.line : p.column < q.column;
    });
    result.kind = SourceKind::table;
    result.members.resize(members.size());
    for (std::size_t i = 0; i < members.size(); ++i) {
        SourceNode& member = result.members[i];
        convert(*members[i].value, places, member);
        member.key = std::string(members[i].key->str());
        member.key_line = to_int(members[i].key->source().begin.line);
        member.key_column = to_int(members[i].key->source().begin.column);
    }
}

void convert_value(const toml::node& node, const TextPlaces& places, SourceNode& result) {
    if (const auto* text = node.as_string()) {
        result.kind = SourceKind::text;
        result.typed = text->get();
        return;
    }
    result.kind = SourceKind::moment;
    result.typed = places.slice(node.source());
    if (const auto* number = node.as_floating_point()) {
        result.kind = SourceKind::number;
        result.number = number->get();
    } else if (const auto* whole = node.as_integer()) {
        result.kind = SourceKind::whole;
        result.whole = whole->get();
        result.number = static_cast<double>(result.whole);
    } else if (const auto* flag = node.as_boolean()) {
        result.kind = SourceKind::flag;
        result.flag = flag->get();
    }
}

void convert(const toml::node& node, const TextPlaces& places, SourceNode& result) {
    result.line = to_int(node.source().begin.line);
    result.column = to_int(node.source().begin.column);
    if (const toml::table* table = node.as_table()) {
        convert_table(*table, places, result);
    } else if (const toml::array* array = node.as_array()) {
        result.kind = SourceKind::list;
        result.members.resize(array->size());
        for (std::size_t i = 0; i < result.members.size(); ++i) convert((*array)[i], places, result.members[i]);
    } else {
        convert_value(node, places, result);
    }
}

// A hint for the slips that are made most.
std::string syntax_hint(std::string_view line, std::string_view description) {
    if (description.find("redefine") != std::string_view::npos) {
        return "each key once; a list item begins with [[name]]";
    }
    const std::size_t equals = line.find('=');
    const std::size_t value = equals == std::string_view::npos ? equals : line.find_first_not_of(" \t", equals + 1);
    if (value == std::string_view::npos) {
        return "lines of the form key = value, [table] or [[list]], and # for comments";
    }
    const bool quoted = line[value] == '"' || line[value] == '\'';
    if (quoted) {
        return "a text between two quotes; inches inside as \\\" or in, or the whole between single quotes";
    }
    return "a bare number such as 3.25, or a text in quotes such as \"3 1/4 in\"";
}

struct PlainWords {
    std::string_view library, plain;
};

// What the library says about the slips that are made most, in plain words.
constexpr PlainWords plain_words[] = {
    {"expected a comment or whitespace, saw", "something stands behind the value"},
    {"expected digit, saw '/'", "a fraction stands without quotes"},
    {"expected value, saw", "there is no value behind the ="},
    {"cannot redefine existing", "this name was given before"},
    {"is not representable", "this number is too large"},
    {"could not be interpreted as a value", "this number is too large"},
    {"encountered end-of-file", "the file ends in the middle of something"},
    {"control characters", "a text does not end on its line, or holds a control character"},
    {"unknown escape sequence", "a backslash in a text stands before a letter it does not go with"},
};

// What the library says, in one sentence without its prefixes.
std::string syntax_message(std::string_view description) {
    std::string text(description);
    // One word of the library for both ends: what is too near zero has an exponent below it.
    const auto has = [&](std::string_view words) { return description.find(words) != std::string_view::npos; };
    if (has("is not representable") && (has("e-") || has("E-")))
        return "this cannot be read as TOML: this number is too close to zero";
    for (const PlainWords& words : plain_words) {
        if (has(words.library)) {
            text = words.plain;
            break;
        }
    }
    constexpr std::string_view prefix = "Error while parsing ";
    return "this cannot be read as TOML: " + (text.rfind(prefix, 0) == 0 ? text.substr(prefix.size()) : text);
}

std::string trimmed(std::string_view line) {
    const std::size_t first = line.find_first_not_of(" \t\r"), last = line.find_last_not_of(" \t\r");
    return first == std::string_view::npos ? std::string{} : std::string(line.substr(first, last - first + 1));
}

}  // namespace

std::string_view kind_name(SourceKind kind) {
    switch (kind) {
        case SourceKind::text: return "a text";
        case SourceKind::number: return "a number";
        case SourceKind::whole: return "a whole number";
        case SourceKind::flag: return "true or false";
        case SourceKind::moment: return "a date or time";
        case SourceKind::list: return "a list";
        case SourceKind::table: return "a table";
        case SourceKind::by_name: return "an item of a list";
        case SourceKind::removed: return "nothing";
    }
    return "something else";
}

ParsedToml parse_toml(std::string_view text, const std::string& file) {
    ParsedToml result;
    const Place deep = find_deep_nesting(text);
    if (deep.line > 0) {
        result.problems.push_back({file, deep.line, deep.column, {}, "the nesting is too deep to be one of our files", {},
                                   fmt::format("at most {} levels", most_nesting), {}});
        return result;
    }
    const TextPlaces places(text);
    const toml::parse_result parsed = toml::parse(text, std::string_view(file));
    if (parsed) {
        convert_table(parsed.table(), places, result.root);
        result.root.line = result.root.column = 1;
    } else {
        const toml::parse_error& error = parsed.error();
        const toml::source_position at = error.source().begin;
        const std::string_view line = places.line(at.line);
        result.problems.push_back({file, to_int(at.line), to_int(at.column), {}, syntax_message(error.description()),
                                   trimmed(line), syntax_hint(line, error.description()), {}});
    }
    return result;
}

}  // namespace hitchwright
