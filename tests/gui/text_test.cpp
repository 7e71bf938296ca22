// What can be read on the screen: every caution of every demo, and at every size no text cut off, none on another.
#include <catch2/catch.hpp>

#include <algorithm>
#include <map>
#include <set>
#include <string>

#include <imgui_internal.h>

#include "cli/seen_list.h"
#include "gui/answers.h"
#include "gui/field_edits.h"
#include "gui/finding_search.h"
#include "gui/rooms.h"
#include "report/card_words.h"
#include "report/caution_text.h"
#include "report/finding_text.h"
#include "report/fit_report.h"
#include "report/side_view.h"
#include "tests/gui/headless.h"
#include "tests/gui/screen_text.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

std::vector<std::string> list_demos() {
    std::vector<std::string> names;
    const Library library;
    for (const PresetEntry& entry : library.list(FileKind::setup)) names.push_back(entry.key);
    return names;
}

/// All that the findings say when somebody scrolls through them.
std::set<std::string> read_through(Headless& window, std::string_view panel, const std::vector<std::string>& sentences) {
    std::set<std::string> missing(sentences.begin(), sentences.end());
    scroll_to_top(panel);
    window.settle();
    do {
        window.settle();
        std::erase_if(missing, [](const std::string& s) { return screen_says(s); });
    } while (scroll_on(panel));
    return missing;
}

std::vector<std::string> list_cautions(const AppState& app) {
    std::vector<std::string> all;
    const FindingContext context = make_finding_context(app.now.setup, app.results.analysis, app.view.units);
    for (const Finding& finding : app.results.analysis.findings) {
        for (const std::string& caution : describe_finding(finding, context).cautions) all.push_back(caution);
    }
    for (const Caution caution : list_closing_cautions(app.results.analysis)) all.emplace_back(caution_sentence(caution));
    return all;
}

/// Every fault while somebody scrolls a panel from its top to its end.
std::vector<std::string> find_faults_through(Headless& window, std::string_view panel) {
    std::vector<std::string> faults;
    scroll_to_top(panel);
    window.settle();
    do {
        window.settle(2);
        for (std::string& fault : find_text_faults(window.app().view)) faults.push_back(std::move(fault));
    } while (scroll_on(panel));
    return faults;
}

/// Everything of the panel of inputs folded out.
void unfold_readings(AppState& app) {
    std::set<std::string>& open = app.view.inputs.open;
    open = {"part job", "part specification", "part rules"};
    for (const SetupEntry& e : list_entries(app).entries) {
        if (e.place.station != Station::none) open.insert("part " + std::string(station_word(e.place.station)));
    }
    for (const EntryList& l : list_entries(app).lists) {
        if (l.place.station != Station::none) open.insert("part " + std::string(station_word(l.place.station)));
        open.insert("list " + l.key);
    }
}

/// Everything that can be seen at the machine, ticked, with a number where one is asked for.
void tick_everything(AppState& app) {
    for (std::size_t i = 0; i < seen_items().size(); ++i) app.view.answers.seen[i] = {true, i % 3 == 2 ? "" : i % 3 == 1 ? "2 deg" : "1 1/2 in", i % 2 == 0, 0, {}};
    app.view.answers.lists_more = app.view.answers.all_causes = true;
}

const ImVec2 small_and_usual[] = {{800.0F, 600.0F}, {1280.0F, 800.0F}};

std::string say_case(const std::string& demo, ImVec2 size, UnitSystem units) {
    return demo + (units == UnitSystem::inch ? ", in, " : ", mm, ") + std::to_string(static_cast<int>(size.x)) + " wide";
}

}  // namespace

TEST_CASE("screen: text is read back as it was written, with its place", "[gui]") {
    Headless window("utility-cutter-fits");
    const std::vector<ScreenWords> words = read_screen();
    REQUIRE(words.size() > 40);
    const auto found = std::find_if(words.begin(), words.end(), [](const ScreenWords& w) { return w.text == "Undo"; });
    REQUIRE(found != words.end());
    const ImVec2 middle = window.middle_of("Undo");
    CHECK(found->least.x < middle.x);
    CHECK(found->most.x > middle.x);
    CHECK(found->least.y < middle.y);
    CHECK(found->most.y > middle.y);
    CHECK(screen_says(window.app().now.setup.name));
    CHECK_FALSE(screen_says("Nothing of the kind is written here."));
}

TEST_CASE("screen: text cut off by its panel and text on other text are found", "[gui]") {
    Headless window("utility-cutter-fits");
    ImGui::NewFrame();
    ImGui::SetNextWindowPos({10.0F, 10.0F});
    ImGui::SetNextWindowSize({120.0F, 80.0F});
    ImGui::Begin("narrow", nullptr, ImGuiWindowFlags_NoDecoration | ImGuiWindowFlags_NoSavedSettings);
    ImGui::TextUnformatted("this line is far longer than the panel it stands in");
    ImGui::GetWindowDrawList()->AddText({20.0F, 50.0F}, palette().ink, "one");
    ImGui::GetWindowDrawList()->AddText({26.0F, 53.0F}, palette().ink, "two");
    ImGui::End();
    ImGui::Render();
    const std::vector<std::string> faults = find_text_faults(window.app().view);
    REQUIRE(faults.size() == 2);
    CHECK(faults[0].starts_with("cut off: \"this line"));
    CHECK(faults[1].starts_with("on each other: \"one\""));
}

TEST_CASE("screen: every caution of every demo can be read, and those that always hold without scrolling", "[gui][demo]") {
    for (const std::string& demo : list_demos()) {
        INFO("set-up " << demo);
        Headless window(demo);
        for (const Caution caution : standing_cautions) {
            if (caution == Caution::keep_from_turning_shaft && !window.app().now.setup.implement.pic.fitted) continue;
            INFO(caution_sentence(caution));
            CHECK(screen_says(caution_sentence(caution)));
        }
        const std::vector<std::string> cautions = list_cautions(window.app());
        REQUIRE_FALSE(cautions.empty());
        for (const std::string& missing : read_through(window, "findings", cautions)) FAIL_CHECK("not on the screen: " << missing);
    }
}

TEST_CASE("screen: no text is cut off or lies on another, from 800x600 to 2560x1440, in every room of every demo", "[gui][demo]") {
    const ImVec2 sizes[] = {{800.0F, 600.0F}, {1024.0F, 700.0F}, {1280.0F, 800.0F}, {1920.0F, 1080.0F}, {2560.0F, 1440.0F}};
    for (const std::string& demo : list_demos()) {
        for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre}) {
            Headless window(demo);
            window.app().view.units = units;
            for (const ImVec2 size : sizes) {
                for (const RoomEntry<SideRoom>& room : side_rooms()) {
                    window.app().view.side_room = room.choice;
                    window.resize(size.x, size.y);
                    for (const std::string& fault : find_text_faults(window.app().view))
                        FAIL_CHECK(demo << (units == UnitSystem::inch ? ", in, " : ", mm, ") << size.x << "x" << size.y << ", " << room.name << ": " << fault);
                }
                window.app().view.side_room = SideRoom::findings;
                for (const RoomEntry<LowerRoom>& room : lower_rooms()) {
                    window.app().view.lower_room = room.choice;
                    window.resize(size.x, size.y);
                    for (const std::string& fault : find_text_faults(window.app().view))
                        FAIL_CHECK(demo << (units == UnitSystem::inch ? ", in, " : ", mm, ") << size.x << "x" << size.y << ", " << room.name << ": " << fault);
                }
                SUCCEED();
            }
        }
    }
}

TEST_CASE("screen: no text is cut off or lies on another when every finding is folded out", "[gui][demo]") {
    // How text wraps hangs on the width; a high window shows in a few frames what a low one scrolls through in hundreds.
    const ImVec2 high[] = {{800.0F, 2400.0F}, {1280.0F, 2400.0F}};
    for (const std::string& demo : list_demos()) {
        Headless window(demo);
        AppState& app = window.app();
        for (const Finding& f : app.results.analysis.findings) app.view.findings.open.insert(finding_id(f));
        for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre}) {
            app.view.units = units;
            for (const ImVec2 size : high) {
                window.resize(size.x, size.y);
                for (const std::string& fault : find_faults_through(window, "findings")) FAIL_CHECK(say_case(demo, size, units) << ": " << fault);
                REQUIRE(read_through(window, "findings", {"Formula: "}).empty());
            }
        }
    }
}

TEST_CASE("screen: no text is cut off or lies on another when all readings and their lists are folded out", "[gui][demo]") {
    for (const std::string& demo : list_demos()) {
        Headless window(demo);
        AppState& app = window.app();
        unfold_readings(app);
        const UnitSystem all_units[] = {UnitSystem::inch, UnitSystem::millimetre};
        for (std::size_t i = 0; i < 2; ++i) {
            const UnitSystem units = all_units[i];
            app.view.units = units;
            window.resize(small_and_usual[i].x, small_and_usual[i].y);
            for (const std::string& fault : find_faults_through(window, "inputs")) FAIL_CHECK(say_case(demo, small_and_usual[i], units) << ": " << fault);
        }
        // Every place that has readings was open, and the last of them was on the screen.
        const SetupEntry& last = *std::find_if(list_entries(app).entries.begin(), list_entries(app).entries.end(), [](const SetupEntry& e) { return e.place == EntryPlace{}; });
        CHECK(window.is_shown(last.key));
    }
}

TEST_CASE("screen: no text is cut off or lies on another in any answer of any demo, with everything ticked", "[gui][demo]") {
    bool metric = false;  // in turn: each answer is laid out anew for each unit, which takes long
    for (const std::string& demo : list_demos()) {
        Headless window(demo);
        AppState& app = window.app();
        const UnitSystem units = metric ? UnitSystem::millimetre : UnitSystem::inch;
        metric = !metric;
        app.view.units = units;
        app.view.side_room = SideRoom::answers;
        tick_everything(app);
        for (const AnswerEntry& entry : answer_entries()) {
            if (!is_there(app, entry)) continue;
            app.view.answers.kind = entry.choice;
            for (const ImVec2 size : small_and_usual) {
                window.resize(size.x, size.y);
                for (const std::string& fault : find_faults_through(window, "answers"))
                    FAIL_CHECK(say_case(demo, size, units) << ", " << entry.name << ": " << fault);
            }
            CHECK(window.is_shown(std::string("answer ") + entry.name));
        }
    }
}

namespace {

/// The hint under the cursor; null: there is none.
const ImGuiWindow* find_hint() {
    for (const ImGuiWindow* w : GImGui->Windows) {
        if (w->Active && !w->Hidden && (w->Flags & ImGuiWindowFlags_Tooltip) != 0) return w;
    }
    return nullptr;
}

}  // namespace

TEST_CASE("screen: no hint is wider than its limit or reaches past a window of 800x600, over any control of any room", "[gui]") {
    int hints = 0;
    for (const char* const demo : {"compact-tiller-bottoms-out", "utility-drawn-cutter-short", "utility-cutter-wrong-hole"}) {
        Headless window(demo, {{"choices.lift_stop=25 in"}, ""}, {800.0F, 600.0F});
        AppState& app = window.app();
        for (const Finding& f : app.results.analysis.findings) app.view.findings.open.insert(finding_id(f));
        unfold_readings(app);
        for (const RoomEntry<SideRoom>& room : side_rooms()) {
            app.view.side_room = room.choice;
            app.view.answers.kind = AnswerKind::shafts;
            window.settle();
            const std::map<std::string, ScreenRect> places = app.view.places;
            const int frame = ImGui::GetFrameCount();
            for (const auto& [name, place] : places) {
                if (place.frame != frame || place.top > 600.0F || place.bottom < 0.0F) continue;
                window.move_to({0.5F * (place.left + place.right), std::clamp(0.5F * (place.top + place.bottom), 1.0F, 599.0F)});
                window.settle(2);
                const ImGuiWindow* const hint = find_hint();
                if (hint == nullptr) continue;
                ++hints;
                INFO(demo << ", " << room.name << ": over \"" << name << "\"");
                // A hint with a sketch has a limit of its own.
                CHECK(hint->Size.x <= std::max(find_hint_width(), 0.6F * 800.0F) + 2.0F * hint->WindowPadding.x + 1.0F);
                CHECK(hint->Pos.x >= 0.0F);
                CHECK(hint->Pos.x + hint->Size.x <= 800.0F);
            }
        }
    }
    CHECK(hints > 100);
}
