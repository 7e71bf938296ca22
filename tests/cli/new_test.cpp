// new: files from options and from a dialogue, read back by the reader they are made for.

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>
#include <set>
#include <string>

#include "presets/load_setup.h"
#include "presets/setup_draft.h"
#include "tests/cli/run.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Run ask(std::vector<std::string> args, const std::string& input) {
    args.insert(args.begin(), "new");
    args.emplace_back("--ask");
    World world;
    world.input = input;
    return run(args, world);
}

// Only what is still to be added may be wrong with a file of ours, and nothing is: keys that are open are comments.
LoadedSetup load(const std::string& path) {
    LoadedSetup loaded = load_setup("./" + path, Library{});
    for (const Problem& p : loaded.problems) UNSCOPED_INFO(format_problem(p));
    CHECK(loaded.ok());
    return loaded;
}

}  // namespace

TEST_CASE("new: a file from presets fits and says what the presets said", "[cli]") {
    const WorkingFolder folder;
    const Run made = run({"new", "--tractor", "compact", "--implement", "tiller-5", "--driveline", "shaft-31", "-o", "a.toml"});
    CAPTURE(made.err);
    CHECK(made.code == 0);
    CHECK(contains(made.out, "Written: a.toml"));
    CHECK(contains(made.out, "hitchwright measure a.toml"));
    CHECK(contains(made.out, "hitchwright fit a.toml"));
    const Setup mine = load("a.toml").setup, demo = load_setup("compact-tiller-bottoms-out", Library{}).setup;
    CHECK(mine.tractor == demo.tractor);
    CHECK(mine.implement == demo.implement);
    CHECK(mine.driveline == demo.driveline);
    CHECK(run({"measure", "a.toml"}).code == 0);
    const int fit = run({"fit", "a.toml", "--set", "choices.upper_link_pin=2", "--set", "choices.mast_pin=1"}).code;
    CHECK((fit == 0 || fit == 1));
}

TEST_CASE("new: a blade has no input, no shaft and no reading of either", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run({"new", "--tractor", "compact", "--implement", "box-blade-5", "-o", "a.toml"}).code == 0);
    REQUIRE(run({"new", "--implement", "measured", "--driveline", "none", "-o", "b.toml"}).code == 0);
    REQUIRE(ask({"-o", "c.toml"}, "x\nin\ncompact\nbox-blade-5\n").code == 0);
    REQUIRE(ask({"-o", "d.toml"}, "x\nin\n\n\nmounted\nno\n").code == 0);
    for (const char* name : {"a.toml", "b.toml", "c.toml", "d.toml"}) {
        CAPTURE(name);
        const Setup setup = load(name).setup;
        CHECK_FALSE(setup.implement.pic.fitted);
        CHECK_FALSE(setup.has_driveline);
        CHECK_FALSE(contains(run({"measure", name}).out, "driveline."));
    }
}

TEST_CASE("new: a driven preset without a word about the shaft leaves the shaft to be measured", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run({"new", "--tractor", "compact", "--implement", "tiller-5", "-o", "a.toml"}).code == 0);
    const Setup open = load("a.toml").setup;
    CHECK(open.implement.pic.fitted);
    CHECK(open.has_driveline);
    CHECK_FALSE(open.driveline.closed_length.known);
    CHECK(contains(unwrap(run({"measure", "a.toml"}).out), "NEEDED pushed fully home"));
    REQUIRE(run({"new", "--implement", "tiller-5", "--driveline", "none", "-o", "b.toml"}).code == 0);
    CHECK(load("b.toml").setup.implement.pic.fitted);
    CHECK_FALSE(load("b.toml").setup.has_driveline);
}

TEST_CASE("new: every key of a card stands in the file, ready to be typed in", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run({"new", "-o", "mine.toml"}).code == 0);
    const std::string text = read_file("mine.toml");
    std::size_t found = 0;
    for (const std::string& line : split_lines(run({"measure", "mine.toml", "--format", "csv"}).out)) {
        const std::size_t first = line.find(','), second = line.find(',', first + 1);
        const std::string key = line.substr(second + 1, line.find(',', second + 1) - second - 1);
        if (key == "key") continue;
        CAPTURE(key);
        const std::string open = "# " + key.substr(key.rfind('.') + 1) + " =";
        CHECK((contains(text, open + "\n") || contains(text, open + "  # ")));
        ++found;
    }
    CHECK(found > 60);
    for (const std::string& line : split_lines(text)) CHECK(line.size() <= 110);
}

TEST_CASE("new: a key without its # is read, in every table", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run({"new", "-o", "mine.toml"}).code == 0);
    std::string text = read_file("mine.toml");
    const auto fill = [&text](const std::string& table, const std::string& key, const std::string& value) {
        const std::size_t start = text.find("\n[" + table + "]\n");
        REQUIRE(start != std::string::npos);
        const std::size_t at = text.find("\n# " + key + " =", start);
        REQUIRE(at != std::string::npos);
        text.replace(at + 1, key.size() + 4, key + " = " + value);
    };
    fill("tractor.lower_link", "length", "\"30 1/4 in\"");
    fill("tractor.pto", "stub_z", "21");
    fill("implement.pic", "x", "\"305 mm\"");
    fill("driveline.shaft", "reference", "\"locking_grooves\"");
    fill("driveline.shaft", "closed_length", "31");
    fill("choices", "lift_stop", "26");
    write_file("filled.toml", text);
    const Setup setup = load("filled.toml").setup;
    CHECK(std::fabs(setup.tractor.lower_link.length.value - 30.25 * 0.0254) < 1e-12);
    CHECK(std::fabs(setup.tractor.pto.stub_z.value - 21 * 0.0254) < 1e-12);
    CHECK(std::fabs(setup.implement.pic.x.value - 0.305) < 1e-12);
    CHECK(setup.driveline.reference == LengthReference::locking_grooves);
    CHECK(std::fabs(setup.choices.lift_stop.value - 26 * 0.0254) < 1e-12);
}

TEST_CASE("new: what is needed stands first in its table, and nothing stands there that the job has no use for", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run({"new", "-o", "mine.toml"}).code == 0);
    const std::string text = read_file("mine.toml");
    std::set<std::string> needed;
    for (const std::string& line : split_lines(text)) {
        if (line.ends_with("NEEDED")) needed.insert(line);
    }
    CHECK(needed.size() > 15);
    CHECK(std::count(text.begin(), text.end(), '\n') < 520);
    CHECK(text.find("# stub_z =") < text.find("# stub_slope ="));
    CHECK(text.find("# closed_length =") < text.find("# yoke_phase_error ="));
    // The reader names what is missing by the same keys.
    const std::string card = run({"measure", "mine.toml", "--format", "csv"}).out;
    for (const std::string& line : split_lines(card)) {
        if (!contains(line, ",true,true,") || contains(line, "[")) continue;
        const std::size_t first = line.find(','), second = line.find(',', first + 1);
        const std::string path = line.substr(second + 1, line.find(',', second + 1) - second - 1), key = path.substr(path.rfind('.') + 1);
        CAPTURE(path);
        const std::size_t table = text.find("\n[" + path.substr(0, path.rfind('.')) + "]\n");
        REQUIRE(table != std::string::npos);
        const std::size_t at = text.find("\n# " + key + " =\n", table);
        REQUIRE(at != std::string::npos);
        CHECK(text.substr(0, at).ends_with("NEEDED"));
    }
    REQUIRE(run({"new", "--implement", "measured", "--driveline", "none", "-o", "blade.toml"}).code == 0);
    for (const char* part : {"tractor.pto]", "direct_reading", "overrunning_clutch", "working_band", "pto_speed", "[driveline.shaft]"}) {
        CAPTURE(part);
        CHECK_FALSE(contains(read_file("blade.toml"), part));
        CHECK(contains(text, part));
    }
}

TEST_CASE("new: of a machine from a file only what an answer needs is listed, and goes before that file once typed in", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run({"new", "--tractor", "compact", "--implement", "tiller-5", "--driveline", "shaft-31", "-o", "a.toml"}).code == 0);
    std::string text = read_file("a.toml");
    CHECK(std::count(text.begin(), text.end(), '\n') < 210);
    const auto type = [&text](const std::string& key, const std::string& value) {
        const std::string open = "\n# " + key + " =";
        REQUIRE(contains(text, open));
        text.replace(text.find(open) + 1, open.size() - 1, key + " = " + value);
    };
    type("lower_link.length", "30.5");
    type("pto.stub_z", "\"533 mm\"");
    type("pic.x", "12.25");
    type("tractor_joint.offset", "1.5");
    write_file("b.toml", text);
    const Setup before = load("a.toml").setup, after = load("b.toml").setup;
    CHECK(std::fabs(after.tractor.lower_link.length.value - 30.5 * 0.0254) < 1e-12);
    CHECK(std::fabs(after.tractor.pto.stub_z.value - 0.533) < 1e-12);
    CHECK(std::fabs(after.implement.pic.x.value - 12.25 * 0.0254) < 1e-12);
    CHECK(std::fabs(after.driveline.tractor_joint.offset.value - 1.5 * 0.0254) < 1e-12);
    CHECK(after.tractor.lower_link.pivot_x == before.tractor.lower_link.pivot_x);
    CHECK(after.tractor.upper_link_pins == before.tractor.upper_link_pins);
    CHECK(after.implement.mast_pins == before.implement.mast_pins);
}

TEST_CASE("new: a dialogue asks in walking order, takes every form of a length, and asks again kindly", "[cli]") {
    const WorkingFolder folder;
    const Run result = ask({"--units", "in", "-o", "mine.toml"},
                           "My rig\n\n\nmounted\nyes\n\n"   // name, tractor, implement, how it is carried, driven, driveline
                           "21 1/8\n"              // hub height
                           "twelve\n12 miles\n-5\n?\n1'\n"  // width of the tyre: rubbish, then help, then a foot
                           "1270mm\n"              // track
                           "5\n1\n");              // category: no such word, then 1
    CAPTURE(result.err);
    CHECK(result.code == 0);
    CHECK(contains(result.err, "Not taken: \"twelve\""));
    CHECK(contains(result.err, "Not taken: \"12 miles\""));
    CHECK(contains(result.err, "Not taken: \"-5\""));
    CHECK(contains(unwrap(result.err), "allowed: 14.5, 14 1/2, 14-1/2in"));
    CHECK(contains(result.err, "Not taken: \"5\""));
    CHECK(contains(unwrap(result.out), "The dialogue ended before its last question; nothing typed is lost."));
    const Setup setup = load("mine.toml").setup;
    CHECK(setup.name == "My rig");
    CHECK(std::fabs(setup.tractor.tyre.rear_radius.value - 21.125 * 0.0254) < 1e-12);
    CHECK(std::fabs(setup.tractor.tyre.rear_width.value - 0.3048) < 1e-12);
    CHECK(std::fabs(setup.tractor.tyre.rear_track.value - 1.270) < 1e-12);
    CHECK(setup.tractor.hitch.category == Category::cat1);
    CHECK(result.err.find("Tractor: rear axle") < result.err.find("Tractor: lower links"));
    CHECK(result.err.find("Never get under an implement") < result.err.find("floor to rear hub centre"));
}

TEST_CASE("new: the dialogue says which end of the shaft is meant, and takes a bare number in the unit it asked for", "[cli]") {
    const WorkingFolder folder;
    // Through the upper link to the turns of its body, and through the PTO stub to its power.
    const Run result = ask({"--tractor", "measured", "--implement", "tiller-5", "--driveline", "measured", "--name", "x", "--units", "mm", "-o", "m.toml"},
                           std::string(200, '\n'));
    CAPTURE(result.err);
    CHECK(contains(unwrap(result.err), "tractor end: end of the machine's shaft to the joint centre"));
    CHECK(contains(unwrap(result.err), "implement end: end of the machine's shaft to the joint centre"));
    for (const std::string& line : split_lines(result.out)) CHECK(line.size() <= 80);
    // Each prompt ends a question: the place of one among them is the number of lines to type before.
    const std::string text = result.err;
    const auto place = [&text](const std::string& question) {
        const std::size_t end = text.find(question);
        REQUIRE(end != std::string::npos);
        std::size_t count = 0;
        for (std::size_t at = text.find("  > "); at < end; at = text.find("  > ", at + 1)) ++count;
        return count;
    };
    const std::size_t turns = place("change of length in one turn"), power = place("power at the PTO");
    REQUIRE(turns < power);
    const std::string typed = std::string(turns, '\n') + "6.5\n" + std::string(power - turns - 1, '\n') + "25\n";
    REQUIRE(ask({"--tractor", "measured", "--implement", "tiller-5", "--driveline", "measured", "--name", "x", "--units", "mm", "-o", "n.toml"}, typed).code == 0);
    const Setup setup = load("n.toml").setup;
    CHECK(std::fabs(setup.tractor.upper_link.advance_per_turn.value - 0.0065) < 1e-12);
    CHECK(std::fabs(setup.tractor.pto.power.value - 25000.0) < 1e-6);
}

TEST_CASE("new: < goes back to the question before, Enter leaves a reading open", "[cli]") {
    const WorkingFolder folder;
    const Run result = ask({"--tractor", "measured", "--implement", "tiller-5", "--driveline", "shaft-31", "--name", "x", "--units", "in", "-o", "m.toml"},
                           "21\n\n<\n12\n<\n<\n20\n11\nquit\n");
    CAPTURE(result.err);
    CHECK(result.code == 0);
    const Setup setup = load("m.toml").setup;
    CHECK(std::fabs(setup.tractor.tyre.rear_radius.value - 20 * 0.0254) < 1e-12);
    CHECK(std::fabs(setup.tractor.tyre.rear_width.value - 11 * 0.0254) < 1e-12);
    CHECK_FALSE(setup.tractor.tyre.rear_track.known);
    CHECK_FALSE(contains(read_file("m.toml"), "quit"));
}

TEST_CASE("new: a hole with one of its two places stands as a comment with what was typed", "[cli]") {
    SetupDraft draft;
    draft.answers = {{"tractor.upper_link_pin[1].name", "top"}, {"tractor.upper_link_pin[1].x", "8 1/4"},
                     {"tractor.upper_link_pin[2].name", "low"}, {"tractor.upper_link_pin[2].x", "8"},
                     {"tractor.upper_link_pin[2].z", "30"}};
    const std::string text = format_setup_draft(draft);
    CHECK(contains(text, "# x = \"8 1/4\"\n"));
    CHECK(contains(text, "# name = \"top\"\n"));
    const LoadedSetup loaded = load_setup_draft(draft, Library{}, {});
    for (const Problem& p : loaded.problems) UNSCOPED_INFO(format_problem(p));
    REQUIRE(loaded.ok());
    REQUIRE(loaded.setup.tractor.upper_link_pins.size() == 1);
    CHECK(loaded.setup.tractor.upper_link_pins[0].name == "low");
    draft.answers["tractor.upper_link_pin[1].z"] = "32";
    CHECK(load_setup_draft(draft, Library{}, {}).setup.tractor.upper_link_pins.size() == 2);
}

TEST_CASE("new: an answer that contradicts another one is refused with both", "[cli]") {
    const WorkingFolder folder;
    // The upper link's shortest length above its longest: asked again, then left open by Enter.
    const Run result = ask({"--tractor", "measured", "--implement", "tiller-5", "--driveline", "shaft-31", "--name", "x", "--units", "in", "-o", "m.toml"},
                           std::string(3 + 8 + 1, '\n') + "\n\n" + "28\n19\n29\n");
    CAPTURE(result.err);
    CHECK(contains(result.err, "Not taken: \"19\""));
    CHECK(contains(unwrap(result.err), "upper_link.length_least (28) is not below upper_link.length_most (19)"));
    const Setup setup = load("m.toml").setup;
    CHECK(std::fabs(setup.tractor.upper_link.length_least.value - 28 * 0.0254) < 1e-12);
    CHECK(std::fabs(setup.tractor.upper_link.length_most.value - 29 * 0.0254) < 1e-12);
    SetupDraft draft;
    draft.answers = {{"tractor.travel.ball_height_low", "30"}, {"tractor.travel.ball_height_high", "8"}};
    CHECK_FALSE(load_setup_draft(draft, Library{}, {}).ok());
    draft.answers["tractor.travel.ball_height_high"] = "33";
    CHECK(load_setup_draft(draft, Library{}, {}).ok());
}

TEST_CASE("new: a dialogue survives whatever is typed, ends, and leaves a file that can be read", "[cli][random]") {
    const unsigned seed = 77;
    CAPTURE(seed);
    std::mt19937 random(seed);
    const std::vector<std::string> words = {"", "1", "21", "nan", "inf", "-1e300", "1e99in", "3/0", "yes", "no", "?", "<", "\x1b[2J", "\xff\xfe",
                                            "12in", "540, 1000", "locking_grooves", "plain", "slot", "rigid", "top", "\"", "\\", "]]", "= 3", "#",
                                            "a\tb", std::string(5000, 'x'), "0.5", "14 1/2 +- 1/8", "compact", "none", "in", "none\r"};
    for (int trial = 0; trial < 12; ++trial) {
        const WorkingFolder folder;
        std::string input = trial % 2 == 0 ? "rig\nin\n\n\nmounted\nyes\n\n" : "";
        for (int i = 0; i < 60; ++i) input += words[random() % words.size()] + "\n";
        CAPTURE(trial, input);
        const Run result = ask({"-o", "mine.toml"}, input);
        CHECK(result.code == 0);
        CHECK(result.err.find('\x1b') == std::string::npos);
        load("mine.toml");
    }
}

TEST_CASE("new: endless rubbish and an endless line come to an end", "[cli]") {
    const WorkingFolder folder;
    std::string rubbish;
    for (int i = 0; i < 3000; ++i) rubbish += "rubbish\n";
    const Run all_asked = ask({"-o", "a.toml"}, "x\nin\n\n\nmounted\nyes\n\n" + rubbish);
    CHECK(all_asked.code == 0);
    // It came to its own end, with input left.
    CHECK_FALSE(contains(all_asked.out, "The dialogue ended"));
    CHECK(contains(all_asked.err, "Left open for now."));
    load("a.toml");
    CHECK(ask({"-o", "b.toml"}, std::string(3 << 20, 'z')).code == 0);
    load("b.toml");
    CHECK(ask({"-o", "c.toml"}, "").code == 0);
    load("c.toml");
}

TEST_CASE("new: a file that exists is never overwritten, and nothing is asked for nothing", "[cli]") {
    const WorkingFolder folder;
    write_file("my-setup.toml", "precious");
    std::filesystem::create_directory("dir.toml");
    std::filesystem::create_symlink("nowhere", "link.toml");
    for (const std::vector<std::string>& args : {std::vector<std::string>{}, {"-o", "dir.toml"}, {"-o", "link.toml"}}) {
        const Run result = ask(args, "rig\n");
        CHECK(result.code == 4);
        CHECK(contains(result.err, "exists and is not overwritten"));
        CHECK_FALSE(contains(result.err, "Name of this set-up"));
    }
    CHECK(read_file("my-setup.toml") == "precious");
    CHECK(run({"new", "-o", "no/such/folder/x.toml"}).code == 4);
}

TEST_CASE("new: wrong options are refused with what is allowed, and no file is left", "[cli]") {
    const WorkingFolder folder;
    const struct {
        std::vector<std::string> args;
        int code;
        const char* says;
    } cases[] = {
        {{"new", "--tractor", "compct"}, 3, "compact"},
        {{"new", "--tractor", ""}, 2, "empty name"},
        {{"new", "--implement", "nosuch.toml"}, 3, "nosuch.toml"},
        {{"new", "--rules", "nosuch"}, 3, "nosuch"},
        {{"new", "--rules", ""}, 2, "empty name"},
        {{"new", "--units", "ell"}, 2, "in, mm"},
        {{"new", "-o", "x.txt"}, 2, "ending in .toml"},
        {{"new", "-o", ""}, 2, "ending in .toml"},
        {{"new", "--name", "\xff"}, 3, ""},
        {{"new", "--name", "a", "--name", "b"}, 2, "once is allowed"},
        {{"new", "extra"}, 2, "one name too many"},
    };
    for (const auto& c : cases) {
        CAPTURE(show(c.args));
        const Run result = run(c.args);
        CHECK(result.code == c.code);
        CHECK(result.out.empty());
        CHECK(contains(unwrap(result.err), c.says));
    }
    CHECK(std::filesystem::is_empty("."));
}

TEST_CASE("new: a mounted job has no line for what only drawn machines have, a drawn one has", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run_line("hitchwright new --tractor measured --implement measured -o mounted.toml").code == 0);
    const std::string mounted = read_file("mounted.toml");
    for (const char* part : {"drawbar_pin", "tongue_bar", "steering", "steady_bearing", "turn_left_most", "ditch", "adapter_length"}) {
        INFO(part);
        CHECK_FALSE(contains(mounted, part));
    }
    CHECK(contains(mounted, "[tractor.drawbar]"));  // room beside it is asked for mounted implements too
    REQUIRE(run_line("hitchwright new --ask -o drawn.toml", {false, {}, "drawn one\nin\n\n\ndrawn\n"}).code == 0);
    const std::string drawn = read_file("drawn.toml");
    for (const char* part : {"drawbar_pin", "tongue_bar", "steering", "steady_bearing", "turn_left_most", "attachment = \"drawn\""}) {
        INFO(part);
        CHECK(contains(drawn, part));
    }
}
