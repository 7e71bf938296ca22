// record --recheck: which readings to take again after the first work, and what those taken again say.
#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "cli/judgement.h"
#include "cli/record_tasks.h"
#include "cli/setup_input.h"
#include "report/edge_units.h"
#include "report/json_parts.h"
#include "report/json_writer.h"
#include "report/output_number.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr std::size_t most_shown = 200;

/// One run of it.
struct Recheck {
    std::string file, after;
    bool dry_run = false;
    RecheckedValues values;
    std::vector<RecheckReading> wanted;  ///< without values: what to take again
    ReadingLog log;
    std::size_t logged = 0;
    bool has_log = false;
    Judgement judgement;
};

std::string show(double si, Dimension dimension, UnitSystem units) {
    return format_decimal_quantity(si, dimension, units);
}

std::string describe_last(const LogEntry& e) {
    return fmt::format("{} {}{}: {}", log_kind_word(e.kind), printable_text(e.date),
                       e.after.empty() ? "" : " after " + printable_text(e.after), printable_text(e.value, most_shown));
}

double find_least_movement(const RecheckReading& r) { return std::hypot(r.reading.tolerance, r.tolerance); }

std::string format_wanted(const RecheckReading& r, const Recheck& c, const TextStyle& style) {
    std::string text = format_paragraph(printable_text(r.key, most_shown), style.width, 2, 4);
    const auto add = [&](const std::string& line) { text += format_paragraph(line, style.width, 6, 8); };
    const bool measured = r.reading.origin == Origin::measured;
    const LogEntry* const last = find_last_entry(c.log.entries, r.key);
    const std::string value = show(r.reading.value, r.dimension, style.units);
    add(measured ? fmt::format("{}; has moved when it differs by more than {}", value,
                               show(find_least_movement(r), r.dimension, style.units))
                 : fmt::format("{}, {}: never measured here, {}", value, origin_word(r.reading.origin),
                               last == nullptr ? "no movement can be told" : "the last entry of the log counts"));
    add(r.measure);
    add(fmt::format("Why: {}.", r.reason));
    if (last != nullptr) add("Last " + describe_last(*last));
    return text;
}

constexpr std::string_view ticks =
    "And by hand and eye, without a number: bolts, lock nuts and linch pins; pins and latches of links and coupler; "
    "guards, their chains, and the locks of both shaft ends (pull hard); slip clutch or shear bolt; grease, oil, "
    "leaks.";

std::string format_list(const Recheck& c, const TextStyle& style) {
    std::string text =
        format_paragraph(fmt::format("Recheck after {} of work: {}, {} to take again", c.after,
                                     printable_text(c.file, most_shown), format_count(c.wanted.size(), "reading")),
                         style.width, 0, 4);
    for (const RecheckReading& r : c.wanted) text += format_wanted(r, c, style);
    if (c.wanted.empty())
        text += format_paragraph("The set-up has no reading that threads, pins, stops or tyres could have changed.",
                                 style.width, 2, 2);
    text += "\n" + format_paragraph(ticks, style.width, 0, 0);
    return text + "\n" +
           format_paragraph(
               "Give them back by their keys, behind the same command: KEY=VALUE. They go into the log; the "
               "set-up stays.",
               style.width, 0, 0);
}

std::string describe_movement(const RecheckedValue& v, UnitSystem units) {
    const Dimension d = v.after->dimension;
    const Movement& m = *v.movement;
    return fmt::format("{}{}", m.moved > 0.0 ? "+" : "", show(m.moved, d, units));
}

std::string describe_outcome(const RecheckedValue& v, UnitSystem units) {
    const auto error = [&] { return show(v.movement->error, v.after->dimension, units); };
    switch (v.outcome) {
        case RecheckOutcome::moved:
            return v.movement->error > 0.0
                       ? fmt::format("HAS MOVED by {}, {:.1f} times the {} that two readings may differ by",
                                     describe_movement(v, units), std::fabs(v.movement->moved) / v.movement->error,
                                     error())
                       : fmt::format("DIFFERS by {}; no reading error is known", describe_movement(v, units));
        case RecheckOutcome::within_error:
            return fmt::format("has not moved as far as can be told: {}, and two readings may differ by {}",
                               describe_movement(v, units), error());
        case RecheckOutcome::not_measured:
            return fmt::format("{} from a value that was never measured here ({}): no movement can be told",
                               describe_movement(v, units), origin_word(v.before->reading->origin));
        case RecheckOutcome::not_known:
            return "there was no value before: this is the first one";
        case RecheckOutcome::same:
            return "as it was";
        case RecheckOutcome::other:
            return "IS ANOTHER ONE";
    }
    return {};
}

std::string show_before(const RecheckedValue& v, UnitSystem units) {
    if (v.earlier)
        return fmt::format("{} of {}", printable_text(v.earlier->value, most_shown), printable_text(v.earlier->date));
    if (!v.before) return "not known";
    if (!v.note.typed.empty()) return printable_text(v.note.typed, most_shown);
    return v.before->reading ? show(v.before->reading->value, v.before->dimension, units)
                             : printable_text(v.before->text, most_shown);
}

bool has_moved(const RecheckedValue& v) {
    return v.outcome == RecheckOutcome::moved || v.outcome == RecheckOutcome::other;
}

bool any_moved(const Recheck& c) { return std::any_of(c.values.values.begin(), c.values.values.end(), has_moved); }

std::string format_values(const Recheck& c, const TextStyle& style) {
    std::string text =
        format_paragraph(fmt::format("Recheck after {} of work: {}, {}", c.after, printable_text(c.file, most_shown),
                                     format_count(c.values.values.size(), "value")),
                         style.width, 0, 4);
    for (const RecheckedValue& v : c.values.values) {
        text += format_paragraph(
            fmt::format("{}: {} -> {}: {}", printable_text(v.key, most_shown), show_before(v, style.units),
                        printable_text(v.typed, most_shown), describe_outcome(v, style.units)),
            style.width, 2, 4);
    }
    if (c.has_log) text += format_log_line(c.log.file, c.logged, !c.log.exists, c.dry_run);
    text += "\n" + format_paragraph(
                       any_moved(c) ? "The set-up stays as it is. Set back what has moved, lock it, and take it once "
                                      "more; or, if it is to stay so, record it without --recheck and judge it anew."
                                    : "The set-up stays as it is.",
                       style.width, 0, 0);
    return text;
}

JsonValue text_or_null(const std::string& text) { return text.empty() ? JsonValue() : JsonValue(text); }

JsonValue make_wanted_json(const RecheckReading& r, const ReadingLog& log) {
    const EdgeUnit unit = find_edge_unit(r.dimension);
    const LogEntry* const last = find_last_entry(log.entries, r.key);
    JsonObject o;
    o.add("key", r.key).add("unit", unit.name).number("value", round_for_output(r.reading.value * unit.per_si));
    o.add("origin", origin_word(r.reading.origin));
    o.number("error", round_for_output(find_least_movement(r) * unit.per_si));
    o.add("measure", r.measure).add("reason", r.reason);
    return o.add("last", last == nullptr ? JsonValue() : JsonValue(describe_last(*last))).build();
}

JsonValue make_value_json(const RecheckedValue& v) {
    const bool reading = v.after && v.after->reading;
    const EdgeUnit unit = find_edge_unit(reading ? v.after->dimension : Dimension::ratio);
    JsonObject o;
    o.add("key", v.key).add("typed", v.typed).add("outcome", recheck_outcome_word(v.outcome));
    o.add("before", text_or_null(v.note.typed.empty() && v.before ? v.before->text : v.note.typed));
    o.add("earlier", v.earlier ? JsonValue(describe_last(*v.earlier)) : JsonValue());
    o.add("before_file", text_or_null(v.note.file)).add("unit", reading ? JsonValue(unit.name) : JsonValue());
    const auto number = [&](std::string_view key, double si) {
        if (v.movement)
            o.number(key, round_for_output(si * unit.per_si));
        else
            o.add(key, JsonValue());
    };
    number("moved", v.movement ? v.movement->moved : 0.0);
    number("error", v.movement ? v.movement->error : 0.0);
    return o.build();
}

std::string format_recheck_json(const Recheck& c) {
    JsonArray wanted, values;
    for (const RecheckReading& r : c.wanted) wanted.push_back(make_wanted_json(r, c.log));
    for (const RecheckedValue& v : c.values.values) values.push_back(make_value_json(v));
    JsonObject o;
    o.add("schema", "hitchwright.recheck").add("schema_version", json_version).add("file", c.file);
    o.add("after", c.after).add("log", c.has_log ? text_or_null(c.log.file) : JsonValue());
    o.add("logged", c.dry_run ? 0 : static_cast<int>(c.logged)).add("moved", any_moved(c));
    o.add("readings", std::move(wanted)).add("values", std::move(values));
    return format_json_value(o.add("cautions", make_cautions_json(list_cautions({&c.judgement}))).build());
}

Answer answer(const Recheck& c, const RecordOptions& options, const CommandContext& context) {
    const int code = any_moved(c) ? exit_code::change : exit_code::fits;
    if (options.common.form == Form::json) return {code, format_recheck_json(c)};
    const TextStyle style{options.common.units, page_width, context.colour};
    return {code, (options.rest.empty() ? format_list(c, style) : format_values(c, style)) +
                      format_caution_list(list_cautions({&c.judgement}), style)};
}

// A list may be had of any set-up; of one of one's own with what its log says.
Outcome list_readings(const CommandContext& context, const RecordOptions& options) {
    const std::string name = context.arguments.name(0);
    const PresetText text = context.library.read(FileKind::setup, name);
    if (!text.ok()) return refuse_problems(text.problems, "nothing was read");
    LoadedSetup loaded = load_setup(text, context.library);
    if (!loaded.ok()) return make_setup_failure(std::move(loaded.problems));
    Recheck c;
    c.file = text.file;
    c.after = options.facts.after;
    c.has_log = !text.embedded && options.with_log;
    if (c.has_log) c.log = read_log(find_log_file(text.file));
    if (!c.log.ok()) return refuse_log(c.log, "nothing was changed");
    c.has_log = c.has_log && c.log.exists;
    c.wanted = list_recheck_readings(loaded.setup);
    c.judgement = judge(loaded, options.common.mark, options.common.units);
    return answer(c, options, context);
}

}  // namespace

Outcome run_recheck(const CommandContext& context, const RecordOptions& options) {
    if (options.rest.empty()) return list_readings(context, options);
    const auto read = read_own_setup(context);
    if (const auto* refused = std::get_if<Failure>(&read)) return *refused;
    const auto& text = std::get<PresetText>(read);
    Recheck c;
    c.file = text.file;
    c.after = options.facts.after;
    c.dry_run = options.dry_run;
    c.has_log = options.with_log;
    if (c.has_log) c.log = read_log(find_log_file(text.file));
    if (!c.log.ok()) return refuse_log(c.log);
    c.values = recheck_values(text, context.library, options.rest, c.log.entries);
    if (!c.values.ok()) return refuse_problems(std::move(c.values.problems));
    if (c.has_log) {
        const std::vector<LogEntry> entries = make_entries(c.values, text.file, options.facts);
        c.logged = entries.size();
        Failure failure;
        if (!c.dry_run) failure.message = write_recording({text, text.text, entries}, context.library);
        if (!failure.message.empty()) return failure;
    }
    c.judgement = judge(c.values.setup, options.common.mark, options.common.units);
    return answer(c, options, context);
}

}  // namespace hitchwright
