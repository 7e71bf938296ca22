#include "presets/recheck_values.h"

#include <algorithm>
#include <map>

#include "geometry/visit_readings.h"
#include "presets/quantity.h"
#include "presets/record_values.h"

namespace hitchwright {
namespace {

std::optional<SetupValue> find_value(const std::vector<SetupValue>& values, const std::string& key) {
    const auto found = std::find_if(values.begin(), values.end(), [&](const SetupValue& v) { return v.key == key; });
    return found == values.end() ? std::nullopt : std::optional(*found);
}

std::map<std::string, FieldSpec> list_specs(Setup setup) {
    std::map<std::string, FieldSpec> specs;
    visit_readings(setup,
                   [&](const std::string& key, const Reading&, const FieldSpec& spec) { specs.emplace(key, spec); });
    return specs;
}

FieldNote find_note(const LoadedSetup& loaded, const std::string& key) {
    const auto found = loaded.notes.find(key);
    return found == loaded.notes.end() || found->second.by_default ? FieldNote{} : found->second;
}

// What an entry says as a reading; nothing when it is none that can be understood today.
std::optional<Reading> read_entry(const LogEntry& entry, const FieldSpec& spec) {
    const Quantity quantity = parse_quantity(entry.value, spec.dimension, entry.unit);
    if (!quantity.ok()) return std::nullopt;
    return make_reading(quantity.value, Origin::measured,
                        quantity.has_tolerance ? quantity.tolerance : find_retake_error(spec));
}

// Compares with the log where the set-up has no reading of this machine.
void compare_with_log(RecheckedValue& value, const FieldSpec& spec, const std::vector<LogEntry>& log) {
    if (value.before && value.before->reading && value.before->reading->origin == Origin::measured) return;
    const LogEntry* const last = find_last_entry(log, value.key);
    const std::optional<Reading> earlier = last == nullptr ? std::nullopt : read_entry(*last, spec);
    if (!earlier) return;
    value.earlier = *last;
    value.movement = find_movement(*earlier, *value.after->reading);
}

RecheckOutcome find_outcome(const RecheckedValue& value) {
    if (value.earlier) return value.movement->told ? RecheckOutcome::moved : RecheckOutcome::within_error;
    if (!value.before || !value.after) return RecheckOutcome::not_known;
    if (!value.movement) return value.before->text == value.after->text ? RecheckOutcome::same : RecheckOutcome::other;
    if (value.before->reading->origin != Origin::measured) return RecheckOutcome::not_measured;
    return value.movement->told ? RecheckOutcome::moved : RecheckOutcome::within_error;
}

}  // namespace

std::string_view recheck_outcome_word(RecheckOutcome outcome) {
    switch (outcome) {
        case RecheckOutcome::within_error:
            return "within_error";
        case RecheckOutcome::moved:
            return "moved";
        case RecheckOutcome::not_measured:
            return "not_measured";
        case RecheckOutcome::not_known:
            return "not_known";
        case RecheckOutcome::same:
            return "same";
        case RecheckOutcome::other:
            return "other";
    }
    return "";
}

const LogEntry* find_last_entry(const std::vector<LogEntry>& log, const std::string& key) {
    const auto found = std::find_if(log.rbegin(), log.rend(), [&](const LogEntry& e) { return e.key == key; });
    return found == log.rend() ? nullptr : &*found;
}

RecheckedValues recheck_values(const PresetText& text, const Library& library, const std::vector<std::string>& typed,
                               const std::vector<LogEntry>& log) {
    RecheckedValues result;
    CheckedValues checked = check_values(text, library, typed);
    result.setup = std::move(checked.before);
    result.problems = std::move(checked.problems);
    if (result.ok()) result.problems = result.setup.problems;
    if (result.ok()) result.problems = checked.with.problems;
    if (!result.ok()) return result;
    const std::vector<SetupValue> before = list_values(result.setup.setup), after = list_values(checked.with.setup);
    const std::map<std::string, FieldSpec> specs = list_specs(checked.with.setup);
    for (const KeyValue& value : checked.values) {
        RecheckedValue one{value.key,
                           value.value,
                           find_note(result.setup, value.key),
                           find_value(before, value.key),
                           find_value(after, value.key),
                           std::nullopt,
                           {}};
        const auto spec = specs.find(value.key);
        const bool later = one.after && one.after->reading && spec != specs.end();
        if (later && one.after->reading->tolerance == 0.0)
            one.after->reading->tolerance = find_retake_error(spec->second);
        if (later && one.before && one.before->reading)
            one.movement = find_movement(*one.before->reading, *one.after->reading);
        if (later) compare_with_log(one, spec->second, log);
        one.outcome = find_outcome(one);
        result.values.push_back(std::move(one));
    }
    return result;
}

}  // namespace hitchwright
