// The yard, and what changed against the file.
#include <catch2/catch.hpp>

#include <algorithm>
#include <filesystem>
#include <sstream>
#include <string>

#include "cli/run_cli.h"
#include "geometry/pairing.h"
#include "gui/changes.h"
#include "gui/field_edits.h"
#include "gui/save_changes.h"
#include "gui/open_setup.h"
#include "gui/yard.h"
#include "presets/load_machine.h"
#include "presets/load_setup.h"
#include "presets/machine_text.h"
#include "presets/setup_values.h"
#include "report/fit_report.h"
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
    "# Mine.\nkind = \"setup\"\nversion = 1\nunit = \"in\"\n[tractor]\nuse = \"compact\"\n[implement]\nuse = "
    "\"tiller-5\"\n"
    "[driveline]\nuse = \"shaft-31\"\n[choices]\nupper_link_pin = \"2\"\nmast_pin = \"1\"\nlift_stop = 27 # fixed\n";

template <class T>
void check_texts(FileKind kind) {
    const Library built_in;
    for (const PresetEntry& entry : built_in.list(kind)) {
        INFO(entry.key);
        const LoadedMachine<T> loaded = load_machine<T>(entry, built_in);
        REQUIRE(loaded.ok());
        for (const char* unit : {"in", "mm"}) {
            const WorkFolder folder;
            const std::string below(file_kind_folders(kind).front());
            std::filesystem::create_directories(below);
            MachineTextOptions options;
            options.unit = unit;
            write(below + "/" + entry.key + ".toml", format_machine(loaded.machine, options));
            const Library own(folder.path().string());
            const auto found = own.find(kind, entry.key);
            REQUIRE((found && !found->embedded));
            LoadedMachine<T> again = load_machine<T>(*found, own);
            CHECK(again.problems.empty());
            // Numbers to the last digits of a double, everything else exactly.
            Setup before, after;
            if constexpr (std::is_same_v<T, Tractor>)
                before.tractor = loaded.machine, after.tractor = again.machine;
            else if constexpr (std::is_same_v<T, Implement>)
                before.implement = loaded.machine, after.implement = again.machine;
            else
                before.driveline = loaded.machine, after.driveline = again.machine,
                before.has_driveline = after.has_driveline = true;
            for (const ValueDifference& d : compare_values(before, after)) FAIL_CHECK(d.key);
        }
    }
}

}  // namespace

TEST_CASE(
    "machine text: every built-in machine written out and read again is the same machine, in inches and millimetres",
    "[gui]") {
    check_texts<Tractor>(FileKind::tractor);
    check_texts<Implement>(FileKind::implement);
    check_texts<Driveline>(FileKind::driveline);
}

TEST_CASE(
    "yard: one's own machines stand first, built-in ones are marked, and a pair says what presets verify and fit say",
    "[gui]") {
    const Library library;
    const YardLists lists = list_yard(library);
    CHECK(lists.tractors.size() == library.list(FileKind::tractor).size());
    CHECK(std::none_of(lists.tractors.begin(), lists.tractors.end(), [](const YardMachine& m) { return m.own; }));
    const auto load = [&](const char* tractor, const char* implement) {
        return verify_pairing(load_machine<Tractor>(*library.find(FileKind::tractor, tractor), library).machine,
                              load_machine<Implement>(*library.find(FileKind::implement, implement), library).machine);
    };
    const YardAnswer good =
        try_pairing(library, {"compact", "tiller-5", "shaft-28"}, sixteenth_inch_mark, UnitSystem::inch);
    const PairingCheck check = load("compact", "tiller-5");
    REQUIRE(check.pairing.sensible());
    const auto closing = std::count_if(check.holes.begin(), check.holes.end(),
                                       [](const HoleCheck& h) { return h.outcome == HoleOutcome::closes; });
    REQUIRE_FALSE(good.words.empty());
    CHECK(good.words.front() == "The linkage closes in " + std::to_string(closing) + " of " +
                                    std::to_string(check.holes.size()) +
                                    " combinations of holes over the whole travel.");
    // The text is a set-up by itself, and the verdict its own.
    const WorkFolder folder;
    write("pair.toml", good.text);
    const LoadedSetup loaded = load_setup("pair.toml", library);
    REQUIRE(loaded.ok());
    CHECK(good.verdict ==
          format_verdict_sentence(loaded.setup, analyze(loaded.setup, sixteenth_inch_mark), UnitSystem::inch));
    CHECK(loaded.setup.driveline.key == "shaft-28");
    CHECK_FALSE(loaded.setup.choices.upper_link_pin.empty());
    REQUIRE_FALSE(load("sub-compact", "power-harrow-3m").pairing.sensible());
    const YardAnswer bad =
        try_pairing(library, {"sub-compact", "power-harrow-3m", ""}, sixteenth_inch_mark, UnitSystem::inch);
    CHECK(has(bad.words.front(), "Not worth trying: "));
}

TEST_CASE(
    "yard: every pair of the built-in machines gives words, and a set-up that can be read or problems that say why",
    "[gui]") {
    const Library library;
    const YardLists lists = list_yard(library);
    for (const YardMachine& tractor : lists.tractors) {
        for (const YardMachine& implement : lists.implements) {
            INFO(tractor.key << " " << implement.key);
            const YardAnswer answer = try_pairing(library, {tractor.key, implement.key, lists.drivelines.front().key},
                                                  millimetre_mark, UnitSystem::millimetre);
            CHECK(answer.verdict.empty() == answer.text.empty());
            CHECK((!answer.words.empty() || !answer.verdict.empty()));
        }
    }
    const YardAnswer gone = try_pairing(library, {"no-such", "tiller-5", ""}, millimetre_mark, UnitSystem::inch);
    CHECK(gone.text.empty());
    CHECK(has(gone.words.front(), "There is no tractor of the name no-such any more."));
}

TEST_CASE("yard: a pair is chosen by clicks, opened, and kept as a set-up file", "[gui]") {
    const WorkFolder folder;
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    app.view.side_room = SideRoom::yard;
    window.resize(1280.0F, 1400.0F);
    window.click("Tractors sub-compact");
    window.click("Implements chipper");
    window.click("Shafts shaft-24");
    window.settle();
    CHECK(app.view.yard.choice == YardChoice{"sub-compact", "chipper", "shaft-24"});
    REQUIRE(app.view.yard.answer != nullptr);
    const std::string verdict = app.view.yard.answer->verdict, text = app.view.yard.answer->text;
    REQUIRE_FALSE(text.empty());
    window.click("open pair");
    window.settle();
    CHECK(app.drafted);
    CHECK(app.now.setup.tractor.key == "sub-compact");
    CHECK(verdict == format_verdict_sentence(app.now.setup, app.results.analysis, app.view.units));
    CHECK(has_changes(app));
    CHECK(app.view.side_room == SideRoom::yard);
    const SaveOutcome saved = save_as(app, folder.at("pair.toml"), Existing::refused);
    CHECK(saved.written);
    CHECK_FALSE(app.drafted);
    CHECK_FALSE(has_changes(app));
    CHECK(read("pair.toml") == text);
}

TEST_CASE("yard: over changes that are not saved the window asks: stay, write them first, or open and drop them", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    Headless window("a.toml");
    AppState& app = window.app();
    app.view.side_room = SideRoom::yard;
    window.resize(1280.0F, 1400.0F);
    window.click("Tractors sub-compact");
    window.click("Implements chipper");
    window.settle();
    REQUIRE(change_value(app, "choices.lift_stop", "25 in").empty());
    window.settle();
    window.click("open pair");
    CHECK_FALSE(app.drafted);
    CHECK(screen_says("The changes to " + setup_title(app) + " are in no file yet."));
    CHECK(screen_says("To be opened: " + app.view.yard.answer->title));
    window.click("keep open");
    CHECK_FALSE(app.drafted);
    CHECK(app.now.edits.sets.size() == 1);
    // Written first: then the pair is there by itself.
    window.click("open pair");
    window.click("save and open");
    window.settle();
    window.click("Write");
    window.settle();
    CHECK(has(read("a.toml"), "25 in"));
    REQUIRE(app.drafted);
    CHECK(app.now.setup.tractor.key == "sub-compact");
    CHECK(app.view.files.waiting.empty());
    CHECK(app.view.files.waiting_text.empty());
    CHECK(has(app.view.notice, "This pair is in no file yet"));
    // The pair itself is in no file: the next one asks as well, and is opened over it.
    app.view.yard.choice.implement = "tiller-5";  // its line may be scrolled out of sight
    window.settle();
    window.click("open pair");
    CHECK(app.now.setup.implement.key == "chipper");
    window.click("open anyway");
    CHECK(app.now.setup.implement.key == "tiller-5");
    CHECK(app.drafted);
    // A path asked for later is no text.
    ask_to_open(app, "a.toml");
    window.settle();
    window.click("open anyway");
    CHECK_FALSE(app.drafted);
    CHECK(app.now.setup.tractor.key == "compact");
}

TEST_CASE("yard: a text that was refused is named before a pair takes its place", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    window.type_into("choices.lift_stop", "rubbish");
    const YardAnswer answer = try_pairing(app.library, {"compact", "tiller-5", "shaft-28"}, app.mark, app.view.units);
    open_pairing(app, answer);
    window.settle();
    CHECK_FALSE(app.drafted);
    CHECK(screen_says("choices.lift_stop: \"rubbish\""));
    window.click("keep open");
    CHECK(app.view.files.waiting_text.empty());
}

TEST_CASE("yard: a machine of the set-up goes there as it now is, is found again, and nothing is written over",
          "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    AppState app = open_app(Library(folder.at("yard")), "a.toml", {}, UnitSystem::inch, sixteenth_inch_mark);
    REQUIRE(app.problems.empty());
    REQUIRE(change_value(app, "tractor.pto.stub_x", "12 1/4 in +- 1/4 in").empty());
    CHECK(propose_yard_key(app, FileKind::tractor) == "compact-2");
    CHECK(put_into_yard(app, FileKind::tractor, "my-compact").empty());
    CHECK(has(app.view.yard.message, folder.at("yard/tractors/my-compact.toml")));
    const std::string text = read("yard/tractors/my-compact.toml");
    const auto entry = app.library.find(FileKind::tractor, "my-compact");
    REQUIRE((entry && !entry->embedded));
    CHECK(list_yard(app.library).tractors.front().own);
    const LoadedMachine<Tractor> again = load_machine<Tractor>(*entry, app.library);
    CHECK(again.problems.empty());
    CHECK(again.machine.pto.stub_x.value == Approx(12.25 * 0.0254).margin(1e-12).epsilon(0));
    CHECK(again.machine.pto.stub_x.tolerance == Approx(0.25 * 0.0254).margin(1e-12).epsilon(0));
    // What came from the example says so still.
    CHECK(again.machine.lower_link.length.origin == Origin::preset);
    // The same verdict with the yard's tractor in place of the set-up's.
    const Setup before = app.now.setup;
    AppState used =
        open_app(app.library, "a.toml", {{"tractor.use=my-compact"}, ""}, UnitSystem::inch, sixteenth_inch_mark);
    REQUIRE(used.problems.empty());
    for (const ValueDifference& d : compare_values(before, used.now.setup)) CHECK(d.key == "tractor.use");
    CHECK(used.results.analysis.verdict == app.results.analysis.verdict);
    CHECK(has(put_into_yard(app, FileKind::tractor, "my-compact"), "exists and is not overwritten"));
    CHECK(read("yard/tractors/my-compact.toml") == text);
    for (const char* key : {"", "..", "a/b", "A", "a b", "none"}) {
        INFO(key);
        CHECK_FALSE(put_into_yard(app, FileKind::tractor, key).empty());
    }
    // A built-in name would change every set-up that uses it.
    CHECK(has(put_into_yard(app, FileKind::tractor, "compact"), "take its place in every set-up"));
    CHECK_FALSE(std::filesystem::exists("yard/tractors/compact.toml"));
    for (const FileKind kind : {FileKind::implement, FileKind::driveline})
        CHECK(put_into_yard(app, kind, "mine").empty());
    CHECK(std::any_of(app.drivelines.begin(), app.drivelines.end(),
                      [](const NamedPreset& p) { return p.key == "mine"; }));
    AppState homeless = open_app(Library(), "a.toml", {}, UnitSystem::inch, sixteenth_inch_mark);
    CHECK(has(put_into_yard(homeless, FileKind::tractor, "x"), "neither HOME nor"));
}

TEST_CASE("changes: each edit stands with the file's value and the present one, and can be taken back by itself",
          "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    Headless window("a.toml");
    AppState& app = window.app();
    const std::string before = format_verdict_sentence(app.now.setup, app.results.analysis, UnitSystem::inch);
    CHECK(list_changes(app).values.empty());
    REQUIRE(change_value(app, "choices.lift_stop", "25 in").empty());
    REQUIRE(change_value(app, "tractor.pto.stub_x", "12 in").empty());
    REQUIRE(change_driveline(app, "shaft-28").empty());
    const ChangeList list = list_changes(app);
    CHECK(list.verdict_before == before);
    CHECK(list.verdict_now == format_verdict_sentence(app.now.setup, app.results.analysis, UnitSystem::inch));
    const auto find = [&](const char* key) {
        const auto found =
            std::find_if(list.values.begin(), list.values.end(), [&](const ChangedValue& v) { return v.key == key; });
        REQUIRE(found != list.values.end());
        return *found;
    };
    CHECK(find("choices.lift_stop").was == "27.000 in");
    CHECK(find("choices.lift_stop").is == "25.000 in");
    CHECK(find("driveline.use").was == "shaft-31");
    CHECK_FALSE(find("driveline.use").with_it.empty());
    CHECK(has(find("driveline.use").with_it.front(), "driveline."));
    app.view.side_room = SideRoom::changes;
    window.settle();
    window.click("take back tractor.pto.stub_x");
    CHECK_FALSE(find_value(app.now.edits, "tractor.pto.stub_x").has_value());
    CHECK(find_value(app.now.edits, "choices.lift_stop").has_value());
    CHECK(app.now.setup.driveline.key == "shaft-28");
    window.settle();
    window.click("take back driveline.use");
    CHECK(app.now.setup.driveline.key == "shaft-31");
    window.settle();
    window.click("take back choices.lift_stop");
    CHECK_FALSE(has_changes(app));
    CHECK(shown_changes(app).values.empty());
    // Taking back is a change like another.
    undo(app);
    CHECK(app.now.edits.sets == std::vector<std::string>{"choices.lift_stop=25 in"});
}

TEST_CASE("changes: taking back where a value comes from takes back the value that went with it", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    AppState app = open_app(Library(), "a.toml", {}, UnitSystem::inch, sixteenth_inch_mark);
    const Setup before = app.now.setup;
    const SetupEntry entry = *find_entry(app, "tractor.pto.stub_x");
    REQUIRE(change_origin(app, entry, "measured").empty());
    REQUIRE(app.now.edits.sets.size() == 2);
    REQUIRE(take_back(app, "tractor.pto.stub_x.origin").empty());
    CHECK_FALSE(has_changes(app));
    CHECK(app.now.setup == before);
}

TEST_CASE("changes: rules are taken back too, and the findings are those of diff", "[gui]") {
    const WorkFolder folder;
    write("a.toml", mine);
    AppState app = open_app(Library(), "a.toml", {}, UnitSystem::millimetre, millimetre_mark);
    Edits edits = app.now.edits;
    edits.rules = "close";
    REQUIRE(change_edits(app, edits).empty());
    REQUIRE(change_value(app, "choices.lift_stop", "20 in").empty());
    const ChangeList list = list_changes(app);
    REQUIRE(list.values.size() == 2);
    CHECK(list.values.back().key == "rules");
    CHECK(list.values.back().is == "close");
    write("b.toml", [&] {
        std::string text = mine;
        text.replace(text.find("27 # fixed"), 2, "\"20 in\"");
        return text.replace(text.find("[tractor]"), 0, "rules = \"close\"\n");
    }());
    std::ostringstream out, err;
    std::istringstream in;
    const std::vector<std::string> args{"diff", "a.toml", "b.toml", "--units", "mm"};
    static_cast<void>(run_cli(args, Streams{in, out, err}));
    REQUIRE(err.str().empty());
    REQUIRE_FALSE(list.findings.empty());
    for (const std::string& line : list.findings) {
        // The text breaks lines; the first words are enough to find each.
        INFO(line);
        CHECK(has(out.str(), line.substr(0, 30)));
    }
    CHECK(take_back(app, "rules").empty());
    CHECK(app.now.edits.rules.empty());
    std::filesystem::remove("a.toml");
    CHECK_FALSE(list_changes(app).message.empty());
}

TEST_CASE("yard and changes: both rooms are drawn at every size", "[gui]") {
    Headless window("compact-tiller-bottoms-out");
    AppState& app = window.app();
    REQUIRE(change_driveline(app, "shaft-28").empty());
    for (const SideRoom room : {SideRoom::changes, SideRoom::yard}) {
        app.view.side_room = room;
        for (const auto& [width, height] : {std::pair{400.0F, 300.0F}, {800.0F, 600.0F}, {2560.0F, 1440.0F}}) {
            window.resize(width, height);
            CHECK(window.vertices() > 100);
        }
    }
}
