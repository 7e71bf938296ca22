// Values of fields as edits: text put in, origins, items of lists. Nothing here draws.
#pragma once

#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "gui/app_state.h"
#include "geometry/setup_entries.h"

namespace hitchwright {

/// The field of that key; null: the set-up has none. Of the list made anew whenever the set-up changes.
const SetupEntry* find_entry(AppState& app, std::string_view key);

/// All fields and lists of the set-up as it is.
const SetupEntries& list_entries(AppState& app);

/// Why a key is wanted; null: it is not. Keys below it count, too.
const Wanted* find_wanted(AppState& app, std::string_view key);

/// A field's value as it stands in its text field: as it was typed where its unit is one of the screen's, else in the
/// screen's units, exact as far as six digits go, with its error where that is not the usual one. Empty: not known.
std::string show_entry_value(const AppState& app, const SetupEntry& entry);

/// A number of that dimension in the screen's units: a fraction where it is one, else six digits.
std::string show_quantity(double value, Dimension dimension, UnitSystem units);

/// Takes a text for a field, as if typed into it; the reason why it was refused, or nothing. A bare number has the unit of
/// the screen.
std::string enter_entry(AppState& app, const SetupEntry& entry, std::string_view text);

/// Says of a known reading where it comes from: "measured", "manual", "preset" or "assumed".
std::string change_origin(AppState& app, const SetupEntry& entry, std::string_view word);

/// Adds an item with what it must have (key behind the dot, text); the reason why not, or nothing.
std::string add_item(AppState& app, const EntryList& list, std::string_view name,
                     const std::vector<std::pair<std::string, std::string>>& values);

/// Takes an item out.
std::string take_item(AppState& app, const EntryList& list, std::string_view item);

}  // namespace hitchwright
