#include "gui/save_changes.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <filesystem>

#include <fmt/format.h>

#include "cli/preset_copy.h"
#include "cli/record_file.h"
#include "cli/today.h"
#include "geometry/setup_entries.h"
#include "gui/open_setup.h"
#include "gui/window_state.h"
#include "presets/file_text.h"
#include "presets/number_text.h"
#include "presets/setup_values.h"
#include "presets/toml_reader.h"
#include "report/atomic_file.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_shown = 200;
constexpr std::string_view setup_ending = ".toml";

std::string show_path(const std::string& path) {
    std::error_code failed;
    const std::filesystem::path whole = std::filesystem::absolute(path, failed);
    return escape_text(failed ? path : whole.lexically_normal().string(), 4096);
}

// Relative names inside a set-up begin at its folder.
PresetText make_new_file(const AppState& app, const std::string& path) {
    PresetText text = app.source;
    text.file = path;
    text.embedded = false;
    text.problems.clear();
    const std::size_t slash = path.rfind('/');
    text.folder = slash == std::string::npos ? std::string{} : path.substr(0, slash + 1);
    return text;
}

// One sentence for each problem, in the words of the command line.
std::string join_problems(const std::vector<Problem>& problems) {
    std::string text;
    for (const Problem& p : problems) {
        text += (text.empty() ? "" : "\n") + (p.key.empty() ? "" : escape_text(p.key, most_shown) + ": ") + p.message;
        if (!p.allowed.empty()) text += fmt::format(" (allowed: {})", p.allowed);
        text += ".";
    }
    return text;
}

std::string refuse_name(const std::string& path) {
    if (path.empty()) return "Type the name of a new file, ending in .toml.";
    const std::string name = std::filesystem::path(path).filename().string();
    if (!name.ends_with(setup_ending) || name.size() == setup_ending.size() || is_log_name(name))
        return fmt::format("\"{}\": the name of a set-up file ends in .toml.", escape_text(path, most_shown));
    return {};
}

std::string read_by(const AppState& app, std::string& by) {
    by = std::string(trim(app.view.save.by));
    if (has_control_characters(by, true)) return "The name holds what cannot be printed.";
    return by.size() > most_by_characters ? "The name is too long." : std::string{};
}

std::string describe(const RecordedValue& value) {
    const std::string before =
        value.before.by_default || value.before.typed.empty() ? value.edit.old_literal : value.before.typed;
    return fmt::format(
        "{}: {} -> {}", escape_text(value.key, most_shown),
        before.empty() ? "not given" : escape_text(before, most_shown),
        value.typed.empty() ? "taken away, its line becomes a comment" : escape_text(value.typed, most_shown));
}

std::string describe(const RecordedOrigin& origin) {
    return fmt::format("{}: the value as it is, {} -> {}", escape_text(origin.key, most_shown), origin_word(origin.before), origin_word(origin.after));
}

bool is_recorded(const RecordedValues& values, const std::string& key) {
    return std::any_of(values.values.begin(), values.values.end(), [&](const RecordedValue& v) { return v.key == key; });
}

std::string say_origin_of(const Edits& edits, const std::string& key) {
    const std::optional<std::string> word = find_value(edits, key + ".origin");
    return word ? " (" + escape_text(trim(*word), most_shown) + ")" : std::string{};
}

// A value that was not there and is not wanted: nothing happens to it.
bool changes_nothing(const RecordedValue& value) { return value.typed.empty() && value.edit.old_literal.empty(); }

std::string say_written(const RecordedValues& values, const std::string& file, std::size_t entries, bool new_file) {
    if (values.values.empty() && values.origins.empty()) return fmt::format("Written: {}, as the set-up is. Undo begins anew.", show_path(file));
    std::string keys;
    std::size_t count = 0;
    for (const RecordedValue& value : values.values) {
        if (changes_nothing(value)) continue;
        keys += (keys.empty() ? "" : ", ") + escape_text(value.key, most_shown);
        ++count;
    }
    for (const RecordedOrigin& origin : values.origins) {
        if (is_recorded(values, origin.key)) continue;
        keys += (keys.empty() ? "" : ", ") + escape_text(origin.key, most_shown) + ".origin";
        ++count;
    }
    const std::string log = std::filesystem::path(find_log_file(file)).filename().string();
    const std::string logged = entries == 1 ? "one entry" : fmt::format("{} entries", entries);
    return fmt::format(
        "Written: {} into {}{} ({}){}. Undo begins anew.", format_count(count, "value"),
        new_file ? "the new file " : "", show_path(file), keys,
        entries == 0 ? "" : fmt::format(", with {} in its log {}", logged, escape_text(log, most_shown)));
}

// What the file would give other than the window shows, error and origin aside: what stands beside a value in the file
// stays there. A path of a rule set is one such case, since in a file it begins at the file's folder.
void check_shown(const Setup& shown, RecordedValues& values, const std::string& file) {
    for (const ValueDifference& d : compare_values(shown, values.after.setup)) {
        const bool readings = d.old_value && d.new_value && d.old_value->reading && d.new_value->reading;
        // The same number from millimetres and from inches.
        constexpr double rounding = 1e-9;
        if (readings && std::fabs(d.old_value->reading->value - d.new_value->reading->value) < rounding) continue;
        values.problems.push_back({file, 0, 0, d.key, "the file would not give what the window shows", {}, {}, {}});
    }
}

/// Where values come from, as said in the window: key of the field, word.
std::vector<std::pair<std::string, std::string>> list_said_origins(const Edits& edits) {
    std::vector<std::pair<std::string, std::string>> said;
    for (const std::string& set : edits.sets) {
        const std::string key(key_of(set));
        if (key.ends_with(".origin")) said.emplace_back(field_of(key), trim(*find_value(edits, key)));
    }
    return said;
}

bool is_near(double a, double b) {
    constexpr double rounding = 1e-9;  // of a text of nine digits, relative
    return std::fabs(a - b) <= rounding * std::max(std::fabs(a), std::fabs(b));
}

const SetupEntry* find_in(const SetupEntries& all, const std::string& key) {
    const auto found = std::find_if(all.entries.begin(), all.entries.end(), [&](const SetupEntry& e) { return e.key == key; });
    return found == all.entries.end() ? nullptr : &*found;
}

// Keys with an origin said whose value and error are those that the file itself has: its text is not touched.
std::vector<std::string> list_kept(const AppState& app, const PresetText& text) {
    const LoadedSetup file = load_setup(text, app.library);
    const SetupEntries before = list_setup_entries(file.setup), now = list_setup_entries(app.now.setup);
    std::vector<std::string> kept;
    for (const auto& [key, word] : list_said_origins(app.now.edits)) {
        const auto note = file.notes.find(key);
        const SetupEntry *was = find_in(before, key), *is = find_in(now, key);
        const bool own = note != file.notes.end() && note->second.file == text.file;
        if (own && was && is && was->reading.known && is->reading.known && is_near(was->reading.value, is->reading.value) &&
            is_near(was->reading.tolerance, is->reading.tolerance))
            kept.push_back(key);
    }
    return kept;
}

// The values in the text of a file.
RecordedValues put_in(const AppState& app, const PresetText& text) {
    std::vector<std::string> origins;
    for (const auto& [key, word] : list_said_origins(app.now.edits)) origins.push_back(key + ".origin=" + word);
    RecordedValues values = record_values(text, app.library, list_recordings(app.now.edits, list_kept(app, text)), EmptyValue::taken_away,
                                          MachineChange::where_no_reading_stands, origins);
    if (values.ok()) values.problems = values.after.problems;
    if (values.ok()) check_shown(app.now.setup, values, text.file);
    return values;
}

// The log is of readings: what the window says is not measured was not read.
std::vector<LogEntry> list_entries_of(const AppState& app, const RecordedValues& values, const std::string& file, const EntryFacts& facts) {
    std::vector<LogEntry> entries = make_entries(values, file, facts);
    for (const auto& [key, word] : list_said_origins(app.now.edits)) {
        if (word != origin_word(Origin::measured)) std::erase_if(entries, [&, own = key](const LogEntry& e) { return e.key == own; });
    }
    return entries;
}

// Empty: written.
std::string write_own(const AppState& app, const RecordedValues& values, std::vector<LogEntry> entries) {
    return write_recording({app.source, values.text, std::move(entries)}, app.library);
}

// With the mark that the file before began with.
std::string make_bytes(const AppState& app, const std::string& text) {
    return (app.source.byte_order_mark ? "\xEF\xBB\xBF" : "") + text;
}

// The new file first: its log is nothing without it.
std::string write_new(const AppState& app, const std::string& path, const RecordedValues& values,
                      std::vector<LogEntry> entries, Existing existing = Existing::refused) {
    std::string failed;
    if (existing == Existing::refused) {
        failed = write_new_file(path, make_bytes(app, values.text), "name another file");
    } else if (const auto error = write_file_atomically(path, make_bytes(app, values.text))) {
        failed = error->message;
    }
    if (!failed.empty()) return failed;
    const PresetText written = app.library.read(FileKind::setup, path);
    failed = write_recording({written, written.text, std::move(entries)}, app.library);
    return failed.empty() ? failed : fmt::format("{} was written without its log: {}", show_path(path), failed);
}

// The window on the file as it now is.
void open_written(AppState& app, const std::string& name, std::string notice) {
    AppState opened = open_app(app.library, name, {}, app.view.units, app.mark);
    opened.view = std::move(app.view);
    note_recent(opened.view.files.recent, find_whole_name(name));
    opened.results.revision = app.results.revision + 1;
    app = std::move(opened);
    // What was refused is in no file.
    std::erase_if(app.view.fields, [](const auto& f) { return f.second.message.empty(); });
    SaveQuestion answered;
    answered.by = std::move(app.view.save.by);
    app.view.save = std::move(answered);
    app.view.notice = std::move(notice);
}

// What the file says it is, in words; empty: a set-up.
std::string find_other_kind(const std::string& path) {
    const FileText text = read_file_text(path);
    const ParsedToml parsed = parse_toml(text.ok() ? text.text : std::string{}, path);
    const SourceNode* word = parsed.root.find("kind");
    const auto kind = word != nullptr && word->kind == SourceKind::text ? find_file_kind(word->typed) : std::nullopt;
    if (!kind) return "does not say that it is a set-up";
    return *kind == FileKind::setup ? std::string{} : fmt::format("is a {} file, no set-up", file_kind_name(*kind));
}

// True when values of this set-up come from the file.
bool is_used(const AppState& app, const std::string& path) {
    std::error_code error;
    return std::any_of(app.now.notes.begin(), app.now.notes.end(), [&](const auto& note) {
        return !note.second.file.empty() && std::filesystem::equivalent(path, note.second.file, error);
    });
}

// Why the file of that name cannot be replaced; empty: it can.
std::string refuse_replacing(const AppState& app, const std::string& path) {
    namespace fs = std::filesystem;
    std::error_code error;
    if (has_own_file(app) && fs::equivalent(path, app.source.file, error))
        return fmt::format("{} is the file of this set-up: \"Save\" writes the changes into it.", show_path(path));
    if (!fs::is_regular_file(path, error)) return fmt::format("{} is no plain file; name another one.", show_path(path));
    if (is_used(app, path)) return fmt::format("{} is a file that this set-up uses; name another one.", show_path(path));
    if (const std::string other = find_other_kind(path); !other.empty())
        return fmt::format("{} {}; name another file.", show_path(path), other);
    if (fs::exists(find_log_file(path), error))
        return fmt::format("{} has a log of its own readings beside it ({}), which would no longer be true; name another file.",
                           show_path(path), escape_text(fs::path(find_log_file(path)).filename().string(), most_shown));
    return {};
}

// Whether the name may be written to at all.
SaveOutcome check_target(const AppState& app, const std::string& path, Existing existing) {
    if (std::string wrong = refuse_name(path); !wrong.empty()) return {false, false, std::move(wrong)};
    std::error_code error;
    if (std::filesystem::symlink_status(path, error).type() == std::filesystem::file_type::not_found) return {};
    if (std::string wrong = refuse_replacing(app, path); !wrong.empty()) return {false, false, std::move(wrong)};
    if (existing == Existing::replaced) return {};
    return {false, true, fmt::format("{} exists. What stands in it would be lost.", show_path(path))};
}

}  // namespace

bool has_own_file(const AppState& app) { return !app.source.embedded && !app.drafted; }

std::vector<std::string> list_recordings(const Edits& edits, const std::vector<std::string>& kept) {
    std::vector<std::string> typed;
    // As on the command line --rules goes before a --set of the same.
    for (const std::string& set : edits.sets) {
        const std::string key(key_of(set)), field(field_of(key));
        if (std::find(kept.begin(), kept.end(), field) != kept.end()) continue;
        // A value with an origin said for it: the origin is put beside it once the value is in the text.
        if (key == field + ".value") typed.push_back(field + "=" + *find_value(edits, key));
        else if (key != field + ".origin" && (edits.rules.empty() || key != "rules")) typed.push_back(set);
    }
    if (!edits.rules.empty()) typed.push_back("rules=" + edits.rules);
    return typed;
}

std::string make_setup_text(const AppState& app) {
    const RecordedValues values = put_in(app, has_own_file(app) ? app.source : make_new_file(app, "./setup.toml"));
    return values.ok() ? make_bytes(app, values.text) : std::string{};
}

void ask_to_save(AppState& app) {
    SaveQuestion question;
    question.open = true;
    question.by = app.view.save.by;
    question.path = "./" + std::string(app.source.key) + std::string(setup_ending);
    const bool own = has_own_file(app);
    const PresetText text = own ? app.source : make_new_file(app, question.path);
    const RecordedValues values = put_in(app, text);
    question.possible = values.ok();
    for (const RecordedValue& value : values.values) {
        if (!changes_nothing(value)) question.lines.push_back(describe(value) + say_origin_of(app.now.edits, value.key));
    }
    for (const RecordedOrigin& origin : values.origins) {
        if (!is_recorded(values, origin.key)) question.lines.push_back(describe(origin));
    }
    if (!values.ok()) question.message = "This cannot be written:\n" + join_problems(values.problems);
    app.view.save = std::move(question);
}

void save_changes(AppState& app) {
    SaveQuestion& question = app.view.save;
    const bool own = has_own_file(app);
    const std::string typed(trim(question.path));
    const std::string path = own || is_path(typed) ? typed : "./" + typed;
    question.message = own ? std::string{} : refuse_name(typed);
    EntryFacts facts;
    if (question.message.empty()) question.message = read_by(app, facts.by);
    const TodayDate today = find_today([](const char* name) -> const char* { return std::getenv(name); });
    if (question.message.empty()) question.message = today.message;
    if (!question.message.empty()) return;
    facts.date = today.date;
    const PresetText text = own ? app.source : make_new_file(app, path);
    const RecordedValues values = put_in(app, text);
    if (!values.ok()) {
        question.message = "Not written:\n" + join_problems(values.problems);
        return;
    }
    std::vector<LogEntry> entries = list_entries_of(app, values, text.file, facts);
    const std::size_t count = entries.size();
    const std::string failed =
        own ? write_own(app, values, std::move(entries)) : write_new(app, path, values, std::move(entries));
    if (failed.empty()) return open_written(app, own ? app.name : path, say_written(values, text.file, count, !own));
    question.message = "Not written: " + failed + ".";
    if (own && !is_unchanged(app.source, app.library))
        question.message += " \"Read files again\" shows it with your changes over it.";
}

SaveOutcome save_as(AppState& app, const std::string& path, Existing existing) {
    SaveOutcome outcome = check_target(app, path, existing);
    if (!outcome.message.empty()) return outcome;
    EntryFacts facts;
    outcome.message = read_by(app, facts.by);
    const TodayDate today = find_today([](const char* name) -> const char* { return std::getenv(name); });
    if (outcome.message.empty()) outcome.message = today.message;
    if (!outcome.message.empty()) return outcome;
    facts.date = today.date;
    const RecordedValues values = put_in(app, make_new_file(app, path));
    if (!values.ok()) {
        outcome.message = "Not written:\n" + join_problems(values.problems);
        return outcome;
    }
    std::vector<LogEntry> entries = list_entries_of(app, values, path, facts);
    const std::size_t count = entries.size();
    const std::string failed = write_new(app, path, values, std::move(entries), existing);
    if (!failed.empty()) {
        outcome.message = "Not written: " + failed + ".";
        return outcome;
    }
    open_written(app, path, say_written(values, path, count, existing == Existing::refused));
    outcome.written = true;
    return outcome;
}

}  // namespace hitchwright
