// record: what is written, what stays, what is refused, and that a refused run leaves the file alone.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <array>
#include <random>
#include <set>
#include <string>

#include <csignal>

#include <sys/resource.h>
#include <sys/stat.h>

#include "cli/command_table.h"
#include "geometry/visit_readings.h"
#include "presets/load_setup.h"
#include "presets/record_values.h"
#include "presets/source_edit.h"
#include "tests/cli/run.h"
#include "tests/report/json_shapes.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

const std::string mine =
    "# Mine.\nkind = \"setup\"\nversion = 1\nunit = \"in\"\n\n[tractor]\nuse = \"compact\"   # the blue "
    "one\n\n[implement]\nuse = "
    "\"tiller-5\"\n[driveline]\nuse = \"shaft-31\"\n[choices]\nupper_link_pin = \"2\"\nmast_pin = "
    "\"1\"\nworking_band_low = "
    "12\nworking_band_high = 22\nlift_stop = \"27 in\" # fixed\n";

struct Candidate {
    std::string key;
    FieldSpec spec;
};

std::vector<Candidate> list_readings(Setup setup) {
    std::vector<Candidate> all;
    visit_readings(setup, [&](const std::string& key, const Reading&, const FieldSpec& spec) {
        all.push_back({key, spec});
    });
    return all;
}

// A value inside the range, in a form a person types.
std::string pick_value(const FieldSpec& spec, std::mt19937& random) {
    const double share = std::uniform_real_distribution<double>(0.05, 0.6)(random);
    const double si = spec.least + share * (spec.most - spec.least);
    const auto text = [](double value, const char* unit) {
        std::string number = std::to_string(value);
        number.resize(number.find('.') + 3);
        return number + unit;
    };
    switch (spec.dimension) {
        case Dimension::length:
            if (random() % 3 == 0) return std::to_string(static_cast<int>(si / 0.0254)) + " 3/16 in";
            return random() % 2 == 0 ? text(si / 0.0254, "") : text(si * 1e3, " mm +- 1 mm");
        case Dimension::angle:
            return text(si * 57.29578, random() % 2 == 0 ? "" : " deg");
        case Dimension::mass:
            return text(si, " kg");
        case Dimension::force:
            return text(si, " N");
        case Dimension::power:
            return text(si / 1e3, " kW");
        case Dimension::rotation_speed:
            return text(si * 9.5493, "");
        case Dimension::ratio:
            return text(si, "");
        case Dimension::length_per_turn:
            return text(si * 1e3, " mm/turn");
        case Dimension::pressure:
            return text(si / 1e3, " kPa");
        case Dimension::torque:
            return text(si, " Nm");
        case Dimension::count:
            return text(si, "");
    }
    return {};
}

// All lines but one are there in order: the one is new or another.
bool differs_by_one_line(const std::string& before, const std::string& after, std::size_t most_new) {
    const auto a = split_lines(before), b = split_lines(after);
    std::size_t front = 0, back = 0;
    while (front < std::min(a.size(), b.size()) && a[front] == b[front]) ++front;
    while (back < std::min(a.size(), b.size()) - front && a[a.size() - 1 - back] == b[b.size() - 1 - back]) ++back;
    return a.size() - front - back <= 1 && b.size() - front - back <= most_new;
}

bool has_leftovers() {
    return std::any_of(std::filesystem::directory_iterator("."), std::filesystem::directory_iterator{},
                       [](const auto& entry) { return contains(entry.path().filename().string(), ".part"); });
}

bool is_file(const std::string& path) {
    std::error_code error;
    return std::filesystem::is_regular_file(path, error);
}

Json record_json(std::vector<std::string> args) {
    args.insert(args.begin(), "record");
    args.insert(args.end(), {"--format", "json"});
    const Run result = run(args);
    CAPTURE(result.err);
    REQUIRE(result.code == 0);
    return Json::parse(result.out);
}

}  // namespace

TEST_CASE("record: only the value changes, and a value of a used file is overridden in the set-up", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    const Run result = run({"record", "a.toml", "choices.lift_stop=26", "tractor.pto.stub_x=11 1/4 in"});
    CAPTURE(result.err, result.out);
    REQUIRE(result.code == 0);
    std::string wanted = mine;
    wanted.replace(wanted.find("\"27 in\""), 7, "26");
    wanted.insert(wanted.find("\n[implement]"), "pto.stub_x = \"11 1/4 in\"\n");
    CHECK(read_file("a.toml") == wanted);
    CHECK(contains(result.out, "choices.lift_stop: \"27 in\" -> 26"));
    CHECK(contains(unwrap(result.out), "tractor.pto.stub_x: 11 (built-in:tractors/compact.toml) -> \"11 1/4 in\""));
    CHECK(contains(result.out, "Before: "));
    CHECK(contains(result.out, "Cautions\n"));
    for (const std::string& line : split_lines(result.out)) CHECK(line.size() <= 80);
    CHECK(load_setup("./a.toml", Library{}).setup.choices.lift_stop.value == Approx(26 * 0.0254).epsilon(1e-12));
    CHECK_FALSE(has_leftovers());
    const Run again = run({"record", "a.toml", "choices.lift_stop=26"});
    CHECK(again.code == 0);
    CHECK(contains(again.out, "Nothing to write"));
}

TEST_CASE("record: the answer before and after is that of fit", "[cli]") {
    const WorkingFolder folder;
    REQUIRE(run({"presets", "copy", "compact-tiller-bottoms-out"}).code == 0);
    const std::string file = "compact-tiller-bottoms-out.toml";
    const auto verdict = [&] { return Json::parse(run({"fit", file, "--format", "json"}).out); };
    const Json before = verdict();
    const Json json = record_json({file, "choices.cut_tractor_half=3.625", "choices.cut_implement_half=3 5/8 in"});
    const Json after = verdict();
    CHECK(json["before"]["verdict"] == before["verdict"]);
    CHECK(json["before"]["text"] == before["text"]);
    CHECK(json["after"]["verdict"] == after["verdict"]);
    CHECK(json["after"]["text"] == after["text"]);
    CHECK(json["cautions"] == after["cautions"]);
    CHECK(before["verdict"] != after["verdict"]);
    CHECK(json["written"] == true);
    CHECK(json["values"][1]["new"] == "\"3 5/8 in\"");
    CHECK(json["values"][1]["edit"] == "added");
}

TEST_CASE("record: every key of the answer is documented and every documented key is written", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    const Run result =
        run({"record", "a.toml", "choices.lift_stop=26", "coupler.fitted=false", "--dry-run", "--format", "json"});
    check_documented(result.out, "hitchwright.record");
}

TEST_CASE("record: --dry-run shows the lines and writes nothing", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    REQUIRE(chmod("a.toml", 0400) == 0);
    const Run result = run({"record", "a.toml", "choices.lift_stop=26", "--dry-run"});
    CHECK(result.code == 0);
    CHECK(read_file("a.toml") == mine);
    CHECK(contains(result.out, "18 - lift_stop = \"27 in\" # fixed\n"));
    CHECK(contains(result.out, "18 + lift_stop = 26 # fixed\n"));
    const Json json = record_json({"a.toml", "choices.lift_stop=26", "--dry-run"});
    CHECK(json["written"] == false);
    CHECK(json["lines"][0]["old"] == "lift_stop = \"27 in\" # fixed");
    CHECK(json["lines"][0]["new"] == "lift_stop = 26 # fixed");
    CHECK(read_file("a.toml") == mine);
}

TEST_CASE("record: byte order mark, line ends and permissions stay, and a link stays a link", "[cli]") {
    const WorkingFolder folder;
    std::string text = "\xEF\xBB\xBF";
    for (const char c : mine) text += c == '\n' ? std::string("\r\n") : std::string(1, c);
    std::filesystem::create_directory("below");
    write_file("below/a.toml", text);
    REQUIRE(chmod("below/a.toml", 0640) == 0);
    std::filesystem::create_symlink("below/a.toml", "link.toml");
    REQUIRE(run({"record", "link.toml", "choices.lift_stop=26", "choices.lower_stop=9"}).code == 0);
    std::string wanted = text;
    wanted.replace(wanted.find("\"27 in\""), 7, "26");
    wanted += "lower_stop = 9\r\n";
    CHECK(read_file("below/a.toml") == wanted);
    CHECK(std::filesystem::is_symlink("link.toml"));
    struct stat now {};
    REQUIRE(stat("below/a.toml", &now) == 0);
    CHECK((now.st_mode & 07777) == 0640);
}

TEST_CASE("record: all problems at once, and the file as it was", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    const auto refused = [&](const std::vector<std::string>& typed, const std::vector<std::string>& said) {
        std::vector<std::string> args{"record", "a.toml"};
        args.insert(args.end(), typed.begin(), typed.end());
        const Run result = run(args);
        CAPTURE(show(args), result.err);
        CHECK(result.code == 3);
        CHECK(result.out.empty());
        for (const std::string& words : said) CHECK(contains(unwrap(result.err), words));
        CHECK(contains(result.err, "nothing was written"));
        CHECK(read_file("a.toml") == mine);
        CHECK_FALSE(has_leftovers());
    };
    refused(
        {"choices.lift_stp=26", "choices.lower_stop=9 kg", "choices.mast_pin=7", "tractor.pto.stub_x=999", "nothing"},
        {"5 problems", "choices.lift_stop", "no unit of length", "choices.mast_pin",
         "tractor.pto.stub_x: this length is outside", "there is no = in it"});
    refused({"choices.lift_stop=26", "choices.lift_stop=25"}, {"given twice"});
    refused({"choices.lift_stop=26", " choices.lift_stop =26"}, {"given twice"});
    refused({"choices.lift_stop="}, {"a value is missing"});
    refused({"choices.lift_stop=26,5"}, {"comma"});
    refused({"choices.working_band_low=30"}, {"working_band"});
    refused({"tractor.use=utility"}, {"no reading"});
    refused({"kind=tractor"}, {"kind"});
    refused({"unit=mm"}, {"unit"});
    refused({"tractor=compact"}, {"tractor"});
    refused({"tractor.pto=compact"}, {"tractor.pto"});
    refused({"tractor.pto.stub_x.note=page 3"}, {"part of a value's table"});
    refused({"tractor.upper_link_pin[2].z=32"}, {"not in the file"});
    refused({"tractor.upper_link_pin[9].z=32"}, {"no item of that name", "allowed: 1, 2"});
    refused({"tractor.upper_link_pin[+9].x=8", "tractor.upper_link_pin[+9].z=32"}, {"new item", "[[tractor.upper_link_pin]]"});
    refused({"tractor.upper_link_pin=32"}, {"tractor.upper_link_pin"});
    refused({"direct_reading[1].distance=32"}, {"direct_reading"});
    refused({"coupler.set_back=4"}, {"fitted"});
    refused({"name=a\x01"
             "b"},
            {"cannot be printed"});
    refused({"name=a\xff"}, {"cannot be printed"});
    refused({"name=" + std::string(600, 'x')}, {"longer than"});
    refused({"rules=no-such-rules"}, {"rules"});
    refused({std::string(2000, '[') + "=1"}, {"record"});
}

TEST_CASE("record: what is no file of one's own is refused", "[cli]") {
    const WorkingFolder folder;
    std::filesystem::create_directory("folder.toml");
    write_file("broken.toml", "kind = \"setup\"\nversion = = 1\n");
    write_file("latin1.toml", "kind = \"setup\"\nname = \"caf\xe9\"\n");
    write_file("tractor.toml", "kind = \"tractor\"\nversion = 1\nunit = \"in\"\n");
    write_file("newer.toml", "kind = \"setup\"\nversion = 99\n");
    std::filesystem::create_symlink("loop.toml", "loop.toml");
    std::filesystem::create_symlink("gone.toml", "dangling.toml");
    for (const char* name : {"missing.toml", "folder.toml", "broken.toml", "latin1.toml", "tractor.toml", "newer.toml",
                             "loop.toml", "dangling.toml", "/dev/null", "no-such-name"}) {
        CAPTURE(name);
        const std::string before = is_file(name) ? read_file(name) : "";
        const Run result = run({"record", name, "choices.lift_stop=26"});
        CAPTURE(result.err);
        CHECK(result.code == 3);
        if (is_file(name)) CHECK(read_file(name) == before);
    }
    CHECK_FALSE(std::filesystem::exists("gone.toml"));
    const Run built_in = run({"record", "utility-cutter-fits", "choices.lift_stop=26"});
    CHECK(built_in.code == 3);
    CHECK(contains(unwrap(built_in.err), "hitchwright presets copy utility-cutter-fits"));
    CHECK(run({"record"}).code == 2);
    CHECK(run({"record", "a.toml"}).code == 2);
    CHECK(run({"record", "a.toml", "x=1", "--rules", "close"}).code == 2);
}

TEST_CASE("record: a file that cannot be written is said, and nothing is lost", "[cli]") {
    const WorkingFolder folder;
    write_file("a.toml", mine);
    // No file may grow beyond a few bytes: a full disk, for root as well.
    struct rlimit usual {};
    REQUIRE(getrlimit(RLIMIT_FSIZE, &usual) == 0);
    const auto handler = std::signal(SIGXFSZ, SIG_IGN);
    struct rlimit small = usual;
    small.rlim_cur = 16;
    REQUIRE(setrlimit(RLIMIT_FSIZE, &small) == 0);
    const Run result = run({"record", "a.toml", "choices.lift_stop=26", "--without-log"});
    REQUIRE(setrlimit(RLIMIT_FSIZE, &usual) == 0);
    std::signal(SIGXFSZ, handler);
    CHECK(result.code == 4);
    CHECK(result.out.empty());
    CHECK(contains(result.err, "cannot write 'a.toml'"));
    CHECK(read_file("a.toml") == mine);
    CHECK_FALSE(has_leftovers());
}

TEST_CASE("record: a name means one's own set-up in one's own folder", "[cli]") {
    const WorkingFolder folder;
    std::filesystem::create_directories("own/setups");
    write_file("own/setups/yard.toml", mine);
    World world;
    world.variables["HITCHWRIGHT_PRESETS"] = (folder.path() / "own").string();
    const Run result = run({"record", "yard", "choices.lift_stop=26"}, world);
    CAPTURE(result.err);
    CHECK(result.code == 0);
    CHECK(contains(read_file("own/setups/yard.toml"), "lift_stop = 26 # fixed"));
}

TEST_CASE("record: a file with a problem of its own can be mended, and gets no other", "[cli]") {
    const WorkingFolder folder;
    std::string text = mine;
    text.replace(text.find("\"27 in\""), 7, "2700");
    text.replace(text.find("mast_pin = \"1\""), 14, "mast_pin = \"77\"");
    write_file("a.toml", text);
    CHECK(run({"record", "a.toml", "choices.working_band_low=40"}).code == 3);
    CHECK(read_file("a.toml") == text);
    const Json json = record_json({"a.toml", "choices.lift_stop=26"});
    CHECK(json["before"]["verdict"].is_null());
    CHECK(json["after"]["verdict"].is_null());
    const Json mended = record_json({"a.toml", "choices.mast_pin=1"});
    CHECK(mended["before"]["verdict"].is_null());
    CHECK(mended["after"]["verdict"] == Json::parse(run({"fit", "a.toml", "--format", "json"}).out)["verdict"]);
}

TEST_CASE("record: what stands beside a value stays, and an origin that is not measured is said", "[cli]") {
    const WorkingFolder folder;
    std::string text = mine;
    text.insert(text.find("\n[implement]"),
                "pto.stub_x = { value = \"11 in\", tolerance = \"1/4 in\", origin = \"manual\", note = \"page 3\" }\n");
    write_file("a.toml", text);
    const Run result = run({"record", "a.toml", "tractor.pto.stub_x=11 1/4 in"});
    CHECK(result.code == 0);
    std::string wanted = text;
    wanted.replace(wanted.find("\"11 in\""), 7, "\"11 1/4 in\"");
    CHECK(read_file("a.toml") == wanted);
    CHECK(contains(unwrap(result.out), "its origin in the file stays manual"));
    const Run twice = run({"record", "a.toml", "tractor.pto.stub_x=11 1/4 in +- 1/8 in"});
    CHECK(twice.code == 3);
    CHECK(contains(unwrap(twice.err), "given twice"));
    CHECK(read_file("a.toml") == wanted);
}

TEST_CASE("record: random readings into files made by new and into the demos change one line and load as with --set",
          "[random]") {
    const WorkingFolder folder;
    std::vector<std::string> files;
    for (const std::string& demo : demo_setups()) {
        REQUIRE(run({"presets", "copy", demo}).code == 0);
        files.push_back(demo + ".toml");
    }
    const std::vector<std::vector<std::string>> made = {
        {"--tractor", "measured", "--implement", "measured", "--driveline", "measured"},
        {"--tractor", "compact", "--implement", "tiller-5"},
        {"--kind", "mounted-blade"},
        {"--kind", "drawn-pto", "--units", "mm"},
        {"--tractor", "utility", "--implement", "measured", "--driveline", "shaft-43", "--name",
         "K\xC3\xB6nig \xE6\x8B\x96"}};
    for (std::size_t i = 0; i < made.size(); ++i) {
        std::vector<std::string> args{"new", "-o", "new" + std::to_string(i) + ".toml"};
        args.insert(args.end(), made[i].begin(), made[i].end());
        REQUIRE(run(args).code == 0);
        files.push_back(args[2]);
    }
    const unsigned seed = 20260203;
    CAPTURE(seed);
    std::mt19937 random(seed);
    int written = 0, refused = 0;
    for (int round = 0; round < 400; ++round) {
        const std::string& file = files[random() % files.size()];
        const std::string before = read_file(file);
        const LoadedSetup loaded = load_setup("./" + file, Library{});
        REQUIRE(loaded.ok());
        const std::vector<Candidate> all = list_readings(loaded.setup);
        const Candidate& chosen = all[random() % all.size()];
        const std::string set = chosen.key + "=" + pick_value(chosen.spec, random);
        CAPTURE(file, set);
        const LoadedSetup wanted = load_setup("./" + file, Library{}, {{set}, {}});
        const Run result = run({"record", file, set});
        CAPTURE(result.err);
        const bool in_used_list = contains(chosen.key, "[");
        if (!wanted.ok() || in_used_list) {
            CHECK(result.code == 3);
            CHECK(read_file(file) == before);
            ++refused;
            continue;
        }
        REQUIRE(result.code == 0);
        const std::string after = read_file(file);
        // A new table needs three lines: a blank one, its header, the value.
        CHECK(differs_by_one_line(before, after, 3));
        const LoadedSetup is = load_setup("./" + file, Library{});
        REQUIRE(is.ok());
        CHECK(is.setup == wanted.setup);
        ++written;
        // Every file starts anew now and then, so that open keys are met.
        if (round % 3 == 0) write_file(file, before);
    }
    CHECK(written >= 150);
    CHECK(refused >= 20);
    CHECK_FALSE(has_leftovers());
}

namespace {

/// What is no reading, with values it takes.
const std::vector<std::pair<std::string, std::vector<std::string>>> words = {
    {"name", {"Yard", "a # b", "it's \"so\"", "K\xC3\xB6nig \xE6\x8B\x96", "[x]", "a = 1"}},
    {"note", {"one", "'''", "\\ \\n"}},
    {"rules", {"close", "general", "long-overlap"}},
    {"tractor.name", {"Blue", "\"\""}},
    {"tractor.hitch.category", {"1", "2", "none"}},
    {"tractor.pto.type", {"1", "2"}},
    {"tractor.pto.splines", {"6", "21", "021"}},
    {"tractor.pto.speeds_rpm", {"540", "540, 1000"}},
    {"tractor.pto.rotation", {"clockwise", "counterclockwise"}},
    {"implement.pic.speed_rpm", {"540", "1000"}},
    {"driveline.shaft.reference", {"joint_centres", "shaft_ends"}},
    {"choices.pto_speed_rpm", {"540", "1000"}},
    {"choices.lower_bushings", {"yes", "no"}},
    {"coupler.fitted", {"true", "false"}},
    {"overrunning_clutch.fitted", {"false"}}};

std::vector<std::string> pick_sets(const std::vector<Candidate>& readings, std::mt19937& random) {
    std::vector<std::string> sets;
    std::set<std::string> keys;
    for (std::size_t i = 1 + random() % 6; i > 0; --i) {
        const bool word = random() % 3 == 0;
        const auto& chosen = words[random() % words.size()];
        const Candidate& reading = readings[random() % readings.size()];
        const std::string key = word ? chosen.first : reading.key;
        const std::string value =
            word ? chosen.second[random() % chosen.second.size()] : pick_value(reading.spec, random);
        if (keys.insert(key).second) sets.push_back(key + "=" + value);
    }
    return sets;
}

std::string without(const std::string& text, std::size_t at, std::size_t count) {
    return text.substr(0, at) + text.substr(at + count);
}

// True when `after` is `before` with one literal in the place of another.
bool is_swapped(const std::string& before, const std::string& after, const ValueEdit& edit) {
    const std::size_t old_size = edit.old_literal.size(), new_size = edit.new_literal.size();
    if (after.size() + old_size != before.size() + new_size) return false;
    for (std::size_t at = before.find(edit.old_literal); at != std::string::npos;
         at = before.find(edit.old_literal, at + 1)) {
        const bool same =
            before.compare(0, at, after, 0, at) == 0 && after.compare(at, new_size, edit.new_literal) == 0;
        if (same && before.compare(at + old_size, std::string::npos, after, at + new_size, std::string::npos) == 0)
            return true;
    }
    return false;
}

// True when taking a # or two with the blanks behind out of `before`, and " LITERAL" out of `after`, leaves the same.
bool is_opened(const std::string& before, const std::string& after, const ValueEdit& edit) {
    const std::string put = " " + edit.new_literal;
    for (std::size_t at = after.find(put); at != std::string::npos; at = after.find(put, at + 1)) {
        std::string rest = before;
        const std::string wanted = without(after, at, put.size());
        for (int hashes = 0; hashes < 2 && rest != wanted; ++hashes) {
            const auto differ = std::mismatch(rest.begin(), rest.end(), wanted.begin(), wanted.end());
            if (differ.first == rest.end() || *differ.first != '#') break;
            const auto end = std::find_if(differ.first + 1, rest.end(), [](char c) { return c != ' ' && c != '\t'; });
            rest.erase(differ.first, end);
        }
        if (rest == wanted) return true;
    }
    return false;
}

// True when `after` is `before` with whole lines put in between, the value in the last of them.
bool is_added(const std::string& before, const std::string& after, const ValueEdit& edit) {
    if (after.size() <= before.size()) return false;
    const std::size_t more = after.size() - before.size();
    const auto common = static_cast<std::size_t>(
        std::mismatch(before.begin(), before.end(), after.begin(), after.end()).first - before.begin());
    for (std::size_t at = common + 1; at-- > 0 && common - at <= more;) {
        const std::string put = after.substr(at, more);
        const bool lines = (at == 0 || after[at - 1] == '\n') && put.ends_with("= " + edit.new_literal + "\n");
        if (lines && without(after, at, more) == before) return true;
    }
    return false;
}

bool is_confined(const std::string& before, const std::string& after, const ValueEdit& edit) {
    switch (edit.kind) {
        case EditKind::replaced:
            return is_swapped(before, after, edit);
        case EditKind::uncommented:
            return is_opened(before, after, edit);
        case EditKind::added:
            return is_added(before, after, edit);
        case EditKind::removed:
            break;
    }
    return false;
}

}  // namespace

TEST_CASE("record: several random values at once load as with --set, and only their own bytes differ", "[random]") {
    const WorkingFolder folder;
    const Library library;
    std::vector<PresetText> files;
    for (const PresetEntry& entry : library.list(FileKind::setup)) {
        // As a file of one's own: values typed into it count as measured, as those of --set.
        files.push_back(library.read(entry));
        files.back().embedded = false;
    }
    REQUIRE(files.size() >= 8);
    const std::vector<std::vector<std::string>> made = {
        {"--tractor", "measured", "--implement", "measured", "--driveline", "measured"},
        {"--tractor", "compact", "--implement", "tiller-5", "--driveline", "shaft-31"},
        {"--kind", "drawn-pto", "--units", "mm"}};
    for (const auto& options : made) {
        const std::string name = "new" + std::to_string(files.size()) + ".toml";
        std::vector<std::string> args{"new", "-o", name};
        args.insert(args.end(), options.begin(), options.end());
        REQUIRE(run(args).code == 0);
        files.push_back(library.read(FileKind::setup, name));
    }
    const unsigned seed = 20260304;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::array<int, 3> kinds{};
    int written = 0, at_once = 0;
    for (int round = 0; round < 600; ++round) {
        const PresetText& file = files[random() % files.size()];
        const LoadedSetup loaded = load_setup(file, library);
        REQUIRE(loaded.ok());
        const std::vector<std::string> sets = pick_sets(list_readings(loaded.setup), random);
        CAPTURE(file.file, show(sets));
        const RecordedValues all = record_values(file, library, sets);
        const LoadedSetup wanted = load_setup(file, library, {sets, {}});
        if (!all.ok()) {
            for (const Problem& p : all.problems) UNSCOPED_INFO(format_problem(p));
            const bool in_list = std::any_of(sets.begin(), sets.end(), [](const auto& s) { return contains(s, "["); });
            CHECK((!wanted.ok() || in_list));
            continue;
        }
        ++written;
        REQUIRE(wanted.ok());
        PresetText after = file;
        after.text = all.text;
        CHECK(load_setup(after, library).setup == wanted.setup);
        // One after another: each step differs from the one before in its value alone, and the last one is the same.
        PresetText step = file;
        bool each = true;
        for (const std::string& set : sets) {
            const RecordedValues one = record_values(step, library, {set});
            each = one.ok();
            if (!each) break;
            CAPTURE(set, step.text, one.text);
            CHECK(is_confined(step.text, one.text, one.values.at(0).edit));
            ++kinds[static_cast<std::size_t>(one.values.at(0).edit.kind)];
            step.text = one.text;
        }
        if (!each) continue;
        ++at_once;
        CHECK(step.text == all.text);
    }
    CAPTURE(written, at_once, kinds[0], kinds[1], kinds[2]);
    CHECK(written >= 200);
    CHECK(at_once >= 150);
    for (const int count : kinds) CHECK(count >= 40);
}

TEST_CASE("record values: values taken away and put at random load as with --set, and the command takes none away",
          "[random]") {
    const Library library;
    PresetText file;
    file.file = "./x.toml";
    file.folder = "./";
    file.text = mine +
                "upper_link_length = '22 in'\nworking_pitch = 1\n[tractor.pto]\nspeeds_rpm = [ 540,\n 1000 ]\n"
                "[tractor.drawbar]\nadapter_length = \"1 in\" # s\n[coupler]\nfitted = false\nset_back = 4\n";
    const std::vector<std::pair<std::string, std::string>> values = {{"choices.lift_stop", "26"},
                                                                     {"choices.upper_link_length", "22 1/2 in"},
                                                                     {"choices.working_pitch", "2"},
                                                                     {"choices.cut_tractor_half", "1"},
                                                                     {"tractor.drawbar.adapter_length", "2 in"},
                                                                     {"choices.lower_stop", "10"},
                                                                     {"coupler.set_back", "5"},
                                                                     {"tractor.pto.stub_x", "11.5"},
                                                                     {"note", "n"},
                                                                     {"choices.working_band_low", "12.5"},
                                                                     {"choices.working_band_high", "21"}};
    const unsigned seed = 20260305;
    CAPTURE(seed);
    std::mt19937 random(seed);
    int taken = 0, refused = 0;
    for (int round = 0; round < 200; ++round) {
        auto chosen = values;
        std::shuffle(chosen.begin(), chosen.end(), random);
        chosen.resize(1 + random() % 5);
        std::vector<std::string> sets;
        for (const auto& [key, value] : chosen) sets.push_back(key + "=" + (random() % 2 == 0 ? value : ""));
        CAPTURE(show(sets));
        const RecordedValues result = record_values(file, library, sets, EmptyValue::taken_away);
        const bool any = std::any_of(sets.begin(), sets.end(), [](const auto& s) { return s.ends_with("="); });
        CHECK(record_values(file, library, sets).ok() == (result.ok() && !any));
        if (!result.ok()) {
            // The tractor's own file has that one.
            for (const Problem& p : result.problems) UNSCOPED_INFO(format_problem(p));
            const bool used = std::find(sets.begin(), sets.end(), "tractor.pto.stub_x=") != sets.end();
            CHECK((used || !load_setup(file, library, {sets, {}}).ok()));
            ++refused;
            continue;
        }
        taken += any ? 1 : 0;
        PresetText after = file;
        after.text = result.text;
        const LoadedSetup is = load_setup(after, library), wanted = load_setup(file, library, {sets, {}});
        REQUIRE(is.ok());
        CHECK(is.setup == wanted.setup);
        // Nothing goes: every line of the file is there, some behind a #, some with another value.
        CHECK(split_lines(result.text).size() >= split_lines(file.text).size());
        for (const RecordedValue& value : result.values) {
            if (value.typed.empty()) CHECK(contains(result.text, value.edit.old_literal.substr(0, 5)));
        }
    }
    CHECK(taken >= 60);
    CHECK(refused >= 10);
}
