#include "presets/record_values.h"

#include <algorithm>
#include <iterator>
#include <set>

#include <fmt/format.h>

#include "presets/field_values.h"
#include "presets/file_text.h"
#include "presets/toml_reader.h"

namespace hitchwright {
namespace {

Problem refuse(const std::string& key, std::string message, std::string read = {}, std::string allowed = {}) {
    return {record_name, 0, 0, key, std::move(message), std::move(read), std::move(allowed), {}};
}

// Keys that are not for recording, and values that are missing; what the reader knows better is left to it.
void check_key(const KeyValue& value, EmptyValue empty, MachineChange machines, std::set<std::string>& seen,
               std::vector<Problem>& problems) {
    const std::string pattern = find_key_pattern(value.parts);
    if (!seen.insert(value.key).second) {
        problems.push_back(refuse(value.key, "this key is given twice", value.value, "each key once"));
    }
    if (value.value.empty() && empty == EmptyValue::refused) {
        problems.push_back(refuse(value.key, "a value is missing behind the =", {},
                                  "a value; to take a reading away, put a # before its line in the file"));
    }
    if (names_machine(pattern) && machines == MachineChange::refused) {
        problems.push_back(refuse(
            value.key, "which machine the set-up uses is no reading: the readings below it were taken on that machine",
            value.value, fmt::format("another set-up, or for one run: --set {}=NAME", value.key)));
    }
    const bool adds = std::any_of(value.parts.begin(), value.parts.end(), [](const KeyPart& p) { return p.item && p.item->starts_with('+'); });
    const bool takes_away = value.value.empty() && value.parts.back().item.has_value();
    if (adds || takes_away) {
        const std::size_t end = adds && !value.parts.back().item ? pattern.rfind('.') : pattern.size();
        const std::string list = pattern.substr(0, end);
        problems.push_back(refuse(value.key, adds ? "a new item of a list is not written into a file" : "an item of a list is not taken out of a file",
                                  value.value, fmt::format("the change typed into the file by hand: the lines below [[{}]]", list)));
        return;
    }
    const std::size_t dot = pattern.rfind('.');
    const bool part = dot != std::string::npos && setup_field_forms().contains(pattern.substr(0, dot));
    if (part) {
        problems.push_back(refuse(
            value.key, "this is a part of a value's table and is not recorded", value.value,
            fmt::format("{}=VALUE; what stands beside the value stays", value.key.substr(0, value.key.rfind('.')))));
    }
}

// What stands in the file beside "use" would be taken for a reading of the other machine.
void check_machine(const KeyValue& value, const SourceNode& root, std::vector<Problem>& problems) {
    const std::string table = value.parts.front().name;
    const SourceNode* own = root.find(table);
    std::string others;
    for (const SourceNode& member : own == nullptr ? std::vector<SourceNode>{} : own->members) {
        if (member.key != "use") others += (others.empty() ? "" : ", ") + escape_text(member.key, 40);
    }
    if (!others.empty()) {
        problems.push_back(refuse(value.key,
                                  fmt::format("the file has values of the machine before in [{}] ({}); they would be "
                                              "taken for those of another one",
                                              table, others),
                                  value.value, "another set-up, or those lines taken out of the file by hand first"));
    } else if (value.value.empty()) {
        problems.push_back(refuse(value.key, "the name of a machine is missing behind the =", {}, "a name, or a path"));
    }
}

std::vector<KeyValue> split_all(const std::vector<std::string>& typed, EmptyValue empty, MachineChange machines,
                                std::vector<Problem>& problems) {
    std::vector<KeyValue> values;
    std::set<std::string> seen;
    for (const std::string& one : typed) {
        // A malformed one is a problem of the reader.
        std::optional<KeyValue> value = split_key_value(one);
        if (!value) continue;
        check_key(*value, empty, machines, seen, problems);
        values.push_back(std::move(*value));
    }
    return values;
}

// True for the key itself and for a key below the other one.
bool is_within(const std::string& key, const std::string& other) {
    const bool starts = !other.empty() && key.starts_with(other);
    return starts && (key.size() == other.size() || key[other.size()] == '.' || key[other.size()] == '[');
}

// What the reader says against the typed values, as it would of --set.
void keep_refusals(const std::vector<Problem>& all, std::vector<Problem>& problems) {
    std::vector<std::string> said;
    said.reserve(problems.size());
    for (const Problem& p : problems) said.push_back(p.key);
    for (Problem p : all) {
        const bool again =
            std::any_of(said.begin(), said.end(), [&](const std::string& key) { return is_within(key, p.key); });
        if (p.file != command_line_name || again) continue;
        p.file = record_name;
        problems.push_back(std::move(p));
    }
}

// The reader reads every key that has a form; what is left are names it knows and nobody measures.
void check_forms(const std::vector<KeyValue>& values, std::vector<Problem>& problems) {
    for (const KeyValue& value : values) {
        const bool said = std::any_of(problems.begin(), problems.end(),
                                      [&](const Problem& p) { return is_within(value.key, p.key); });
        if (!said && !setup_field_forms().contains(find_key_pattern(value.parts))) {
            problems.push_back(refuse(value.key, "this is no value that can be recorded", value.value,
                                      "a key of docs/file-format.md"));
        }
    }
}

bool same_problem(const Problem& a, const Problem& b) {
    return a.file == b.file && a.key == b.key && a.message == b.message && a.read == b.read;
}

std::vector<Problem> find_new_problems(const std::vector<Problem>& before, const std::vector<Problem>& after) {
    std::vector<Problem> fresh;
    for (const Problem& p : after) {
        if (std::none_of(before.begin(), before.end(), [&](const Problem& o) { return same_problem(o, p); }))
            fresh.push_back(p);
    }
    return fresh;
}

// A file that has grown too large could be written and never be read again.
void check_size(const PresetText& after, std::vector<Problem>& problems) {
    constexpr std::size_t mark_bytes = 3;
    if (after.text.size() + (after.byte_order_mark ? mark_bytes : 0) <= most_file_bytes) return;
    problems.push_back({after.file,
                        0,
                        0,
                        {},
                        "with these values the file would be too large to be read again",
                        {},
                        fmt::format("at most {} bytes (1 MiB)", most_file_bytes),
                        {}});
}

FieldNote find_note(const LoadedSetup& loaded, const std::string& key) {
    const auto found = loaded.notes.find(key);
    return found == loaded.notes.end() ? FieldNote{} : found->second;
}

// TOML has no word for "not known": what a used file gives counts again once the set-up's own value is away.
void check_removals(const RecordedValues& result, const std::vector<KeyValue>& values, std::vector<Problem>& problems) {
    for (const KeyValue& value : values) {
        const FieldNote note = find_note(result.after, value.key);
        if (!value.value.empty() || note.by_default || note.file.empty()) continue;
        problems.push_back(refuse(value.key, "a file that the set-up uses has this value; it cannot be taken away here",
                                  {}, fmt::format("another value, or a copy of {} without it", note.file)));
    }
}

/// The key of the value that an origin stands beside.
std::string origin_owner(const KeyValue& origin) { return origin.key.substr(0, origin.key.rfind('.')); }

std::string_view word_of(Origin origin) {
    for (const ChoiceName<Origin>& name : origins) {
        if (name.value == origin) return name.word;
    }
    return "computed";
}

std::vector<KeyValue> split_origins(const std::vector<std::string>& typed, std::vector<Problem>& problems) {
    std::vector<KeyValue> said;
    for (const std::string& one : typed) {
        std::optional<KeyValue> value = split_key_value(one);
        if (value && is_origin_key(value->parts)) said.push_back(std::move(*value));
        else problems.push_back(refuse(one, "no origin of a value", {}, "KEY.origin=WORD"));
    }
    return said;
}

LoadedSetup read_edited(const PresetText& text, const Library& library, const EditedText& edited) {
    PresetText after = text;
    after.text = edited.text;
    return load_setup(after, library);
}

// A value that nobody gave has no origin that a file could say.
bool gives_origin(const LoadedSetup& loaded, const KeyValue& said) {
    const FieldNote note = find_note(loaded, origin_owner(said));
    return !note.file.empty() && !note.by_default && word_of(note.origin) == said.value;
}

// The file read anew says whether it has come out as meant.
void check_origins(const LoadedSetup& after, const std::vector<KeyValue>& said, std::vector<Problem>& problems) {
    for (const KeyValue& origin : said) {
        if (!problems.empty() || gives_origin(after, origin)) continue;
        const FieldNote note = find_note(after, origin_owner(origin));
        problems.push_back(refuse(origin_owner(origin),
                                  fmt::format("in the file this value would count as \"{}\", not as \"{}\"",
                                              note.file.empty() ? "unknown" : word_of(note.origin), origin.value)));
    }
}

}  // namespace

bool names_machine(std::string_view key) {
    return key == "tractor.use" || key == "implement.use" || key == "driveline.use";
}

CheckedValues check_values(const PresetText& text, const Library& library, const std::vector<std::string>& typed,
                           EmptyValue empty, MachineChange machines) {
    CheckedValues result;
    result.before = load_setup(text, library);
    // Without a header that can be read no value was looked at.
    if (result.before.files.empty()) {
        result.problems = result.before.problems;
        return result;
    }
    result.values = split_all(typed, empty, machines, result.problems);
    const ParsedToml own = parse_toml(text.text, text.file);
    for (const KeyValue& value : result.values) {
        if (machines != MachineChange::refused && names_machine(value.key)) check_machine(value, own.root, result.problems);
    }
    result.with = load_setup(text, library, {typed, {}});
    keep_refusals(result.with.problems, result.problems);
    check_forms(result.values, result.problems);
    return result;
}

RecordedValues record_values(const PresetText& text, const Library& library, const std::vector<std::string>& typed,
                             EmptyValue empty, MachineChange machines, const std::vector<std::string>& beside) {
    RecordedValues result;
    CheckedValues checked = check_values(text, library, typed, empty, machines);
    result.before = std::move(checked.before);
    result.problems = std::move(checked.problems);
    const std::vector<KeyValue> said = split_origins(beside, result.problems);
    if (!result.ok()) return result;
    std::vector<KeyValue> values = checked.values;
    EditedText edited = edit_values(text.text, text.file, values);
    result.problems = std::move(edited.problems);
    if (!result.ok()) return result;
    result.after = read_edited(text, library, edited);
    const std::size_t plain = values.size();
    std::copy_if(said.begin(), said.end(), std::back_inserter(values), [&](const KeyValue& o) { return !gives_origin(result.after, o); });
    if (values.size() > plain) {
        edited = edit_values(text.text, text.file, values);
        result.problems = std::move(edited.problems);
        if (!result.ok()) return result;
        result.after = read_edited(text, library, edited);
    }
    result.problems = find_new_problems(result.before.problems, result.after.problems);
    PresetText after = text;
    after.text = edited.text;
    check_size(after, result.problems);
    check_removals(result, checked.values, result.problems);
    check_origins(result.after, said, result.problems);
    for (std::size_t i = 0; i < values.size(); ++i) {
        const std::string key = i < plain ? values[i].key : origin_owner(values[i]);
        const FieldNote before = find_note(result.before, key), now = find_note(result.after, key);
        if (i < plain) result.values.push_back({key, values[i].value, edited.edits[i], before, now});
        else result.origins.push_back({key, edited.edits[i], before.origin, now.origin});
    }
    result.lines = std::move(edited.lines);
    result.text = std::move(edited.text);
    return result;
}

}  // namespace hitchwright
