// Tables of what can be shown, one button each: the rooms of the window (rooms.h) and the answers (answers.h).
#pragma once

#include <optional>
#include <span>
#include <string_view>

namespace hitchwright {

struct AppState;

/// One of several that exclude each other, with its button.
template <class Choice>
struct TableEntry {
    Choice choice;
    const char* word;  ///< on the button
    const char* name;  ///< on the command line and in kept state
    const char* hint;  ///< what one finds there, in a sentence
    bool (*is_there_for)(const AppState& app) = nullptr;  ///< nullptr: always
};

template <class Choice>
bool is_there(const AppState& app, const TableEntry<Choice>& entry) {
    return entry.is_there_for == nullptr || entry.is_there_for(app);
}

/// The choice of that name; nothing: there is none.
template <class Entry>
auto find_named(std::span<const Entry> table, std::string_view name) -> std::optional<decltype(Entry::choice)> {
    for (const Entry& entry : table) {
        if (name == entry.name) return entry.choice;
    }
    return std::nullopt;
}

/// The entry of a choice, or the first where that one is not there for this set-up.
template <class Entry, class Choice>
const Entry& find_shown(std::span<const Entry> table, Choice choice, const AppState& app) {
    for (const Entry& entry : table) {
        if (entry.choice == choice && is_there(app, entry)) return entry;
    }
    return table.front();
}

}  // namespace hitchwright
