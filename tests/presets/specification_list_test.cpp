// Lines measured against a specification, as data: lists, set-ups that name them, --set, and what is refused.

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <vector>

#include "presets/load_setup.h"
#include "presets/specification_list.h"

using namespace hitchwright;

namespace {

constexpr double inch = 0.0254;
constexpr double psi = 6894.757293168361;

const std::string head = "kind = \"specification_list\"\nversion = 1\nunit = \"in\"\nname = \"Demo\"\n";

const std::string setup_head =
    "kind = \"setup\"\nversion = 1\nunit = \"in\"\nname = \"S\"\n[tractor]\nuse = \"utility\"\n[implement]\nuse = "
    "\"rotary-cutter-7\"\n"
    "[driveline]\nuse = \"shaft-43\"\n[choices]\nupper_link_pin = \"4\"\nmast_pin = \"1\"\n";

struct ReadList {
    SpecificationList list;
    std::vector<Problem> problems;
};

ReadList read_list(const std::string& lines) {
    ReadList r;
    r.list = read_specification_list(head + lines, "s.toml", r.problems);
    return r;
}

LoadedSetup load(const std::string& text, const LoadOptions& options = {}) {
    PresetText preset;
    preset.text = text;
    preset.file = "setup.toml";
    preset.key = "setup";
    return load_setup(preset, Library(), options);
}

LoadedSetup load_lines(const std::string& lines, const std::vector<std::string>& sets = {}) {
    return load(setup_head + lines, {sets, ""});
}

/// The one problem of a line, as key and message.
std::string refusal(const std::string& lines) {
    const ReadList r = read_list(lines);
    REQUIRE(r.problems.size() == 1);
    CHECK(r.problems[0].file == "s.toml");
    CHECK(r.problems[0].line > 4);
    return r.problems[0].key + ": " + r.problems[0].message;
}

bool contains(const std::string& text, const std::string& part) { return text.find(part) != std::string::npos; }

}  // namespace

TEST_CASE("specification list: lines hold figure, permitted deviation, consequence and source", "[analytic]") {
    const ReadList r = read_list(
        "[[line]]\nname = \"control rod, eye to eye\"\nnominal = \"5 in +- 1/8 in\"\nmeasured = 5.25\n"
        "how = \"between the pin centres\"\nconsequence = \"the clutch slips\"\nif_below = \"it drags\"\ncomplaint = "
        "\"no power\"\n"
        "source = \"invented for this test\"\ngrade = \"P\"\n"
        "[[line]]\nname = \"shields\"\nspecification = \"complete and free to turn\"\nstops_work = true\n");
    REQUIRE(r.problems.empty());
    REQUIRE(r.list.lines.size() == 2);
    const SpecificationLine& rod = r.list.lines[0];
    CHECK(rod.nominal.value == 5 * inch);
    CHECK(rod.nominal.tolerance == 0.125 * inch);
    CHECK(rod.measured.value == 5.25 * inch);
    CHECK(rod.measured.tolerance == inch / 16);
    CHECK(rod.if_below == "it drags");
    CHECK(rod.grade == Grade::P);
    CHECK(r.list.lines[1].specification == "complete and free to turn");
    CHECK(r.list.lines[1].stops_work);
    CHECK_FALSE(r.list.lines[1].nominal.known);
}

TEST_CASE("specification list: figures are kept as they were typed, with their unit", "[analytic]") {
    const ReadList r = read_list(
        "[[line]]\nname = \"a\"\nnominal = \"4 3/8 +- 1/8\"\nmeasured = 4.25\nadvance_per_turn = \"18 turns/in\"\n"
        "[[line]]\nname = \"b\"\nnominal = { value = \"100 mm\", tolerance = \"3 mm\" }\nmeasured = { value = \"99 "
        "mm\", tolerance = 1 }\n"
        "[[line]]\nname = \"c\"\nquantity = \"count\"\nnominal = 6\nmeasured = 5\n");
    REQUIRE(r.problems.empty());
    CHECK(r.list.lines[0].typed.nominal == "4 3/8 +- 1/8 in");
    CHECK(r.list.lines[0].typed.measured == "4.25 in");
    CHECK(r.list.lines[0].typed.advance_per_turn == "18 turns/in");
    CHECK(r.list.lines[0].advance_per_turn.value == Approx(inch / 18).epsilon(0).margin(1e-15));
    CHECK(r.list.lines[1].typed.nominal == "100 mm +- 3 mm");
    CHECK(r.list.lines[1].typed.measured == "99 mm +- 1 in");
    CHECK(r.list.lines[1].measured.tolerance == inch);
    CHECK(r.list.lines[2].typed.nominal == "6");
}

TEST_CASE("specification list: the unit tells the kind of a figure, a bare number is a length", "[analytic]") {
    const auto kind = [](const std::string& line) {
        const ReadList r = read_list("[[line]]\nname = \"x\"\n" + line);
        CAPTURE(line);
        REQUIRE(r.problems.empty());
        return r.list.lines.at(0).quantity;
    };
    CHECK(kind("nominal = 5\n") == Dimension::length);
    CHECK(kind("nominal = \"22 psi +- 1 psi\"\n") == Dimension::pressure);
    CHECK(kind("at_least = \"1.5 bar\"\nat_most = \"200 kPa\"\n") == Dimension::pressure);
    CHECK(kind("at_most = \"2 deg\"\n") == Dimension::angle);
    CHECK(kind("nominal = \"650 lb\"\n") == Dimension::mass);
    CHECK(kind("nominal = \"80 lbf ft +- 5 lbf ft\"\n") == Dimension::torque);
    CHECK(kind("nominal = \"90 N m\"\n") == Dimension::torque);
    CHECK(kind("nominal = \"540 rpm +- 10 rpm\"\n") == Dimension::rotation_speed);
    CHECK(kind("nominal = \"200 lbf\"\n") == Dimension::force);
    CHECK(kind("quantity = \"count\"\nnominal = 6\n") == Dimension::count);
}

TEST_CASE("specification list: unit twins are one line", "[metamorphic]") {
    const ReadList r = read_list(
        "[[line]]\nname = \"a\"\nnominal = \"4 in +- 1/8 in\"\nmeasured = \"4 3/8 in +- 1/16 in\"\n"
        "[[line]]\nname = \"b\"\nnominal = \"101.6 mm +- 3.175 mm\"\nmeasured = \"111.125 mm +- 1.5875 mm\"\n"
        "[[line]]\nname = \"c\"\nnominal = \"20 psi +- 2 psi\"\nmeasured = \"25 psi +- 1 psi\"\n"
        "[[line]]\nname = \"d\"\nnominal = \"137.8951458633672 kPa +- 13.78951458633672 kPa\"\nmeasured = "
        "\"172.368932329209 kPa +- 6.894757293168361 kPa\"\n");
    REQUIRE(r.problems.empty());
    for (const std::size_t i : {0U, 2U}) {
        const LineResult one = check_line(r.list.lines[i]), twin = check_line(r.list.lines[i + 1]);
        const double margin = i == 0 ? 1e-12 : 1e-6;
        CHECK(one.verdict == LineVerdict::out);
        CHECK(one.verdict == twin.verdict);
        CHECK(one.beyond == Approx(twin.beyond).epsilon(0).margin(margin));
        CHECK(*one.correction == Approx(*twin.correction).epsilon(0).margin(margin));
    }
    CHECK(check_line(r.list.lines[2]).beyond == Approx(3 * psi).epsilon(0).margin(1e-6));
}

TEST_CASE("specification list: a line without name or without anything asked for is a problem", "[analytic]") {
    const ReadList r = read_list("[[line]]\nmeasured = 5\n[[line]]\nname = \"x\"\nlenght = 5\n");
    REQUIRE(r.problems.size() == 4);
    CHECK(r.problems[0].line == 5);
    CHECK(r.problems[1].line == 5);
    CHECK(r.problems[2].line == 7);
    CHECK(r.problems[3].line == 9);
}

TEST_CASE("specification list: what contradicts itself is refused, each with its key and why", "[analytic]") {
    const std::string x = "[[line]]\nname = \"x\"\n";
    CHECK(contains(refusal(x + "nominal = \"5 furlong\"\n"),
                   "line[x].nominal: what follows the number is no unit of length"));
    CHECK(contains(refusal(x + "nominal = \"5 in +- -1 in\"\n"), "line[x].nominal: the tolerance"));
    CHECK(contains(refusal(x + "nominal = { value = 5, tolerance = -1 }\n"),
                   "line[x].nominal.tolerance: this is no possible tolerance"));
    CHECK(contains(refusal(x + "at_least = 5\nat_most = 4\n"), "line[x].at_most: at_least is greater than at_most"));
    CHECK(
        contains(refusal(x + "nominal = \"5 in +- 1 in\"\nat_least = 4\n"), "line[x].nominal: this line states both"));
    CHECK(
        contains(refusal(x + "at_most = \"5 in +- 1 in\"\n"), "line[x].at_most: a limit of the band has no deviation"));
    CHECK(contains(refusal(x + "nominal = 5\nat_least = 6\n"), "line[x].nominal: nominal lies outside"));
    CHECK(contains(refusal(x + "nominal = \"22 psi +- 1 psi\"\nmeasured = \"5 in\"\n"),
                   "line[x].measured: what follows the number is no unit of pressure"));
    CHECK(contains(refusal(x + "nominal = \"22 psi +- 1 psi\"\nmeasured = 5\n"),
                   "line[x].measured: this pressure has no unit"));
    CHECK(contains(refusal(x + "specification = \"so\"\nmeasured = 5\n"),
                   "line[x].measured: this line asks for no figure"));
    CHECK(contains(refusal(x + "nominal = 5\nas_specified = \"yes\"\n"),
                   "line[x].as_specified: this line asks for a figure"));
    CHECK(contains(refusal(x + "nominal = \"20 psi\"\nadvance_per_turn = \"18 turns/in\"\n"),
                   "line[x].advance_per_turn: turns and holes are counted for lengths only"));
    CHECK(contains(refusal(x + "quantity = \"colour\"\nnominal = 5\n"),
                   "line[x].quantity: this is not one of the words"));
    CHECK(contains(refusal(x + "nominal = 5\n" + x + "nominal = 6\n"), "line[x].name: two lines have the same name"));
    CHECK(contains(refusal(x + "nominal = 5\nmeasured = 1e99\n"), "line[x].measured: this length is beyond"));
    CHECK(
        contains(refusal(x + "nominal = 5\nmeasured = nan\n"), "line[x].measured: this length is not a finite number"));
    CHECK(contains(refusal(x + "nominal = 5\nmeasured = \"1,5\"\n"), "line[x].measured: a comma"));
    CHECK(contains(refusal(x + "nominal = 5000\n"), "line[x].nominal: this length is outside what is possible"));
    CHECK(contains(refusal(x + "nominal = 5\nsource = \"a\\u001bb\"\n"), "line[x].source: this text holds characters"));
    CHECK(contains(refusal("[[line]]\nname = \"" + std::string(201, 'n') + "\"\nnominal = 5\n"),
                   "this text is too long"));
}

TEST_CASE("specification list: names in other scripts are names, and more lines than a sheet holds are refused",
          "[analytic]") {
    const std::string name = "\xE9\xA9\xBB\xE8\xBD\xA6 \xD1\x82\xD1\x8F\xD0\xB3\xD0\xB0 \xCE\xB1";
    const ReadList named = read_list("[[line]]\nname = \"" + name + "\"\nnominal = 5\n");
    REQUIRE(named.problems.empty());
    CHECK(named.list.lines[0].name == name);
    std::string many;
    for (int i = 0; i < 200; ++i) many += "[[line]]\nname = \"n" + std::to_string(i) + "\"\nnominal = 5\n";
    CHECK(contains(refusal(many), "line: this list is too long"));
    CHECK(contains(refusal("line = 5\n"), "line: this is a list"));
}

TEST_CASE("set-up lines: a list that is named comes first, and an item of its name adds to it", "[analytic]") {
    const LoadedSetup loaded = load("specification_lists = [\"pto-driven-mower\"]\n" + setup_head +
                                    "[[specification]]\nname = \"sway\"\nmeasured = \"1 in\"\n"
                                    "[[specification]]\nname = \"own\"\nnominal = \"3 in +- 1/4 in\"\n");
    for (const Problem& p : loaded.problems) UNSCOPED_INFO(p.key << ": " << p.message);
    REQUIRE(loaded.ok());
    const std::vector<SpecificationLine>& lines = loaded.setup.specification;
    REQUIRE(lines.size() == 7);
    const auto sway =
        std::find_if(lines.begin(), lines.end(), [](const SpecificationLine& l) { return l.name == "sway"; });
    REQUIRE(sway != lines.end());
    CHECK(sway->measured.value == inch);
    CHECK(sway->at_most.value == 0.5 * inch);
    CHECK(sway->list == "pto-driven-mower");
    CHECK(lines.back().name == "own");
    CHECK(lines.back().list.empty());
    CHECK(std::any_of(loaded.files.begin(), loaded.files.end(),
                      [](const UsedFile& f) { return f.kind == FileKind::specification_list; }));
}

TEST_CASE("set-up lines: --set changes, takes away and cannot add, --list adds a list", "[analytic]") {
    const std::string line =
        "[[specification]]\nname = \"cable\"\nnominal = \"4 in +- 1/8 in\"\nmeasured = \"4 3/8 in\"\n";
    CHECK(load_lines(line).setup.specification.at(0).typed.measured == "4 3/8 in");
    const LoadedSetup set = load_lines(line, {"specification[cable].measured=4 1/16"});
    REQUIRE(set.ok());
    CHECK(set.setup.specification.at(0).measured.value == 4.0625 * inch);
    CHECK(set.setup.specification.at(0).typed.measured == "4 1/16 in");
    const LoadedSetup gone = load_lines(line, {"specification[cable].measured="});
    REQUIRE(gone.ok());
    CHECK_FALSE(gone.setup.specification.at(0).measured.known);
    CHECK(gone.setup.specification.at(0).typed.measured.empty());
    const LoadedSetup unknown = load_lines(line, {"specification[cabel].measured=4in"});
    REQUIRE(unknown.problems.size() == 1);
    CHECK(unknown.problems[0].nearest_key == "cable");
    const LoadedSetup band = load_lines(line, {"specification[cable].at_least=3in"});
    REQUIRE(band.problems.size() == 1);
    CHECK(contains(band.problems[0].message, "both a permitted deviation and a band"));
    // Another kind of figure takes the old figures with it: inches are no pressure.
    const LoadedSetup other = load_lines(line, {"specification[cable].quantity=pressure"});
    REQUIRE(other.problems.size() == 1);
    CHECK(contains(other.problems[0].message, "asks for nothing"));
    const LoadedSetup whole =
        load_lines(line, {"specification[cable].quantity=pressure", "specification[cable].nominal=20psi"});
    REQUIRE(whole.ok());
    CHECK(whole.setup.specification.at(0).nominal.value == Approx(20 * psi));
    CHECK_FALSE(whole.setup.specification.at(0).measured.known);
    CHECK(load(setup_head + line, {{}, "", {"pto-driven-mower"}}).setup.specification.size() == 7);
    CHECK(load(setup_head, {{"specification_lists=pto-driven-mower"}, ""}).setup.specification.size() == 6);
    CHECK(load(setup_head, {{}, "", {"no-such-list"}}).problems.size() == 1);
}

TEST_CASE("set-up lines: a list that is wrong, doubled or no list is refused where it is named", "[analytic]") {
    const auto problems = [](const std::string& top) { return load(top + setup_head).problems; };
    REQUIRE(problems("specification_lists = \"no-such\"\n").size() == 1);
    CHECK(problems("specification_lists = \"no-such\"\n")[0].line == 1);
    CHECK(problems("specification_lists = [5]\n").size() == 1);
    CHECK(problems("specification_lists = { a = 1 }\n").size() == 1);
    std::string many = "specification_lists = [";
    for (int i = 0; i < 20; ++i) many += "\"pto-driven-mower\", ";
    CHECK(problems(many + "]\n").size() == 1);
    // The same list twice has every name twice.
    CHECK(problems("specification_lists = [\"pto-driven-mower\", \"pto-driven-mower\"]\n").size() == 6);
    CHECK(problems("specification = 5\n").size() == 1);
}

TEST_CASE("set-up lines: a name with a note beside it is the name", "[analytic]") {
    const std::string line = "[[specification]]\nname = { value = \"a\", note = \"n\" }\nnominal = \"4 in\"\n";
    const LoadedSetup twice = load(setup_head + line + line);
    REQUIRE(twice.problems.size() == 1);
    CHECK(twice.problems[0].message == "two lines have the same name");
    CHECK(twice.problems[0].line > 0);
    const std::string name = load(setup_head, {{}, "", {"pto-driven-mower"}}).setup.specification.at(0).name;
    const std::string own = "[[specification]]\nname = { value = \"" + name + "\" }\nnote = \"of the list\"\n";
    CHECK(load("specification_lists = \"pto-driven-mower\"\n" + setup_head + own).setup.specification.size() == 6);
}

TEST_CASE("set-up lines: every built-in list reads without a problem and states source and grade of each line",
          "[cli]") {
    const Library library;
    const std::vector<PresetEntry> entries = library.list(FileKind::specification_list);
    REQUIRE_FALSE(entries.empty());
    for (const PresetEntry& entry : entries) {
        CAPTURE(entry.file);
        std::vector<Problem> problems;
        const PresetText text = library.read(entry);
        const SpecificationList list = read_specification_list(text.text, text.file, problems, text.origin());
        CHECK(problems.empty());
        for (const SpecificationLine& line : list.lines) {
            CAPTURE(line.name);
            CHECK_FALSE(line.source.empty());
            CHECK_FALSE(line.how.empty());
            CHECK_FALSE(line.complaint.empty());
            CHECK_FALSE(line.measured.known);
        }
    }
}
