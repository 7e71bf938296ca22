// measure: the readings a job needs, as a card to print or as a list for machines.
#include <algorithm>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/job_kind.h"
#include "cli/page_output.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "presets/units.h"
#include "report/card_pages.h"
#include "report/card_text.h"
#include "report/card_words.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

std::string join_allowed(const CardLine& line) {
    if (line.form == CardForm::whole || line.form == CardForm::whole_list) {
        return fmt::format("{} to {}", line.least, line.most);
    }
    std::string text;
    for (const std::string& word : line.words) text += (text.empty() ? "" : ", ") + word;
    return text;
}

// JSON is in mm and degrees whatever the reader's units; a CSV goes into somebody's sheet, in theirs.
RecordValue in_card_unit(double value, const CardLine& line, UnitSystem units) {
    const bool per_turn = line.spec.dimension == Dimension::length_per_turn;
    const std::string whole = card_unit(line, units), name = whole.substr(0, whole.find('/'));
    const Unit* unit = find_unit(name, per_turn ? Dimension::length : line.spec.dimension);
    return unit == nullptr ? value : unit->from_si(value);
}

Record make_record(const CardLine& line, UnitSystem units, bool blank) {
    const bool measured = line.form == CardForm::quantity && line.spec.tolerance > 0.0;
    Record record = {{"number", line.number},
                     {"station", std::string(station_word(line.station))},
                     {"key", line.key},
                     {"from_to", card_question(line)},
                     {"needed", line.needed},
                     {"missing", line.missing()},
                     {"unit", card_unit(line, units)},
                     {"allowed", join_allowed(line)},
                     {"usual_error", {}},
                     {"value", {}},
                     {"text", {}},
                     {"origin", {}}};
    const auto set = [&record](std::string_view name, RecordValue value) {
        const auto at = std::find_if(record.begin(), record.end(), [name](const auto& field) { return field.first == name; });
        if (at != record.end()) at->second = std::move(value);
    };
    if (measured) set("usual_error", in_card_unit(line.spec.tolerance, line, units));
    if (blank) return record;
    if (line.form != CardForm::quantity) {
        if (!line.text.empty()) set("text", line.text);
    } else if (line.known) {
        set("value", in_card_unit(line.reading.value, line, units));
        set("origin", std::string(origin_word(line.reading.origin)));
    }
    return record;
}

std::vector<Record> make_records(const Setup& setup, UnitSystem units, bool blank) {
    std::vector<Record> records;
    for (const CardLine& line : list_card_lines(setup)) records.push_back(make_record(line, units, blank));
    return records;
}

std::variant<Setup, Failure> find_setup(const CommandContext& context, OptionReader& reader, const CommonValues& common) {
    const bool named = !context.arguments.names.empty();
    const JobKind kind = read_job_kind(reader);
    if (named && context.arguments.has("--kind")) {
        reader.add_problem({"--kind", "a SETUP says itself what the job is; give one of the two", {}});
    } else if (!named && !context.arguments.has("--kind")) {
        reader.add_problem({{}, "give a SETUP, or --kind mounted-pto, mounted-blade or drawn-pto", {}});
    } else if (!named && !common.sets.empty()) {
        reader.add_problem({"--set", "there is no SETUP whose value it could change", {}});
    }
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    if (!named)
        return make_blank_setup(kind != JobKind::mounted_blade,
                                kind == JobKind::drawn_pto ? Attachment::drawn : Attachment::mounted);
    return load_named_setup(context, common);
}

}  // namespace

Outcome run_measure(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    const PageSetup usual = common.units == UnitSystem::inch ? letter_portrait : a4_portrait;
    const PageSetup paper =
        reader.choice<PageSetup>("--paper", {{"a4", a4_portrait}, {"letter", letter_portrait}}, usual);
    const std::string path = context.arguments.value("--output");
    check_page_output(context.arguments, common.form, reader);
    const auto found = find_setup(context, reader, common);
    if (const auto* failure = std::get_if<Failure>(&found)) return *failure;
    const auto& setup = std::get<Setup>(found);
    const bool blank = context.arguments.has("--blank");
    if (context.arguments.has("--output")) {
        return write_pages(compose_card_pages(setup, {common.units, blank}, paper, BuiltInTextMeasure{}), path, common.form);
    }
    switch (common.form) {
        case Form::json:
            return Answer{exit_code::fits,
                          format_json("measuring_card", "readings", make_records(setup, UnitSystem::millimetre, blank))};
        case Form::csv: return Answer{exit_code::fits, format_csv(make_records(setup, common.units, blank))};
        case Form::text: break;
    }
    return Answer{exit_code::fits, format_card_text(setup, {common.units, blank})};
}

}  // namespace hitchwright
