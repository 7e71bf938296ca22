// One value after another; the text is mapped anew for each, since a value may make the table that the next one needs.
#include "presets/source_edit.h"

#include <algorithm>
#include <optional>
#include <span>

#include <fmt/format.h>

#include "presets/number_text.h"
#include "presets/recorded_tree.h"
#include "presets/source_map.h"
#include "presets/toml_reader.h"
#include "presets/tracked_text.h"

namespace hitchwright {
namespace {

using Parts = std::span<const KeyPart>;

/// Where a key leads in the text.
struct KeyPlace {
    const SpanNode* node = nullptr;       ///< what stands there; null: nothing
    const SpanNode* container = nullptr;  ///< the innermost table with a place of its own on the way
    Parts rest;                           ///< the key from there
    bool dotted = false;                  ///< a table between was made by dotted keys
    bool implicit = false;                ///< or by headers below it
    bool no_item = false;                 ///< the list of an item is not in the text
};

KeyPlace find_place(const SourceMap& map, Parts parts, std::string_view text) {
    KeyPlace place{&map.root, &map.root, parts, false, false, false};
    for (std::size_t i = 0; i < parts.size(); ++i) {
        const SpanNode* next = place.node->find(parts[i].name);
        if (next != nullptr && parts[i].item) next = find_item(*next, *parts[i].item, text);
        if (next == nullptr) {
            place.node = nullptr;
            place.no_item = std::any_of(parts.begin() + static_cast<std::ptrdiff_t>(i), parts.end(),
                                        [](const KeyPart& p) { return p.item.has_value(); });
            return place;
        }
        place.node = next;
        if (next->kind == SpanKind::section || next->kind == SpanKind::inline_table) {
            place.container = next;
            place.rest = parts.subspan(i + 1);
            place.dotted = place.implicit = false;
        }
        place.dotted = place.dotted || next->kind == SpanKind::dotted;
        place.implicit = place.implicit || next->kind == SpanKind::implicit;
    }
    return place;
}

std::string join_names(Parts parts) {
    std::string text;
    for (const KeyPart& part : parts) text += (text.empty() ? "" : ".") + part.name;
    return text;
}

// The line end the file has.
std::string_view find_line_end(std::string_view text) {
    const std::size_t end = text.find('\n');
    return end != std::string_view::npos && end > 0 && text[end - 1] == '\r' ? "\r\n" : "\n";
}

// What stands behind the # and its blanks, to the end of the line.
std::string_view read_comment(std::string_view text, std::size_t at) {
    std::string_view line = text.substr(at + 1, text.find('\n', at) - at - 1);
    while (!line.empty() && is_blank(line.front())) line.remove_prefix(1);
    return line;
}

bool ends_or_comments(std::string_view rest) {
    rest = trim(rest);
    return rest.empty() || rest == "\r" || rest.front() == '#';
}

/// A key behind #, with nothing behind its =.
struct OpenKey {
    TextSpan hash;           ///< the # and the blanks behind it
    std::size_t equals = 0;  ///< behind the =
};

std::optional<OpenKey> find_open_key(const SourceMap& map, const SpanNode& section, std::string_view key,
                                     std::string_view text) {
    for (const std::size_t at : map.comments) {
        if (at < section.span.begin || at >= section.span.end) continue;
        std::string_view line = read_comment(text, at);
        // A table that is a comment: what follows is no longer of this section.
        if (line.starts_with('[')) return std::nullopt;
        const auto begin = static_cast<std::size_t>(line.data() - text.data());
        if (!line.starts_with(key)) continue;
        line.remove_prefix(key.size());
        while (!line.empty() && is_blank(line.front())) line.remove_prefix(1);
        if (!line.starts_with('=')) continue;
        line.remove_prefix(1);
        if (ends_or_comments(line)) return OpenKey{{at, begin}, static_cast<std::size_t>(line.data() - text.data())};
    }
    return std::nullopt;
}

// The innermost section around a byte; items of lists are sections, too.
const SpanNode* find_section(const SpanNode& node, std::size_t at) {
    const SpanNode* found = nullptr;
    const bool inside = node.kind == SpanKind::section && at >= node.span.begin && at < node.span.end;
    if (inside) found = &node;
    for (const SpanNode& member : node.members) {
        if (const SpanNode* inner = find_section(member, at)) found = inner;
    }
    return found;
}

// "# [coupler]" with nothing but comments between it and the next header.
std::optional<TextSpan> find_open_header(const SourceMap& map, std::string_view table, std::string_view text) {
    for (const std::size_t at : map.comments) {
        const std::string_view line = read_comment(text, at);
        const std::string header = fmt::format("[{}]", table);
        if (!line.starts_with(header) || !ends_or_comments(line.substr(header.size()))) continue;
        const SpanNode* section = find_section(map.root, at);
        if (section != nullptr && section->last_end > at) continue;
        return TextSpan{at, static_cast<std::size_t>(line.data() - text.data())};
    }
    return std::nullopt;
}

/// Puts values in, one at a time.
class Editor {
public:
    Editor(std::string_view text, const std::string& file) : text_(text), file_(file) {}

    std::vector<Problem> problems;
    std::vector<ValueEdit> edits;
    TrackedText& text() { return text_; }

    void put(const KeyValue& value) {
        const std::optional<SourceMap> map = map_source(text_.text());
        if (!map) return refuse(value, "this file cannot be followed byte by byte, so that nothing in it is changed");
        if (value.value.empty()) return remove(value, *map);
        const bool origin = is_origin_key(value.parts);
        form_ = origin ? FieldForm::word : setup_field_forms().at(find_key_pattern(value.parts));
        if (origin && !has_table(value, *map)) return wrap(value, find_place(*map, table_of(value), text_.text()).node);
        KeyPlace place = find_place(*map, value.parts, text_.text());
        if (place.node != nullptr && place.node->find("value") != nullptr) place.node = place.node->find("value");
        if (place.node != nullptr) return replace(value, *place.node);
        if (place.no_item) {
            return refuse(value,
                          "this list is not in the file but in one it uses, and a list here would replace all of it",
                          "a copy of that file (hitchwright presets copy), used in its place, with the reading in it");
        }
        if (!uncomment(value, *map, place)) add(value, *map, place);
    }

private:
    void refuse(const KeyValue& value, std::string message, std::string allowed = {}) {
        problems.push_back({file_, 0, 0, value.key, std::move(message), {}, std::move(allowed), {}});
    }

    void keep(EditKind kind, std::string old_literal, std::string literal) {
        edits.push_back({kind, std::move(old_literal), std::move(literal), 0});
    }

    void replace(const KeyValue& value, const SpanNode& node) {
        const bool list =
            node.kind == SpanKind::list && form_ == FieldForm::whole_list && node.span.end > node.span.begin;
        if (node.kind != SpanKind::value && !list) return refuse(value, "a table or a list stands here, not a value");
        const std::string old = text_.text().substr(node.span.begin, node.span.end - node.span.begin);
        const std::string literal = format_literal(form_, value.value, old);
        text_.replace(node.span, literal);
        keep(EditKind::replaced, old, literal);
    }

    bool has_table(const KeyValue& origin, const SourceMap& map) const {
        const SpanNode* const field = find_place(map, table_of(origin), text_.text()).node;
        return field != nullptr && field->find("value") != nullptr;
    }

    // The literal stays as it is typed, and what stands before and behind it.
    void wrap(const KeyValue& origin, const SpanNode* field) {
        if (field == nullptr)
            return refuse(origin, "the value is not in this file, so that nothing can be said beside it", "the value with it");
        if (field->kind != SpanKind::value) return refuse(origin, "no single value stands here, so that nothing can be said beside it");
        const std::string literal = format_literal(form_, origin.value, {});
        text_.replace({field->span.end, field->span.end}, fmt::format(", origin = {} }}", literal));
        text_.replace({field->span.begin, field->span.begin}, "{ value = ");
        keep(EditKind::added, {}, literal);
    }

    // A whole statement alone becomes a comment; what stands in braces or has a header of its own is left to a person.
    void remove(const KeyValue& value, const SourceMap& map) {
        const SpanNode* const node = find_place(map, value.parts, text_.text()).node;
        if (node == nullptr) return keep(EditKind::removed, {}, {});
        const KeyPlace table = find_place(map, table_of(value), text_.text());
        const bool whole = node->kind == SpanKind::value || node->kind == SpanKind::inline_table ||
                           (node->kind == SpanKind::list && node->span.end > node->span.begin);
        if (!whole || table.container->kind != SpanKind::section || value.parts.back().item)
            return refuse(value, "this value cannot become a comment where it stands", "a change of the file by hand");
        const std::string old = text_.text().substr(node->span.begin, node->span.end - node->span.begin);
        std::size_t at = find_line_start(node->span.begin);
        // Lines of a long text or list, the last one first, so that the places before stay.
        for (std::size_t line = find_line_start(node->span.end - 1); line > at; line = find_line_start(line - 1))
            text_.replace({line, line}, "# ");
        while (is_blank(text_.text()[at])) ++at;
        text_.replace({at, at}, "# ");
        keep(EditKind::removed, old, {});
    }

    std::size_t find_line_start(std::size_t at) const {
        const std::size_t end = at == 0 ? std::string::npos : text_.text().rfind('\n', at - 1);
        return end == std::string::npos ? 0 : end + 1;
    }

    bool uncomment(const KeyValue& value, const SourceMap& map, const KeyPlace& place) {
        if (place.container->kind != SpanKind::section) return false;
        const auto open =
            place.implicit ? std::nullopt : find_open_key(map, *place.container, join_names(place.rest), text_.text());
        if (open) {
            const std::string literal = format_literal(form_, value.value, {});
            text_.replace({open->equals, open->equals}, " " + literal);
            text_.replace(open->hash, {});
            keep(EditKind::uncommented, {}, literal);
            return true;
        }
        if (place.rest.size() < 2 || place.dotted) return false;
        const auto header = find_open_header(map, join_names(table_of(value)), text_.text());
        if (!header) return false;
        text_.replace(*header, {});
        put(value);
        return true;
    }

    void add(const KeyValue& value, const SourceMap& map, const KeyPlace& place) {
        const std::string literal = format_literal(form_, value.value, {});
        const std::string entry = fmt::format("{} = {}", join_names(place.rest), literal);
        if (place.container->kind == SpanKind::inline_table) {
            add_inside(*place.container, entry);
        } else if (!place.implicit && (place.rest.size() == 1 || place.dotted || place.container != &map.root)) {
            add_line(place.container->last_end, place.container->indent + entry);
        } else {
            add_table(join_names(table_of(value)), fmt::format("{} = {}", value.parts.back().name, literal));
        }
        keep(EditKind::added, {}, literal);
    }

    void add_inside(const SpanNode& braces, const std::string& entry) {
        const bool empty = braces.members.empty();
        const bool room = text_.text()[braces.last_end] != '}';
        const std::string behind = empty && !room ? " " : "";
        text_.replace({braces.last_end, braces.last_end}, (empty ? " " : ", ") + entry + behind);
    }

    void add_line(std::size_t at, const std::string& line) {
        const std::string end(find_line_end(text_.text()));
        const bool line_open = at > 0 && text_.text()[at - 1] != '\n';
        text_.replace({at, at}, line_open ? end + line : line + end);
    }

    void add_table(const std::string& table, const std::string& entry) {
        const std::string end(find_line_end(text_.text()));
        const bool line_open = !text_.text().empty() && text_.text().back() != '\n';
        const bool blank = text_.text().ends_with("\n\n") || text_.text().ends_with("\n\r\n");
        const std::size_t at = text_.text().size();
        text_.replace({at, at},
                      fmt::format("{}{}[{}]{}{}{}", line_open ? end : "", blank ? "" : end, table, end, entry, end));
    }

    static Parts table_of(const KeyValue& value) { return Parts(value.parts).first(value.parts.size() - 1); }

    TrackedText text_;
    std::string file_;
    FieldForm form_ = FieldForm::reading;
};

void find_lines(const TrackedText& text, const std::vector<KeyValue>& values, std::vector<ValueEdit>& edits) {
    const std::optional<SourceMap> map = map_source(text.text());
    for (std::size_t i = 0; map && i < values.size(); ++i) {
        if (values[i].value.empty()) continue;
        const SpanNode* node = find_place(*map, values[i].parts, text.text()).node;
        if (node != nullptr && node->find("value") != nullptr) node = node->find("value");
        if (node != nullptr) edits[i].line = text.line_of(node->span.begin);
    }
}

}  // namespace

std::string find_key_pattern(const std::vector<KeyPart>& parts) { return join_names(parts); }

bool is_origin_key(const std::vector<KeyPart>& parts) {
    if (parts.size() < 2 || parts.back().name != "origin" || parts.back().item) return false;
    return setup_field_forms().contains(find_key_pattern({parts.begin(), parts.end() - 1}));
}

EditedText edit_values(std::string_view text, const std::string& file, const std::vector<KeyValue>& values) {
    Editor editor(text, file);
    for (const KeyValue& value : values) editor.put(value);
    EditedText result;
    result.problems = std::move(editor.problems);
    if (!result.ok()) return result;
    result.text = editor.text().text();
    result.edits = std::move(editor.edits);
    if (!has_recorded_meaning(text, result.text, values, result.edits)) {
        result.problems.push_back({file,
                                   0,
                                   0,
                                   {},
                                   "the values cannot be put into this file without changing something else",
                                   {},
                                   "the values typed into the file by hand",
                                   {}});
        return result;
    }
    find_lines(editor.text(), values, result.edits);
    result.lines = editor.text().list_changes();
    return result;
}

}  // namespace hitchwright
