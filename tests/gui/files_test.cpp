// Files of the window: opening, saving as another file, the list of recent ones, what the window remembers, undo
// without a limit.
#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <memory>
#include <string>

#include "geometry/setup.h"
#include "gui/changes.h"
#include "gui/file_dialog.h"
#include "gui/history.h"
#include "gui/open_setup.h"
#include "gui/save_changes.h"
#include "gui/session.h"
#include "gui/state_folder.h"
#include "gui/state_report.h"
#include "gui/typing.h"
#include "gui/window_state.h"
#include "presets/load_setup.h"
#include "presets/reading_log.h"
#include "tests/gui/headless.h"
#include "tests/gui/screen_text.h"
#include "tests/gui/work_folder.h"

using namespace hitchwright;
using hitchwright::test::has;
using hitchwright::test::Headless;
using hitchwright::test::screen_says;
using hitchwright::test::read;
using hitchwright::test::WorkFolder;
using hitchwright::test::write;

namespace {

const std::string mine =
    "# Mine.\nkind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\nuse = \"compact\"  # blue\n[implement]\nuse = "
    "\"tiller-5\"\n[driveline]\nuse = \"shaft-31\"\n[choices]\nupper_link_pin = \"2\"\nmast_pin = "
    "\"1\"\nworking_band_low = "
    "12\nworking_band_high = 22\nlift_stop = 27 # fixed\n";

const std::string two_problems =
    "kind = \"setup\"\nversion = 1\n[tractor]\nuse = \"compact\"\n[implement]\nuse = "
    "\"tiller-5\"\n[choices]\nlift_stop = "
    "\"rubbish\"\nworking_band_hihg = \"22 in\"\n";

std::function<const char*(const char*)> variables(std::map<std::string, std::string> values) {
    return [values = std::move(values)](const char* name) -> const char* {
        const auto found = values.find(name);
        return found == values.end() ? nullptr : found->second.c_str();
    };
}

void open_by_field(Headless& window, const std::string& path) {
    window.click("Open");
    window.settle();
    REQUIRE(window.app().view.files.dialog.open);
    window.type_into("path", path);
    window.settle();
}

}  // namespace

TEST_CASE("history: two thousand steps go back and forth exactly, and what is the same is kept once", "[gui]") {
    const Library library;
    History history;
    std::vector<Snapshot> states;
    Snapshot now{{}, load_setup("compact-tiller-bottoms-out", library).setup};
    constexpr int steps = 2000;
    for (int i = 0; i < steps; ++i) {
        states.push_back(now);
        history.remember(now);
        now.edits = with_value(now.edits, "choices.lift_stop", std::to_string(i) + " mm");
        now.setup.choices.lift_stop = make_reading(0.001 * i);
    }
    CHECK(history.past.size() == steps);
    // One tractor for all steps, and the choices apart.
    CHECK(history.past.front().tractor == history.past.back().tractor);
    CHECK(history.past.front().tractor.use_count() == steps);
    CHECK(history.past.front().choices != history.past.back().choices);
    const Snapshot last = now;
    for (int i = steps - 1; i >= 0; --i) {
        REQUIRE(history.step_back(now));
        REQUIRE(now == states[static_cast<std::size_t>(i)]);
    }
    CHECK_FALSE(history.step_back(now));
    while (history.step_forward(now)) {
    }
    CHECK(now == last);
}

TEST_CASE("history: every demo comes back as it was kept, part for part", "[gui]") {
    const Library library;
    for (const PresetEntry& entry : library.list(FileKind::setup)) {
        INFO(entry.key);
        const LoadedSetup loaded = load_setup(entry.key, library);
        REQUIRE(loaded.ok());
        const Snapshot whole{{{"a=1"}, "close"}, loaded.setup};
        CHECK(restore_step(keep_step(whole, nullptr)) == whole);
    }
}

TEST_CASE("open: a path typed into the field opens, the view begins anew, and the list of recent ones has it first",
          "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    window.click("mm");
    app.view.ball_height = 0.5;
    const int revision = app.results.revision;
    open_by_field(window, "a.toml");
    CHECK_FALSE(app.view.files.dialog.open);
    CHECK(app.name == folder.at("a.toml"));
    CHECK(app.now.setup == load_setup("a.toml", Library()).setup);
    CHECK(app.results.revision > revision);
    CHECK(app.view.units == UnitSystem::millimetre);
    CHECK_FALSE(app.view.ball_height.has_value());
    REQUIRE_FALSE(app.view.files.recent.empty());
    CHECK(app.view.files.recent.front() == folder.at("a.toml"));
    // A name alone is one of the built-in set-ups.
    open_by_field(window, "utility-cutter-fits");
    CHECK(app.name == "utility-cutter-fits");
    CHECK(app.view.files.recent.size() == 2);
}

TEST_CASE("open: the folder beside the field is walked with the arrow keys and with clicks", "[gui]") {
    const WorkFolder folder;
    std::filesystem::create_directories("below");
    std::filesystem::create_directories(".hidden");
    write("below/b.toml", mine);
    write("c.toml", mine);
    write("c.log.toml", "kind = \"log\"\nversion = 1\n");
    write("words.txt", "no set-up");
    CHECK(list_setup_folder(folder.path().string()) ==
          std::vector<FolderEntry>{{"..", true}, {"below", true}, {"c.toml", false}});
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    window.press_key('O', true);
    window.settle();
    REQUIRE(app.view.files.dialog.open);
    // The field has the keyboard: down to "..", to "below", and in.
    window.tap(ImGuiKey_DownArrow);
    window.tap(ImGuiKey_DownArrow);
    CHECK(app.view.files.dialog.marked == 1);
    window.tap(ImGuiKey_Enter);
    window.settle();
    CHECK(app.view.files.dialog.folder == folder.at("below"));
    window.click("entry b.toml");
    CHECK(app.name == folder.at("below/b.toml"));
    // In the folder of what is shown the question begins the next time.
    window.press_key('O', true);
    window.settle();
    CHECK(app.view.files.dialog.folder == folder.at("below"));
    window.click("entry ..");
    window.settle();
    CHECK(app.view.files.dialog.folder == folder.path().string());
    window.click("cancel path");
    CHECK_FALSE(app.view.files.dialog.open);
}

TEST_CASE("open: a broken file leaves the set-up before, and all problems stand there with file, line and key",
          "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    write("broken.toml", two_problems);
    Headless window("a.toml");
    AppState& app = window.app();
    const Setup before = app.now.setup;
    open_by_field(window, "broken.toml");
    CHECK(app.now.setup == before);
    CHECK(app.problems.empty());
    REQUIRE(app.view.files.refused.has_value());
    const std::vector<Problem> problems = app.view.files.refused->problems;
    // The same list as the command line gives.
    CHECK(problems == load_setup(folder.at("broken.toml"), Library()).problems);
    REQUIRE(problems.size() == 2);
    CHECK((problems[0].file == folder.at("broken.toml") && problems[0].line == 8 &&
           problems[0].key == "choices.lift_stop"));
    CHECK((problems[1].line == 9 && problems[1].key == "choices.working_band_hihg"));
    window.settle();
    CHECK(window.is_shown("refused"));
    window.click("back from refused");
    CHECK_FALSE(app.view.files.refused.has_value());
    // Neither is anything lost by a file that is missing, a folder, or no set-up.
    for (const char* name : {"missing.toml", "/", "/dev/null", ""}) {
        ask_to_open(app, name);
        window.settle();
        CHECK(app.now.setup == before);
        CHECK(app.view.files.refused.has_value());
        app.view.files.refused.reset();
        window.settle();
    }
}

TEST_CASE("open: over changes that are not saved the window asks: keep, save first, or open anyway", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    write("b.toml", mine + "# b\n");
    Headless window("a.toml");
    AppState& app = window.app();
    window.type_into("choices.lift_stop", "25 in");
    REQUIRE(has_changes(app));
    ask_to_open(app, "b.toml");
    window.settle();
    CHECK(app.name == "a.toml");
    window.click("keep open");
    CHECK(app.name == "a.toml");
    CHECK(has_changes(app));
    ask_to_open(app, "b.toml");
    window.settle();
    window.click("save and open");
    window.settle();
    REQUIRE(app.view.save.open);
    window.click("Write");
    window.settle();
    CHECK(app.name == folder.at("b.toml"));
    CHECK(has(read("a.toml"), "lift_stop = \"25 in\" # fixed"));
    // Not writing after all opens nothing.
    window.type_into("choices.lift_stop", "24 in");
    ask_to_open(app, "a.toml");
    window.settle();
    window.click("save and open");
    window.settle();
    window.click("Do not write");
    window.settle();
    CHECK(app.name == folder.at("b.toml"));
    CHECK(has_changes(app));
    ask_to_open(app, "a.toml");
    window.settle();
    window.click("open anyway");
    CHECK(app.name == folder.at("a.toml"));
    CHECK(read("b.toml") == mine + "# b\n");
}

TEST_CASE("save as: the new file has every byte of the old one but the values changed, and is shown from then on",
          "[gui]") {
    const WorkFolder folder;
    std::string text = "\xEF\xBB\xBF" + mine;
    write("a.toml", text);
    Headless window("a.toml");
    AppState& app = window.app();
    window.type_into("choices.lift_stop", "25 in");
    window.click("Save as");
    window.settle();
    window.type_into("path", "b.toml");
    CAPTURE(app.view.files.dialog.message);
    CHECK_FALSE(app.view.files.dialog.open);
    CHECK(read("a.toml") == text);
    CHECK(read("b.toml") == text.replace(text.find("27 # fixed"), 2, "\"25 in\""));
    CHECK(read_log("b.log.toml").entries.size() == 1);
    CHECK(app.name == folder.at("b.toml"));
    CHECK_FALSE(has_changes(app));
    CHECK(has(app.view.notice, "Written: 1 value into the new file " + folder.at("b.toml")));
    CHECK(app.view.files.recent.front() == folder.at("b.toml"));
    // Without a change it is a copy.
    window.press_key('S', true, true);
    window.settle();
    window.type_into("path", "c.toml");
    CHECK(read("c.toml") == text);
}

TEST_CASE("save as: a file that exists is written over only after its name was said twice", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    const std::string old = "kind = \"setup\"\n# old\n";
    write("old.toml", old);
    Headless window("a.toml");
    AppState& app = window.app();
    window.click("Save as");
    window.settle();
    window.type_into("path", "old.toml");
    window.settle();
    CHECK(app.view.files.dialog.open);
    CHECK(has(app.view.files.dialog.message, "old.toml exists"));
    CHECK(read("old.toml") == old);
    // Another name typed takes the offer back.
    app.view.files.dialog.path = "other";
    window.type_into("path", "old");
    CHECK(app.view.files.dialog.over.empty());
    CHECK(has(app.view.files.dialog.message, "ends in .toml"));
    window.type_into("path", "old.toml");
    window.settle();
    window.click("write over");
    CHECK(read("old.toml") == mine);
    CHECK(app.name == folder.at("old.toml"));
}

TEST_CASE(
    "save as: the set-up's own file, a folder, a missing folder, a log's own set-up and no name are refused in words",
    "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    write("logged.toml", mine);
    write("logged.log.toml", "kind = \"log\"\nversion = 1\n");
    std::filesystem::create_directories("d.toml");
    Headless window("a.toml");
    AppState& app = window.app();
    REQUIRE(change_value(app, "choices.lift_stop", "25 in").empty());
    const auto refuse = [&](const std::string& path, Existing existing) {
        const SaveOutcome outcome = save_as(app, path, existing);
        CHECK_FALSE(outcome.written);
        return outcome.message;
    };
    for (const Existing existing : {Existing::refused, Existing::replaced}) {
        CHECK(has(refuse(folder.at("a.toml"), existing), "is the file of this set-up"));
        CHECK(has(refuse(folder.at("d.toml"), existing), "is no plain file"));
        CHECK(has(refuse(folder.at("logged.toml"), existing), "log of its own readings"));
        CHECK(has(refuse(folder.at("no/b.toml"), existing), "no/b.toml"));
        CHECK(has(refuse(folder.at("b.log.toml"), existing), "ends in .toml"));
        CHECK(has(refuse("", existing), "Type the name"));
    }
    CHECK(read("a.toml") == mine);
    CHECK(read("logged.toml") == mine);
    CHECK(app.name == "a.toml");
    CHECK(has_changes(app));
}

TEST_CASE("save as: no file of another kind is written over, least of all one that the set-up uses", "[gui]") {
    const WorkFolder folder;
    const Library library;
    const std::string tractor = library.read(*library.find(FileKind::tractor, "compact")).text;
    const std::string used = std::string(mine).replace(mine.find("\"compact\""), 9, "\"./t.toml\"");
    write("t.toml", tractor);
    write("other.toml", tractor);
    write("words.toml", "old\n");
    write("a.toml", used);
    AppState app = open_app(Library(), "a.toml", {}, UnitSystem::inch, sixteenth_inch_mark);
    REQUIRE(app.problems.empty());
    for (const Existing existing : {Existing::refused, Existing::replaced}) {
        const auto refuse = [&](const std::string& name) {
            const SaveOutcome outcome = save_as(app, folder.at(name), existing);
            CHECK_FALSE(outcome.written);
            CHECK_FALSE(outcome.may_replace);
            return outcome.message;
        };
        CHECK(has(refuse("t.toml"), "this set-up uses"));
        CHECK(has(refuse("other.toml"), "is a tractor file"));
        CHECK(has(refuse("words.toml"), "does not say that it is a set-up"));
    }
    CHECK(read("t.toml") == tractor);
    CHECK(read("other.toml") == tractor);
    CHECK(read("words.toml") == "old\n");
}

TEST_CASE("save as: the name of who took the values has its field, goes into the log, and stays for the next time", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    Headless window("a.toml");
    AppState& app = window.app();
    window.type_into("choices.lift_stop", "25 in");
    window.click("Save as");
    window.settle();
    window.type_into("save as by", "A. Turner");
    window.type_into("path", "b.toml");
    CAPTURE(app.view.files.dialog.message);
    REQUIRE_FALSE(app.view.files.dialog.open);
    REQUIRE(read_log("b.log.toml").entries.size() == 1);
    CHECK(has(read("b.log.toml"), "A. Turner"));
    CHECK(app.view.save.by == "A. Turner");
}

TEST_CASE("save as: a file of the list taken with the arrow keys is answered for by the next Enter", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    write("b.toml", mine + "# b\n");
    AppState app = open_app(Library(), "a.toml", {}, UnitSystem::inch, sixteenth_inch_mark);
    start_file_dialog(app, FileWish::save_as);
    FileDialog& dialog = app.view.files.dialog;
    for (int i = 0; i < 3; ++i) move_mark(dialog, 1);
    REQUIRE(dialog.entries[static_cast<std::size_t>(dialog.marked)].name == "b.toml");
    take_entry(app, dialog.marked);
    CHECK(dialog.path == "b.toml");
    CHECK(dialog.marked == -1);
}

TEST_CASE("open: a set-up that comes while \"save as\" is asked ends the question", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    write("b.toml", mine + "# b\n");
    Headless window("a.toml");
    AppState& app = window.app();
    window.click("Save as");
    window.settle();
    REQUIRE(app.view.files.dialog.open);
    ask_to_open(app, "b.toml");  // as a file that is dropped
    window.settle();
    CHECK(app.name == folder.at("b.toml"));
    CHECK_FALSE(app.view.files.dialog.open);
}

TEST_CASE("files: undo and redo go over a file that was changed as it is, and say so", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    const auto with_stop = [](const char* stop) { return std::string(mine).replace(mine.find("27 # fixed"), 2, stop); };
    AppState app = open_app(Library(), "a.toml", {}, UnitSystem::inch, sixteenth_inch_mark);
    REQUIRE(change_value(app, "choices.working_band_low", "13 in").empty());
    write("a.toml", with_stop("26"));
    // What no change of the window explains stands among the changes.
    ChangeList changes = list_changes(app);
    REQUIRE(changes.unexplained.size() == 1);
    CHECK(has(changes.unexplained.front(), "choices.lift_stop"));
    CHECK(changes.values.size() == 1);
    undo(app);
    CHECK(app.now.setup == load_setup("a.toml", Library()).setup);
    CHECK(app.source.text == with_stop("26"));
    CHECK(has(app.view.notice, "The files were changed"));
    CHECK_FALSE(has_changes(app));
    CHECK(list_changes(app).unexplained.empty());
    redo(app);
    CHECK(app.now.setup.choices.lift_stop.value == Approx(26 * 0.0254).margin(1e-12).epsilon(0));
    CHECK(app.now.edits.sets == std::vector<std::string>{"choices.working_band_low=13 in"});
    write("a.toml", with_stop("25"));
    REQUIRE(read_again(app).empty());
    undo(app);
    CHECK(has(app.view.notice, "changed since that step"));
    CHECK(app.now.setup == load_setup("a.toml", Library()).setup);
    std::filesystem::remove("a.toml");
    redo(app);
    CHECK(has(app.view.notice, "cannot be read"));
    CHECK(app.now.edits.sets == std::vector<std::string>{"choices.working_band_low=13 in"});
}

TEST_CASE("files: a change that is refused leaves the files as the window had them, and a sentence is not lost to another",
          "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    AppState app = open_app(Library(), "a.toml", {{"choices.cut_tractor_half=1 in"}, {}}, UnitSystem::inch, sixteenth_inch_mark);
    REQUIRE(app.problems.empty());
    const Setup first = app.first_setup;
    app.view.notice = "Before.";
    write("a.toml", std::string(mine).replace(mine.find("27 # fixed"), 2, "26"));
    CHECK_FALSE(change_value(app, "choices.lift_stop", "rubbish").empty());
    CHECK(app.source.text == mine);
    CHECK(app.first_setup == first);
    CHECK(app.view.notice == "Before.");
    REQUIRE(change_driveline(app, "shaft-28").empty());
    CHECK(has(app.view.notice, "The files were changed"));
    CHECK(has(app.view.notice, "The cuts belonged"));
    CHECK(app.source.text != mine);
}

TEST_CASE("files: reading again keeps the window's own view after problems, and finds machines that came", "[gui]") {
    const WorkFolder folder;
    write("a.toml", two_problems);
    AppState app = open_app(Library(folder.at("yard")), "a.toml", {}, UnitSystem::millimetre, millimetre_mark);
    REQUIRE_FALSE(app.problems.empty());
    app.view.theme = Theme::dark;
    app.view.scale = 1.5F;
    app.view.side_room = SideRoom::changes;
    app.view.files.recent = {"/x.toml"};
    const int revision = app.results.revision;
    write("a.toml", mine);
    REQUIRE(read_again(app).empty());
    REQUIRE(app.problems.empty());
    CHECK(app.view.theme == Theme::dark);
    CHECK(app.view.scale == 1.5F);
    CHECK(app.view.side_room == SideRoom::changes);
    CHECK(app.view.files.recent == std::vector<std::string>{"/x.toml"});
    CHECK(app.results.revision > revision);
    const Library library;
    std::filesystem::create_directories("yard/drivelines");
    write("yard/drivelines/new-one.toml", library.read(*library.find(FileKind::driveline, "shaft-31")).text);
    app.view.yard.lists = std::make_shared<const YardLists>();
    app.view.yard.answer = std::make_shared<const YardAnswer>();
    REQUIRE(read_again(app).empty());
    const auto is_new = [](const NamedPreset& p) { return p.key == "new-one"; };
    CHECK(std::any_of(app.drivelines.begin(), app.drivelines.end(), is_new));
    CHECK(app.view.yard.lists == nullptr);
    CHECK(app.view.yard.answer == nullptr);
}

TEST_CASE("typing: what stands in a field is taken before anything is saved, opened or closed", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    write("b.toml", mine + "# b\n");
    Headless window("a.toml");
    AppState& app = window.app();
    const auto begin_typing = [&](const char* text) {
        window.click("choices.lift_stop");
        window.tap(ImGuiKey_A, true);
        window.type(text);
        REQUIRE(is_typing(app));
    };
    begin_typing("25 in");
    window.press_key('S', true);
    CHECK(app.now.edits.sets == std::vector<std::string>{"choices.lift_stop=25 in"});
    REQUIRE(app.view.save.open);
    window.click("Do not write");
    undo(app);
    window.settle();
    begin_typing("24 in");
    window.press_key('Q', true);
    CHECK(app.view.asks_to_close);
    CHECK_FALSE(app.view.closed);
    CHECK(app.now.edits.sets == std::vector<std::string>{"choices.lift_stop=24 in"});
    window.click("Keep the window open");
    undo(app);
    window.settle();
    begin_typing("23 in");
    window.press_key('O', true);
    CHECK(app.view.files.dialog.open);
    CHECK(app.now.edits.sets == std::vector<std::string>{"choices.lift_stop=23 in"});
    window.click("cancel path");
    undo(app);
    window.settle();
    // A file dropped, and the window's own cross.
    begin_typing("22 in");
    ask_to_open(app, "b.toml");
    window.settle();
    CHECK(app.name == "a.toml");
    CHECK(app.now.edits.sets == std::vector<std::string>{"choices.lift_stop=22 in"});
    window.click("keep open");
    undo(app);
    window.settle();
    begin_typing("21 in");
    ask_to_close(app);
    window.settle();
    CHECK_FALSE(app.view.closed);
    CHECK(app.view.asks_to_close);
    CHECK(app.now.edits.sets == std::vector<std::string>{"choices.lift_stop=21 in"});
}

TEST_CASE("typing: a text that was refused stays, and is asked about before it would be lost", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    write("b.toml", mine + "# b\n");
    Headless window("a.toml");
    AppState& app = window.app();
    window.click("choices.lift_stop");
    window.tap(ImGuiKey_A, true);
    window.type("rubbish");
    window.press_key('Q', true);
    CHECK_FALSE(has_changes(app));
    CHECK_FALSE(app.view.closed);
    REQUIRE(app.view.asks_to_close);
    REQUIRE(list_refused_texts(app).size() == 1);
    CHECK(has(list_refused_texts(app).front(), "choices.lift_stop: \"rubbish\""));
    window.click("Keep the window open");
    ask_to_open(app, "b.toml");
    window.settle();
    CHECK(app.name == "a.toml");
    window.click("keep open");
    CHECK(app.view.fields["choices.lift_stop"].text == "rubbish");
    window.press_key('S', true);
    CHECK_FALSE(app.view.save.open);
    CHECK(has(app.view.notice, "rubbish"));
    // With nothing typed and nothing changed the window closes at once.
    window.type_into("choices.lift_stop", "27 in");
    undo(app);
    window.settle();
    window.press_key('Q', true);
    CHECK(app.view.closed);
}

TEST_CASE("files: a file dropped on the window is opened, over changes only after a question, and of several the first", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    write("b.toml", mine + "# b\n");
    Headless window("a.toml");
    AppState& app = window.app();
    const std::string b = folder.at("b.toml"), a = folder.at("a.toml"), none = folder.at("none.toml");
    const char* const one[] = {b.c_str()};
    const char* const two[] = {a.c_str(), b.c_str()};
    const char* const missing[] = {none.c_str()};
    drop_files(app, {});
    CHECK(app.name == "a.toml");
    drop_files(app, one);
    window.settle();
    CHECK(app.name == b);
    CHECK(app.view.notice.empty());
    REQUIRE(change_value(app, "choices.lift_stop", "25 in").empty());
    drop_files(app, two);
    window.settle();
    CHECK(app.name == b);
    CHECK(app.view.notice == "Of 2 files dropped only the first counts: " + a + ".");
    window.click("open anyway");
    CHECK(app.name == a);
    drop_files(app, missing);
    window.settle();
    CHECK(app.name == a);
    REQUIRE(app.view.files.refused);
    CHECK(app.view.files.refused->name == none);
}

TEST_CASE("typing: what was typed for another item of a list and not added is named before it would be lost", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    write("b.toml", mine + "# b\n");
    Headless window("a.toml", {}, {1280.0F, 2400.0F});
    AppState& app = window.app();
    go_to_input(app, "tractor.upper_link_pin");
    window.settle(6);
    REQUIRE(window.is_shown("tractor.upper_link_pin[+].x"));
    window.type_into("tractor.upper_link_pin[+].x", "8 in");
    CHECK_FALSE(has_changes(app));
    const std::string line = "tractor.upper_link_pin[+].x: \"8 in\" (typed for another one, and not added)";
    CHECK(list_refused_texts(app) == std::vector<std::string>{line});
    // Closing and opening ask.
    window.press_key('Q', true);
    CHECK_FALSE(app.view.closed);
    REQUIRE(app.view.asks_to_close);
    CHECK(screen_says(line));
    window.click("Keep the window open");
    ask_to_open(app, "b.toml");
    window.settle();
    CHECK(app.name == "a.toml");
    CHECK(screen_says(line));
    window.click("keep open");
    // Writing something else says what is not among it, and leaves it in its field.
    window.press_key('S', true);
    CHECK(app.view.notice == "There is nothing to write. Typed and not taken: " + line);
    REQUIRE(change_value(app, "choices.lift_stop", "25 in").empty());
    window.settle();
    window.click("Write into a file");
    window.settle();
    REQUIRE(app.view.save.possible);
    CHECK(screen_says("Typed and not taken, so not among what is written:"));
    CHECK(screen_says(line));
    window.click("Write");
    CHECK_FALSE(has_changes(app));
    CHECK(app.view.fields["tractor.upper_link_pin[+].x"].text == "8 in");
    window.press_key('Q', true);
    CHECK_FALSE(app.view.closed);
    window.click("Keep the window open");
    // Blanks are nothing.
    app.view.fields["tractor.upper_link_pin[+].x"].text = "  ";
    window.settle();
    window.press_key('Q', true);
    CHECK(app.view.closed);
}

TEST_CASE("window state: it comes back as written, and whatever else stands in the file is no more than a quiet word",
          "[gui]") {
    WindowState state;
    state.size = WindowSize{1024, 700};
    state.units = UnitSystem::millimetre;
    state.theme = "dark";
    state.scale = 1.25;
    state.side_room = "findings";
    state.lower_room = "lift";
    state.recent = {"/a b/\"c\".toml", "utility-cutter-fits"};
    const ReadWindowState again = parse_window_state(format_window_state(state));
    CHECK(again.state == state);
    CHECK(again.left_out.empty());
    CHECK(parse_window_state(format_window_state({})).state == WindowState{});
    const std::string head = "kind = \"window\"\nversion = 1\n";
    for (const char* bad : {"width = 1", "height = 1e9", "units = \"furlong\"", "units = 3", "scale = nan",
                            "scale = 99", "theme = [1]", "recent = \"x\"", "recent = [1, 2]"}) {
        INFO(bad);
        const ReadWindowState some = parse_window_state(head + bad + "\nlater = 7\n");
        CHECK(some.state == WindowState{});
        CHECK(has(some.left_out, std::string(bad).substr(0, std::string(bad).find(' '))));
    }
    for (const char* text :
         {"", "rubbish", "kind = \"setup\"\nversion = 1\n", "kind = \"window\"\nversion = 2\n", "\xFF\xFE", "a = ["}) {
        INFO(text);
        CHECK(parse_window_state(text).state == WindowState{});
        CHECK(has(parse_window_state(text).left_out, "begins anew"));
    }
}

TEST_CASE("window state: two windows that write it lose none of each other's set-ups, and no temporary file stays",
          "[gui]") {
    const WorkFolder folder;
    const std::string file = folder.at("window.toml");
    WindowState one, other;
    one.recent = {"/one.toml"};
    other.recent = {"/other.toml"};
    CHECK(save_window_state(file, one).empty());
    CHECK(save_window_state(file, other).empty());
    CHECK(load_window_state(file).state.recent == std::vector<std::string>{"/other.toml", "/one.toml"});
    CHECK(std::distance(std::filesystem::directory_iterator("."), std::filesystem::directory_iterator{}) == 1);
    std::vector<std::string> recent;
    for (int i = 0; i < 40; ++i) note_recent(recent, "/" + std::to_string(i % 20) + ".toml");
    CHECK(recent.size() == most_recent);
    CHECK(recent.front() == "/19.toml");
    note_recent(recent, "/bad\x1b.toml");
    CHECK(recent.front() == "/19.toml");
}

TEST_CASE("state folder: the variables are followed, and relative or missing ones give none", "[gui]") {
    CHECK(find_state_folder(variables({{"XDG_STATE_HOME", "/s"}, {"HOME", "/h"}})) == "/s/hitchwright");
    CHECK(find_state_folder(variables({{"XDG_STATE_HOME", "s"}, {"HOME", "/h"}})) == "/h/.local/state/hitchwright");
    CHECK(find_state_folder(variables({{"HOME", ""}})).empty());
    CHECK(find_state_folder(variables({})).empty());
}

TEST_CASE("session: without a set-up the one opened last is shown, else the demo, and a lost file is said", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    const std::string state = folder.at("state");
    {
        Session first(state);
        AppState app = first.open(Library(), {});
        CHECK(app.name == demo_setup);
        first.begin(app);
        REQUIRE(open_setup(app, "a.toml"));
        app.view.units = UnitSystem::millimetre;
        app.view.theme = Theme::dark;
        first.end(app, {900, 700});
    }
    const auto start = [&](AppState& app) {
        Session session(state);
        ViewerOptions options;
        session.fill_options(options);
        CHECK(options.size == WindowSize{900, 700});
        CHECK(options.mark == millimetre_mark);
        app = session.open(Library(), options);
        session.begin(app);
        session.end(app, {900, 700});
    };
    AppState app((Library()));
    start(app);
    CHECK(app.name == folder.at("a.toml"));
    CHECK(app.view.units == UnitSystem::millimetre);
    CHECK(app.view.theme == Theme::dark);
    std::filesystem::remove("a.toml");
    start(app);
    CHECK(app.name == demo_setup);
    CHECK(has(app.view.notice, "a.toml, opened last, cannot be read"));
    // What was typed goes before what was kept.
    const Session again(state);
    ViewerOptions typed;
    typed.says_size = typed.says_units = true;
    again.fill_options(typed);
    CHECK(typed.size == WindowSize{});
    CHECK(typed.units == UnitSystem::inch);
}

TEST_CASE("session: without a state folder the window works and says so, and a file in its place is no crash either",
          "[gui]") {
    const WorkFolder folder;
    write("file", "no folder");
    for (const std::string& state : {std::string(), folder.at("file/state"), std::string("/proc/hitchwright")}) {
        INFO(state);
        Session session(state);
        CHECK(has(session.troubles(), "changes are not kept against a crash"));
        AppState app = session.open(Library(), {});
        session.begin(app);
        REQUIRE(change_value(app, "choices.lift_stop", "25 in").empty());
        session.follow(app);
        session.end(app, {900, 700});
        CHECK(app.problems.empty());
    }
    CHECK(std::distance(std::filesystem::directory_iterator("."), std::filesystem::directory_iterator{}) == 1);
}

TEST_CASE("state report: what is shown stands in it, and only controls that are on the screen", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    window.type_into("choices.lift_stop", "25 in");
    window.click("Open");
    window.settle();
    const int frame = ImGui::GetFrameCount();
    std::string report = format_state_report(app, {frame, frame, 1280.0F, 800.0F, "/x"});
    for (const char* part :
         {"\"schema\": \"hitchwright.window\"", "\"question\": \"open\"", "\"choices.lift_stop=25 in\"",
          "\"can_undo\": true", "\"can_redo\": false", "\"has_changes\": true", "\"units\": \"in\"",
          "\"answer path\": {", "\"recovery_file\": \"/x\"", "\"focus\": \"path\""}) {
        INFO(part);
        CHECK(has(report, part));
    }
    window.click("cancel path");
    window.settle();
    const int later = ImGui::GetFrameCount();
    report = format_state_report(app, {later, later, 1280.0F, 800.0F, ""});
    CHECK_FALSE(has(report, "\"answer path\""));
    CHECK(has(report, "\"question\": \"none\""));
}

TEST_CASE("files: the questions are drawn at every size without a crash", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    Headless window("a.toml");
    AppState& app = window.app();
    for (const FileWish wish : {FileWish::open, FileWish::save_as}) {
        start_file_dialog(app, wish);
        for (const auto& [width, height] : {std::pair{400.0F, 300.0F}, {800.0F, 600.0F}, {2560.0F, 1440.0F}}) {
            window.resize(width, height);
            CHECK(window.is_shown("answer path"));
            const ScreenRect r = app.view.places.at("answer path");
            CHECK((r.left >= 0.0F && r.top >= 0.0F && r.right <= width && r.bottom <= height));
        }
        app.view.files.dialog.open = false;
        window.settle();
    }
}
