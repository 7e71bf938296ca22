#include "cli/record_file.h"

#include <algorithm>
#include <filesystem>
#include <map>
#include <optional>

#include <fmt/format.h>

#include "geometry/visit_readings.h"
#include "presets/file_text.h"
#include "presets/quantity.h"
#include "report/atomic_file.h"
#include "report/folder_lock.h"
#include "report/held_signals.h"

namespace hitchwright {
namespace {

constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";

std::string with_mark(bool mark, const std::string& text) { return (mark ? std::string(byte_order_mark) : "") + text; }

// The file of a value, where it is not the set-up itself.
std::string other_file(const FieldNote& note, const std::string& setup_file) {
    return note.by_default || note.file == setup_file ? std::string{} : note.file;
}

LogEntry make_entry(const EntryFacts& facts, LogKind kind) {
    LogEntry entry;
    entry.date = facts.date;
    entry.by = facts.by;
    entry.kind = kind;
    entry.note = facts.note;
    entry.after = facts.after;
    return entry;
}

/// Which unit a number alone has, key by key: the file's may be another one some day.
class PlainUnits {
public:
    explicit PlainUnits(const LoadedSetup& loaded) : file_unit_(loaded.unit) {
        Setup setup = loaded.setup;
        visit_readings(setup, [&](const std::string& key, const Reading&, const FieldSpec& spec) {
            dimensions_.emplace(key, spec.dimension);
        });
    }

    std::string find(const std::string& key, const std::string& typed) const {
        const auto found = dimensions_.find(key);
        if (found == dimensions_.end() || !parse_quantity(typed, found->second, file_unit_).plain) return {};
        switch (found->second) {
            case Dimension::length:
            case Dimension::length_per_turn:
                return file_unit_;
            case Dimension::angle:
                return "deg";
            case Dimension::rotation_speed:
                return "rpm";
            case Dimension::mass:
            case Dimension::force:
            case Dimension::power:
            case Dimension::ratio:
            case Dimension::pressure:
            case Dimension::torque:
            case Dimension::count:
                break;
        }
        return {};
    }

private:
    std::string file_unit_;
    std::map<std::string, Dimension> dimensions_;
};

// Why the text of the log is not the old one with these entries behind it; empty: it is.
std::string check_log(const ReadingLog& log, const std::vector<LogEntry>& entries, const std::string& text) {
    std::vector<Problem> problems;
    const std::vector<LogEntry> all = parse_log(text, log.file, problems);
    const bool same =
        problems.empty() && all.size() == log.entries.size() + entries.size() &&
        std::equal(log.entries.begin(), log.entries.end(), all.begin()) &&
        std::equal(entries.begin(), entries.end(), all.end() - static_cast<std::ptrdiff_t>(entries.size()));
    if (!same) return fmt::format("nothing can be put behind what stands in the log \"{}\"", escape_text(log.file));
    if (text.size() + byte_order_mark.size() <= most_file_bytes) return {};
    return fmt::format("the log \"{}\" is full (1 MiB); move it away, and a new one is begun", escape_text(log.file));
}

/// The log as it was, for the case that the set-up cannot be written.
class LogWriter {
public:
    explicit LogWriter(const std::string& file) : log_(read_log(file)) {}

    // Empty: written.
    std::string write(const std::vector<LogEntry>& entries) {
        if (!log_.ok())
            return fmt::format("the log \"{}\" cannot be read; nothing was written", escape_text(log_.file));
        const std::string text = append_to_log(log_, entries);
        const std::string wrong = check_log(log_, entries, text);
        if (!wrong.empty()) return wrong + "; nothing was written";
        const auto failed = write_file_atomically(log_.file, with_mark(log_.byte_order_mark, text));
        return failed ? failed->message + "; nothing was written" : std::string{};
    }

    // What could not be put back, for the end of a sentence.
    std::string put_back() {
        std::error_code error;
        const bool done = log_.exists ? !write_file_atomically(log_.file, with_mark(log_.byte_order_mark, log_.text))
                                      : std::filesystem::remove(log_.file, error);
        return done ? "nothing was written"
                    : fmt::format("the log \"{}\" has the entries already", escape_text(log_.file));
    }

private:
    ReadingLog log_;
};

}  // namespace

std::vector<LogEntry> make_entries(const RecordedValues& values, const std::string& file, const EntryFacts& facts) {
    std::vector<LogEntry> entries;
    const PlainUnits units(values.after);
    for (const RecordedValue& value : values.values) {
        // What was taken away was not read, and which machine it is nobody measures.
        if (value.typed.empty() || names_machine(value.key)) continue;
        LogEntry& entry = entries.emplace_back(make_entry(facts, LogKind::reading));
        entry.key = value.key;
        entry.value = value.typed;
        entry.unit = units.find(value.key, value.typed);
        // A list of numbers has no text of its own.
        entry.before = value.before.by_default      ? ""
                       : value.before.typed.empty() ? value.edit.old_literal
                                                    : value.before.typed;
        entry.before_in = entry.before.empty() ? "" : other_file(value.before, file);
    }
    return entries;
}

std::vector<LogEntry> make_entries(const RecheckedValues& values, const std::string& file, const EntryFacts& facts) {
    std::vector<LogEntry> entries;
    const PlainUnits units(values.setup);
    for (const RecheckedValue& value : values.values) {
        LogEntry& entry = entries.emplace_back(make_entry(facts, LogKind::recheck));
        entry.key = value.key;
        entry.value = value.typed;
        entry.unit = units.find(value.key, value.typed);
        entry.before = value.note.typed.empty() && value.before ? value.before->text : value.note.typed;
        entry.before_in = entry.before.empty() ? "" : other_file(value.note, file);
    }
    return entries;
}

bool is_unchanged(const PresetText& loaded, const Library& library) {
    const PresetText now = library.read(FileKind::setup, is_path(loaded.file) ? loaded.file : "./" + loaded.file);
    return now.ok() && now.text == loaded.text && now.byte_order_mark == loaded.byte_order_mark;
}

std::string write_recording(const RecordRequest& request, const Library& library) {
    const PresetText& loaded = request.loaded;
    const std::string log_file = find_log_file(loaded.file);
    const FolderLock lock(log_file);
    const HeldSignals held;  // log and set-up belong together
    if (lock.refused())
        return fmt::format("another program is writing beside \"{}\"; nothing was written, try again",
                           escape_text(loaded.file));
    if (!is_unchanged(loaded, library))
        return fmt::format("\"{}\" was changed by somebody else meanwhile; nothing was written",
                           escape_text(loaded.file));
    std::optional<LogWriter> log;
    if (!request.entries.empty()) {
        log.emplace(log_file);
        std::string wrong = log->write(request.entries);
        if (!wrong.empty()) return wrong;
    }
    if (request.edited == loaded.text) return {};
    const auto failed = write_file_atomically(loaded.file, with_mark(loaded.byte_order_mark, request.edited));
    if (!failed) return {};
    return failed->message + "; " + (log ? log->put_back() : "nothing was written");
}

}  // namespace hitchwright
