// Every field of the set-up in walking order: parts that fold, a field to find one by a word, lists with their items.
#include <algorithm>
#include <cctype>
#include <optional>

#include <fmt/format.h>

#include "gui/entry_field.h"
#include "gui/field_edits.h"
#include "gui/origin_marks.h"
#include "gui/palette.h"
#include "gui/panels.h"
#include "gui/typing.h"
#include "presets/rule_fields.h"
#include "report/card_words.h"
#include "report/field_words.h"
#include "report/safe_words.h"

namespace hitchwright {
namespace {

constexpr const char* not_given = "not given";

std::string place_title(const EntryPlace& place) {
    if (place.specification) return "Specification lines";
    return place.station == Station::none ? "The job" : std::string(station_title(place.station));
}

std::string place_name(const EntryPlace& place) {
    if (place.specification) return "part specification";
    return place.station == Station::none ? "part job" : "part " + std::string(station_word(place.station));
}

bool is_drawn(const AppState& app) { return app.now.setup.implement.attachment == Attachment::drawn; }

std::string label_of(const AppState& app, const SetupEntry& e) {
    std::string label = field_label(e.pattern, is_drawn(app));
    // The nearest word above stands in the heading of its item.
    return label;
}

std::string full_label(const AppState& app, const SetupEntry& e) {
    const std::string label = label_of(app, e);
    return e.list.empty() ? label : fmt::format("{} {}: {}", list_label(e.list), escape_text(e.item, 40), label);
}

std::string lower(std::string_view text) {
    std::string low(text);
    std::transform(low.begin(), low.end(), low.begin(), [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
    return low;
}

/// Every word of the search stands somewhere in key, label or what it is.
bool is_found(const AppState& app, const SetupEntry& e, std::string_view find) {
    const std::string hay = lower(e.key + " " + full_label(app, e) + " " + e.what + " " + place_title(e.place));
    const std::string words = lower(find);
    for (std::size_t at = 0; at < words.size();) {
        const std::size_t end = std::min(words.find(' ', at), words.size());
        if (end > at && hay.find(words.substr(at, end - at)) == std::string::npos) return false;
        at = end + 1;
    }
    return true;
}

/// What is in a part, for its header.
struct Counts {
    int fields = 0, given = 0, missing = 0, wanted = 0, assumed = 0;
};

Counts count(AppState& app, const EntryPlace& place) {
    Counts c;
    for (const SetupEntry& e : list_entries(app).entries) {
        if (e.place != place) continue;
        ++c.fields;
        c.given += e.known ? 1 : 0;
        c.assumed += e.form == CardForm::quantity && e.reading.known && e.reading.origin == Origin::assumed ? 1 : 0;
        const Wanted* wanted = e.known || !e.list.empty() ? nullptr : find_wanted(app, e.key);
        if (wanted != nullptr) ++(*wanted == Wanted::for_the_verdict ? c.missing : c.wanted);
    }
    for (const EntryList& l : list_entries(app).lists) {
        const Wanted* wanted = l.place == place ? find_wanted(app, l.key) : nullptr;
        if (wanted != nullptr) ++(*wanted == Wanted::for_the_verdict ? c.missing : c.wanted);
    }
    return c;
}

std::string say_counts(const EntryPlace& place, const Counts& c) {
    std::string text = fmt::format("{}: {} of {} given", place_title(place), c.given, c.fields);
    if (c.assumed > 0) text += fmt::format(", {} assumed", c.assumed);
    if (c.wanted > 0) text += fmt::format(", {} would tell more", c.wanted);
    if (c.missing > 0) text += fmt::format("; ! {} MISSING", c.missing);
    return text;
}

bool is_open(InputState& state, const std::string& name) { return state.open.count(name) > 0; }

void fold(Screen& screen, const std::string& name, std::string_view words) {
    InputState& state = screen.app.view.inputs;
    bool open = is_open(state, name);
    use_go_to(screen, name);
    show_fold(screen, name, words, open);
    if (open) state.open.insert(name);
    else state.open.erase(name);
}

/// A field of a part, unless it stands in the upper part of the panel already.
void show_entry(Screen& screen, const SetupEntry& e, const std::string& label) {
    if (screen.app.view.inputs.shown.count(e.key) > 0) return show_quiet_text(label + ": set above.");
    show_entry_field(screen, e, label, not_given);
    ImGui::Spacing();
}

/// Fields for one more item, and the button that adds it.
void show_new_item(Screen& screen, const EntryList& list) {
    AppState& app = screen.app;
    const std::string name = list.key + "[+]";
    show_text("Another " + list_label(list.key) + ":", screen.fonts.bold, palette().ink);
    std::vector<std::pair<std::string, std::string>> values;
    const auto keep = [&](const std::string& key, const char* hint) {
        FieldText& field = app.view.fields[key];
        if (const auto typed = show_text_control(screen, key, field.text, hint)) field.text = *typed;
        // Kept until the item is added, whatever else is computed anew, and named before it would be lost.
        field.message = field.text.find_first_not_of(' ') == std::string::npos ? "" : not_added;
        return field.text;
    };
    const std::string id = keep(name, "name or number");
    for (const SetupEntry& e : list.new_item) {
        const std::string leaf = e.key.substr(list.key.size() + 1);
        show_text(label_of(app, e));
        values.emplace_back(leaf, keep(name + "." + leaf, "a value"));
        if (ImGui::IsItemHovered()) show_hint(screen, e.what);
    }
    ImGui::PushID(name.c_str());
    const bool pressed = show_button("Add");
    ImGui::PopID();
    remember_place(screen, "add " + list.key);
    const std::string refusal_key = "add " + list.key;
    if (pressed) {
        const std::string refused = add_item(app, list, id, values);
        if (refused.empty()) std::erase_if(app.view.fields, [&](const auto& f) { return f.first.starts_with(name); });
        app.view.fields[refusal_key].message = refused;
    }
    const std::string& message = app.view.fields[refusal_key].message;
    if (!message.empty()) show_warning(message);
}

/// By value: what is typed into an item makes all entries anew.
void show_list(Screen& screen, EntryList list) {  // NOLINT(performance-unnecessary-value-param)
    AppState& app = screen.app;
    const int revision = app.results.revision;
    const std::string label = list_label(list.key);
    const Wanted* wanted = list.items.empty() ? find_wanted(app, list.key) : nullptr;
    fold(screen, "list " + list.key, fmt::format("{}: {}{}", label, list.items.empty() ? "none listed" : fmt::format("{} listed", list.items.size()),
                                                 wanted != nullptr && *wanted == Wanted::for_the_verdict ? "; ! MISSING" : ""));
    if (!is_open(app.view.inputs, "list " + list.key)) return;
    show_quiet_text(list.what);
    for (const std::string& item : list.items) {
        show_text(fmt::format("{} {}", label, escape_text(item, 60)), screen.fonts.bold, palette().ink);
        for (const SetupEntry& e : list_entries(app).entries) {
            if (e.list == list.key && e.item == item) show_entry(screen, e, label_of(app, e));
            if (app.results.revision != revision) return;  // the entries were made anew
        }
        ImGui::PushID((list.key + "/" + item).c_str());
        const bool pressed = show_button("Take out");
        ImGui::PopID();
        remember_place(screen, "take out " + list.key + "[" + item + "]");
        if (ImGui::IsItemHovered()) show_hint(screen, "Takes it out of the list; Undo brings it back. In a file this is done by hand.");
        if (!pressed) continue;
        const std::string refused = take_item(app, list, item);
        if (!refused.empty()) app.view.notice = "Not changed: " + refused;
        return;
    }
    show_new_item(screen, list);
}

void show_place(Screen& screen, const EntryPlace& place) {
    AppState& app = screen.app;
    const std::string name = place_name(place);
    fold(screen, name, say_counts(place, count(app, place)));
    if (!is_open(app.view.inputs, name)) return;
    const int revision = app.results.revision;
    for (const SetupEntry& e : list_entries(app).entries) {
        if (e.place == place && e.list.empty()) show_entry(screen, e, label_of(app, e));
        if (app.results.revision != revision) return;  // the entries were made anew
    }
    for (const EntryList& list : list_entries(app).lists) {
        if (list.place == place) show_list(screen, list);
        if (app.results.revision != revision) return;
    }
}

/// Only what the words are found in, unfolded.
void show_found(Screen& screen, const std::string& find) {
    AppState& app = screen.app;
    const int revision = app.results.revision;
    int found = 0;
    EntryPlace place{Station::none, false};
    for (const SetupEntry& e : list_entries(app).entries) {
        if (!is_found(app, e, find)) continue;
        if (found++ == 0 || e.place != place) show_heading(screen, place_title(e.place));
        place = e.place;
        show_entry(screen, e, full_label(app, e));
        if (app.results.revision != revision) return;
    }
    if (found == 0) show_text("No reading has \"" + escape_text(find, 40) + "\" in its name or in what it is.");
}

/// The limits of the rule set with grade and source; they are changed by choosing another one.
class LimitRows {
public:
    explicit LimitRows(Screen& screen) : screen_(screen) {}
    void text(const char*, std::string&, const char*) {}
    void limit(const char* key, Limit& l, const FieldSpec& spec) {
        const std::string value = l.set ? show_quantity(l.value, spec.dimension, screen_.app.view.units) : "none";
        show_text(fmt::format("{}: {}", spec.measure, value));
        if (l.set) show_quiet_text(format_source(l));
        remember_place(screen_, std::string("rules.") + key);
    }

private:
    Screen& screen_;
};

void show_rule_values(Screen& screen) {
    fold(screen, "part rules", "Rules: the limits of " + escape_text(screen.app.now.setup.rules.name, 60));
    if (!is_open(screen.app.view.inputs, "part rules")) return;
    show_quiet_text("They are changed by choosing another rule set above, or in a file of one's own: hitchwright rules.");
    RuleSet rules = screen.app.now.setup.rules;
    visit_fields(rules, LimitRows(screen));
}

/// Opens what hides the field that is to be gone to.
void open_way(AppState& app) {
    InputState& state = app.view.inputs;
    if (state.go_to.empty()) return;
    if (++state.tries > 3) {
        state.go_to.clear();
        return;
    }
    state.find.clear();
    for (const EntryList& l : list_entries(app).lists) {
        if (state.go_to != l.key && !state.go_to.starts_with(l.key + "[")) continue;
        state.open.insert(place_name(l.place));
        state.open.insert("list " + l.key);
        if (state.go_to == l.key) state.go_to = "list " + l.key;
        return;
    }
    for (const SetupEntry& e : list_entries(app).entries) {
        if (e.key == state.go_to) state.open.insert(place_name(e.place));
    }
}

}  // namespace

void go_to_input(AppState& app, const std::string& key) {
    app.view.inputs.go_to = key;
    app.view.inputs.tries = 0;
}

bool show_find(Screen& screen) {
    AppState& app = screen.app;
    InputState& state = app.view.inputs;
    state.shown.clear();
    open_way(app);
    show_text("Find a reading");
    if (use_area(screen, "inputs")) state.go_to = "find";
    use_go_to(screen, "find");
    if (const auto typed = show_text_control(screen, "find", state.find, "type a word")) state.find = *typed;
    else if (app.view.fields["find"].active) state.find = app.view.fields["find"].text;
    ImGui::Separator();
    if (state.find.find_first_not_of(' ') == std::string::npos) return false;
    show_found(screen, state.find);
    return true;
}

void show_all_readings(Screen& screen) {
    AppState& app = screen.app;
    ImGui::Separator();
    show_heading(screen, "All readings, in walking order");
    show_origin_legend(screen);
    std::vector<EntryPlace> places;
    for (const SetupEntry& e : list_entries(app).entries) {
        if (std::find(places.begin(), places.end(), e.place) == places.end()) places.push_back(e.place);
    }
    for (const EntryList& l : list_entries(app).lists) {
        if (std::find(places.begin(), places.end(), l.place) == places.end()) places.push_back(l.place);
    }
    const int revision = app.results.revision;
    for (const EntryPlace& place : places) {
        // Rules come before the job, which is last.
        if (place == EntryPlace{}) show_rule_values(screen);
        show_place(screen, place);
        if (app.results.revision != revision) return;
    }
}

}  // namespace hitchwright
