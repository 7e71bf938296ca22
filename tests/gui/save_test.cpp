// Changes of the window written into a file: what a person does, what stands on the disk, what the window says.
#include <catch2/catch.hpp>

#include <filesystem>
#include <string>

#include "gui/field_edits.h"
#include "gui/save_changes.h"
#include "presets/load_setup.h"
#include "presets/reading_log.h"
#include "tests/gui/headless.h"
#include "tests/gui/work_folder.h"

using namespace hitchwright;
using hitchwright::test::Headless;
using hitchwright::test::has;
using hitchwright::test::read;
using hitchwright::test::write;
using Folder = hitchwright::test::WorkFolder;

namespace {

constexpr double inch = 0.0254;

const std::string mine =
    "# Mine.\nkind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\nuse = \"compact\"  # blue\n[implement]\nuse = "
    "\"tiller-5\"\n[driveline]\nuse = \"shaft-31\"\n[choices]\nupper_link_pin = \"2\"\nmast_pin = "
    "\"1\"\nworking_band_low = "
    "12\nworking_band_high = 22\nlift_stop = 27 # fixed\n";

const std::string with_stop = [] {
    std::string text = mine;
    return text.replace(text.find("27 # fixed"), 2, "\"25 in\"");
}();

}  // namespace

TEST_CASE("save: a change goes into the file by its characters alone, with its entry, and the window says so",
          "[gui]") {
    const Folder folder;
    write("a.toml", mine);
    Headless window("a.toml");
    AppState& app = window.app();
    CHECK_FALSE(window.is_shown("Write into a file"));
    window.type_into("choices.lift_stop", "25 in");
    REQUIRE(has_changes(app));
    window.click("Write into a file");
    window.settle();
    CHECK(app.view.save.lines == std::vector<std::string>{"choices.lift_stop: 27 -> 25 in"});
    CHECK_FALSE(window.is_shown("save path"));
    CHECK(read("a.toml") == mine);
    window.type_into("save by", "A. Turner");
    window.click("Write");
    CHECK(read("a.toml") == with_stop);
    CHECK_FALSE(app.view.save.open);
    CHECK_FALSE(has_changes(app));
    CHECK_FALSE(can_undo(app));
    CHECK(app.now.edits == Edits{});
    CHECK(app.now.setup == load_setup("a.toml", Library()).setup);
    CHECK(app.view.notice == "Written: 1 value into " + (folder.path() / "a.toml").string() +
                                 " (choices.lift_stop), with one entry in its log a.log.toml. Undo begins anew.");
    const ReadingLog log = read_log("a.log.toml");
    REQUIRE(log.ok());
    REQUIRE(log.entries.size() == 1);
    CHECK(log.entries[0] ==
          LogEntry{"2026-03-01", "A. Turner", LogKind::reading, "", "choices.lift_stop", "", "25 in", "27", "", ""});
    // And once more, on the file as it now is.
    window.type_into("choices.lift_stop", "24 in");
    window.click("Write into a file");
    window.settle();
    window.click("Write");
    CHECK(has(read("a.toml"), "lift_stop = \"24 in\" # fixed\n"));
    CHECK(read_log("a.log.toml").entries.size() == 2);
}

TEST_CASE("save: a file that somebody else changed is not written over", "[gui]") {
    const Folder folder;
    write("a.toml", mine);
    Headless window("a.toml");
    AppState& app = window.app();
    window.type_into("choices.lift_stop", "25 in");
    window.click("Write into a file");
    window.settle();
    // A remark alone changes no value; it would be lost all the same.
    const std::string theirs = mine + "# measured again on Monday\n";
    write("a.toml", theirs);
    window.click("Write");
    CHECK(read("a.toml") == theirs);
    CHECK_FALSE(std::filesystem::exists("a.log.toml"));
    CHECK(app.view.save.open);
    CHECK(has(app.view.save.message, "changed by somebody else meanwhile"));
    CHECK(has(app.view.save.message, "Read files again"));
    CHECK(has_changes(app));
    window.click("Do not write");
    CHECK_FALSE(app.view.save.open);
    window.click("Read files again");
    window.click("Write into a file");
    window.settle();
    window.click("Write");
    CHECK(has(read("a.toml"), "lift_stop = \"25 in\" # fixed\n# measured again on Monday\n"));
    // A value of theirs that is shown already counts as read.
    std::string later = read("a.toml");
    later.replace(later.find("12\nworking_band_high"), 2, "13");
    write("a.toml", later);
    window.type_into("choices.lift_stop", "24 in");
    CHECK(app.now.setup.choices.working_band_low.value == Approx(13 * inch).margin(1e-9));
    window.click("Write into a file");
    window.settle();
    window.click("Write");
    CHECK(has(read("a.toml"), "lift_stop = \"24 in\" # fixed"));
    CHECK(has(read("a.toml"), "working_band_low = 13\n"));
}

TEST_CASE("save: a built-in set-up goes into a new file, never over one that exists", "[gui]") {
    const Folder folder;
    write("taken.toml", "mine");
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    window.type_into("choices.lift_stop", "25 in");
    const Setup shown = app.now.setup;
    window.click("Write into a file");
    window.settle();
    CHECK(app.view.save.path == "./compact-tiller-bottoms-out.toml");
    for (const auto& [name, said] : {std::pair<std::string, std::string>{"taken.toml", "exists and is not overwritten"},
                                     {"x", "ends in .toml"},
                                     {"no/such/folder.toml", "does not exist"},
                                     {"x.log.toml", "ends in .toml"},
                                     {".toml", "ends in .toml"}}) {
        CAPTURE(name, app.view.save.message);
        app.view.save.path = name;
        window.click("Write");
        CHECK(app.view.save.open);
        CHECK(has(app.view.save.message, said));
        CHECK(app.name == "compact-tiller-bottoms-out");
    }
    app.view.save.path.clear();
    window.click("Write");
    CHECK(has(app.view.save.message, "Type the name"));
    CHECK(read("taken.toml") == "mine");
    window.type_into("save path", "yard.toml");
    window.click("Write");
    CAPTURE(app.view.save.message);
    CHECK(app.name == "yard.toml");
    CHECK_FALSE(app.view.save.open);
    CHECK_FALSE(has_changes(app));
    CHECK(has(app.view.notice, "into the new file " + (folder.path() / "yard.toml").string()));
    CHECK(read_log("yard.log.toml").entries.size() == 1);
    const LoadedSetup written = load_setup("yard.toml", Library());
    REQUIRE(written.ok());
    CHECK(written.setup.choices.lift_stop == shown.choices.lift_stop);
    std::string wanted = Library().read(FileKind::setup, "compact-tiller-bottoms-out").text;
    wanted.replace(wanted.find("lift_stop = 27"), 14, "lift_stop = \"25 in\"");
    CHECK(read("yard.toml") == wanted);
    // taken.toml, yard.toml and its log: no leftovers.
    CHECK(std::distance(std::filesystem::directory_iterator("."), std::filesystem::directory_iterator{}) == 3);
}

TEST_CASE("save: what cannot be recorded is said, all of it, and nothing is written", "[gui]") {
    const Folder folder;
    std::string own_tubes = mine;
    own_tubes.insert(own_tubes.find("[choices]"), "tractor_tube = 20\n");
    write("a.toml", own_tubes);
    Headless window("a.toml", {{"driveline.use=shaft-28"}, ""});
    AppState& app = window.app();
    window.type_into("choices.upper_link_length", "23 in");
    window.click("Write into a file");
    window.settle();
    CHECK_FALSE(app.view.save.possible);
    CHECK(has(app.view.save.message, "driveline.use: the file has values of the machine before in [driveline] (tractor_tube)"));
    window.click("Write");
    CHECK(app.view.save.open);
    window.click("Do not write");
    CHECK_FALSE(app.view.save.open);
    CHECK(has_changes(app));
    CHECK(read("a.toml") == own_tubes);
}

TEST_CASE("save: an origin said goes beside its value, and what nobody measured not into the log", "[gui]") {
    const Folder folder;
    write("a.toml", mine);
    Headless window("a.toml");
    AppState& app = window.app();
    REQUIRE(change_edits(app, with_field(with_field(app.now.edits, "choices.lift_stop", "25 in", "assumed"), "tractor.pto.stub_x", "12 in", "manual")).empty());
    window.settle();
    window.click("Write into a file");
    window.settle();
    CAPTURE(app.view.save.message);
    REQUIRE(app.view.save.possible);
    REQUIRE(app.view.save.lines.size() == 2);
    CHECK(app.view.save.lines[0] == "choices.lift_stop: 27 -> 25 in (assumed)");
    window.click("Write");
    CHECK(has(read("a.toml"), "lift_stop = { value = \"25 in\", origin = \"assumed\" } # fixed\n"));
    CHECK(app.now.setup.choices.lift_stop.origin == Origin::assumed);
    CHECK(app.now.setup.choices.lift_stop.value == Approx(25.0 * inch).epsilon(1e-12));
    CHECK(app.now.setup.tractor.pto.stub_x.origin == Origin::manual);
    CHECK(app.now.edits == Edits{});
    CHECK_FALSE(std::filesystem::exists("a.log.toml"));
    // A table that says something else gets the new word in its place.
    REQUIRE(change_edits(app, with_field(app.now.edits, "choices.lift_stop", "24 in", "preset")).empty());
    ask_to_save(app);
    window.settle();
    REQUIRE(app.view.save.possible);
    window.click("Write");
    CHECK(has(read("a.toml"), "lift_stop = { value = \"24 in\", origin = \"preset\" } # fixed\n"));
    CHECK(app.now.setup.choices.lift_stop.origin == Origin::preset);
}

TEST_CASE("save: an origin alone changes no character of its value, wherever it stands", "[gui]") {
    const Folder folder;
    const std::string before = mine + "upper_link_length = 23.50 # taped\nworking_pitch = { value = \"1.5 deg\", tolerance = \"0.5 deg\", origin = \"preset\" }\n";
    write("a.toml", before);
    Headless window("a.toml");
    AppState& app = window.app();
    const auto say = [&](const char* key, const char* word) {
        const SetupEntry e = *find_entry(app, key);
        REQUIRE(change_origin(app, e, word).empty());
    };
    say("choices.upper_link_length", "manual");
    say("choices.lift_stop", "assumed");
    say("choices.working_pitch", "manual");
    const Setup shown = app.now.setup;
    window.settle();
    window.click("Write into a file");
    window.settle();
    CAPTURE(app.view.save.message);
    REQUIRE(app.view.save.possible);
    REQUIRE(app.view.save.lines.size() == 3);
    CHECK(app.view.save.lines[0] == "choices.upper_link_length: the value as it is, measured -> manual");
    window.click("Write");
    std::string wanted = before;
    const auto put = [&](const std::string& from, const std::string& to) { wanted.replace(wanted.find(from), from.size(), to); };
    put("23.50 #", "{ value = 23.50, origin = \"manual\" } #");
    put("27 #", "{ value = 27, origin = \"assumed\" } #");
    put("\"preset\"", "\"manual\"");
    CHECK(read("a.toml") == wanted);
    CHECK(app.now.edits == Edits{});
    CHECK(app.now.setup.choices.upper_link_length.origin == Origin::manual);
    CHECK(app.now.setup.choices.lift_stop.origin == Origin::assumed);
    CHECK(app.now.setup.choices.working_pitch.origin == Origin::manual);
    CHECK(app.now.setup.choices.working_pitch.tolerance == Approx(shown.choices.working_pitch.tolerance).epsilon(1e-12));
    CHECK(app.now.setup.choices.upper_link_length.value == shown.choices.upper_link_length.value);
    CHECK(has(app.view.notice, "Written: 3 values into"));
    CHECK_FALSE(std::filesystem::exists("a.log.toml"));
    // What the tractor's own file has goes into the set-up with its value, in the units it was typed in.
    say("tractor.pto.stub_x", "manual");
    const double stub = app.now.setup.tractor.pto.stub_x.value;
    window.settle();
    window.click("Write into a file");
    window.settle();
    REQUIRE(app.view.save.possible);
    window.click("Write");
    CHECK(has(read("a.toml"), "pto.stub_x = { value = \"11 in +- "));
    CHECK(app.now.setup.tractor.pto.stub_x.origin == Origin::manual);
    CHECK(app.now.setup.tractor.pto.stub_x.value == stub);
}

TEST_CASE("save: another shaft goes into the file where no value of the one before stands there, and not into the log", "[gui]") {
    const Folder folder;
    const std::string cut = mine + "cut_tractor_half = 2\n";
    write("a.toml", cut);
    Headless window("a.toml");
    AppState& app = window.app();
    REQUIRE(change_driveline(app, "shaft-28").empty());
    const Verdict verdict = app.results.analysis.verdict;
    window.settle();
    window.click("Write into a file");
    window.settle();
    CAPTURE(app.view.save.message);
    REQUIRE(app.view.save.possible);
    window.click("Write");
    std::string wanted = cut;
    wanted.replace(wanted.find("shaft-31"), 8, "shaft-28");
    wanted.insert(wanted.find("cut_tractor_half"), "# ");
    CHECK(read("a.toml") == wanted);
    CHECK_FALSE(std::filesystem::exists("a.log.toml"));
    CHECK(app.now.setup.driveline.key == "shaft-28");
    CHECK(app.results.analysis.verdict == verdict);
    CHECK(app.now.edits == Edits{});
}

TEST_CASE("save: a value taken away becomes a comment, and one that was never there is left out", "[gui]") {
    const Folder folder;
    write("a.toml", mine);
    Headless window("a.toml", {{"choices.cut_tractor_half="}, ""});
    AppState& app = window.app();
    window.type_into("choices.lift_stop", "");
    window.click("Write into a file");
    window.settle();
    CHECK(app.view.save.lines ==
          std::vector<std::string>{"choices.lift_stop: 27 -> taken away, its line becomes a comment"});
    window.click("Write");
    std::string wanted = mine;
    CHECK(read("a.toml") == wanted.insert(wanted.find("lift_stop"), "# "));
    CHECK_FALSE(std::filesystem::exists("a.log.toml"));
    CHECK_FALSE(app.now.setup.choices.lift_stop.known);
    CHECK(has(app.view.notice, "Written: 1 value into "));
    CHECK(has(app.view.notice, "(choices.lift_stop). Undo begins anew."));
}

TEST_CASE("save: what the file would not give as shown is refused", "[gui]") {
    const Folder folder;
    write("a.toml", mine);
    std::filesystem::create_directories("below");
    write("below/a.toml", mine);
    const std::string rules = "kind = \"rules\"\nversion = 1\nname = \"Mine\"\ngap_required = \"31 mm\"\n";
    write("r.toml", rules);
    write("below/r.toml", rules + "overlap_least = \"99 mm\"\n");
    for (const Edits& edits : {Edits{{"tractor.pto.stub_z="}, ""}, Edits{{}, "r.toml"}}) {
        Headless window("below/a.toml", edits);
        AppState& app = window.app();
        REQUIRE(app.problems.empty());
        ask_to_save(app);
        window.settle();
        CAPTURE(app.view.save.message);
        CHECK_FALSE(app.view.save.possible);
        CHECK(has(app.view.save.message, edits.sets.empty() ? "rules.overlap_least: the file would not give"
                                                            : "tractor.pto.stub_z: a file that the set-up uses"));
        window.click("Write");
        CHECK(read("below/a.toml") == mine);
    }
}

TEST_CASE("save: the rule set of the window goes into the file, and a broken log stops the whole", "[gui]") {
    const Folder folder;
    write("a.toml", mine);
    write("a.log.toml", "kind = \"log\"\n");
    Headless window("a.toml", {{"choices.lift_stop=25 in"}, "close"});
    AppState& app = window.app();
    ask_to_save(app);
    window.settle();
    CHECK(app.view.save.lines.size() == 2);
    window.click("Write");
    CHECK(has(app.view.save.message, "a.log.toml"));
    CHECK(read("a.toml") == mine);
    CHECK(read("a.log.toml") == "kind = \"log\"\n");
    std::filesystem::remove("a.log.toml");
    window.click("Write");
    CHECK_FALSE(app.view.save.open);
    CHECK(has(read("a.toml"), "rules = \"close\"\n"));
    CHECK(app.now.setup.rules == load_setup("a.toml", Library()).setup.rules);
    CHECK(app.now.edits == Edits{});
}

TEST_CASE("save: the question before closing leads there, and text that is no name is refused", "[gui]") {
    const Folder folder;
    write("a.toml", mine);
    Headless window("a.toml");
    AppState& app = window.app();
    window.type_into("choices.lift_stop", "25 in");
    app.view.asks_to_close = true;
    window.settle();
    window.click("Write them into a file");
    window.settle();
    CHECK_FALSE(app.view.asks_to_close);
    REQUIRE(app.view.save.open);
    app.view.save.by = "a\x1b[31m";
    window.click("Write");
    CHECK(has(app.view.save.message, "cannot be printed"));
    CHECK(read("a.toml") == mine);
    app.view.save.by = "";
    window.click("Write");
    CHECK(read("a.toml") == with_stop);
    CHECK_FALSE(app.view.closed);
}

TEST_CASE("save: the question is drawn at every size", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    window.type_into("choices.lift_stop", "25 in");
    ask_to_save(window.app());
    for (const auto& [width, height] : {std::pair{400.0F, 300.0F}, {1024.0F, 700.0F}, {3840.0F, 2160.0F}}) {
        window.resize(width, height);
        CHECK(window.is_shown("Write"));
        CHECK(window.vertices() > 100);
    }
}
