// The room of answers: what stands there is what the commands print, and what a person ticks or tries counts.
#include <catch2/catch.hpp>

#include <algorithm>
#include <sstream>
#include <string>

#include "cli/run_cli.h"
#include "cli/seen_list.h"
#include "cli/seen_words.h"
#include "gui/answers.h"
#include "gui/export.h"
#include "tests/gui/headless.h"
#include "tests/gui/screen_text.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

std::string print(const std::vector<std::string>& words) {
    std::istringstream in;
    std::ostringstream out, err;
    run_cli(words, {in, out, err});
    INFO("err: " << err.str());
    CHECK(err.str().empty());
    return out.str();
}

/// The blocks of the answer chosen as the terminal prints them.
std::string print_shown(AppState& app) { return format_blocks(make_answer(app), {app.view.units, 80, false}); }

void choose(Headless& window, AnswerKind kind) {
    window.app().view.side_room = SideRoom::answers;
    window.app().view.answers.kind = kind;
    window.settle();
}

std::size_t place_of(SeenKind kind) {
    const auto items = seen_items();
    const auto found = std::find_if(items.begin(), items.end(), [&](const SeenItem& i) { return i.kind == kind; });
    REQUIRE(found != items.end());
    return static_cast<std::size_t>(found - items.begin());
}

/// Every sentence of the answer can be read when somebody scrolls through the room.
void check_all_is_said(Headless& window) {
    std::vector<std::string> missing;
    for (const AnswerBlock& b : make_answer(window.app())) {
        if (b.place == BlockPlace::terminal || b.kind == BlockKind::table || b.text.empty()) continue;
        missing.push_back(b.text);
    }
    REQUIRE_FALSE(missing.empty());
    scroll_to_top("answers");
    window.settle();
    do {
        window.settle();
        std::erase_if(missing, [](const std::string& s) { return screen_says(s); });
    } while (scroll_on("answers"));
    for (const std::string& sentence : missing) FAIL_CHECK("not on the screen: " << sentence);
}

}  // namespace

TEST_CASE("answers: the blocks shown are those the command prints, with the window's edits", "[gui]") {
    const std::pair<AnswerKind, const char*> mounted[] = {{AnswerKind::loads, "load"}, {AnswerKind::shafts, "shafts"}, {AnswerKind::lines, "lines"}};
    const std::pair<AnswerKind, const char*> drawn[] = {
        {AnswerKind::drawbar, "drawbar"}, {AnswerKind::ditch, "ditch"}, {AnswerKind::turns, "envelope"}, {AnswerKind::shafts, "shafts"}};
    const auto check = [](const std::string& setup, const std::string& edit, const auto& answers) {
        Headless window(setup);
        AppState& app = window.app();
        REQUIRE(change_value(app, edit.substr(0, edit.find('=')), edit.substr(edit.find('=') + 1)).empty());
        for (const UnitSystem units : {UnitSystem::inch, UnitSystem::millimetre}) {
            app.view.units = units;
            for (const auto& [kind, command] : answers) {
                INFO(setup << " " << command);
                choose(window, kind);
                REQUIRE(shown_answer(app).choice == kind);
                // Cuts are rounded to the mark of the start.
                std::vector<std::string> words{command, setup, "--set", edit, "--units", units == UnitSystem::inch ? "in" : "mm"};
                if (units == UnitSystem::millimetre && kind != AnswerKind::lines && kind != AnswerKind::turns) words.insert(words.end(), {"--mark", "1/16 in"});
                CHECK(print_shown(app) == print(words));
            }
        }
    };
    check("compact-tiller-bottoms-out", "choices.lift_stop=26 in", mounted);
    check("utility-drawn-cutter-short", "choices.turn_left_most=40", drawn);
}

TEST_CASE("answers: how sure it is says what --trust says, line by line", "[gui]") {
    for (const char* setup : {"compact-tiller-bottoms-out", "utility-drawn-cutter-short"}) {
        INFO(setup);
        Headless window(setup);
        choose(window, AnswerKind::trust);
        const std::string section = print_shown(window.app());
        CHECK(section.size() > 60);
        CHECK(print({"fit", setup, "--trust"}).find(section) != std::string::npos);
    }
}

TEST_CASE("answers: every sentence and caution of every answer can be read on the screen", "[gui][demo]") {
    for (const char* setup : {"compact-tiller-bottoms-out", "utility-drawn-cutter-short"}) {
        for (const ImVec2 size : {ImVec2{800.0F, 600.0F}, ImVec2{1280.0F, 800.0F}}) {
            Headless window(setup, {}, size);
            for (const AnswerEntry& entry : answer_entries()) {
                if (!is_there(window.app(), entry) || is_paper(entry.choice) || entry.choice == AnswerKind::wrong) continue;
                INFO(setup << " " << entry.name << " " << size.x);
                choose(window, entry.choice);
                CHECK(find_text_faults(window.app().view).empty());
                check_all_is_said(window);
            }
        }
    }
}

TEST_CASE("answers: a press on a listed shaft tries it, and undo takes it back", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, {1600.0F, 1400.0F});
    AppState& app = window.app();
    choose(window, AnswerKind::shafts);
    const std::vector<AnswerBlock> blocks = make_answer(app);
    const auto other = std::find_if(blocks.begin(), blocks.end(), [](const AnswerBlock& b) { return !b.key.empty(); });
    REQUIRE(other != blocks.end());
    const std::string key = other->key, before = app.now.setup.driveline.key;
    REQUIRE(key != before);
    window.click("try " + key);
    CHECK(app.now.setup.driveline.key == key);
    CHECK(has_changes(app));
    // The answer was made anew: now that shaft is the one of the set-up.
    const std::vector<AnswerBlock>& after = make_answer(app);
    CHECK(std::none_of(after.begin(), after.end(), [&](const AnswerBlock& b) { return b.key == key; }));
    window.click("Undo");
    CHECK(app.now.setup.driveline.key == before);
}

TEST_CASE("answers: an answer is made once for a state and anew for the next", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    choose(window, AnswerKind::loads);
    CHECK_FALSE(is_stale(app));
    const int revision = app.view.answers.made.revision;
    window.settle();
    CHECK(app.view.answers.made.revision == revision);
    REQUIRE(change_value(app, "choices.lift_stop", "24 in").empty());
    CHECK(is_stale(app));
    window.settle();
    CHECK_FALSE(is_stale(app));
    app.view.units = UnitSystem::millimetre;
    CHECK(is_stale(app));
}

TEST_CASE("answers: everything on the list of what can be seen is understood as it is meant", "[gui][cli]") {
    for (const char* setup : {"compact-tiller-bottoms-out", "utility-drawn-cutter-short"}) {
        Headless window(setup);
        int tried = 0;
        for (const SeenItem& item : seen_items()) {
            if (!is_there(item, window.app().now.setup)) continue;
            for (const SeenSpot& spot : list_spots(item, window.app().now.setup)) {
                for (const bool more : {true, false}) {
                    const bool angle = seen_dimension(item.kind) == Dimension::angle;
                    const std::string text = compose_seen(item, angle ? "2 deg" : "3 in", more, spot);
                    INFO(text);
                    const SeenText read = read_seen(text, UnitSystem::inch, window.app().now.setup);
                    CHECK(read.problem.empty());
                    REQUIRE(read.seen.size() == 1);
                    CHECK(read.seen[0].kind == item.kind);
                    const bool named = *spot.phrase != '\0';
                    CHECK((read.seen[0].place != SeenPlace::usual) == named);
                    if (item.more != nullptr) {
                        CHECK(read.seen[0].against_setup);
                        CHECK((read.seen[0].value > 0.0) == more);
                    }
                    ++tried;
                }
            }
        }
        CHECK(tried > 40);
    }
}

TEST_CASE("answers: what is ticked is traced as the command line traces it", "[gui]") {
    Headless window("compact-tiller-bottoms-out", {}, {1600.0F, 1800.0F});
    AppState& app = window.app();
    choose(window, AnswerKind::wrong);
    CHECK(make_answer(app).empty());
    const std::size_t tail = place_of(SeenKind::tail_height), knocks = place_of(SeenKind::knocks);
    const std::string tick = "seen " + std::to_string(tail);
    window.click(tick);
    REQUIRE(app.view.answers.seen.at(tail).ticked);
    CHECK(app.view.answers.seen.at(tail).problem == "Type how much.");
    CHECK(screen_says("Type how much."));
    window.type_into(tick + " number", "3 in");
    window.click(tick + " less");
    window.click(tick + " spot 1");
    CHECK(list_seen(app) == std::vector<std::string>{"tail 3 in low at working height"});
    CHECK(print_shown(app) == print({"trace", "compact-tiller-bottoms-out", "--seen", "tail 3 in low at working height"}));
    window.click("more seen");
    window.click("seen " + std::to_string(knocks));
    window.click("more seen");
    window.click("all causes");
    CHECK(print_shown(app) == print({"trace", "compact-tiller-bottoms-out", "--seen", "tail 3 in low at working height", "--seen", "shaft knocks", "--all"}));
    // What cannot be read is said beside its tick and left out.
    window.type_into(tick + " number", "rubbish");
    CHECK(list_seen(app) == std::vector<std::string>{"shaft knocks"});
    CHECK_FALSE(app.view.answers.seen.at(tail).problem.empty());
}

TEST_CASE("answers: what is ticked and what the questions show is never cut off", "[gui]") {
    for (const ImVec2 size : {ImVec2{800.0F, 600.0F}, ImVec2{1280.0F, 800.0F}, ImVec2{2560.0F, 1440.0F}}) {
        Headless window("compact-tiller-bottoms-out", {}, size);
        for (const SeenKind kind : {SeenKind::tail_height, SeenKind::pitch, SeenKind::ball_height, SeenKind::knocks})
            window.app().view.answers.seen[place_of(kind)] = {true, "2", false, 1, {}};
        window.app().view.answers.all_causes = true;
        choose(window, AnswerKind::wrong);
        for (int i = 0; i < 12; ++i) {
            for (const std::string& fault : find_text_faults(window.app().view)) FAIL_CHECK(size.x << ": " << fault);
            if (!scroll_on("answers")) break;
            window.settle();
        }
        window.app().view.take.open = true;
        for (const ExportKind& kind : export_kinds()) {
            if (!is_there(window.app(), kind)) continue;
            choose_export(window.app(), kind.name);
            window.settle();
            for (const std::string& fault : find_text_faults(window.app().view)) FAIL_CHECK(size.x << ", " << kind.name << ": " << fault);
        }
        window.app().view.take.open = false;
        window.settle();
        window.app().view.shows_keys = true;
        window.settle();
        for (const std::string& fault : find_text_faults(window.app().view)) FAIL_CHECK(size.x << ", keys: " << fault);
    }
}

TEST_CASE("answers: sheet and card are shown page by page, larger and smaller, on both papers", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    choose(window, AnswerKind::sheet);
    const PagePreview& p = app.view.answers.preview;
    REQUIRE(p.pages.size() >= 2);
    CHECK(p.pages.front().width_mm == 215.9);
    CHECK(name_page(app, p.pages.size() - 1) == "Drawing");
    window.click("Drawing");
    CHECK(p.page == p.pages.size() - 1);
    CHECK(p.pages[p.page].width_mm > p.pages[p.page].height_mm);
    const auto width = [&] { return app.view.places.at("page").right - app.view.places.at("page").left; };
    const float whole = width();
    window.click("Larger");
    CHECK(width() == Approx(1.25F * whole).margin(25.0));
    window.click("Whole width");
    CHECK(width() == Approx(whole).margin(1.0));
    window.click("A4");
    CHECK(p.pages.front().width_mm == 210.0);
    choose(window, AnswerKind::card);
    REQUIRE_FALSE(p.pages.empty());
    CHECK(p.page == 0);
    CHECK(name_page(app, 0) == "Page 1");
    window.click("As a file");
    CHECK(app.view.take.open);
    CHECK(app.view.take.path == "compact-tiller-bottoms-out-card.pdf");
    CHECK(app.view.take.a4);
}

TEST_CASE("answers: a set-up without what a question needs gets a sentence, not an empty room", "[gui]") {
    {
        Headless drawn("utility-drawn-cutter-short", {{"choices.ditch.depth="}, ""});
        choose(drawn, AnswerKind::ditch);
        CHECK(shown_answer(drawn.app()).choice == AnswerKind::ditch);
        CHECK_FALSE(make_answer(drawn.app()).empty());
    }
    // A question for drawn implements is not there; the first one stands in its place.
    Headless mounted("compact-tiller-bottoms-out");
    choose(mounted, AnswerKind::ditch);
    CHECK(shown_answer(mounted.app()).choice == AnswerKind::loads);
}
