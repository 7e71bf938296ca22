// record: readings go back into the file of a set-up.
#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/judgement.h"
#include "cli/record_file.h"
#include "cli/record_options.h"
#include "cli/record_tasks.h"
#include "presets/record_values.h"
#include "report/json_parts.h"
#include "report/json_writer.h"
#include "report/safe_words.h"
#include "report/text_clean.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_shown = 200;

/// What is reported of one run.
struct Recording {
    std::string file;
    bool dry_run = false;
    RecordedValues values;
    Judgement before, after;
    std::string log;  ///< empty: none is written
    bool new_log = false;
    std::vector<LogEntry> entries;
};

std::string_view edit_word(EditKind kind) {
    switch (kind) {
        case EditKind::replaced:
            return "replaced";
        case EditKind::uncommented:
            return "uncommented";
        case EditKind::added:
            return "added";
        case EditKind::removed:
            return "removed";
    }
    return "";
}

bool changes_anything(const Recording& r) { return !r.values.lines.empty(); }

// The value in effect before, as typed; empty: nobody gave one, or it is a list.
std::string find_old(const RecordedValue& value) {
    if (!value.edit.old_literal.empty()) return value.edit.old_literal;
    return value.before.by_default ? std::string{} : value.before.typed;
}

std::string describe_old(const RecordedValue& value) {
    const std::string old = find_old(value);
    if (!value.edit.old_literal.empty()) return escape_text(old, most_shown);
    if (value.before.by_default) return "assumed";
    if (value.before.file.empty()) return "not given";
    return fmt::format("{} ({})", old.empty() ? "a list" : escape_text(old, most_shown),
                       escape_text(value.before.file, most_shown));
}

std::string describe_value(const RecordedValue& value, const std::string& file) {
    std::string text = fmt::format("{} -> {}, line {}", describe_old(value),
                                   escape_text(value.edit.new_literal, most_shown), value.edit.line);
    if (value.after.origin != Origin::measured) {
        text += fmt::format("; its origin in the file stays {}", origin_word(value.after.origin));
    }
    const bool used = value.edit.kind != EditKind::replaced && !value.before.by_default && !value.before.file.empty();
    if (used && value.before.file != file)
        text += fmt::format("; {} stays as it is, this set-up's value goes before its own",
                            escape_text(value.before.file, most_shown));
    return text;
}

// A line of the file with all its blanks, broken where it is wider than the page.
std::string format_line(int number, char sign, const std::string& line) {
    const std::string label = fmt::format("{:>6} {} ", number, sign);
    const std::string shown = escape_text(line, most_shown);
    std::string text = label;
    std::size_t columns = label.size();
    for (std::size_t at = 0; at < shown.size();) {
        const std::string character = shown.substr(at, decode_character(shown, at).bytes);
        if (columns + count_columns(character) > page_width) {
            text += "\n" + std::string(label.size(), ' ');
            columns = label.size();
        }
        text += character;
        columns += count_columns(character);
        at += character.size();
    }
    return text.substr(0, text.find_last_not_of(' ') + 1) + "\n";
}

std::string format_lines(const Recording& r) {
    std::string text = "\nLines (- as it was, + as it is now)\n";
    for (const LineChange& line : r.values.lines) {
        if (line.old_line > 0) text += format_line(line.old_line, '-', line.old_text);
        if (line.new_line > 0) text += format_line(line.new_line, '+', line.new_text);
    }
    return text;
}

std::string format_text(const Recording& r, const TextStyle& style) {
    const std::string file = escape_text(r.file, 4096);
    const std::string count = format_count(r.values.values.size(), "value");
    std::string text = !changes_anything(r) ? fmt::format("Nothing to write: {} has these values already.\n", file)
                       : r.dry_run          ? fmt::format("Not written (--dry-run): {}, {}\n", file, count)
                                            : fmt::format("Recorded: {}, {}\n", file, count);
    for (const RecordedValue& value : r.values.values) {
        text += format_paragraph(fmt::format("{}: {}", escape_text(value.key, 500), describe_value(value, r.file)),
                                 style.width, 2, 4);
    }
    if (!r.log.empty()) text += format_log_line(r.log, r.entries.size(), r.new_log, r.dry_run);
    if (changes_anything(r)) text += format_lines(r);
    text += "\n" + format_labelled("Before: ", r.before.sentence, style.width, 0, 8);
    text += format_labelled("After:  ", r.after.sentence, style.width, 0, 8);
    return text + format_caution_list(list_cautions({&r.after}), style);
}

JsonValue text_or_null(const std::string& text) { return text.empty() ? JsonValue() : JsonValue(text); }

JsonValue make_value_json(const RecordedValue& value) {
    JsonObject o;
    o.add("key", value.key).add("edit", edit_word(value.edit.kind)).add("line", value.edit.line);
    o.add("old", text_or_null(find_old(value))).add("old_file", text_or_null(value.before.file));
    return o.add("new", value.edit.new_literal).add("origin", origin_word(value.after.origin)).build();
}

JsonValue make_line_json(const LineChange& line) {
    JsonObject o;
    const bool was = line.old_line > 0, is = line.new_line > 0;
    o.add("old_line", was ? JsonValue(line.old_line) : JsonValue())
        .add("new_line", is ? JsonValue(line.new_line) : JsonValue());
    return o.add("old", was ? JsonValue(line.old_text) : JsonValue())
        .add("new", is ? JsonValue(line.new_text) : JsonValue())
        .build();
}

std::string format_record_json(const Recording& r) {
    JsonArray values, lines;
    for (const RecordedValue& value : r.values.values) values.push_back(make_value_json(value));
    for (const LineChange& line : r.values.lines) lines.push_back(make_line_json(line));
    JsonObject o;
    o.add("schema", "hitchwright.record").add("schema_version", json_version).add("file", r.file);
    o.add("written", !r.dry_run && changes_anything(r));
    o.add("log", text_or_null(r.log))
        .add("logged", r.dry_run ? 0 : static_cast<int>(r.entries.size()))
        .add("values", std::move(values))
        .add("lines", std::move(lines));
    o.add("before", make_judgement_json(r.before)).add("after", make_judgement_json(r.after));
    return format_json_value(o.add("cautions", make_cautions_json(list_cautions({&r.after}))).build());
}

Outcome record(const CommandContext& context, const RecordOptions& options) {
    const CommonValues& common = options.common;
    const auto read = read_own_setup(context);
    if (const auto* refused = std::get_if<Failure>(&read)) return *refused;
    const auto& text = std::get<PresetText>(read);
    Recording r;
    r.file = text.file;
    r.dry_run = options.dry_run;
    r.values = record_values(text, context.library, options.rest);
    if (!r.values.ok()) return refuse_problems(std::move(r.values.problems));
    if (options.with_log) {
        const ReadingLog log = read_log(find_log_file(text.file));
        if (!log.ok()) return refuse_log(log);
        r.log = log.file;
        r.new_log = !log.exists;
        r.entries = make_entries(r.values, text.file, options.facts);
    }
    r.before = judge(r.values.before, common.mark, common.units);
    r.after = judge(r.values.after, common.mark, common.units);
    if (!r.dry_run) {
        Failure failure;
        failure.message = write_recording({text, r.values.text, r.entries}, context.library);
        if (!failure.message.empty()) return failure;
    }
    if (common.form == Form::json) return Answer{exit_code::fits, format_record_json(r)};
    return Answer{exit_code::fits, format_text(r, {common.units, page_width, context.colour})};
}

}  // namespace

Outcome run_record(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const RecordOptions options = read_record_options(reader, context);
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    switch (options.task) {
        case RecordTask::recheck:
            return run_recheck(context, options);
        case RecordTask::show_log:
            return run_log(context, options);
        case RecordTask::record:
            break;
    }
    return record(context, options);
}

}  // namespace hitchwright
