// The panel of inputs: every key can be reached, looking changes nothing, and what is typed counts or is refused with words.
#include <catch2/catch.hpp>

#include <set>

#include "geometry/visit_readings.h"
#include "gui/field_edits.h"
#include "gui/shortcuts.h"
#include "presets/quantity.h"
#include "presets/setup_values.h"
#include "tests/gui/headless.h"
#include "tests/gui/screen_text.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double inch = 0.0254;

std::vector<std::string> list_demos() {
    std::vector<std::string> names;
    const Library library;
    for (const PresetEntry& entry : library.list(FileKind::setup)) names.push_back(entry.key);
    return names;
}

/// Types a text into a field without a window: what the field would do.
std::string enter(AppState& app, const std::string& key, std::string_view text) {
    const SetupEntry* e = find_entry(app, key);
    REQUIRE(e != nullptr);
    const SetupEntry own = *e;
    return enter_entry(app, own, text);
}

}  // namespace

TEST_CASE("inputs: every value of every demo is a field of the panel, in walking order", "[gui][demo]") {
    for (const std::string& demo : list_demos()) {
        INFO("set-up " << demo);
        Headless window(demo);
        AppState& app = window.app();
        std::set<std::string> keys;
        for (const SetupEntry& e : list_entries(app).entries) {
            INFO(e.key);
            CHECK(keys.insert(e.key).second);
            CHECK_FALSE(e.what.empty());
        }
        int values = 0;
        for (const SetupValue& v : list_values(app.now.setup)) {
            if (v.key.starts_with("rules") || v.key.ends_with(".use")) continue;
            if (!v.reading && (v.text == "unknown" || v.text == "none" || v.text == "rigid" || v.text == "right")) continue;  // what holds as long as nobody says anything
            INFO(v.key);
            CHECK(keys.count(v.key) == 1);
            ++values;
        }
        CHECK(values > 80);
        const auto& entries = list_entries(app).entries;
        for (std::size_t i = 1; i < entries.size(); ++i) CHECK(entries[i - 1].place.station <= entries[i].place.station);
    }
}

TEST_CASE("inputs: going to a key opens its part and lets one type there", "[gui]") {
    for (const char* demo : {"utility-cutter-sheet", "utility-drawn-cutter-fits"}) {
        Headless window(demo);
        AppState& app = window.app();
        std::vector<std::string> keys;
        std::set<std::string> parts;
        // One text field of every part of the walk.
        for (const SetupEntry& e : list_entries(app).entries) {
            const bool text = e.form == CardForm::quantity || e.form == CardForm::name;
            if (text && parts.insert(std::to_string(static_cast<int>(e.place.station)) + (e.place.specification ? "s" : "")).second) keys.push_back(e.key);
        }
        REQUIRE(keys.size() > 10);
        for (const std::string& key : keys) {
            INFO(demo << " " << key);
            go_to_input(app, key);
            window.settle(6);
            CHECK(app.view.focus == key);
            CHECK(app.view.fields[key].active);
        }
        CHECK_FALSE(has_changes(app));
    }
}

TEST_CASE("inputs: a round trip from inches to millimetres and back, with a look into every field, changes nothing", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const Snapshot before = app.now;
    for (const SetupEntry& e : list_entries(app).entries) {
        app.view.inputs.open.insert(e.list.empty() ? std::string{} : "list " + e.list);
    }
    for (const UnitSystem units : {UnitSystem::millimetre, UnitSystem::inch}) {
        app.view.units = units;
        window.settle();
        std::vector<SetupEntry> all = list_entries(app).entries;
        int looked_at = 0;
        for (const SetupEntry& e : all) {
            if (e.form != CardForm::quantity && e.form != CardForm::name) continue;
            go_to_input(app, e.key);
            window.settle(4);
            INFO(e.key);
            // Left with Enter, as somebody does who only looked.
            CHECK(app.view.focus == e.key);
            window.press_key(ImGui::GetKeyIndex(ImGuiKey_Enter));
            ++looked_at;
        }
        CHECK(looked_at > 100);
        CHECK(app.now.edits == before.edits);
        CHECK(app.now.setup == before.setup);
    }
    CHECK_FALSE(can_undo(app));
}

TEST_CASE("inputs: what a field shows is read back as the value it has", "[gui][demo]") {
    for (const std::string& demo : list_demos()) {
        Headless window(demo);
        AppState& app = window.app();
        for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre}) {
            app.view.units = units;
            for (const SetupEntry& e : std::vector<SetupEntry>(list_entries(app).entries)) {
                if (e.form != CardForm::quantity || !e.reading.known || e.place.specification) continue;
                const std::string shown = show_entry_value(app, e);
                INFO(demo << " " << e.key << " shows " << shown);
                const Quantity q = parse_quantity(shown, e.spec.dimension);
                REQUIRE(q.ok());
                // Six digits.
                CHECK(q.value == Approx(e.reading.value).epsilon(6e-6).margin(1e-9));
            }
        }
    }
}

TEST_CASE("inputs: numbers, rubbish, negative and impossible values in every kind of field", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    struct Typed {
        const char* key;
        const char* text;
        double value;  ///< SI
    };
    for (const Typed& t : {Typed{"tractor.pto.stub_x", "13-1/4", 13.25 * inch}, Typed{"tractor.pto.stub_z", "2'1 1/2\"", 25.5 * inch},
                           Typed{"implement.mass.mass", "1000", 1000 * 0.45359237}, Typed{"tractor.pto.stub_slope", "-2", -2 * 3.14159265358979 / 180},
                           Typed{"tractor.mass.front_share", "0.4", 0.4}, Typed{"driveline.guard.radius", "70 mm +- 2 mm", 0.070}}) {
        INFO(t.key << " <- " << t.text);
        CHECK(enter(app, t.key, t.text).empty());
        CHECK(find_entry(app, t.key)->reading.value == Approx(t.value).epsilon(1e-9));
    }
    CHECK(find_entry(app, "driveline.guard.radius")->reading.tolerance == Approx(0.002).epsilon(1e-9));
    const Setup before = app.now.setup;
    for (const SetupEntry& e : std::vector<SetupEntry>(list_entries(app).entries)) {
        if (e.form == CardForm::name || e.place.specification) continue;
        INFO(e.key);
        CHECK_FALSE(enter_entry(app, e, "rubbish").empty());
        if (e.form == CardForm::quantity) {
            CHECK_FALSE(enter_entry(app, e, "nan").empty());
            CHECK_FALSE(enter_entry(app, e, "1e30").empty());
            if (e.spec.least >= 0.0) CHECK_FALSE(enter_entry(app, e, "-3").empty());
        }
        if (e.form == CardForm::whole) CHECK_FALSE(enter_entry(app, e, "-3").empty());
    }
    CHECK(app.now.setup == before);
}

TEST_CASE("inputs: Escape brings the old text back, F1 opens the hint, F2 finds a reading by a word", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const Setup before = app.now.setup;
    window.press_key(key_f1 + 1);
    window.settle();
    CHECK(app.view.focus == "find");
    window.type_into("find", "stub");
    CHECK(app.view.inputs.find == "stub");
    REQUIRE(window.is_shown("tractor.pto.stub_x"));
    CHECK(screen_says("PTO: stub, behind the hub"));
    window.type_into("find", "no such word anywhere");
    CHECK(screen_says("No reading has"));
    window.type_into("find", "");
    go_to_input(app, "tractor.pto.stub_x");
    window.settle(4);
    window.press_key(key_f1);
    window.settle();
    CHECK(app.view.inputs.hint == "tractor.pto.stub_x");
    CHECK(window.is_shown("sketch tractor.pto.stub_x"));
    CHECK_FALSE(app.view.shows_keys);
    ImGui::GetIO().AddInputCharactersUTF8("99 ft");
    window.settle(2);
    CHECK(app.view.fields["tractor.pto.stub_x"].text.find("99 ft") != std::string::npos);
    window.press_key(ImGui::GetKeyIndex(ImGuiKey_Escape));
    window.settle();
    CHECK(app.view.fields["tractor.pto.stub_x"].text == "14 in");
    CHECK(app.now.setup == before);
    CHECK_FALSE(can_undo(app));
}

TEST_CASE("inputs: a value typed into one item of a list counts, and the items behind it stay in sight", "[gui]") {
    Headless window("utility-cutter-fits", {}, {1280.0F, 1400.0F});
    AppState& app = window.app();
    const auto& pins = app.now.setup.tractor.upper_link_pins;
    REQUIRE(pins.size() > 2);
    const std::string first = "tractor.upper_link_pin[" + pins[0].name + "].x", second = "tractor.upper_link_pin[" + pins[1].name + "].x";
    const double before = pins[1].x.value;
    app.view.inputs.go_to = first;
    window.settle(6);
    REQUIRE(app.view.focus == first);
    window.tap(ImGuiKey_A, true);
    window.type("9 1/4");
    window.tap(ImGuiKey_Enter);
    window.settle();
    CHECK(app.now.setup.tractor.upper_link_pins[0].x.value == Approx(9.25 * inch).margin(1e-12).epsilon(0));
    CHECK(app.now.setup.tractor.upper_link_pins[1].x.value == before);
    CHECK(app.view.places.at(second).frame == ImGui::GetFrameCount());
}

TEST_CASE("inputs: items of lists are added and taken out, and undone", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const auto pins = [&] { return app.now.setup.tractor.upper_link_pins; };
    const auto list = [&] {
        for (const EntryList& l : list_entries(app).lists) {
            if (l.key == "tractor.upper_link_pin") return l;
        }
        FAIL("no list of upper-link holes");
        return EntryList{};
    };
    const auto before = pins();
    CHECK_FALSE(add_item(app, list(), "", {{"x", "8 in"}, {"z", "36 in"}}).empty());
    CHECK_FALSE(add_item(app, list(), before.front().name, {{"x", "8 in"}, {"z", "36 in"}}).empty());
    CHECK_FALSE(add_item(app, list(), "9", {{"x", "8 in"}, {"z", ""}}).empty());
    CHECK_FALSE(add_item(app, list(), "9", {{"x", "rubbish"}, {"z", "36 in"}}).empty());
    CHECK(pins() == before);
    CHECK(add_item(app, list(), "9", {{"x", "8"}, {"z", "36 1/2"}}).empty());
    REQUIRE(pins().size() == before.size() + 1);
    CHECK(pins().back().name == "9");
    CHECK(pins().back().z.value == Approx(36.5 * inch).epsilon(1e-12));
    CHECK(enter(app, "tractor.upper_link_pin[9].x", "7 in").empty());
    CHECK(pins().back().x.value == Approx(7 * inch).epsilon(1e-12));
    // What the window does is what the options to copy do.
    const LoadedSetup again = load_setup(app.name, app.library, {app.now.edits.sets, app.now.edits.rules});
    REQUIRE(again.ok());
    CHECK(again.setup == app.now.setup);
    CHECK(take_item(app, list(), "9").empty());
    CHECK(pins() == before);
    CHECK(take_item(app, list(), before.front().name).empty());
    CHECK(pins().size() == before.size() - 1);
    undo(app);
    CHECK(pins() == before);
}

TEST_CASE("inputs: the origin of a value is changed by its word and moves no number", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const Reading before = find_entry(app, "tractor.pto.stub_x")->reading;
    REQUIRE(before.origin == Origin::preset);
    const SetupEntry e = *find_entry(app, "tractor.pto.stub_x");
    CHECK(change_origin(app, e, "manual").empty());
    const Reading after = find_entry(app, "tractor.pto.stub_x")->reading;
    CHECK(after.origin == Origin::manual);
    CHECK(after.value == before.value);
    CHECK(after.tolerance == Approx(before.tolerance).epsilon(1e-9));
    // A value typed later keeps the origin that was said.
    CHECK(enter(app, "tractor.pto.stub_x", "13 in").empty());
    CHECK(find_entry(app, "tractor.pto.stub_x")->reading.value == Approx(13 * inch).epsilon(1e-12));
    CHECK(find_entry(app, "tractor.pto.stub_x")->reading.origin == Origin::manual);
}

TEST_CASE("inputs: an error said apart from the value stays when the origin is changed", "[gui]") {
    Headless window("utility-cutter-fits", {{"choices.working_pitch.value=2 deg", "choices.working_pitch.tolerance=1 deg"}, ""});
    AppState& app = window.app();
    const Reading before = find_entry(app, "choices.working_pitch")->reading;
    REQUIRE(before.tolerance == Approx(std::acos(-1.0) / 180.0).epsilon(1e-9));
    CHECK(change_origin(app, *find_entry(app, "choices.working_pitch"), "manual").empty());
    const Reading after = find_entry(app, "choices.working_pitch")->reading;
    CHECK(after.origin == Origin::manual);
    CHECK(after.value == Approx(before.value).epsilon(1e-12));
    CHECK(after.tolerance == Approx(before.tolerance).epsilon(1e-9));
}

TEST_CASE("inputs: F1 on a choice or a switch opens its hint, and only elsewhere the list of keys", "[gui]") {
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    const auto find = [&](CardForm form) {
        for (const SetupEntry& e : list_entries(app).entries) {
            if (e.form == form && e.list.empty()) return e.key;
        }
        FAIL("no such field");
        return std::string{};
    };
    for (const std::string& key : {find(CardForm::word), find(CardForm::flag)}) {
        CAPTURE(key);
        go_to_input(app, key);
        window.settle(6);
        REQUIRE(app.view.focus == key);
        window.press_key(key_f1);
        CHECK(app.view.inputs.hint == key);
        CHECK_FALSE(app.view.shows_keys);
        window.press_key(key_f1);
        CHECK(app.view.inputs.hint.empty());
        CHECK_FALSE(app.view.shows_keys);
    }
    window.press_key(key_f1 + 2);  // to the picture
    window.settle();
    window.press_key(key_f1);
    CHECK(app.view.inputs.hint.empty());
    CHECK(app.view.shows_keys);
}
