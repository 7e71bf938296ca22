// Where everything stands in a TOML text, byte by byte: for an edit that leaves every other byte alone.
//
// The TOML library says what a text means, not where its tables end or which lines are comments. This map is made
// beside it, for text that the library has read without an error; what it does not follow gives no map at all, and
// whoever edits compares the meaning before and after (source_edit.h).
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace hitchwright {

/// Bytes from `begin` up to, not including, `end`.
struct TextSpan {
    std::size_t begin = 0, end = 0;
};

/// In what form something stands.
enum class SpanKind {
    value,         ///< text, number, flag or date
    list,          ///< in brackets, or [[name]] blocks
    inline_table,  ///< in braces
    section,       ///< below a header of its own; the root
    dotted,        ///< a table only because of dotted keys: pto.stub_x = 11
    implicit       ///< a table only because of headers below it: [tractor.pto] makes tractor
};

/// One key, item or table with its place.
struct SpanNode {
    SpanKind kind = SpanKind::implicit;
    std::string key;  ///< empty for items and the root
    TextSpan span;  ///< value, list in brackets, inline table: all of it; section: from behind its header's line to the
                    ///< line of the next header
    std::size_t last_end = 0;  ///< section: behind the line of its last key, or its header's; inline table: behind its
                               ///< last value, or the brace
    std::string indent;        ///< section: blanks before its last key
    std::vector<SpanNode> members;

    /// The member of that key, or null.
    const SpanNode* find(std::string_view name) const;
    SpanNode* find(std::string_view name);
};

/// A text with its places.
struct SourceMap {
    SpanNode root;
    std::vector<std::size_t> comments;  ///< the # of every line that is nothing but a comment, outside of values
};

/// The map of a text that can be read as TOML, without byte order mark; nothing when it cannot be followed.
std::optional<SourceMap> map_source(std::string_view text);

/// The item of a list with that `name`, or, where an item has none, at that place from 1; null: there is none.
const SpanNode* find_item(const SpanNode& list, std::string_view name, std::string_view text);

}  // namespace hitchwright
