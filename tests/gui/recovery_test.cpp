// Changes kept against a crash: written after each change, gone at a clean end, offered after a window that was killed.
#include <catch2/catch.hpp>

#include <array>
#include <cstdio>
#include <filesystem>
#include <memory>
#include <string>

#include <fmt/format.h>

#include "gui/open_setup.h"
#include "gui/recovery.h"
#include "gui/session.h"
#include "presets/load_setup.h"
#include "tests/gui/headless.h"
#include "tests/gui/work_folder.h"

using namespace hitchwright;
using hitchwright::test::has;
using hitchwright::test::Headless;
using hitchwright::test::read;
using hitchwright::test::WorkFolder;
using hitchwright::test::write;

namespace {

const std::string mine =
    "# Mine.\nkind = \"setup\"\nversion = 1\nunit = \"in\"\nname = \"My tiller\"\n[tractor]\nuse = "
    "\"compact\"\n[implement]\nuse = "
    "\"tiller-5\"\n[driveline]\nuse = \"shaft-31\"\n[choices]\nupper_link_pin = \"2\"\nmast_pin = \"1\"\nlift_stop = "
    "27 # fixed\n";

AppState open_mine() { return open_app(Library(), "a.toml", {}, UnitSystem::inch, sixteenth_inch_mark); }

/// A window that ends without closing: its lock goes, its file stays.
std::string leave_changes(const std::string& folder, const char* stop) {
    Recovery window(folder);
    AppState app = open_mine();
    REQUIRE(change_value(app, "choices.lift_stop", stop).empty());
    window.follow(app);
    return window.file();
}

std::size_t count_files(const std::string& folder) {
    std::size_t count = 0;
    for (const auto& entry : std::filesystem::directory_iterator(folder)) count += entry.is_regular_file() ? 1U : 0U;
    return count;
}

}  // namespace

TEST_CASE("recovery: kept changes come back as written, whatever stands in them, and rubbish is none", "[gui]") {
    const KeptChanges kept{"/a \"b\"/c.toml",
                           "T\xC3\xB6 \\",
                           "kind = \"setup\"\n# two\nlines\t\x01\n",
                           "0123",
                           {{"x=3'2 1/2\"", "y="}, "close"}};
    CHECK(parse_kept_changes(format_kept_changes(kept)) == kept);
    for (const char* text : {"", "kind = \"changes\"", "kind = \"changes\"\nversion = 2\nsetup = \"a\"\nsets = []\n",
                             "kind = \"changes\"\nversion = 1\nsetup = \"a\"\nsets = [1]\n",
                             "kind = \"changes\"\nversion = 1\nsets = []\n", "["}) {
        INFO(text);
        CHECK_FALSE(parse_kept_changes(text).has_value());
    }
    // FNV-1a of nothing and of "a", from its definition.
    CHECK(mark_text("") == "cbf29ce484222325");
    CHECK(mark_text("a") == "af63dc4c8601ec8c");
}

TEST_CASE("recovery: the file follows each change, undo to the start takes it away, and so does a clean end", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    const std::string state = folder.at("state");
    Recovery recovery(state);
    REQUIRE(recovery.trouble().empty());
    AppState app = open_mine();
    recovery.follow(app);
    CHECK_FALSE(std::filesystem::exists(recovery.file()));
    REQUIRE(change_value(app, "choices.lift_stop", "25 in").empty());
    recovery.follow(app);
    CHECK(parse_kept_changes(read(recovery.file()))->edits.sets == std::vector<std::string>{"choices.lift_stop=25 in"});
    REQUIRE(change_value(app, "choices.lift_stop", "24 in").empty());
    recovery.follow(app);
    CHECK(parse_kept_changes(read(recovery.file()))->edits.sets == std::vector<std::string>{"choices.lift_stop=24 in"});
    CHECK(parse_kept_changes(read(recovery.file()))->setup == folder.at("a.toml"));
    undo(app);
    undo(app);
    recovery.follow(app);
    CHECK_FALSE(std::filesystem::exists(recovery.file()));
    redo(app);
    recovery.follow(app);
    CHECK(std::filesystem::exists(recovery.file()));
    recovery.end();
    CHECK(count_files(state) == 0);
    CHECK(read("a.toml") == mine);
}

TEST_CASE("recovery: two windows have files of their own, and a living window's changes are offered to nobody",
          "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    const std::string state = folder.at("state");
    AppState app = open_mine();
    REQUIRE(change_value(app, "choices.lift_stop", "25 in").empty());
    Recovery one(state);
    auto other = std::make_unique<Recovery>(state);
    CHECK(one.file() != other->file());
    one.follow(app);
    other->follow(app);
    CHECK(find_left_changes(state).empty());
    other.reset();  // ends without closing
    const auto left = find_left_changes(state);
    REQUIRE(left.size() == 1);
    CHECK(left.front().changes.title == "My tiller");
    // Held while it is looked at: a third window is not asked about the same, and does not write over it.
    CHECK(find_left_changes(state).empty());
    const Recovery third(state);
    CHECK(third.file() != left.front().file);
    CHECK(third.file() != one.file());
}

TEST_CASE("recovery: the window asks, and taking, dropping and leaving do what they say", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    const std::string state = folder.at("state");
    const std::string first = leave_changes(state, "25 in"), second = leave_changes(state, "24 in"),
                      third = leave_changes(state, "23 in");
    REQUIRE(first != second);
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    app.view.files.left = find_left_changes(state);
    REQUIRE(app.view.files.left.size() == 3);
    window.settle();
    window.click("leave kept");
    CHECK(std::filesystem::exists(first));
    window.settle();
    window.click("drop kept");
    CHECK_FALSE(std::filesystem::exists(second));
    CHECK(app.name == "utility-cutter-fits");
    window.settle();
    window.click("take kept");
    CHECK(app.name == folder.at("a.toml"));
    CHECK(app.now.edits.sets == std::vector<std::string>{"choices.lift_stop=23 in"});
    CHECK(has_changes(app));
    CHECK(has(app.view.notice, "stand over the file again"));
    // They are in one file at least, at every moment.
    CHECK(std::filesystem::exists(third));
    Recovery own(state);
    CHECK(own.file() != third);
    own.follow(app);
    CHECK(std::filesystem::exists(own.file()));
    CHECK_FALSE(std::filesystem::exists(third));
    CHECK(read("a.toml") == mine);
    undo(app);
    CHECK_FALSE(has_changes(app));
    own.end();
    // What was left for later is offered again.
    window.settle();
    CHECK(app.view.files.left.empty());
    CHECK(find_left_changes(state).size() == 1);
}

TEST_CASE(
    "recovery: a file that changed meanwhile is said, and one that is gone or broken keeps the changes where they are",
    "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    const std::string state = folder.at("state");
    const std::string kept = leave_changes(state, "25 in");
    AppState app = open_app(Library(), "utility-cutter-fits", {}, UnitSystem::inch, sixteenth_inch_mark);
    std::filesystem::rename("a.toml", "b.toml");
    {
        auto left = find_left_changes(state);
        REQUIRE(left.size() == 1);
        CHECK_FALSE(take_left_changes(app, left.front()));
        CHECK(app.name == "utility-cutter-fits");
        REQUIRE(app.view.files.refused.has_value());
        CHECK(has(app.view.files.refused->problems.front().file, "a.toml"));
    }
    CHECK(std::filesystem::exists(kept));
    write("a.toml", mine + "# and more\n");
    auto left = find_left_changes(state);
    REQUIRE(left.size() == 1);
    CHECK(take_left_changes(app, left.front()));
    CHECK(has(app.view.notice, "It was changed since"));
    CHECK(app.now.setup.choices.lift_stop.value == Approx(25 * 0.0254).margin(1e-12).epsilon(0));
}

TEST_CASE("recovery: changes that are opened once somebody has been asked go over unsaved ones, and with problems nothing is lost", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    AppState app = open_app(Library(), "utility-cutter-fits", {}, UnitSystem::inch, sixteenth_inch_mark);
    REQUIRE(change_value(app, "choices.lift_stop", "24 in").empty());
    const Edits before = app.now.edits;
    KeptChanges kept{folder.at("a.toml"), "a", {}, mark_text(mine), {{"choices.lift_stop=rubbish"}, {}}};
    CHECK_FALSE(open_kept_changes(app, kept).empty());
    CHECK(app.name == "utility-cutter-fits");
    CHECK(app.now.edits == before);
    kept.edits.sets = {"choices.lift_stop=25 in"};
    CHECK(open_kept_changes(app, kept).empty());
    CHECK(app.name == folder.at("a.toml"));
    CHECK(app.now.setup.choices.lift_stop.value == Approx(25 * 0.0254).margin(1e-12).epsilon(0));
    CHECK(can_undo(app));
    CHECK_FALSE(has(app.view.notice, "was changed since"));
}

TEST_CASE("recovery: what is kept is not taken over a text that was not taken", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    const std::string state = folder.at("state");
    leave_changes(state, "25 in");
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    window.type_into("choices.lift_stop", "rubbish");
    REQUIRE_FALSE(has_changes(app));
    REQUIRE_FALSE(app.view.fields["choices.lift_stop"].message.empty());
    app.view.files.left = find_left_changes(state);
    REQUIRE(app.view.files.left.size() == 1);
    window.settle();
    CHECK_FALSE(window.is_shown("take kept"));
    CHECK_FALSE(take_left_changes(app, app.view.files.left.front()));
    CHECK(app.name == "utility-cutter-fits");
    CHECK(app.view.fields["choices.lift_stop"].text == "rubbish");
}

TEST_CASE("recovery: taking the changes of a second session never costs those of the first", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    const std::string state = folder.at("state");
    const std::string first = leave_changes(state, "25 in"), second = leave_changes(state, "24 in");
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    app.view.files.left = find_left_changes(state);
    REQUIRE(app.view.files.left.size() == 2);
    window.settle();
    window.click("take kept");
    window.settle();
    REQUIRE(app.view.files.left.size() == 1);
    const LeftChanges other = app.view.files.left.front();
    // By the function as well as by the question.
    CHECK_FALSE(take_left_changes(app, other));
    REQUIRE(app.view.files.refused.has_value());
    CHECK(has(app.view.files.refused->problems.front().message, "in no file yet"));
    app.view.files.refused.reset();
    app.view.places.clear();
    window.settle();
    CHECK_FALSE(window.is_shown("take kept"));
    CHECK_FALSE(window.is_shown("drop kept"));
    CHECK(window.is_shown("leave kept"));
    CHECK(app.now.edits.sets == std::vector<std::string>{"choices.lift_stop=25 in"});
    CHECK(std::filesystem::exists(first));
    CHECK(std::filesystem::exists(second));
    window.click("write before kept");
    window.settle();
    REQUIRE(app.view.save.open);
    window.click("Write");
    window.settle();
    CHECK(has(read("a.toml"), "lift_stop = \"25 in\" # fixed"));
    // And then the second ones may be taken.
    window.click("take kept");
    CHECK(app.now.edits.sets == std::vector<std::string>{"choices.lift_stop=24 in"});
    CHECK(app.view.files.left.empty());
}

TEST_CASE("recovery: what cannot be written is said in the window, tried again, and costs nothing kept before", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    const std::string state = folder.at("state");
    const std::string kept = leave_changes(state, "25 in");
    Session session(state);
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    session.begin(app);
    REQUIRE(app.view.files.left.size() == 1);
    // Nothing can be written under a name that is a folder.
    std::filesystem::create_directories(session.recovery_file() + "/in the way");
    REQUIRE(take_left_changes(app, app.view.files.left.front()));
    app.view.files.left.clear();
    session.follow(app);
    window.settle();
    CHECK(has(app.view.files.not_kept, session.recovery_file()));
    CHECK(window.is_shown("not kept"));
    CHECK(std::filesystem::exists(kept));
    CHECK(find_left_changes(state).empty());  // still held
    std::filesystem::remove_all(session.recovery_file());
    session.follow(app);
    CHECK(app.view.files.not_kept.empty());
    CHECK(parse_kept_changes(read(session.recovery_file()))->edits.sets == std::vector<std::string>{"choices.lift_stop=25 in"});
    CHECK_FALSE(std::filesystem::exists(kept));
}

TEST_CASE("recovery: a path that is no UTF-8 comes back, and a file that cannot be read is named", "[gui]") {
    const WorkFolder folder;
    const KeptChanges kept{"/\xE9t\xE9/a.toml", "\xE9", {}, "0123", {{"tractor.use=/\xE9/t.toml", "a=\"b\""}, "\xE9.toml"}};
    const std::string text = format_kept_changes(kept);
    CHECK(text.find('\xE9') == std::string::npos);
    CHECK(parse_kept_changes(text) == kept);
    for (const char* bad : {"e", "zz", "e9 ", "+9"}) {
        INFO(bad);
        CHECK_FALSE(parse_kept_changes("kind = \"changes\"\nversion = 1\nsetup = \"a\"\nsets_hex = [\"" + std::string(bad) + "\"]\n").has_value());
    }
    std::filesystem::create_directories("state");
    write("state/session-1.toml", "rubbish\xFF");
    Headless window("utility-cutter-fits");
    AppState& app = window.app();
    app.view.files.left = find_left_changes(folder.at("state"));
    REQUIRE(app.view.files.left.size() == 1);
    CHECK_FALSE(app.view.files.left.front().readable);
    window.settle();
    CHECK(window.is_shown("unreadable"));
    CHECK_FALSE(window.is_shown("take kept"));
    window.click("leave kept");
    CHECK(app.view.files.left.empty());
    CHECK(read("state/session-1.toml") == "rubbish\xFF");
}

TEST_CASE("recovery: a set-up that has no file yet is kept whole", "[gui]") {
    const WorkFolder folder;
    const std::string state = folder.at("state");
    {
        Recovery window(state);
        AppState app = open_draft(Library(), mine, "pair", UnitSystem::inch, sixteenth_inch_mark);
        REQUIRE(app.problems.empty());
        CHECK(has_changes(app));
        window.follow(app);
    }
    auto left = find_left_changes(state);
    REQUIRE(left.size() == 1);
    AppState app = open_app(Library(), "utility-cutter-fits", {}, UnitSystem::inch, sixteenth_inch_mark);
    REQUIRE(take_left_changes(app, left.front()));
    CHECK(app.drafted);
    CHECK(app.source.text == mine);
    CHECK(app.now.setup.choices.lift_stop.known);
}

TEST_CASE("recovery: a window that is killed leaves its changes, and the next one gives them back", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    const std::string command = fmt::format(
        "bash '{0}/tests/gui/with_screen.sh' bash '{0}/tests/gui/kill_window.sh' '{1}' '{2}/a.toml' '{2}' 2>&1",
        HITCHWRIGHT_SOURCE_DIR, HITCHWRIGHT_VIEWER, folder.path().string());
    FILE* const pipe = popen(command.c_str(), "r");
    REQUIRE(pipe != nullptr);
    std::string output;
    std::array<char, 256> buffer;
    while (fgets(buffer.data(), buffer.size(), pipe) != nullptr) output += buffer.data();
    CAPTURE(output);
    CHECK(pclose(pipe) == 0);
    CHECK(has(read("changed.json"), "\"has_changes\": true"));
    // What the killed window left: its changes, and no half of a file.
    const auto kept = parse_kept_changes(read("left/hitchwright/session-1.toml"));
    REQUIRE(kept.has_value());
    CHECK(kept->edits.sets == std::vector<std::string>{"choices.lift_stop=25 in"});
    CHECK(kept->setup == folder.at("a.toml"));
    CHECK(has(read("asked.json"), "\"question\": \"kept_changes\""));
    CHECK(has(read("taken.json"), "\"file\": \"" + folder.at("a.toml") + "\""));
    CHECK(has(read("taken.json"), "\"question\": \"none\""));
    // Closed without saving, by a person: nothing is left but what the window remembers of itself.
    CHECK(count_files(folder.at("home/hitchwright")) == 1);
    CHECK(std::filesystem::exists("home/hitchwright/window.toml"));
    CHECK(read("a.toml") == mine);
}
