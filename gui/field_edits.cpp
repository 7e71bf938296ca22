#include "gui/field_edits.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "gui/screen.h"
#include "presets/number_text.h"
#include "presets/quantity.h"
#include "report/card_words.h"

namespace hitchwright {
namespace {

constexpr double same_value = 1e-9;  // of an exact text, SI, relative above 1

bool same(double a, double b) { return std::fabs(a - b) <= same_value * std::max(1.0, std::fabs(b)); }

/// The screen's unit of a dimension; empty: none.
std::string unit_word(Dimension dimension, UnitSystem units) {
    CardLine line;
    line.form = CardForm::quantity;
    line.spec.dimension = dimension;
    return card_unit(line, units);
}

bool is_own_unit(std::string_view unit, UnitSystem units) {
    constexpr std::string_view inch[] = {"in", "ft", "lb", "lbf", "hp", "psi", "lbf ft", "in/turn"};
    constexpr std::string_view both[] = {"", "deg", "rad", "rpm"};
    if (std::find(std::begin(both), std::end(both), unit) != std::end(both)) return true;
    const bool customary = std::find(std::begin(inch), std::end(inch), unit) != std::end(inch);
    return customary == (units == UnitSystem::inch);
}

/// As typed; empty: in other units, or what was typed says something else.
std::string show_typed(const FieldNote& note, const SetupEntry& entry, UnitSystem units) {
    if (note.by_default || note.typed.empty()) return {};
    const Dimension dimension = entry.spec.dimension;
    const Quantity q = parse_quantity(note.typed, dimension);
    if (!q.ok() || !is_own_unit(q.unit, units) || !same(q.value, entry.reading.value)) return {};
    std::string text = escape_text(note.typed, most_quantity_characters);
    if (q.plain && dimension == Dimension::angle) text += " deg";
    if (!note.tolerance_typed.empty()) {
        const Quantity error = parse_quantity(note.tolerance_typed, dimension);
        if (!error.ok()) return {};
        text += " +- " + escape_text(note.tolerance_typed, most_quantity_characters) + (error.plain && dimension == Dimension::angle ? " deg" : "");
    }
    return text;
}

std::string show_reading(const AppState& app, const SetupEntry& entry) {
    const auto note = app.now.notes.find(entry.key);
    if (note != app.now.notes.end()) {
        const std::string typed = show_typed(note->second, entry, app.view.units);
        if (!typed.empty()) return typed;
    }
    std::string text = show_quantity(entry.reading.value, entry.spec.dimension, app.view.units);
    const bool by_default = note != app.now.notes.end() && note->second.by_default;
    if (!by_default && entry.reading.tolerance > 0.0 && !same(entry.reading.tolerance, entry.spec.tolerance))
        text += " +- " + show_quantity(entry.reading.tolerance, entry.spec.dimension, app.view.units);
    return text;
}

/// A number whose text reads as the very same: in the units of the screen, of the other system, else all digits in SI.
std::string exact_text(const AppState& app, const SetupEntry& entry, double value) {
    const Dimension dimension = entry.spec.dimension;
    const UnitSystem other = app.view.units == UnitSystem::inch ? UnitSystem::millimetre : UnitSystem::inch;
    for (const UnitSystem units : {app.view.units, other}) {
        std::string text = show_quantity(value, dimension, units);
        const Quantity q = parse_quantity(text, dimension);
        if (q.ok() && q.value == value) return text;
    }
    for (const std::string_view unit : {"", " m", " rad", " kg", " N", " N m", " W", " Pa", " rad/s"}) {
        std::string text = fmt::format("{}{}", value, unit);
        const Quantity q = parse_quantity(text, dimension);
        if (q.ok() && q.value == value) return text;
    }
    return show_quantity(value, dimension, app.view.units);
}

void refresh(AppState& app) {
    InputState& state = app.view.inputs;
    if (state.revision == app.results.revision) return;
    state.revision = app.results.revision;
    state.all = list_setup_entries(app.now.setup);
    state.wanted.clear();
    for (const Unjudged& u : app.results.analysis.unjudged) {
        for (const std::string& key : u.readings) state.wanted[key] = Wanted::for_a_question;
    }
    for (const Finding& f : app.results.analysis.findings) {
        if (f.kind == FindingKind::missing_reading) state.wanted[f.subject] = Wanted::for_the_verdict;
    }
}

/// A text with the unit that a bare number is meant in; or why it is none.
std::string add_unit(const SetupEntry& entry, std::string_view text, UnitSystem units, std::string& refused) {
    const Dimension dimension = entry.spec.dimension;
    const std::string unit = unit_word(dimension, units);
    const bool length = dimension == Dimension::length || dimension == Dimension::length_per_turn;
    const std::string_view file_unit = length ? (units == UnitSystem::inch ? "in" : "mm") : std::string_view{};
    Quantity quantity = parse_quantity(text, dimension, file_unit);
    if (quantity.ok() && !quantity.plain) return std::string(text);
    if (!quantity.ok() && quantity.status != QuantityStatus::no_unit) {
        refused = format_refusal(text, quantity);
        return {};
    }
    const std::string with_unit = unit.empty() ? std::string(text) : fmt::format("{} {}", text, unit);
    if (quantity.ok() && quantity.has_tolerance && !unit.empty()) {
        // The file may have another unit for bare numbers than the screen.
        refused = fmt::format("\"{}\": with an error behind it a number needs its unit, such as 23 in +- 1/8 in", escape_text(text, 80));
        return {};
    }
    quantity = parse_quantity(with_unit, dimension, file_unit);
    if (!quantity.ok()) refused = format_refusal(text, quantity);
    return quantity.ok() ? with_unit : std::string{};
}

}  // namespace

const SetupEntries& list_entries(AppState& app) {
    refresh(app);
    return app.view.inputs.all;
}

const SetupEntry* find_entry(AppState& app, std::string_view key) {
    for (const SetupEntry& e : list_entries(app).entries) {
        if (e.key == key) return &e;
    }
    return nullptr;
}

const Wanted* find_wanted(AppState& app, std::string_view key) {
    refresh(app);
    const Wanted* found = nullptr;
    for (const auto& [wanted, why] : app.view.inputs.wanted) {
        const bool below = wanted.starts_with(key) && (wanted.size() == key.size() || wanted[key.size()] == '[' || wanted[key.size()] == '.');
        if (below && (found == nullptr || why == Wanted::for_the_verdict)) found = &why;
    }
    return found;
}

std::string show_quantity(double value, Dimension dimension, UnitSystem units) {
    if (dimension == Dimension::length && units == UnitSystem::inch) {
        const std::string fraction = format_inches(value);
        const Quantity q = parse_quantity(fraction, dimension);
        if (q.ok() && same(q.value, value)) return fraction;
    }
    const std::string unit = unit_word(dimension, units);
    const Quantity one = parse_quantity("1 " + unit, dimension);
    const double number = one.ok() && one.value != 0.0 ? value / one.value : value;
    const double shown = std::round(number * 1e9) / 1e9;  // 0.1 + 0.2 is 0.3
    return fmt::format("{:.6g}{}{}", shown == 0.0 ? 0.0 : shown, unit.empty() ? "" : " ", unit);
}

std::string show_entry_value(const AppState& app, const SetupEntry& entry) {
    if (entry.form != CardForm::quantity) return entry.text;
    return entry.reading.known ? show_reading(app, entry) : std::string{};
}

std::string enter_entry(AppState& app, const SetupEntry& entry, std::string_view typed) {
    const std::string_view text = trim(typed);
    std::string value(text), refused;
    if (!text.empty() && entry.form == CardForm::quantity) value = add_unit(entry, text, app.view.units, refused);
    if (!refused.empty()) return refused;
    return say_problem(change_edits(app, with_field(app.now.edits, entry.key, value)));
}

std::string change_origin(AppState& app, const SetupEntry& entry, std::string_view word) {
    if (!entry.reading.known) return "A value that is not there comes from nowhere.";
    std::string text = find_value(app.now.edits, entry.key + ".value").value_or(find_value(app.now.edits, entry.key).value_or(""));
    const bool typed = !text.empty(), own_error = find_value(app.now.edits, entry.key + ".tolerance").has_value();
    if (!typed) text = exact_text(app, entry, entry.reading.value);
    // An error that stands apart from the text would go with the value before.
    if (entry.reading.tolerance > 0.0 && (!typed || (own_error && text.find("+-") == std::string::npos)))
        text += " +- " + exact_text(app, entry, entry.reading.tolerance);
    return say_problem(change_edits(app, with_field(app.now.edits, entry.key, text, word)));
}

std::string add_item(AppState& app, const EntryList& list, std::string_view name,
                     const std::vector<std::pair<std::string, std::string>>& values) {
    const std::string_view id = trim(name);
    if (id.empty()) return "Give the new one a name or a number.";
    if (id.find_first_of("[]=+") != std::string_view::npos) return "A name has no [ ] = or + in it.";
    Edits edits = app.now.edits;
    for (const auto& [leaf, typed] : values) {
        const std::string key = list.key + "." + leaf;
        const auto field = std::find_if(list.new_item.begin(), list.new_item.end(), [&](const SetupEntry& e) { return e.key == key; });
        std::string refused;
        std::string value(trim(typed));
        if (value.empty()) return fmt::format("{}: this value is missing.", leaf);
        if (field != list.new_item.end()) value = add_unit(*field, value, app.view.units, refused);
        if (!refused.empty()) return refused;
        edits = with_value(std::move(edits), fmt::format("{}[+{}].{}", list.key, id, leaf), value);
    }
    if (values.empty()) edits = with_value(std::move(edits), fmt::format("{}[+{}].name", list.key, id), id);
    return say_problem(change_edits(app, std::move(edits)));
}

std::string take_item(AppState& app, const EntryList& list, std::string_view item) {
    const std::string own = fmt::format("{}[{}]", list.key, item), added = fmt::format("{}[+{}].", list.key, item);
    const bool was_added = std::any_of(app.now.edits.sets.begin(), app.now.edits.sets.end(),
                                       [&](const std::string& s) { return key_of(s).starts_with(added); });
    Edits edits = without_values(without_values(app.now.edits, added), own + ".");
    if (!was_added) edits = with_value(std::move(edits), own, "");
    return say_problem(change_edits(app, std::move(edits)));
}

}  // namespace hitchwright
