// record --log: what was recorded into a set-up, entry by entry.
#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "cli/record_tasks.h"
#include "cli/records.h"
#include "report/safe_words.h"
#include "report/text_clean.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

/// Columns of the table but the last, and where what stands below an entry begins.
constexpr std::array<std::size_t, 4> widths = {10, 7, 31, 12};
constexpr std::size_t spaces = 2, below = 12, most_shown = 500;

using Cells = std::array<std::string, 5>;

// The text in lines of at most `width` columns, broken at a blank or before a part of a key, else anywhere.
std::vector<std::string> break_cell(const std::string& text, std::size_t width) {
    std::vector<std::string> lines;
    std::size_t begin = 0, good = 0, columns = 0;
    for (std::size_t at = 0; at < text.size();) {
        const std::size_t bytes = decode_character(text, at).bytes, wide = count_columns(text.substr(at, bytes));
        if (at > begin && (text[at] == '.' || text[at] == '[' || text[at - 1] == ' ')) good = at;
        if (columns + wide > width && at > begin) {
            const std::size_t end = good > begin ? good : at;
            lines.push_back(text.substr(begin, end - begin));
            at = begin = end;
            columns = 0;
            continue;
        }
        columns += wide;
        at += bytes;
    }
    if (begin < text.size()) lines.push_back(text.substr(begin));
    return lines;
}

// A row whose cells are broken inside their columns.
std::string format_row(const Cells& cells) {
    std::array<std::vector<std::string>, 5> lines;
    std::size_t used = 0, height = 1;
    for (std::size_t i = 0; i < cells.size(); ++i) {
        const std::size_t width = i < widths.size() ? widths[i] : page_width - used;
        lines[i] = break_cell(cells[i], width);
        height = std::max(height, lines[i].size());
        used += width + spaces;
    }
    std::string text;
    for (std::size_t line = 0; line < height; ++line) {
        std::string row;
        for (std::size_t i = 0; i < cells.size(); ++i) {
            const std::string cell = line < lines[i].size() ? lines[i][line] : std::string{};
            row += i < widths.size() ? pad_right(cell, widths[i] + spaces) : cell;
        }
        text += row.substr(0, row.find_last_not_of(' ') + 1) + "\n";
    }
    return text;
}

// What has no column: of a recheck the time, who, where the value before stood, the note.
std::string format_remarks(const LogEntry& entry) {
    std::string text;
    const auto add = [&](std::string_view label, const std::string& what) {
        if (!what.empty())
            text += fmt::format("{}{}{}", text.empty() ? "" : "; ", label, printable_text(what, most_shown));
    };
    add("after ", entry.after);
    add("by ", entry.by);
    add("the one before is from ", entry.before_in);
    add("", entry.note);
    return text.empty() ? text : format_paragraph(text, page_width, below, below);
}

std::string format_entry(const LogEntry& entry) {
    const std::string value = entry.unit.empty() ? entry.value : fmt::format("{} ({})", entry.value, entry.unit);
    return format_row({printable_text(entry.date), std::string(log_kind_word(entry.kind)),
                       printable_text(entry.key, most_shown),
                       entry.before.empty() ? "-" : printable_text(entry.before, most_shown),
                       printable_text(value, most_shown)}) +
           format_remarks(entry);
}

// The key itself, or one of a table or list below it.
bool is_chosen(const LogEntry& entry, const std::vector<std::string>& keys) {
    return keys.empty() || std::any_of(keys.begin(), keys.end(), [&](const std::string& key) {
               if (!entry.key.starts_with(key)) return false;
               const std::string_view rest = std::string_view(entry.key).substr(key.size());
               return rest.empty() || rest.front() == '.' || rest.front() == '[';
           });
}

RecordValue text_or_none(const std::string& text) { return text.empty() ? RecordValue() : RecordValue(text); }

Record make_record(const LogEntry& e) {
    return {{"date", e.date},
            {"kind", std::string(log_kind_word(e.kind))},
            {"after", text_or_none(e.after)},
            {"key", e.key},
            {"before", text_or_none(e.before)},
            {"before_in", text_or_none(e.before_in)},
            {"value", e.value},
            {"unit", text_or_none(e.unit)},
            {"by", text_or_none(e.by)},
            {"note", text_or_none(e.note)}};
}

std::string format_table(const ReadingLog& log, const std::vector<LogEntry>& entries) {
    const std::string file = printable_text(log.file, most_shown);
    if (!log.exists)
        return format_paragraph(fmt::format("There is no log {} yet: \"hitchwright record\" begins it.", file),
                                page_width, 0, 0);
    const std::string count = log.entries.size() == 1 ? "1 entry" : fmt::format("{} entries", log.entries.size());
    const bool all = entries.size() == log.entries.size();
    std::string text = format_paragraph(
        fmt::format("Log: {}, {}{}", file, count, all ? "" : fmt::format(", {} shown", entries.size())), page_width, 0,
        5);
    if (entries.empty()) return text;
    text += "\n" + format_row({"Date", "Kind", "Key", "Before", "Value"});
    for (const LogEntry& entry : entries) text += format_entry(entry);
    return text;
}

}  // namespace

Outcome run_log(const CommandContext& context, const RecordOptions& options) {
    const std::string name = context.arguments.name(0);
    // Of a set-up that can no longer be read the log still can.
    const PresetText text = context.library.read(FileKind::setup, name);
    if (text.embedded) return std::get<Failure>(read_own_setup(context));
    if (!text.ok() && !is_path(name)) return refuse_problems(text.problems, "there is no log");
    const ReadingLog log = read_log(find_log_file(text.file));
    if (!text.ok() && !log.exists) return refuse_problems(text.problems, "there is no log either");
    if (!log.ok()) return refuse_log(log, "nothing was changed");
    std::vector<LogEntry> entries;
    std::copy_if(log.entries.begin(), log.entries.end(), std::back_inserter(entries),
                 [&](const LogEntry& e) { return is_chosen(e, options.rest); });
    if (options.common.form == Form::text) return Answer{exit_code::fits, format_table(log, entries)};
    std::vector<Record> records;
    std::transform(entries.begin(), entries.end(), std::back_inserter(records), make_record);
    return Answer{exit_code::fits,
                  options.common.form == Form::csv ? format_csv(records) : format_json("log", "entries", records)};
}

}  // namespace hitchwright
