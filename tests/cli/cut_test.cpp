// `cut` from numbers: the sense of the trade, against values computed by hand.

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>
#include <string>

#include "tests/cli/run.h"

using namespace hitchwright::test;

namespace {

constexpr double inch = 25.4;
constexpr double degree = 3.14159265358979323846 / 180.0;

nlohmann::json cut_json(const std::string& options) {
    return nlohmann::json::parse(run_line("hitchwright cut " + options + " --format json").out).at("cut");
}

double half(const nlohmann::json& cut, const char* which) { return cut.at("recommended").at(which); }

bool near(double a, double b) { return std::fabs(a - b) < 1e-6; }

}  // namespace

TEST_CASE("cut from numbers: the example of the help, by hand", "[cli][analytic]") {
    const std::string shaft =
        "--closed 43in --tractor-tube 26in --implement-tube 26in --shortest \"38 7/8in\" --longest 46in";
    const Run result = run_line("hitchwright cut " + shaft);
    CHECK(result.code == 1);
    CHECK(contains(result.out, "CUT 5 3/4 in from each half: both tubes and both guard tubes"));
    const nlohmann::json cut = cut_json(shaft);
    // Least: 43 in + 25 mm - 38 7/8 in. Aim: 40 mm, 5.6998 in, up to the sixteenth. Most by docs/theory/cutting.md (7).
    CHECK(near(cut.at("equal").at("least_mm"), (43 - 38.875) * inch + 25));
    CHECK(near(half(cut, "tractor_half_mm"), 5.75 * inch));
    CHECK(near(half(cut, "implement_half_mm"), 5.75 * inch));
    const double left = (26 + 43 - 46) * inch;
    CHECK(near(cut.at("equal").at("most_mm"), std::fmin((left - 150) / 2, 0.6 * (left - 26 * inch / 3))));
    // X from each half: the closed length falls by X, the overlap by 2 X.
    CHECK(near(cut.at("after").at("closed_length_mm"), (43 - 5.75) * inch));
    CHECK(near(cut.at("after").at("overlap_mm"), left - 2 * 5.75 * inch));
}

TEST_CASE("cut from numbers: of unequal halves only the longer is cut up to the difference", "[cli][analytic]") {
    // docs/theory/cutting.md: tubes 19 and 14, roots 11: closed 30; to 27: 3 off the longer, nothing off the other.
    const std::string shaft =
        "--closed 30in --tractor-tube 19in --implement-tube 14in --longest 34in --rules close --mark 1/16in";
    const nlohmann::json first = cut_json(shaft + " --shortest 28.5748031496063in");  // 27 in and the 40 mm aimed for
    CHECK(near(half(first, "tractor_half_mm"), 3 * inch));
    CHECK(near(half(first, "implement_half_mm"), 0));
    CHECK(near(first.at("after").at("overlap_mm"), 7 * inch));
    const std::string text = run_line("hitchwright cut " + shaft + " --shortest 28.5748031496063in").out;
    CHECK(contains(text, "CUT 3 in from the tractor half alone"));
}

TEST_CASE("cut from numbers: overlap in place of tubes means equal halves, and says so", "[cli][metamorphic]") {
    const std::string lengths = "--closed 43in --shortest 38-7/8in --longest 46in ";
    const nlohmann::json tubes = cut_json(lengths + "--tractor-tube 26in --implement-tube 26in"),
                         overlap = cut_json(lengths + "--overlap 26in");
    CHECK(tubes.at("recommended") == overlap.at("recommended"));
    CHECK(tubes.at("equal") == overlap.at("equal"));
    CHECK(overlap.at("shaft").at("assumption") == "equal_halves");
    CHECK(contains(unwrap(run_line("hitchwright cut " + lengths + "--overlap 26in").out),
                   "Tubes not measured: taken as equal"));
}

TEST_CASE("cut from numbers: plain numbers are in the unit of --units, inches by default", "[cli][metamorphic]") {
    const nlohmann::json inches = cut_json("--closed 43 --overlap 26 --shortest 38.875 --longest 46");
    const nlohmann::json typed = cut_json("--closed 43in --overlap 26in --shortest \"3'2 7/8\\\"\" --longest 46in");
    CHECK(inches == typed);
    const nlohmann::json mm =
        cut_json("--units mm --closed 1092.2 --overlap 660.4 --shortest 987.425 --longest 1168.4");
    const nlohmann::json marked = cut_json("--mark 1mm --closed 43 --overlap 26 --shortest 38.875 --longest 46");
    CHECK(near(half(mm, "tractor_half_mm"), half(marked, "tractor_half_mm")));
    CHECK(near(half(mm, "tractor_half_mm"), 145));  // 144.775 mm up to the millimetre
}

TEST_CASE("cut from numbers: exit code 0 when nothing need be cut, 1 when a cut works or none does", "[cli]") {
    CHECK(run_line("hitchwright cut --closed 36 --overlap 22 --shortest 38.875 --longest 46").code == 0);
    CHECK(run_line("hitchwright cut --closed 43 --overlap 26 --shortest 38.875 --longest 46").code == 1);
    const Run none = run_line("hitchwright cut --closed 43 --overlap 26 --shortest 30 --longest 55");
    CHECK(none.code == 1);
    CHECK(contains(none.out, "NO CUT WORKS"));
    // To order: closed at most 30 in - 25 mm = 29.016 in, down to the sixteenth; reaching 55 in.
    CHECK(contains(unwrap(none.out), "closes to 29 in or less"));
    CHECK(contains(unwrap(none.out), "reaches 55 in or more"));
}

TEST_CASE("cut from numbers: an exact sixteenth stays itself", "[cli][analytic]") {
    // Gap required 12 mm of the set close, aim 40 mm: shortest chosen so that 5 5/8 in reaches the aim exactly.
    const std::string shortest = std::to_string(1000.0 - 5.625 * inch + 40.0) + "mm";
    const Run result = run_line(
        "hitchwright cut --closed 1000mm --overlap 600mm --longest 1100mm --rules close --shortest " + shortest);
    CHECK(contains(result.out, "CUT 5 5/8 in from each half"));
}

TEST_CASE("cut from numbers: the cut is printed on the mark asked for, whatever the units of the rest",
          "[cli][analytic]") {
    // The aim asks for 144.775 mm = 5.6998 in.
    const std::string shaft = "hitchwright cut --closed 43in --overlap 26in --shortest 38-7/8in --longest 46in";
    const struct {
        const char* options;
        const char* said;
    } marks[] = {{" --mark 1/8in", "CUT 5 3/4 in from"},
                 {" --mark 1/2in", "CUT 6 in from"},
                 {" --mark 1mm", "CUT 145 mm from"},
                 {" --mark 3mm", "CUT 147 mm from"},
                 {" --mark 0.1mm", "CUT 144.8 mm from"},
                 {" --mark 0.5mm", "CUT 145.0 mm from"},
                 {" --units mm --mark 1/16in", "CUT 5 3/4 in from"},
                 {" --units mm --mark 3mm", "CUT 147 mm from"},
                 {" --units mm --mark 1/2in", "CUT 152.4 mm from"},
                 {" --units mm", "CUT 145 mm from"}};
    for (const auto& mark : marks) {
        CAPTURE(mark.options);
        CHECK(contains(run_line(shaft + mark.options).out, mark.said));
    }
}

TEST_CASE("cut from numbers: what cannot be a shaft is refused with its option", "[cli]") {
    const std::string rest = " --shortest 38.875 --longest 46";
    const struct {
        std::string options;
        const char* said;
    } wrong[] = {
        {"--closed 26 --tractor-tube 28 --implement-tube 26" + rest, "--closed: a tube is longer"},
        {"--closed 43 --tractor-tube 26 --implement-tube 20 --overlap 24" + rest,
         "--overlap: the overlap of the closed shaft"},
        {"--closed 43 --tractor-tube 26 --implement-tube 26 --overlap 10" + rest,
         "--overlap: the overlap of the closed shaft disagrees"},
        {"--closed 43 --overlap 26 --shortest 46 --longest 38", "the two may be exchanged"},
        {"--closed 0 --overlap 26" + rest, "--closed: \"0\" was read (unit from --units: in)"},
        {"--closed -43 --overlap 26" + rest, "--closed: \"-43\""},
        {"--closed 43 --units mm --overlap 26" + rest, "--closed: \"43\" was read (unit from --units: mm)"},
        {"--closed 43kg --overlap 26" + rest, "--closed: \"43kg\""},
        {"--closed 43 --overlap 26 --shortest 38 7/8in --longest 46", "needs quotes or a dash"},
        {"--closed 43 --overlap 26 --set choices.lift_stop=5in" + rest, "--set: this changes a value of a set-up"},
        {"--closed nan --overlap inf" + rest, "--overlap: \"inf\""},
    };
    for (const auto& each : wrong) {
        CAPTURE(each.options);
        const Run result = run_line("hitchwright cut " + each.options);
        CAPTURE(result.err);
        CHECK(result.code == 2);
        CHECK(result.out.empty());
        CHECK(contains(unwrap(result.err), each.said));
    }
    CHECK(run_line("hitchwright cut --closed 43 --overlap 26 --rules nosuch" + rest).code == 3);
}

TEST_CASE("cut from numbers: the cut does not depend on the points of measure, and the note tells what does",
          "[cli][analytic]") {
    const std::string shaft = "--closed 43 --overlap 26 --shortest 38.875 --longest 46";
    const nlohmann::json centres = cut_json(shaft + " --between joint_centres");
    for (const char* points : {"locking_grooves", "shaft_ends"}) {
        const nlohmann::json other = cut_json(shaft + " --between " + points);
        CHECK(other.at("recommended") == centres.at("recommended"));
        CHECK(other.at("shaft").at("reference") == points);
        CHECK(contains(other.at("note").get<std::string>(), "3/8 in at 20 deg and 1 in at 35 deg"));
    }
    CHECK(centres.at("note").is_null());
    CHECK(contains(cut_json(shaft).at("note").get<std::string>(), "--between"));
    // The figures of the note: distance between grooves 2.75 in outside the joint centres, both joints bent by B to the
    // same side (axes parallel) or against each other, against the straight shaft of the same length.
    const auto lost = [](double angle, double side) {
        const double k = 2.75, length = 40.0;
        const double along = length + 2 * k * std::cos(angle), across = k * std::sin(angle) * (1.0 + side);
        return length + 2 * k - std::hypot(along, across);
    };
    for (const double side : {-1.0, 1.0}) {
        CHECK(lost(20 * degree, side) < 0.375);
        CHECK(lost(20 * degree, side) > 0.25);
        CHECK(lost(35 * degree, side) < 1.0);
        CHECK(lost(35 * degree, side) > 0.75);
    }
}

TEST_CASE("cut from direct readings: three heights give the cut, with where it comes from and its grade", "[cli][analytic]") {
    const std::string shaft = "--closed 31in --tractor-tube 19.5in --implement-tube 19.5in ";
    const std::string readings = "--reading \"8in=28 15/16in\" --reading 17in=29-3/4in --reading 27in=30-7/16in";
    const Run result = run_line("hitchwright cut " + shaft + readings);
    CHECK(result.code == 1);
    CHECK(contains(unwrap(result.out), "From 3 direct readings, grade P"));
    const nlohmann::json cut = cut_json(shaft + readings);
    CHECK(cut.at("travel").at("source") == "direct_readings");
    CHECK(near(cut.at("travel").at("shortest_mm"), 28.9375 * inch));
    CHECK(near(cut.at("travel").at("longest_mm"), 30.4375 * inch));
    // As from the two lengths typed.
    const nlohmann::json typed = cut_json(shaft + "--shortest \"28 15/16in\" --longest 30-7/16in");
    CHECK(cut.at("recommended") == typed.at("recommended"));
    CHECK(typed.at("travel").at("source") == "typed");
    // Ends of 1/8 in tape and 3/16 in of curve, and the slope at the lowest reading times half of 1/8 in.
    CHECK(cut.at("gap_band_mm").get<double>() > std::hypot(inch / 8, 3 * inch / 16));
    CHECK(cut.at("gap_band_mm").get<double>() < std::hypot(inch / 8, 3 * inch / 16) + 0.1);
}

TEST_CASE("cut from direct readings: what cannot be used is said, all of it", "[cli]") {
    const std::string shaft = "hitchwright cut --closed 31in --overlap 19in ";
    const Run few = run_line(shaft + "--reading 8in=29in --reading 27in=30in");
    CHECK(few.code == 2);
    CHECK(contains(unwrap(few.err), "three readings or more at different heights"));
    const Run rubbish = run_line(shaft + "--reading 8in --reading x=29in --reading 9in=nan --reading 1in=99999in --shortest 28in");
    CHECK(rubbish.code == 2);
    for (const char* part : {"two lengths joined by", "\"x\" was read", "\"nan\" was read", "\"99999in\" was read", "--shortest"})
        CHECK(contains(unwrap(rubbish.err), part));
    const Run rough = run_line(shaft + "--reading 8in=29in --reading 14in=31in --reading 20in=29.6in --reading 27in=30in");
    CHECK(rough.code == 5);
    CHECK(contains(unwrap(rough.out), "NOT KNOWN: direct readings do not agree"));
}

TEST_CASE("cut of a set-up: direct readings alone, and readings that contradict the linkage", "[cli]") {
    const WorkingFolder folder;
    const std::string readings =
        "[[direct_reading]]\nball_height = 8\ndistance = \"28 15/16\"\nreference = \"POINTS\"\n"
        "[[direct_reading]]\nball_height = 17\ndistance = 29.75\nreference = \"POINTS\"\n"
        "[[direct_reading]]\nball_height = 27\ndistance = \"30 7/16\"\nreference = \"POINTS\"\n";
    const auto with_points = [&](const std::string& points) {
        std::string text = readings;
        for (std::size_t at; (at = text.find("POINTS")) != std::string::npos;) text.replace(at, 6, points);
        return text;
    };
    const std::string head = "version = 1\nunit = \"in\"\nname = \"own\"\n";
    write_file("t.toml", "kind = \"tractor\"\n" + head);
    write_file("i.toml", "kind = \"implement\"\n" + head + "attachment = \"mounted\"\n[pic]\nsplines = 6\n");
    const std::string uses = "rules = \"general\"\n[driveline]\nuse = \"shaft-31\"\n";
    write_file("alone.toml", "kind = \"setup\"\n" + head + uses + "[tractor]\nuse = \"t.toml\"\n[implement]\nuse = \"i.toml\"\n" +
                                 with_points("joint_centres"));
    const Run alone = run_line("hitchwright cut alone.toml");
    CHECK(alone.code == 1);
    CHECK(contains(alone.out, "CUT 3 11/16 in from each half"));
    CHECK(contains(unwrap(alone.out), "The lowest and the highest reading must be the ends of the travel"));
    CHECK(run_line("hitchwright fit alone.toml").code == 5);
    const Run shafts = run_line("hitchwright shafts alone.toml");
    CHECK(contains(unwrap(shafts.out), "shaft-31 (now) cut 3 11/16 in from each half"));
    const std::string demo = read_file(std::string(HITCHWRIGHT_SOURCE_DIR) + "/presets/setups/compact-tiller-bottoms-out.toml");
    write_file("agree.toml", demo + with_points("joint_centres"));
    const Run agree = run_line("hitchwright fit agree.toml");
    CHECK(agree.code == 1);
    CHECK(contains(agree.out, "Direct readings agree with the linkage"));
    write_file("torn.toml", demo + with_points("shaft_ends"));
    const Run torn = run_line("hitchwright cut torn.toml");
    CHECK(torn.code == 5);
    CHECK(contains(unwrap(torn.out), "NOT KNOWN: direct readings do not agree"));
    CHECK(contains(unwrap(run_line("hitchwright fit torn.toml").out), "All would agree if they were taken between the joint centres"));
}
