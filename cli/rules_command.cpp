// rules list, show.
#include <cmath>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/option_values.h"
#include "cli/preset_lookup.h"
#include "cli/records.h"
#include "presets/rule_fields.h"
#include "presets/rules_reader.h"
#include "report/safe_words.h"
#include "report/text_layout.h"

namespace hitchwright {
namespace {

/// One limit of a set, with what it means and where it comes from.
struct ListedLimit {
    std::string key, meaning;
    Dimension dimension = Dimension::length;
    Limit limit;
    std::string_view from = "own";  ///< own, general, or derived: the set's own figure for another limit stands in
};

// Visitor of rule_fields.h that lists the limits.
class LimitCollector {
public:
    explicit LimitCollector(std::vector<ListedLimit>& limits) : limits_(limits) {}
    void text(const char*, std::string&, const char*) {}
    void limit(const char* key, Limit& limit, const FieldSpec& spec) {
        limits_.push_back({key, spec.measure, spec.dimension, limit, "own"});
    }

private:
    std::vector<ListedLimit>& limits_;
};

std::vector<ListedLimit> list_limits(RuleSet rules) {
    std::vector<ListedLimit> limits;
    visit_fields(rules, LimitCollector(limits));
    return limits;
}

// For machines always in mm, degrees, or plain.
double find_value(const ListedLimit& limit) {
    switch (limit.dimension) {
        case Dimension::length:
            return limit.limit.value * 1e3;
        case Dimension::angle:
            return limit.limit.value / field::degree;
        default:
            return limit.limit.value;
    }
}

std::string_view find_unit_word(Dimension dimension) {
    switch (dimension) {
        case Dimension::length:
            return "mm";
        case Dimension::angle:
            return "deg";
        default:
            return "1";
    }
}

// Without the last digits that only the trip through metres and radians has put there.
double tidy(double value) { return std::round(value * 1e9) / 1e9; }

Record make_record(const ListedLimit& limit) {
    const bool set = limit.limit.set;
    return {{"key", limit.key},
            {"value", set ? RecordValue(tidy(find_value(limit))) : RecordValue()},
            {"unit", std::string(find_unit_word(limit.dimension))},
            {"grade", set ? RecordValue(std::string(grade_letter(limit.limit.grade))) : RecordValue()},
            {"source", set ? RecordValue(limit.limit.source) : RecordValue()},
            {"from", std::string(limit.from)},
            {"meaning", limit.meaning}};
}

std::string_view from_words(std::string_view from) {
    if (from == "general") return ", from the set general";
    return from == "derived" ? ", follows from the set's other limits" : "";
}

std::string format_limit(const ListedLimit& limit, UnitSystem units) {
    if (!limit.limit.set) return fmt::format("{}: none\n", limit.key);
    std::string text = format_paragraph(
        fmt::format("{}: {}, grade {}{}", limit.key, format_decimal_quantity(limit.limit.value, limit.dimension, units),
                    grade_letter(limit.limit.grade), from_words(limit.from)),
        page_width, 0, 4);
    text += format_paragraph(limit.meaning, page_width, 4, 4);
    return text + format_paragraph("source: " + printable_text(limit.limit.source, 400), page_width, 4, 4);
}

std::string format_angles(const RuleSet& rules) {
    std::string text;
    const auto add = [&text](const char* words, const Limit& limit) {
        if (limit.set)
            text += fmt::format("{}{} {}", text.empty() ? "" : ", ", words, format_angle(limit.value, Rounding::down));
    };
    add("free to", rules.angle_free);
    add("PTO off above", rules.angle_pto_off);
    add("lift stop at", rules.angle_stop);
    return text.empty() ? "no limit" : text;
}

std::string format_overlap(const RuleSet& rules, const SafeWords& words) {
    const bool share = rules.overlap_fraction.set && rules.overlap_fraction.value > 0.0;
    const bool length = rules.overlap_least.set && rules.overlap_least.value > 0.0;
    std::string text = length ? words.need(rules.overlap_least.value) : std::string{};
    if (share)
        text += fmt::format("{}{} of the tube", length ? " and " : "", format_share(rules.overlap_fraction.value));
    if (rules.overlap_fraction_work.set && rules.overlap_fraction_work.value > 0.0) {
        text += fmt::format("{}{} of it in work", text.empty() ? "" : ", ",
                            format_share(rules.overlap_fraction_work.value));
    }
    return text.empty() ? "no limit" : text;
}

std::string format_rule_set(const RuleSet& rules, const PresetEntry& entry, UnitSystem units) {
    const SafeWords words{units};
    std::string text =
        format_paragraph(fmt::format("{}: {}{}{}", printable_text(entry.key, 40), printable_text(rules.name),
                                     entry.embedded ? "" : " (yours)", entry.hidden ? " (hidden by yours)" : ""),
                         page_width, 0, 4);
    if (!rules.note.empty()) text += format_paragraph(printable_text(rules.note, 400), page_width, 4, 4);
    const std::string aim = rules.gap_aimed.set && rules.gap_aimed.value > rules.gap_required.value
                                ? fmt::format(" (aim {})", words.need(rules.gap_aimed.value))
                                : std::string{};
    return text +
           format_paragraph(fmt::format("gap {}{}; overlap {}; joint angle {}", words.need(rules.gap_required.value),
                                        aim, format_overlap(rules, words), format_angles(rules)),
                            page_width, 4, 4);
}

std::string format_unusable(const LoadedRules& loaded, const PresetEntry& entry) {
    return format_paragraph(
        fmt::format("{}: cannot be used, {}; see hitchwright rules show {}", printable_text(entry.key, 40),
                    format_count(loaded.problems.size(), "problem"), printable_text(entry.key, 40)),
        page_width, 0, 4);
}

RecordValue to_value(const Limit& limit, double unit) {
    return limit.set ? RecordValue(tidy(limit.value / unit)) : RecordValue();
}

// A file with problems is listed without limits, so that one broken file does not hide the others.
Record make_record(const LoadedRules& loaded, const PresetEntry& entry) {
    const RuleSet rules = loaded.ok() ? loaded.rules : RuleSet{};
    return {{"key", entry.key},
            {"usable", loaded.ok()},
            {"name", rules.name},
            {"note", rules.note},
            {"built_in", entry.embedded},
            {"hidden", entry.hidden},
            {"gap_required_mm", to_value(rules.gap_required, 1e-3)},
            {"gap_aimed_mm", to_value(rules.gap_aimed, 1e-3)},
            {"overlap_least_mm", to_value(rules.overlap_least, 1e-3)},
            {"overlap_fraction", to_value(rules.overlap_fraction, 1.0)},
            {"overlap_fraction_work", to_value(rules.overlap_fraction_work, 1.0)},
            {"angle_free_deg", to_value(rules.angle_free, field::degree)},
            {"angle_pto_off_deg", to_value(rules.angle_pto_off, field::degree)},
            {"angle_stop_deg", to_value(rules.angle_stop, field::degree)}};
}

Failure make_file_failure(std::vector<Problem> problems) {
    Failure failure;
    failure.code = exit_code::bad_file;
    failure.message = fmt::format("{} in a rule set", format_count(problems.size(), "problem"));
    failure.problems = std::move(problems);
    return failure;
}

LoadedRules load_entry(const PresetEntry& entry, const Library& library) {
    // A hidden built-in set is reached by its place, since its name means the other one.
    if (!entry.hidden) return load_rules(entry.embedded ? entry.key : entry.file, library);
    return load_rules(entry.key, Library({}, embedded_files()));
}

}  // namespace

Outcome run_rules_list(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const Form form = reader.form({Form::text, Form::json, Form::csv});
    const UnitSystem units = reader.units();
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    std::vector<Record> records;
    std::string text;
    for (const PresetEntry& entry : list_presets(context.library, FileKind::rules)) {
        const LoadedRules loaded = load_entry(entry, context.library);
        records.push_back(make_record(loaded, entry));
        text += (loaded.ok() ? format_rule_set(loaded.rules, entry, units) : format_unusable(loaded, entry)) + "\n";
    }
    switch (form) {
        case Form::json:
            return Answer{exit_code::fits, format_json("rule_sets", "rule_sets", records)};
        case Form::csv:
            return Answer{exit_code::fits, format_csv(records)};
        case Form::text:
            break;
    }
    return Answer{exit_code::fits, text + format_paragraph("The manual of your shaft goes first. All limits of a set "
                                                           "with their grades and sources: hitchwright rules show NAME",
                                                           page_width, 0, 0)};
}

Outcome run_rules_show(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const Form form = reader.form({Form::text, Form::json, Form::csv});
    const UnitSystem units = reader.units();
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const std::string name = context.arguments.name(0);
    const LoadedRules loaded = load_rules(name, context.library);
    if (!loaded.ok()) return make_file_failure(loaded.problems);
    std::vector<Problem> ignored;
    const PresetText own_text = context.library.read(FileKind::rules, name);
    const std::vector<ListedLimit> own = list_limits(read_rules(RuleSet{}, own_text.text, own_text.file, ignored));
    std::vector<ListedLimit> limits = list_limits(loaded.rules);
    const std::vector<ListedLimit> general = list_limits(load_rules(general_rules, context.library).rules);
    for (std::size_t i = 0; i < limits.size(); ++i) {
        if (limits[i].limit.set && !own[i].limit.set)
            limits[i].from = limits[i].limit == general[i].limit ? "general" : "derived";
    }
    std::vector<Record> records;
    std::string text = format_paragraph(printable_text(loaded.rules.name), page_width, 0, 0);
    text += format_paragraph(printable_text(loaded.rules.note, 400), page_width, 0, 0) + "\n";
    for (const ListedLimit& limit : limits) {
        records.push_back(make_record(limit));
        text += format_limit(limit, units);
    }
    switch (form) {
        case Form::json:
            return Answer{exit_code::fits, format_json("rule_set", "limits", records)};
        case Form::csv:
            return Answer{exit_code::fits, format_csv(records)};
        case Form::text:
            break;
    }
    return Answer{exit_code::fits, text};
}

}  // namespace hitchwright
