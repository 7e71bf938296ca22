// Tractor, implement and driveline files: values, origins, notes, and all problems in one go.

#include <catch2/catch.hpp>

#include <cmath>
#include <set>
#include <string>
#include <utility>

#include "geometry/visit_readings.h"
#include "presets/machine_reader.h"
#include "presets/setup_checks.h"

using namespace hitchwright;

namespace {

constexpr double inch = 0.0254;
const std::string head = "kind = \"tractor\"\nversion = 1\nunit = \"in\"\n";

struct ReadTractor {
    Tractor tractor;
    Findings findings;
};

ReadTractor read_tractor(const std::string& text, Origin origin = Origin::measured) {
    ReadTractor result;
    read_machine_file(result.tractor, text, "t.toml", origin, "", result.findings);
    check_contradictions(result.tractor, "", result.findings.notes, result.findings.problems);
    sort_problems(result.findings.problems);
    return result;
}

/// The only problem of a tractor file with that body (line 4 is its first).
Problem only_problem(const std::string& body) {
    CAPTURE(body);
    const ReadTractor read = read_tractor(head + body);
    for (const Problem& problem : read.findings.problems) {
        UNSCOPED_INFO(format_problem(problem));
    }
    REQUIRE(read.findings.problems.size() == 1);
    return read.findings.problems.front();
}

}  // namespace

TEST_CASE("machine file: values, tolerances, origins and notes are as typed", "[analytic]") {
    const ReadTractor read = read_tractor(head +
        "name = \"Blue\"\n"
        "[hitch]\ncategory = 1\nnarrow = \"no\"\n"
        "[lower_link]\n"
        "pivot_x = { value = \"1 1/2 in\", tolerance = \"5 mm\", origin = \"manual\", note = \"page 12\" }\n"
        "length = \"762 mm +- 2 mm\"\n"
        "pivot_z = 14.5\n"
        "[[upper_link_pin]]\nname = 2\nx = 8\nz = 32\n"
        "[pto]\nspeeds_rpm = [540, 1000]\nsplines = 6\nstub_slope = 3\npower = \"30 hp\"\n");
    REQUIRE(read.findings.problems.empty());
    const Tractor& t = read.tractor;
    CHECK(t.name == "Blue");
    CHECK(t.hitch.category == Category::cat1);
    CHECK(t.hitch.narrow == YesNo::no);
    CHECK(t.lower_link.pivot_x == make_reading(1.5 * inch, Origin::manual, 0.005));
    CHECK(t.lower_link.length == make_reading(0.762, Origin::measured, 0.002));
    CHECK(t.lower_link.pivot_z == make_reading(14.5 * inch, Origin::measured, inch / 4));  // usual error of that field
    REQUIRE(t.upper_link_pins.size() == 1);
    CHECK(t.upper_link_pins.front().name == "2");
    CHECK(t.pto.speeds_rpm == std::vector<int>{540, 1000});
    CHECK(t.pto.splines == 6);
    CHECK(std::fabs(t.pto.stub_slope.value - 3 * 3.14159265358979 / 180) < 1e-12);
    CHECK_FALSE(t.pto.stub_x.known);
    const FieldNote& note = read.findings.notes.at("lower_link.pivot_x");
    CHECK(note.typed == "1 1/2 in");
    CHECK(note.note == "page 12");
    CHECK(note.tolerance_typed == "5 mm");
    CHECK(note.file == "t.toml");
    CHECK(note.line == 9);
    CHECK(note.column == 21);
    CHECK(read.findings.notes.at("upper_link_pin[2].z").typed == "32");
}

TEST_CASE("machine file: the file's origin holds where a value states none", "[analytic]") {
    const std::string body = "[pto]\nstub_x = 11\nstub_z = { value = 21, origin = \"measured\" }\n";
    const Tractor preset = read_tractor(head + body, Origin::preset).tractor;
    CHECK(preset.pto.stub_x.origin == Origin::preset);
    CHECK(preset.pto.stub_z.origin == Origin::measured);
    const Tractor manual = read_tractor(head + "origin = \"manual\"\n" + body, Origin::preset).tractor;
    CHECK(manual.pto.stub_x.origin == Origin::manual);
    // The usual error stands whatever the origin is.
    CHECK(manual.pto.stub_x.tolerance == preset.pto.stub_x.tolerance);
    CHECK(manual.pto.stub_x.tolerance == inch / 4);
}

TEST_CASE("machine file: ten different errors give ten problems at their lines", "[analytic]") {
    const ReadTractor read = read_tractor(head +
        /* 4*/ "colour = \"blue\"\n"
        /* 5*/ "[hitch]\n"
        /* 6*/ "category = \"7\"\n"
        /* 7*/ "[lower_link]\n"
        /* 8*/ "pivot_x = \"1,5 in\"\n"
        /* 9*/ "lenght = 30\n"
        /*10*/ "length = nan\n"
        /*11*/ "half_spread_at_ball = 400\n"
        /*12*/ "[[upper_link_pin]]\n"
        /*13*/ "name = \"1\"\n"
        /*14*/ "x = 8\n"
        /*15*/ "[travel]\n"
        /*16*/ "ball_height_low = 33\n"
        /*17*/ "ball_height_high = 8\n"
        /*18*/ "[pto]\n"
        /*19*/ "splines = 6.5\n"
        /*20*/ "stub_z = [21]\n"
        /*21*/ "stub_x = { value = 11, tolerance = \"1 kg\" }\n");
    const std::set<std::pair<int, std::string>> expected = {
        {4, "colour"}, {6, "hitch.category"}, {8, "lower_link.pivot_x"}, {9, "lower_link.lenght"}, {10, "lower_link.length"},
        {11, "lower_link.half_spread_at_ball"}, {12, "upper_link_pin[1].z"}, {17, "travel.ball_height_high"},
        {19, "pto.splines"}, {20, "pto.stub_z"}, {21, "pto.stub_x.tolerance"}};
    std::set<std::pair<int, std::string>> found;
    for (const Problem& problem : read.findings.problems) {
        CAPTURE(format_problem(problem));
        CHECK(problem.file == "t.toml");
        CHECK(problem.column >= 1);
        CHECK_FALSE(problem.message.empty());
        CHECK_FALSE((problem.allowed.empty() && problem.nearest_key.empty()));
        found.emplace(problem.line, problem.key);
    }
    CHECK(found == expected);
    CHECK(read.findings.problems.size() == expected.size());
}

TEST_CASE("machine file: an unknown key names the nearest known one, also in another table", "[analytic]") {
    const Problem slip = only_problem("[pto]\nstubx = 3\n");
    CHECK(slip.nearest_key == "pto.stub_x");
    CHECK(slip.line == 5);
    CHECK(slip.column == 1);
    CHECK(only_problem("stub_x = 3\n").nearest_key == "pto.stub_x");
    CHECK(only_problem("[upper_link_pins]\nx = 3\n").nearest_key == "upper_link_pin");
    const Problem far = only_problem("[pto]\nzzzzzz = 3\n");
    CHECK(far.nearest_key.empty());
    CHECK(far.allowed.find("stub_x") != std::string::npos);
    CHECK(only_problem("[pto]\nstub_x = { value = 3, orign = \"manual\" }\n").nearest_key == "origin");
    CHECK(only_problem("[pto]\nrotation = \"clokwise\"\n").nearest_key == "clockwise");
}

TEST_CASE("machine file: a value of the wrong kind is refused, whatever the field", "[analytic]") {
    for (const char* body : {"[pto]\nstub_x = true\n", "[pto]\nstub_x = 1979-05-27\n", "[pto]\nstub_x = [1]\n",
                             "[pto]\nstub_x = { note = \"none\" }\n", "[pto]\nstub_x = { value = { value = 3 } }\n",
                             "pto = 3\n", "[[pto]]\nstub_x = 3\n", "[upper_link_pin]\nx = 3\n", "upper_link_pin = [3]\n",
                             "upper_link_pin = \"2\"\n", "name = true\n", "[pto]\nsplines = \"6\"\n", "[pto]\nsplines = 2\n",
                             "[pto]\nsplines = 99999999999\n", "[pto]\nspeeds_rpm = 540\n", "[pto]\nspeeds_rpm = [\"540\"]\n",
                             "[pto]\ntype = 3.5\n", "[pto]\nstub_x = inf\n", "[pto]\nstub_x = 1e300\n",
                             "[pto]\npower = 30\n", "name = \"a\\u001b[31m\"\n", "name = \"a\\nb\"\n"}) {
        const Problem problem = only_problem(body);
        CHECK_FALSE(problem.message.empty());
    }
    CHECK(only_problem("name = \"" + std::string(201, 'x') + "\"\n").message == "this text is too long");
    CHECK(read_tractor(head + "note = \"two\\nlines\"\n").findings.problems.empty());
}

TEST_CASE("machine file: a value out of range names the range in the unit typed", "[analytic]") {
    CHECK(only_problem("[pto]\nstub_z = \"4000 mm\"\n").allowed == "100 mm to 2000 mm");
    CHECK(only_problem("[pto]\nstub_z = 400\n").allowed == "3.937 in to 78.74 in");
    CHECK(only_problem("[pto]\nstub_z = \"99.9 mm\"\n").allowed == "100 mm to 2000 mm");
    CHECK(read_tractor(head + "[pto]\nstub_z = \"100 mm\"\n").findings.problems.empty());
    CHECK(only_problem("[pto]\nstub_slope = 30\n").allowed == "-20 deg to 20 deg");
    CHECK(only_problem("[mass]\nmass = \"200000 kg\"\n").allowed == "100 kg to 50000 kg");
    CHECK(only_problem("[pto]\nstub_z = \"21 in +- 200 in\"\n").message == "this is no possible tolerance");
    CHECK(only_problem("[pto]\nstub_z = { value = \"21 in +- 1 in\", tolerance = 1 }\n").message ==
          "the tolerance is given twice, here and in the value");
    CHECK(only_problem("[pto]\nstub_z = { value = 21, tolerance = -1 }\n").key == "pto.stub_z.tolerance");
}

TEST_CASE("machine file: bare lengths without a file unit are one problem", "[analytic]") {
    const std::string bare = "kind = \"tractor\"\nversion = 1\n[pto]\nstub_x = 11\nstub_z = 21\nstub_slope = 1\nstub_y = \"0 mm\"\n";
    const ReadTractor read = read_tractor(bare);
    REQUIRE(read.findings.problems.size() == 1);
    CHECK(read.findings.problems.front().line == 4);
    CHECK(read.findings.problems.front().allowed.find("unit = \"in\"") != std::string::npos);
    CHECK(read.tractor.pto.stub_y.known);
}

TEST_CASE("machine file: kind and version are asked for before anything else is judged", "[analytic]") {
    const auto problems = [](const std::string& text) { return read_tractor(text).findings.problems; };
    REQUIRE(problems("version = 1\ncolour = 3\n").size() == 1);
    CHECK(problems("version = 1\n").front().key == "kind");
    CHECK(problems("kind = \"tractor\"\n").front().key == "version");
    CHECK(problems("kind = \"implement\"\nversion = 1\n").front().message == "a file of kind tractor is wanted here");
    CHECK(problems("kind = \"tracktor\"\nversion = 1\n").front().nearest_key == "tractor");
    CHECK(problems("kind = \"tractor\"\nversion = 2\n").front().allowed == "version = 1");
    CHECK(problems("kind = \"tractor\"\nversion = \"1\"\n").front().key == "version");
    CHECK(problems(head + "origin = \"guessed\"\n").front().key == "origin");
    CHECK(problems("kind = \"tractor\"\nversion = 1\nunit = \"ft\"\n").front().allowed == "in, mm, cm, m");
    CHECK(problems("").size() == 2);
}

TEST_CASE("machine file: a file in inches and its twin in millimetres give the same machine", "[metamorphic]") {
    const std::string in = head +
        "[lower_link]\npivot_x = 1.5\nlength = 30\nhalf_spread_at_ball = \"14 1/8\"\n"
        "[[upper_link_pin]]\nname = \"1\"\nx = 8\nz = \"2'8\\\"\"\n[upper_link]\nadvance_per_turn = \"1/4\"\n"
        "[travel]\nball_height_low = { value = 8, tolerance = 0.25 }\n[mass]\nmass = \"3650 lb\"\n";
    const std::string mm = "kind = \"tractor\"\nversion = 1\nunit = \"mm\"\n"
        "[lower_link]\npivot_x = 38.1\nlength = 762\nhalf_spread_at_ball = 358.775\n"
        "[[upper_link_pin]]\nname = \"1\"\nx = 203.2\nz = 812.8\n[upper_link]\nadvance_per_turn = \"6.35 mm/turn\"\n"
        "[travel]\nball_height_low = { value = 203.2, tolerance = 6.35 }\n[mass]\nmass = \"1655.6121505 kg\"\n";
    Setup a, b;
    a.tractor = read_tractor(in).tractor;
    b.tractor = read_tractor(mm).tractor;
    std::vector<std::pair<std::string, Reading>> left, right;
    visit_readings(a, [&](const std::string& key, Reading& r, const FieldSpec&) { left.emplace_back(key, r); });
    visit_readings(b, [&](const std::string& key, Reading& r, const FieldSpec&) { right.emplace_back(key, r); });
    REQUIRE(left.size() == right.size());
    int known = 0;
    for (std::size_t i = 0; i < left.size(); ++i) {
        CAPTURE(left[i].first);
        CHECK(left[i].first == right[i].first);
        CHECK(left[i].second.known == right[i].second.known);
        const double scale = std::max(1.0, std::fabs(left[i].second.value));
        CHECK(std::fabs(left[i].second.value - right[i].second.value) < 1e-12 * scale);
        CHECK(std::fabs(left[i].second.tolerance - right[i].second.tolerance) < 1e-12);
        known += left[i].second.known ? 1 : 0;
    }
    CHECK(known == 8);
}

TEST_CASE("machine file: contradictions between values are problems at the later value", "[analytic]") {
    CHECK(only_problem("[travel]\nball_height_low = 20\nball_height_high = 20\n").key == "travel.ball_height_high");
    CHECK(only_problem("[upper_link]\nlength_most = 20\nlength_least = 21\n").message ==
          "upper_link.length_least (21) is not below upper_link.length_most (20)");
    CHECK(only_problem("[lift_arm]\nangle_low = 5\nangle_high = -5\n").key == "lift_arm.angle_high");
    CHECK(only_problem("[lower_link]\nlength = 10\nhalf_spread_at_ball = 30\nhalf_spread_at_pivot = 5\n").key == "lower_link.length");
    CHECK(only_problem("[lower_link]\nlength = 20\n[lift_rod]\npin_along_link = 21\n").line == 5);
    const std::string pin = "[[upper_link_pin]]\nname = \"1\"\nx = 8\nz = 30\n";
    CHECK(only_problem(pin + pin).message == "two items of this list have the same name");
    CHECK(only_problem(pin + "[[upper_link_pin]]\nx = 8\nz = 32\n").message == "one of several items has no name");
    CHECK(read_tractor(head + "[[upper_link_pin]]\nx = 8\nz = 32\n").findings.problems.empty());
}

TEST_CASE("machine file: every problem of a list has its place, whatever its items are", "[analytic]") {
    const std::string named = "[[upper_link_pin]]\nname = { value = \"top\", note = \"upper\" }\nx = 8\nz = 30\n";
    const Problem twice = only_problem(named + named);
    CHECK(twice.message == "two items of this list have the same name");
    CHECK(twice.line == 9);
    CHECK(read_tractor(head + named).findings.notes.contains("upper_link_pin[top].x"));
    const std::string second = "{ x = 8, z = 32 } ]\n";
    for (const std::string& body : {"upper_link_pin = [ {}, " + second, "upper_link_pin = [ { y = 3 }, " + second, "upper_link_pin = [ 3, " + second,
                                    "upper_link_pin = [ { name = true }, " + second}) {
        const ReadTractor read = read_tractor(head + body);
        CAPTURE(body);
        CHECK(read.findings.problems.size() >= 2);
        for (const Problem& problem : read.findings.problems) {
            CAPTURE(format_problem(problem));
            CHECK(problem.file == "t.toml");
            CHECK(problem.line == 4);
            CHECK(problem.column > 0);
        }
        // The second item is the second, whatever became of the first.
        CHECK(read.findings.notes.contains("upper_link_pin[2].x"));
        CHECK(read.tractor.upper_link_pins.size() == 2);
    }
}

TEST_CASE("machine file: tyres without a name have their problem at the first of their values that was taken", "[analytic]") {
    const Problem by_rear = only_problem("[[tyre_set]]\nrear_radius = 19\nfront_radius = 13\n");
    CHECK(by_rear.message == "tyres without a name cannot be chosen");
    CHECK(by_rear.file == "t.toml");
    CHECK((by_rear.line > 0 && by_rear.column > 0));
    // A length that was refused is no place: that no unit is known is said of the first length, and of these nothing is.
    const ReadTractor unitless = read_tractor("kind = \"tractor\"\n[tyre]\nfront_width = 8.5\n[[tyre_set]]\nrear_radius = 19\n");
    CHECK(unitless.findings.problems.size() >= 2);
    for (const Problem& problem : unitless.findings.problems) {
        CAPTURE(format_problem(problem));
        CHECK(problem.file == "t.toml");
        CHECK(problem.line > 0);
    }
}

TEST_CASE("driveline file: a length without its end points is refused", "[analytic]") {
    const auto problems = [](const std::string& body) {
        Driveline driveline;
        Findings findings;
        read_machine_file(driveline, "kind = \"driveline\"\nversion = 1\nunit = \"in\"\n" + body, "d.toml", Origin::measured, "", findings);
        check_contradictions(driveline, "", findings.notes, findings.problems);
        return findings.problems;
    };
    CHECK(problems("[shaft]\nclosed_length = 31\nreference = \"shaft_ends\"\n").empty());
    REQUIRE(problems("[shaft]\nclosed_length = 31\n").size() == 1);
    CHECK(problems("[shaft]\nclosed_length = 31\n").front().allowed.find("joint_centres") != std::string::npos);
    for (const char* length : {"closed_length", "longest_usable"}) {
        const std::vector<Problem> found = problems(std::string("[shaft]\n") + length + " = 31\n");
        REQUIRE(found.size() == 1);
        CHECK(found.front().file == "d.toml");
        CHECK(found.front().line == 5);
        CHECK(found.front().key == std::string("shaft.") + length);
    }
    const std::string shaft = "[shaft]\nreference = \"joint_centres\"\nclosed_length = 31\n";
    CHECK(problems(shaft + "tractor_tube = 31\n").size() == 1);
    CHECK(problems(shaft + "implement_tube = 40\n").size() == 1);
    CHECK(problems(shaft + "overlap_closed = 31\n").size() == 1);
    CHECK(problems(shaft + "longest_usable = 31\n").size() == 1);
    CHECK(problems(shaft + "[guard]\nclosed_length = 20\noverlap_closed = 20\n").size() == 1);
}

TEST_CASE("machine file: a list longer than the limit is refused", "[analytic]") {
    std::string body;
    for (int i = 0; i < 65; ++i) {
        body += "[[cab_line]]\nx = 1\nz = 50\n";
    }
    CHECK(only_problem(body).message == "this list is too long");
}
