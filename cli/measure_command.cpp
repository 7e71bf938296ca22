// measure: the card of readings a set-up needs. A set-up that is only partly typed is what it is for.
#include <algorithm>

#include <fmt/format.h>

#include "cli/commands.h"
#include "cli/records.h"
#include "cli/setup_input.h"
#include "presets/units.h"
#include "report/safe_words.h"
#include "report/measuring_card.h"
#include "report/measuring_words.h"

namespace hitchwright {
namespace {

// Everything but values still to be added is a problem.
std::variant<LoadedSetup, Failure> load_partly_typed(const CommandContext& context, const CommonValues& common) {
    LoadedSetup loaded = load_setup(context.arguments.name(0), context.library, {common.sets, common.rules});
    std::erase_if(loaded.problems, [](const Problem& p) { return p.missing; });
    if (loaded.ok()) return loaded;
    return make_setup_failure(std::move(loaded.problems));
}

GivenKeys list_given_keys(const FieldNotes& notes) {
    GivenKeys given;
    for (const auto& [key, note] : notes) given.emplace(key, note.origin);
    return given;
}

// A number in the unit the record names; none for a unit nobody has.
RecordValue in_unit(double si, Dimension dimension, const std::string& unit) {
    const bool per_turn = dimension == Dimension::length_per_turn;
    const std::string word = per_turn ? unit.substr(0, unit.find('/')) : unit;
    const Unit* found = find_unit(word, per_turn ? Dimension::length : dimension);
    return found == nullptr ? RecordValue(si) : RecordValue(found->from_si(si));
}

RecordValue text_or_none(const std::string& text) { return text.empty() ? RecordValue() : RecordValue(text); }

std::string join_choices(const MeasuringItem& item) { return join_words(item.words, " "); }

Record make_record(const CardLine& line, const CardSection& section, const MeasuringCard& card, UnitSystem units) {
    const MeasuringItem& item = line.item;
    const bool number = item.form == ItemForm::reading;
    const bool shown = item.known() && !card.blank;
    const std::string unit = find_item_unit(item, units);
    RecordValue error, value, origin;
    if (number && item.spec.tolerance > 0.0) error = in_unit(item.spec.tolerance, item.spec.dimension, unit);
    if (shown) value = number ? in_unit(item.reading.value, item.spec.dimension, unit) : RecordValue(item.value);
    if (shown) origin = std::string(number ? origin_word(item.reading.origin) : origin_word(item.origin));
    return {{"number", line.number},
            {"station", std::string(station_title(section.station))},
            {"key", text_or_none(item.key)},
            {"from_to", describe_item(item)},
            {"unit", text_or_none(unit)},
            {"usual_error", error},
            {"words", text_or_none(join_choices(item))},
            {"needed", item.needed()},
            {"value", value},
            {"origin", origin}};
}

std::vector<Record> make_records(const MeasuringCard& card, UnitSystem units) {
    std::vector<Record> records;
    for (const CardSection& section : card.sections) {
        for (const CardLine& line : section.lines) records.push_back(make_record(line, section, card, units));
    }
    return records;
}

std::string format_card(const MeasuringCard& card, const CommonValues& common, bool colour) {
    switch (common.form) {
        // JSON is in mm whatever the units, as everywhere.
        case Form::json: return format_json("measure", "lines", make_records(card, UnitSystem::millimetre));
        case Form::csv: return format_csv(make_records(card, common.units));
        case Form::text: break;
    }
    return format_measuring_card(card, {common.units, page_width, colour});
}

}  // namespace

Outcome run_measure(const CommandContext& context) {
    OptionReader reader(context.arguments);
    const CommonValues common = read_common(reader, context.arguments, {Form::text, Form::json, Form::csv});
    if (!reader.ok()) return make_failure(reader.problems(), context.arguments.command);
    const auto loaded = load_partly_typed(context, common);
    if (const auto* failure = std::get_if<Failure>(&loaded)) return *failure;
    const auto& partly = std::get<LoadedSetup>(loaded);
    const MeasuringCard card = make_measuring_card(partly.setup, list_given_keys(partly.notes), context.arguments.has("--blank"));
    return Answer{exit_code::fits, format_card(card, common, context.colour)};
}

}  // namespace hitchwright
