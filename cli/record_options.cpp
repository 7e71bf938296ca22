#include "cli/record_options.h"

#include <array>

#include <fmt/format.h>

#include "presets/iso_date.h"
#include "presets/number_text.h"
#include "report/safe_words.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_shown = 80;
// Beyond a working life nobody means hours.
constexpr int most_time = 100000;

std::size_t count_characters(std::string_view text) {
    std::size_t count = 0;
    for (const char c : text) count += (static_cast<unsigned char>(c) & 0xC0) == 0x80 ? 0 : 1;
    return count;
}

std::string read_line(OptionReader& reader, const Arguments& arguments, std::string_view option, std::size_t most) {
    if (!arguments.has(option)) return {};
    const std::string text(trim(arguments.value(option)));
    const std::string shown = escape_text(text, most_shown);
    if (text.empty())
        reader.add_problem({std::string(option), "nothing was read; allowed: a text, or leave the option off", {}});
    else if (has_control_characters(text, true))
        reader.add_problem(
            {std::string(option), fmt::format("\"{}\" was read: it holds what cannot be printed", shown), {}});
    else if (count_characters(text) > most)
        reader.add_problem(
            {std::string(option), fmt::format("\"{}\" was read; allowed: {} characters", shown, most), {}});
    return text;
}

// "1h" -> "1 h"; whole or decimal number, then h or min.
std::string read_time(OptionReader& reader, const Arguments& arguments) {
    if (!arguments.has("--after")) return "1 h";
    const std::string typed = arguments.value("--after");
    std::string_view rest = trim(typed);
    std::string_view unit = rest;
    while (!unit.empty() && (is_digit(unit.front()) || unit.front() == '.')) unit.remove_prefix(1);
    const std::string_view number = rest.substr(0, rest.size() - unit.size());
    unit = trim(unit);
    std::string_view digits = number;
    const double time = is_toml_number(number) && number.size() <= 9 ? take_number(digits).value : 0.0;
    const bool fine = time > 0.0 && time <= most_time && (unit == "h" || unit == "min");
    if (fine) return fmt::format("{} {}", number, unit);
    reader.add_problem({"--after",
                        fmt::format("\"{}\" was read; allowed: a time of work such as 30 min, 1 h or 10 h",
                                    escape_text(typed, most_shown)),
                        {}});
    return {};
}

std::string read_date(OptionReader& reader, const CommandContext& context) {
    if (context.arguments.has("--date")) {
        const std::string typed = context.arguments.value("--date");
        if (!is_iso_date(typed))
            reader.add_problem({"--date",
                                fmt::format("\"{}\" was read; allowed: a day that exists, as 2026-03-31",
                                            escape_text(typed, most_shown)),
                                {}});
        return typed;
    }
    const TodayDate today = find_today(context.variable);
    if (!today.message.empty()) reader.add_problem({{}, today.message, {}});
    return today.date;
}

void refuse_with_log(OptionReader& reader, const Arguments& arguments) {
    constexpr std::array<std::string_view, 7> others = {"--dry-run", "--recheck", "--after", "--without-log",
                                                        "--date",    "--by",      "--note"};
    for (const std::string_view option : others) {
        if (arguments.has(option))
            reader.add_problem({std::string(option), "--log only prints, and does not take this", {}});
    }
}

RecordTask find_task(const Arguments& arguments) {
    if (arguments.has("--log")) return RecordTask::show_log;
    return arguments.has("--recheck") || arguments.has("--after") ? RecordTask::recheck : RecordTask::record;
}

void check_rest(OptionReader& reader, const RecordOptions& options) {
    if (options.task == RecordTask::record && options.rest.empty()) {
        reader.add_problem(
            {{},
             "KEY=VALUE is missing: what was read, such as choices.lift_stop=26; or --recheck for what to "
             "take again, or --log for what was recorded so far",
             {}});
    }
    for (const std::string& word : options.rest) {
        if (options.task == RecordTask::show_log && word.find('=') != std::string::npos)
            reader.add_problem(
                {{}, fmt::format("{} was read; allowed with --log: keys without a value", in_quotes(word)), {}});
    }
}

Failure refuse_built_in(const std::string& name, const PresetText& text) {
    Failure failure;
    failure.code = exit_code::bad_file;
    failure.message = "nothing was written";
    failure.problems.push_back(
        {text.file,
         0,
         0,
         {},
         "this set-up is built into the program and stays as it is",
         name,
         fmt::format("a file of your own: \"hitchwright presets copy {0}\", then record into ./{0}.toml; or "
                     "\"hitchwright new\"",
                     text.key),
         {}});
    return failure;
}

}  // namespace

RecordOptions read_record_options(OptionReader& reader, const CommandContext& context) {
    const Arguments& arguments = context.arguments;
    RecordOptions options;
    options.task = find_task(arguments);
    const bool shows = options.task == RecordTask::show_log;
    options.common = shows ? read_common(reader, arguments, {Form::text, Form::json, Form::csv})
                           : read_common(reader, arguments, {Form::text, Form::json});
    options.dry_run = arguments.has("--dry-run");
    options.with_log = !arguments.has("--without-log");
    options.rest = {arguments.names.begin() + 1, arguments.names.end()};
    check_rest(reader, options);
    if (shows) {
        refuse_with_log(reader, arguments);
        return options;
    }
    options.facts.by = read_line(reader, arguments, "--by", most_by_characters);
    options.facts.note = read_line(reader, arguments, "--note", most_note_characters);
    if (options.task == RecordTask::recheck) options.facts.after = read_time(reader, arguments);
    if (options.with_log) options.facts.date = read_date(reader, context);
    return options;
}

std::variant<PresetText, Failure> read_own_setup(const CommandContext& context) {
    const std::string name = context.arguments.name(0);
    PresetText text = context.library.read(FileKind::setup, name);
    if (!text.ok()) return refuse_problems(text.problems);
    if (text.embedded) return refuse_built_in(name, text);
    return text;
}

Failure refuse_problems(std::vector<Problem> problems, std::string_view end) {
    Failure failure;
    failure.code = exit_code::bad_file;
    failure.message = fmt::format("{}; {}", format_count(problems.size(), "problem"), end);
    failure.problems = std::move(problems);
    return failure;
}

Failure refuse_log(const ReadingLog& log, std::string_view end) {
    Failure failure = refuse_problems(log.problems, end);
    failure.message += "; the log stays as it is: mend it, or move it away and a new one is begun";
    return failure;
}

std::string format_log_line(const std::string& file, std::size_t entries, bool fresh, bool dry_run) {
    const std::string count = entries == 1 ? "1 entry" : fmt::format("{} entries", entries);
    return fmt::format("{}: {}, {}{}\n", dry_run ? "Log, not written" : "Log", escape_text(file, 4096), count,
                       fresh     ? ", a new file"
                       : dry_run ? ""
                                 : " added");
}

}  // namespace hitchwright
