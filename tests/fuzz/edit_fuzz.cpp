// New values in the text of a file: the first lines "#=KEY=VALUE" are typed ("#=KEY.origin=WORD": said beside it), the rest is
// the text of a set-up.
//
// Any text that is TOML is mapped where the TOML library finds its values. Values that go in change the bytes of their own
// statements only, which is worked out here from the two texts without the map; the tree afterwards is the tree before
// with these values in it, key by key; put in once more they change nothing; and the set-up read from the file is the one
// that --set makes of the file as it was.
#include <algorithm>
#include <map>

#include "presets/record_values.h"
#include "presets/setup_values.h"
#include "presets/source_map.h"
#include "presets/toml_reader.h"
#include "presets/tracked_text.h"
#include "tests/fuzz/fuzz.h"
#include "tests/presets/find_byte.h"

using namespace hitchwright;
using fuzz::require;
using test::find_byte;

namespace {

using Leaves = std::map<std::string, std::string>;

// Every value under its whole key, items of lists by their place.
void list_leaves(const SourceNode& node, const std::string& key, Leaves& leaves) {
    if (node.members.empty()) leaves[key] = std::string(kind_name(node.kind)) + " " + node.typed;
    for (std::size_t i = 0; i < node.members.size(); ++i) {
        const SourceNode& m = node.members[i];
        list_leaves(m, node.kind == SourceKind::list ? key + "[" + std::to_string(i) + "]" : key + "/" + m.key, leaves);
    }
}

Leaves list_leaves(std::string_view text) {
    const ParsedToml parsed = parse_toml(text, "x");
    require(parsed.ok(), "an edited text is TOML", text);
    Leaves leaves;
    list_leaves(parsed.root, {}, leaves);
    return leaves;
}

void compare_places(const SourceNode& node, const SpanNode& span, std::string_view text) {
    if (span.kind == SpanKind::value || span.kind == SpanKind::inline_table)
        require(span.span.begin == find_byte(text, node.line, node.column), "a value stands where the TOML library finds it", text);
    require(node.members.size() == span.members.size(), "a table has the members the TOML library finds", text);
    for (std::size_t i = 0; i < node.members.size(); ++i) {
        const SpanNode* other = node.kind == SourceKind::table ? span.find(node.members[i].key) : &span.members[i];
        require(other != nullptr, "a key is one the TOML library finds", text);
        compare_places(node.members[i], *other, text);
    }
}

void check_map(std::string_view text) {
    const ParsedToml parsed = parse_toml(text, "x");
    if (!parsed.ok()) return;
    const auto map = map_source(text);
    // What it does not follow has no map, and is not edited.
    if (!map) return;
    compare_places(parsed.root, map->root, text);
    for (const std::size_t at : map->comments) require(text[at] == '#', "a comment begins with #", text);
}

// The names of a key without its items: what changed must lie below it.
bool lies_below(const std::string& leaf, const KeyValue& value) {
    std::string_view rest = leaf;
    for (const KeyPart& part : value.parts) {
        if (!rest.starts_with("/" + part.name)) return false;
        rest.remove_prefix(part.name.size() + 1);
        if (rest.starts_with('[') && part.item) rest.remove_prefix(rest.find(']') + 1);
    }
    return rest.empty() || rest.front() == '/' || rest.front() == '[';
}

// A key of a set-up whose value was taken away may leave its tables empty, or take them with it.
bool is_empty_table(const std::string& leaf) { return leaf == "a table "; }

void check_leaves(const Leaves& before, const Leaves& after, const std::vector<KeyValue>& values, std::string_view subject) {
    const auto typed = [&values](const std::string& leaf) {
        return std::any_of(values.begin(), values.end(), [&](const KeyValue& v) { return lies_below(leaf, v); });
    };
    for (const auto& [key, value] : before) {
        const auto found = after.find(key);
        const bool same = found != after.end() && found->second == value;
        require(same || typed(key) || is_empty_table(value), "what was not typed stays", subject);
    }
    for (const auto& [key, value] : after)
        require(before.contains(key) || typed(key) || is_empty_table(value), "nothing comes in that was not typed", subject);
}

/// Where two texts differ: behind what they begin with alike and before what they end with alike.
struct Difference {
    std::string_view before, after;
    std::size_t at = 0;
};

Difference find_difference(std::string_view before, std::string_view after) {
    const auto [a, b] = std::mismatch(before.begin(), before.end(), after.begin(), after.end());
    Difference d;
    d.at = static_cast<std::size_t>(a - before.begin());
    before.remove_prefix(d.at);
    after.remove_prefix(d.at);
    while (!before.empty() && !after.empty() && before.back() == after.back()) {
        before.remove_suffix(1);
        after.remove_suffix(1);
    }
    d.before = before;
    d.after = after;
    return d;
}

// One value alone: how the bytes may differ, from its kind of edit.
void check_bytes(std::string_view before, std::string_view after, const ValueEdit& edit) {
    const Difference d = find_difference(before, after);
    const auto lines = [](std::string_view text) { return std::count(text.begin(), text.end(), '\n'); };
    switch (edit.kind) {
        case EditKind::replaced:
            require(after.size() + edit.old_literal.size() == before.size() + edit.new_literal.size(), "a value replaced takes the place of its old one alone", after);
            require(edit.old_literal.find(d.before) != std::string::npos && edit.new_literal.find(d.after) != std::string::npos, "and only its characters change", after);
            return;
        case EditKind::added:
            require(d.before.empty() || lines(d.before) == 0, "a value added takes no line away", after);
            require(after.size() > before.size() && lines(d.after) <= 4, "a value added is a few lines at most", after);
            return;
        case EditKind::uncommented:
            // Its # goes, and that of its table.
            require(lines(d.before) == lines(d.after), "a comment that becomes a value stays its lines", after);
            return;
        case EditKind::removed:
            require(lines(d.before) == lines(d.after), "a value taken away stays its lines", after);
            return;
    }
}

// The lines that are said to have changed, taken out of both texts, leave the same lines.
void check_lines(std::string_view before, std::string_view after, const std::vector<LineChange>& changes) {
    std::vector<std::string_view> old_lines = split_text_lines(before), new_lines = split_text_lines(after);
    std::vector<bool> old_changed(old_lines.size() + 1), new_changed(new_lines.size() + 1);
    for (const LineChange& change : changes) {
        const auto old_line = static_cast<std::size_t>(change.old_line), new_line = static_cast<std::size_t>(change.new_line);
        require(old_line <= old_lines.size() && new_line <= new_lines.size() && old_line + new_line > 0, "a changed line is one of the text", after);
        require(old_line == 0 || old_lines[old_line - 1] == change.old_text, "a changed line is shown as it was", after);
        require(new_line == 0 || new_lines[new_line - 1] == change.new_text, "a changed line is shown as it is", after);
        old_changed[old_line] = new_changed[new_line] = true;
    }
    std::string kept_before, kept_after;
    for (std::size_t i = 0; i < old_lines.size(); ++i) {
        if (!old_changed[i + 1]) kept_before.append(old_lines[i]).append("\n");
    }
    for (std::size_t i = 0; i < new_lines.size(); ++i) {
        if (!new_changed[i + 1]) kept_after.append(new_lines[i]).append("\n");
    }
    require(kept_before == kept_after, "lines that are not said to have changed are the same", after);
}

std::vector<KeyValue> split_all(const std::vector<std::string>& typed, std::string_view subject) {
    std::vector<KeyValue> values;
    for (const std::string& one : typed) {
        const auto split = split_key_value(one);
        require(split.has_value(), "what is recorded was understood", subject);
        values.push_back(*split);
    }
    return values;
}

// What a value of the file counts as may differ (where it comes from, its usual error); the value may not.
void check_way_of_set(const PresetText& text, const Library& library, const std::vector<std::string>& typed, const LoadedSetup& after,
                      std::string_view subject) {
    const LoadedSetup with = load_setup(text, library, {typed, {}, {}});
    if (!with.ok() || !after.ok()) return;
    for (const ValueDifference& d : compare_values(with.setup, after.setup)) {
        const bool both = d.old_value && d.new_value && d.old_value->reading && d.new_value->reading;
        const bool same = both && d.old_value->reading->value == d.new_value->reading->value;
        require(same, ("the set-up of the file is that of --set: " + d.key).c_str(), subject);
    }
}

void check_edit(const PresetText& text, const Library& library, const std::vector<std::string>& typed,
                const std::vector<std::string>& beside, std::string_view subject) {
    const auto record = [&](const PresetText& into) {
        return record_values(into, library, typed, EmptyValue::taken_away, MachineChange::where_no_reading_stands, beside);
    };
    const RecordedValues recorded = record(text);
    for (const Problem& problem : recorded.problems) fuzz::require_sound(problem, text.text, false);
    if (!recorded.ok()) return;
    for (const RecordedValue& value : recorded.values) fuzz::note_answer(value.key + std::to_string(static_cast<int>(value.edit.kind)));
    std::vector<KeyValue> values = split_all(typed, subject);
    require(recorded.values.size() == values.size(), "one edit for each value", subject);
    if (values.size() == 1 && beside.empty()) check_bytes(text.text, recorded.text, recorded.values.front().edit);
    for (KeyValue origin : split_all(beside, subject)) {
        origin.parts.pop_back();
        values.push_back(std::move(origin));
    }
    check_leaves(list_leaves(text.text), list_leaves(recorded.text), values, subject);
    check_lines(text.text, recorded.text, recorded.lines);
    check_way_of_set(text, library, typed, recorded.after, subject);
    PresetText into = text;
    into.text = recorded.text;
    const RecordedValues again = record(into);
    require(again.ok() && again.text == recorded.text, "put in once more the values change nothing", recorded.text);
}

}  // namespace

HITCHWRIGHT_FUZZ_LINES

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    static const Library library{std::string()};
    const std::string_view bytes = fuzz::as_text(data, size);
    if (!fuzz::is_file_text(bytes)) return -1;
    const fuzz::TypedInput input = fuzz::split_typed(bytes);
    if (!fuzz::is_file_text(input.text)) return -1;
    check_map(input.text);
    if (input.typed.empty()) return 0;
    PresetText text;
    text.text = input.text;
    text.file = "file.toml";
    text.key = "file";
    text.folder = "/nowhere/";
    std::vector<std::string> typed, beside;
    for (const std::string& one : input.typed) {
        const auto split = split_key_value(one);
        (split && is_origin_key(split->parts) ? beside : typed).push_back(one);
    }
    check_edit(text, library, typed, beside, bytes);
    return 0;
}
