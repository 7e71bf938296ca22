// Set-ups: layers, --set, defaults, problems of several files in one go.

#include <catch2/catch.hpp>

#include <array>
#include <string>
#include <vector>

#include "geometry/setup_fields.h"
#include "presets/defaults.h"
#include "presets/load_setup.h"
#include "presets/overrides.h"
#include "tests/presets/scratch_folder.h"

using namespace hitchwright;
using test::ScratchFolder;

namespace {

constexpr double inch = 0.0254;

constexpr std::array<EmbeddedFile, 7> built_in = {{
    {"drivelines/shaft.toml", "kind = \"driveline\"\nversion = 1\nunit = \"in\"\n[shaft]\nclosed_length = 31\n"
                              "reference = \"joint_centres\"\ntractor_tube = 19\nimplement_tube = 19\n"},
    {"implements/mounted/blade.toml", "kind = \"implement\"\nversion = 1\nunit = \"in\"\n[[mast_pin]]\nname = \"1\"\nheight = 18\n"},
    {"implements/mounted/tiller.toml", "kind = \"implement\"\nversion = 1\nunit = \"in\"\n[[mast_pin]]\nname = \"1\"\nheight = 18\n"
                                       "[pic]\nspeed_rpm = 540\nx = 12\nz = 9\n"},
    {"rules/general.toml", "kind = \"rules\"\nversion = 1\nunit = \"mm\"\nname = \"General\"\ngap_required = 25\n"},
    {"rules/close.toml", "kind = \"rules\"\nversion = 1\nunit = \"mm\"\nname = \"Close\"\ngap_required = 12\n"},
    {"tractors/big.toml", "kind = \"tractor\"\nversion = 1\nunit = \"in\"\n[pto]\nstub_x = 14\nstub_z = 26\n"},
    {"tractors/small.toml", "kind = \"tractor\"\nversion = 1\nunit = \"in\"\n[[upper_link_pin]]\nname = \"1\"\nx = 8\nz = 30\n"
                            "[[upper_link_pin]]\nname = \"2\"\nx = 8\nz = 32\n[pto]\nstub_x = 11\nstub_z = 21\nsplines = 6\n"},
}};

const std::string setup_text =
    "kind = \"setup\"\nversion = 1\nunit = \"in\"\nname = \"Bay 2\"\nrules = \"close\"\n"
    "[tractor]\nuse = \"small\"\npto.stub_x = \"11 1/4 in\"\n"
    "[implement]\nuse = \"tiller\"\n"
    "[driveline]\nuse = \"shaft\"\n"
    "[choices]\nupper_link_pin = \"2\"\nlift_stop = 27\n";

LoadedSetup load(const std::string& text, std::vector<std::string> sets = {}, std::string rules = {}) {
    const ScratchFolder folder;
    LoadedSetup loaded = load_setup(folder.write("s.toml", text), Library({}, built_in), {std::move(sets), std::move(rules)});
    for (const Problem& problem : loaded.problems) {
        UNSCOPED_INFO(format_problem(problem));
    }
    return loaded;
}

Problem only_problem(const std::string& text, std::vector<std::string> sets = {}) {
    const LoadedSetup loaded = load(text, std::move(sets));
    REQUIRE(loaded.problems.size() == 1);
    return loaded.problems.front();
}

std::string replace(std::string text, const std::string& from, const std::string& to) {
    REQUIRE(text.find(from) != std::string::npos);
    return text.replace(text.find(from), from.size(), to);
}

}  // namespace

TEST_CASE("set-up: preset, own values, command line lie over each other in that order", "[analytic]") {
    const LoadedSetup plain = load(setup_text);
    REQUIRE(plain.ok());
    const Setup& setup = plain.setup;
    CHECK(setup.key == "s");
    CHECK(setup.name == "Bay 2");
    CHECK(setup.tractor.key == "small");
    CHECK(setup.tractor.pto.stub_x == make_reading(11.25 * inch, Origin::measured, inch / 4));
    CHECK(setup.tractor.pto.stub_z.origin == Origin::preset);
    CHECK(setup.implement.pic.fitted);
    CHECK(setup.has_driveline);
    CHECK(setup.rules.key == "close");
    CHECK(setup.choices.upper_link_pin == "2");
    CHECK(plain.unit == "in");
    REQUIRE(plain.files.size() == 5);
    CHECK(plain.files[1].file == "built-in:tractors/small.toml");
    CHECK(plain.notes.at("tractor.pto.stub_x").line == 8);
    CHECK(plain.notes.at("tractor.pto.stub_z").file == "built-in:tractors/small.toml");
    const LoadedSetup set = load(setup_text, {"tractor.pto.stub_x=11 1/2", "choices.lift_stop=650 mm"});
    REQUIRE(set.ok());
    CHECK(set.setup.tractor.pto.stub_x.value == 11.5 * inch);  // a bare length: the set-up file's unit
    CHECK(set.setup.choices.lift_stop.value == 0.65);
    CHECK(set.notes.at("tractor.pto.stub_x").file == "--set");
    CHECK(set.notes.at("tractor.pto.stub_x").typed == "11 1/2");
}

TEST_CASE("set-up: of two --set for one key the later holds", "[analytic]") {
    const LoadedSetup set = load(setup_text, {"tractor.pto.stub_x=10", "tractor.pto.stub_z=20", "tractor.pto.stub_x=12"});
    REQUIRE(set.ok());
    CHECK(set.setup.tractor.pto.stub_x.value == 12 * inch);
    CHECK(set.setup.tractor.pto.stub_z.value == 20 * inch);
}

TEST_CASE("set-up: --set reaches list items, words, numbers, lists, flags and takes values away", "[analytic]") {
    const LoadedSetup set = load(setup_text, {"tractor.upper_link_pin[2].z=33 1/2 in", "tractor.hitch.category=1", "tractor.pto.splines=21",
                                              "tractor.pto.speeds_rpm=540, 1000", "tractor.pto.stub_z=", "choices.upper_link_pin=",
                                              "implement.mast_pin[1].offset=-1in +- 1/8in", "name=Other"});
    REQUIRE(set.ok());
    const Setup& setup = set.setup;
    CHECK(setup.tractor.upper_link_pins.at(1).z.value == 33.5 * inch);
    CHECK(setup.tractor.upper_link_pins.at(1).x.value == 8 * inch);
    CHECK(setup.tractor.upper_link_pins.at(0).z.value == 30 * inch);
    CHECK(setup.tractor.hitch.category == Category::cat1);
    CHECK(setup.tractor.pto.splines == 21);
    CHECK(setup.tractor.pto.speeds_rpm == std::vector<int>{540, 1000});
    CHECK_FALSE(setup.tractor.pto.stub_z.known);
    CHECK_FALSE(set.notes.contains("tractor.pto.stub_z"));
    CHECK(setup.choices.upper_link_pin.empty());
    CHECK(setup.implement.mast_pins.at(0).offset == make_reading(-inch, Origin::measured, inch / 8));
    CHECK(setup.name == "Other");
}

TEST_CASE("set-up: --set adds an item with all it needs, and takes one out", "[analytic]") {
    const auto load = [](const std::vector<std::string>& sets) { return load_setup("utility-cutter-fits", Library(), {sets, {}}); };
    const auto pins = [&](const std::vector<std::string>& sets) {
        const LoadedSetup loaded = load(sets);
        REQUIRE(loaded.ok());
        return loaded.setup.tractor.upper_link_pins;
    };
    const std::vector<NamedPoint> before = pins({});
    REQUIRE(before.size() > 2);
    const std::vector<std::string> add{"tractor.upper_link_pin[+9].x=8 in", "tractor.upper_link_pin[+9].z=36 in"};
    const std::vector<NamedPoint> more = pins(add);
    REQUIRE(more.size() == before.size() + 1);
    CHECK(more.back().name == "9");
    CHECK(more.back().x.value == Approx(8 * 0.0254));
    // A later --set reaches the new item by its name, and the places of the others stay when one is away.
    CHECK(pins({add[0], add[1], "tractor.upper_link_pin[9].x=7 in"}).back().x.value == Approx(7 * 0.0254));
    const std::vector<NamedPoint> fewer = pins({"tractor.upper_link_pin[" + before[0].name + "]=", "tractor.upper_link_pin[" + before[1].name + "].x=9 in"});
    REQUIRE(fewer.size() == before.size() - 1);
    CHECK(fewer.front().name == before[1].name);
    CHECK(fewer.front().x.value == Approx(9 * 0.0254));
    CHECK(fewer.back() == before.back());
    CHECK(load({add[0]}).problems.front().message == "this value is missing");
    for (const std::vector<std::string>& wrong : std::vector<std::vector<std::string>>{
             {"tractor.upper_link_pin[+" + before[0].name + "].x=8 in"}, {"tractor.upper_link_pin[+].x=8 in"},
             {"tractor.upper_link_pin[+9]="}, {"tractor.upper_link_pin[77]="}, {"tractor.upper_link_pin[" + before[0].name + "]=", "tractor.upper_link_pin[" + before[0].name + "].x=8 in", "tractor.upper_link_pin[77].x=1 in"}}) {
        CAPTURE(wrong.front());
        CHECK_FALSE(load(wrong).ok());
    }
}

TEST_CASE("set-up: another rule set by --rules, --set or the file, in that order, general without any", "[analytic]") {
    CHECK(load(setup_text).setup.rules.key == "close");
    CHECK(load(setup_text, {"rules=general"}).setup.rules.key == "general");
    CHECK(load(setup_text, {"rules=general"}, "close").setup.rules.key == "close");
    CHECK(load(replace(setup_text, "rules = \"close\"\n", "")).setup.rules.key == "general");
    const LoadedSetup wrong = load(setup_text, {}, "clos");
    REQUIRE(wrong.problems.size() == 1);
    CHECK(wrong.problems.front().file == "--rules");
    CHECK(wrong.problems.front().nearest_key == "close");
}

TEST_CASE("set-up: a driveline may be left out, exchanged, or taken away", "[analytic]") {
    CHECK_FALSE(load(replace(setup_text, "[driveline]\nuse = \"shaft\"\n", "")).setup.has_driveline);
    CHECK_FALSE(load(setup_text, {"driveline.use=none"}).setup.has_driveline);
    CHECK(load(replace(setup_text, "use = \"shaft\"", "use = \"none\""), {"driveline.use=shaft"}).setup.has_driveline);
    const Problem lost = only_problem(setup_text, {"driveline.use=none", "driveline.guard.radius=3in"});
    CHECK(lost.key == "driveline.guard");
    const Problem beside = only_problem(replace(setup_text, "use = \"shaft\"", "use = \"none\"\nguard.radius = 3"));
    CHECK(beside.line == 13);
}

TEST_CASE("set-up: measures of one machine are not taken for another one", "[analytic]") {
    // The 11 1/4 in were measured on the tractor the file names.
    const LoadedSetup other = load(replace(setup_text, "upper_link_pin = \"2\"\n", ""), {"tractor.use=big"});
    REQUIRE(other.ok());
    CHECK(other.setup.tractor.key == "big");
    CHECK(other.setup.tractor.pto.stub_x == make_reading(14 * inch, Origin::preset, inch / 4));
    const LoadedSetup same = load(setup_text, {"tractor.use=small"});
    CHECK(same.setup.tractor.pto.stub_x.value == 11.25 * inch);
}

TEST_CASE("set-up: a list given in the set-up replaces the whole list", "[analytic]") {
    const std::string text = replace(setup_text, "[implement]", "[[tractor.upper_link_pin]]\nname = \"2\"\nx = 9\nz = 40\n[implement]");
    const LoadedSetup loaded = load(text);
    REQUIRE(loaded.ok());
    REQUIRE(loaded.setup.tractor.upper_link_pins.size() == 1);
    CHECK(loaded.setup.tractor.upper_link_pins.front().z.value == 40 * inch);
    CHECK_FALSE(loaded.notes.contains("tractor.upper_link_pin[1].z"));
}

TEST_CASE("set-up: files beside it are found from its own folder", "[analytic]") {
    const ScratchFolder folder;
    folder.write("machines/mine.toml", "kind = \"tractor\"\nversion = 1\n[pto]\nstub_x = \"9 in\"\n");
    const std::string path = folder.write("s.toml", replace(replace(setup_text, "\"small\"", "\"machines/mine.toml\""), "upper_link_pin = \"2\"\n", ""));
    const LoadedSetup loaded = load_setup(path, Library({}, built_in));
    REQUIRE(loaded.ok());
    CHECK(loaded.setup.tractor.key == "mine");
    CHECK(loaded.files[1].file == folder.path("machines/mine.toml"));
}

TEST_CASE("set-up: problems of the set-up, of a file it names and of the command line come together", "[analytic]") {
    const ScratchFolder folder;
    folder.write("bad.toml", "kind = \"tractor\"\nversion = 1\nunit = \"in\"\n[pto]\nstub_x = \"abc\"\nstub_q = 3\n");
    std::string text = replace(setup_text, "\"small\"", "\"bad.toml\"");
    text = replace(text, "\"tiller\"", "\"tilller\"");
    text = replace(text, "lift_stop = 27", "lift_stopp = 27");
    const LoadedSetup loaded = load_setup(folder.write("s.toml", text), Library({}, built_in), {{"choices.lift_stop=x", "nonsense"}, {}});
    std::vector<std::string> keys;
    for (const Problem& problem : loaded.problems) {
        INFO(format_problem(problem));
        keys.push_back(problem.file.substr(problem.file.rfind('/') + 1) + ":" + std::to_string(problem.line) + ":" + problem.key);
    }
    CHECK(keys == std::vector<std::string>{"--set:0:", "--set:0:choices.lift_stop", "bad.toml:5:pto.stub_x", "bad.toml:6:pto.stub_q",
                                           "s.toml:10:implement.use", "s.toml:15:choices.lift_stopp"});
}

TEST_CASE("set-up: malformed and misplaced --set are problems, each with what is allowed", "[analytic]") {
    for (const char* set : {"x", "", "=3", ".=3", "a..b=3", "a.=3", "tractor.upper_link_pin[=3", "tractor.upper_link_pin[].z=3", "a b=3",
                            "a.b.c.d.e.f.g.h.i=3", "\x1b=3"}) {
        CAPTURE(set);
        const Problem problem = only_problem(setup_text, {set});
        CHECK(problem.file == "--set");
        CHECK(problem.allowed.rfind("KEY=VALUE", 0) == 0);
    }
    CHECK(only_problem(setup_text, {std::string(501, 'x') + "=3"}).message == "this is longer than 500 characters");
    for (const char* set : {"tractor=big", "tractor.pto=3", "tractor.upper_link_pin=3", "tractor.upper_link_pin[9].z=3",
                            "tractor.upper_link_pin[2]=3", "tractor.pto.splines=six", "tractor.pto.stub_x=3,5",
                            "tractor.pto.stub_x=11 kg", "implement.point[1].x=3", "unit=mm", "kind=setup", "choices.lift_stopp=3",
                            "tractor.use=", "driveline=", "tractor.pto.stub_x.value=3 furlongs"}) {
        CAPTURE(set);
        const Problem problem = only_problem(setup_text, {set});
        CHECK(problem.file == "--set");
        CHECK_FALSE(problem.message.empty());
    }
}

TEST_CASE("set-up: an input shaft can be taken away on the command line", "[analytic]") {
    CHECK_FALSE(load(setup_text, {"implement.pic="}).setup.implement.pic.fitted);
}

TEST_CASE("set-up: missing tables and wrong references are problems", "[analytic]") {
    CHECK(only_problem(replace(setup_text, "[implement]\nuse = \"tiller\"\n", "")).key == "implement");
    CHECK(only_problem(replace(setup_text, "upper_link_pin = \"2\"", "upper_link_pin = \"3\"")).allowed == "1, 2");
    CHECK(only_problem(setup_text, {"choices.cut_tractor_half=19 in"}).file == "--set");
    CHECK(only_problem(setup_text, {"choices.working_band_low=20", "choices.working_band_high=10"}).key == "choices.working_band_high");
    CHECK(only_problem(setup_text, {"driveline.shaft.reference="}).key == "driveline.shaft.closed_length");
    CHECK(only_problem(replace(setup_text, "use = \"small\"", "use = 3")).key == "tractor.use");
    CHECK(only_problem(replace(setup_text, "[choices]", "[choice]")).nearest_key == "choices");
    CHECK(only_problem(replace(setup_text, "pto.stub_x", "stub_x")).nearest_key == "tractor.pto.stub_x");
    CHECK(only_problem(replace(setup_text, "pto.stub_x", "pto.stubx")).nearest_key == "tractor.pto.stub_x");
    const LoadedSetup missing = load_setup("no-such-set-up", Library({}, built_in), {{"bad"}, {}});
    CHECK(missing.problems.size() == 2);
    const LoadedSetup folder = load_setup("/", Library({}, built_in));
    REQUIRE(folder.problems.size() == 1);
    CHECK(folder.problems.front().message == "this is a directory, not a file");
}

TEST_CASE("set-up: positions of the drawbar have names, each once, and the one chosen is among them", "[analytic]") {
    const std::string pins = "[[tractor.drawbar_pin]]\nname = \"short\"\nlength = 12\n[[tractor.drawbar_pin]]\nname = \"long\"\nlength = 16\n";
    const std::string text = setup_text + "drawbar_pin = \"long\"\n" + pins;
    CHECK(load(text).ok());
    Problem p = only_problem(replace(text, "\"long\"", "\"lng\""));
    CHECK(p.message == "the drawbar has no position of that name");
    CHECK(p.key == "choices.drawbar_pin");
    CHECK((p.read == "lng" && p.allowed == "short, long" && p.nearest_key == "long" && p.line > 0));
    CHECK(only_problem(text, {"choices.drawbar_pin=middle"}).file == command_line_name);
    CHECK(only_problem(replace(text, "name = \"long\"", "name = \"short\""), {"choices.drawbar_pin=short"}).message ==
          "two items of this list have the same name");
    CHECK(only_problem(replace(text, "name = \"long\"\n", ""), {"choices.drawbar_pin=short"}).message == "one of several items has no name");
    const std::string bar = "[[implement.tongue_bar]]\nname = \"tongue\"\nfront_x = 0\nrear_x = 50\nwidth = 8\n";
    CHECK(only_problem(setup_text + bar + bar).message == "two items of this list have the same name");
}

TEST_CASE("set-up: points and ground contacts have names, which answers call them by", "[analytic]") {
    for (const char* list : {"point", "ground_contact"}) {
        CAPTURE(list);
        const std::string head = "[[implement." + std::string(list) + "]]\n", one = head + "x = 20\nz = -3\n", other = head + "x = 50\nz = -3\n";
        CHECK(load(setup_text + one + "name = \"front\"\n").ok());
        const Problem only = only_problem(setup_text + one);
        CHECK(only.message == "this item has no name");
        CHECK(only.key == "implement." + std::string(list) + "[1].x");
        CHECK(only.line > 0);
        const LoadedSetup loaded = load(setup_text + one + other);
        REQUIRE(loaded.problems.size() == 2);
        for (const Problem& p : loaded.problems) CHECK(p.message == "one of several items has no name");
        CHECK(only_problem(setup_text + one + other + "name = \"rear\"\n").message == "one of several items has no name");
    }
}

TEST_CASE("set-up: what nobody gave is filled from the list of defaults only, and says so", "[analytic]") {
    const LoadedSetup loaded = load(setup_text);
    REQUIRE(loaded.ok());
    const Reading& offset = loaded.setup.driveline.tractor_joint.offset;
    CHECK(offset == make_reading(1.25 * inch, Origin::assumed, inch / 2));
    const FieldNote& note = loaded.notes.at("driveline.tractor_joint.offset");
    CHECK(note.by_default);
    CHECK(note.grade == Grade::P);
    CHECK_FALSE(note.note.empty());
    CHECK(loaded.setup.tractor.pto.stub_slope == make_reading(0, Origin::assumed, field::degree));
    CHECK(loaded.setup.implement.mast_pins.front().offset.origin == Origin::assumed);
    // Nothing stands in for a length nobody gave, nor for a slot where there is no lift rod.
    CHECK_FALSE(loaded.setup.tractor.lower_link.length.known);
    CHECK_FALSE(loaded.setup.tractor.lift_rod.free_rise.known);
    const LoadedSetup typed = load(setup_text, {"driveline.tractor_joint.offset=2in"});
    CHECK(typed.setup.driveline.tractor_joint.offset.origin == Origin::measured);
    CHECK(load(setup_text, {"implement.use=blade", "driveline.use=none"}).notes.count("implement.pic.slope") == 0);
}

TEST_CASE("pose readings: what each needs is asked for, all in one go", "[analytic]") {
    const std::string text = setup_text + "[[pose_reading]]\nname = \"level\"\nwhat = \"pitch\"\nball_height = 12\n"
                                          "[[pose_reading]]\nname = \"tail\"\nwhat = \"tail_height\"\npoint = \"no such\"\n"
                                          "[[pose_reading]]\nname = \"top\"\nwhat = \"greatest_ball_height\"\nlength = 31\n"
                                          "[[pose_reading]]\nname = \"link\"\nwhat = \"upper_link_length\"\nball_height = 12\nlength = 24\n";
    const LoadedSetup loaded = load(text);
    std::vector<std::string> messages;
    for (const Problem& p : loaded.problems) {
        CHECK(p.line > 10);
        messages.push_back(p.key + ": " + p.message + ": " + p.allowed);
    }
    const auto names = [&](const char* key, const char* what) {
        return std::any_of(messages.begin(), messages.end(), [&](const std::string& m) {
            return m.find(key) != std::string::npos && m.find(what) != std::string::npos;
        });
    };
    CHECK(messages.size() == 4);
    CHECK(names("pose_reading[level].what", "give angle"));
    CHECK(names("pose_reading[tail].what", "give ball_height"));
    CHECK(names("pose_reading[tail].what", "give length"));
    CHECK(names("pose_reading[tail].point", "no such"));
    CHECK(names("pose_reading[link].what", "give angle"));
    CHECK_FALSE(names("pose_reading[top]", ""));
    const LoadedSetup turned = load(setup_text + "[[turn_reading]]\nturn = 20\ndistance = 40\nreference = \"joint_centres\"\n");
    REQUIRE(turned.problems.size() == 1);
    CHECK(turned.problems[0].key == "turn_reading[1].distance");
}

TEST_CASE("pose readings: read with their usual errors", "[analytic]") {
    const LoadedSetup loaded = load(setup_text + "[[pose_reading]]\nname = \"level\"\nwhat = \"pitch\"\nball_height = 12\nangle = -2.5\n");
    REQUIRE(loaded.ok());
    const PoseReading& p = loaded.setup.pose_readings.at(0);
    CHECK(p.what == PoseQuantity::pitch);
    CHECK(p.angle.value == Approx(-2.5 * field::degree));
    CHECK(p.angle.tolerance == Approx(field::angle_error));
    CHECK(p.ball_height.tolerance == Approx(field::floor_error));
}

TEST_CASE("load_setup: two threads read what one reads, and tell of it in the same order", "[metamorphic]") {
    const auto same = [](std::string_view name, const Library& library, LoadOptions options) {
        const LoadedSetup one = load_setup(name, library, options);
        options.threads = 2;
        for (int i = 0; i < 20; ++i) {  // whoever is first
            const LoadedSetup two = load_setup(name, library, options);
            CHECK(two.setup == one.setup);
            CHECK(two.problems == one.problems);
            CHECK(two.notes == one.notes);
            CHECK(two.files == one.files);
        }
        return one;
    };
    const Library presets;
    for (const PresetEntry& entry : presets.list(FileKind::setup)) {
        CAPTURE(entry.key);
        CHECK(same(entry.key, presets, {{"choices.lift_stop=700 mm"}, {}, {"pto-driven-mower"}}).files.size() > 3);
        CHECK(same(entry.key, presets, {}).ok());
    }
    const ScratchFolder folder;
    const std::string wrong = replace(replace(replace(setup_text, "stub_x", "stub_y"), "\"tiller\"", "\"tillr\""), "lift_stop", "lift_stp");
    const LoadedSetup bad = same(folder.write("s.toml", wrong + "[specification_list]\nx = 1\n"), Library({}, built_in),
                                 {{"driveline.shaft.closed_length=x", "tractor.use=other"}, "loose", {"none"}});
    std::vector<std::string> keys;
    for (const Problem& problem : bad.problems) keys.push_back(problem.key);
    CAPTURE(keys);
    CHECK(bad.problems.size() > 6);
}

TEST_CASE("load_setup: that a file states no unit is said once, whichever parts of it have bare lengths", "[errors]") {
    const LoadedSetup loaded = load(
        "kind = \"setup\"\nversion = 1\nname = \"Bay 2\"\n[tractor]\nuse = \"small\"\npto.stub_x = 11\n[implement]\nuse = \"tiller\"\n"
        "work.ball_height = 16\n[driveline]\nuse = \"shaft\"\nshaft.closed_length = 30\n[choices]\nlift_stop = 27\n");
    REQUIRE(loaded.problems.size() == 1);
    CHECK(loaded.problems.front().key == "tractor.pto.stub_x");
    CHECK(loaded.problems.front().message.find("said once for the whole file") != std::string::npos);
}

TEST_CASE("defaults: every key of the list is a key of a set-up, with reason and a value in range", "[analytic]") {
    REQUIRE_FALSE(default_values().empty());
    Setup setup;
    setup.has_driveline = true;
    setup.implement.pic.fitted = true;
    setup.implement.mast_pins.resize(1);
    setup.implement.ground_contacts.resize(1);
    setup.tractor.pto.stub_x = make_reading(0.3);
    setup.tractor.lift_rod.length = make_reading(0.4);
    setup.implement.pic.x = make_reading(0.3);
    setup.driveline.closed_length = make_reading(0.8);
    setup.parts.coupler.fitted = true;
    setup.parts.coupler.set_back = setup.parts.coupler.hook_height = setup.parts.coupler.pin_height = make_reading(0.4);
    FieldNotes notes;
    fill_defaults(setup, notes);
    CHECK(notes.size() == default_values().size());
    for (const DefaultValue& value : default_values()) {
        CAPTURE(std::string(value.key));
        CHECK(value.reason.size() > 10);
        CHECK(value.tolerance >= 0.0);
    }
}
