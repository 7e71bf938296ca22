// draw: files by their ending, written whole or not at all.

#include <catch2/catch.hpp>

#include <string>

#include "tests/cli/run.h"

using namespace hitchwright::test;

TEST_CASE("draw: the ending decides the form, whatever its case", "[cli]") {
    const WorkingFolder folder;
    const struct {
        const char* name;
        const char* begins;
    } files[] = {
        {"a.svg", "<?xml"}, {"b.pdf", "%PDF-"}, {"c.png", "\x89PNG"}, {"d.SVG", "<?xml"}, {"e f.svg", "<?xml"}, {"g.Html", "<!DOCTYPE html>"}};
    for (const auto& file : files) {
        CAPTURE(file.name);
        const Run result = run({"draw", "compact-tiller-bottoms-out", "-o", file.name});
        CAPTURE(result.err);
        CHECK(result.code == 0);
        CHECK(contains(result.out, file.name));
        CHECK(read_file(file.name).starts_with(file.begins));
    }
    CHECK(run({"draw", "compact-tiller-bottoms-out", "-oshort.svg"}).code == 0);
    CHECK(read_file("short.svg") == read_file("a.svg"));
    // The HTML is that picture on paper of its size.
    const std::string html = read_file("g.Html"), svg = read_file("a.svg");
    CHECK(contains(html, svg.substr(svg.find("<svg"))));
    CHECK(contains(html, "size: 279.4mm 215.9mm"));
}

TEST_CASE("draw: each demo set-up, also one that must not run or has no shaft, is drawn with its verdict", "[cli]") {
    const WorkingFolder folder;
    for (const std::string& name : demo_setups()) {
        CAPTURE(name);
        CHECK(run({"draw", name, "-o", name + ".svg"}).code == 0);
        const std::string svg = read_file(name + ".svg");
        const bool verdict = contains(svg, "FITS") || contains(svg, "MUST NOT RUN");
        CHECK(verdict);
    }
    CHECK(
        run({"draw", "compact-tiller-bottoms-out", "-o", "missing.svg", "--set", "tractor.lower_link.length="}).code ==
        0);
    CHECK(contains(read_file("missing.svg"), "NOT KNOWN"));
}

TEST_CASE("draw: paper and units", "[cli]") {
    const WorkingFolder folder;
    const auto draw = [](std::vector<std::string> more) {
        more.insert(more.begin(), {"draw", "compact-tiller-bottoms-out", "-o", "x.svg"});
        CHECK(run(more).code == 0);
        return read_file("x.svg");
    };
    CHECK(contains(draw({}), "279.4mm"));
    CHECK(contains(draw({"--units", "mm"}), "297mm"));
    CHECK(contains(draw({"--units", "mm", "--paper", "letter"}), "279.4mm"));
    CHECK(contains(draw({"--paper", "a4"}), "297mm"));
}

TEST_CASE("draw: a file that cannot be written is named, nothing is left behind", "[cli]") {
    const WorkingFolder folder;
    write_file("old.svg", "old");
    std::filesystem::create_directory("folder.svg");
    for (const char* name : {"no/such/x.svg", "folder.svg", "old.svg/x.svg"}) {
        CAPTURE(name);
        const Run result = run({"draw", "compact-tiller-bottoms-out", "-o", name});
        CHECK(result.code == 4);
        CHECK(result.out.empty());
        CHECK(contains(unwrap(result.err), name));
    }
    CHECK(read_file("old.svg") == "old");
    CHECK(run({"draw", "nosuch", "-o", "old.svg"}).code == 3);
    CHECK(read_file("old.svg") == "old");
    CHECK(run({"draw", "compact-tiller-bottoms-out", "-o", "old.svg"}).code == 0);
    CHECK(read_file("old.svg") != "old");
    int entries = 0;
    for (const auto& entry : std::filesystem::directory_iterator(".")) entries += entry.exists() ? 1 : 0;
    CHECK(entries == 2);
}

TEST_CASE("draw: the lines over the travel carry limits, extremes and cautions, also without a shaft", "[cli]") {
    const WorkingFolder folder;
    CHECK(run({"draw", "compact-tiller-bottoms-out", "--view", "travel", "-o", "x.svg"}).code == 0);
    const std::string svg = read_file("x.svg");
    for (const char* words : {"Shaft length between joint centres, in", "Joint angles, deg", "Pitch, rear up", "CAUTION",
                              "25.0 deg: no work above", "shortest 28 15/16 in at 8 in"}) {
        CAPTURE(words);
        CHECK(contains(svg, words));
    }
    CHECK(run({"draw", "compact-box-blade", "--view", "travel", "-o", "blade.svg"}).code == 0);
    CHECK_FALSE(contains(read_file("blade.svg"), "Joint angles"));
    CHECK(run({"draw", "compact-tiller-bottoms-out", "--view", "travel", "-o", "none.svg", "--set",
               "tractor.lower_link.length="}).code == 0);
    CHECK(contains(read_file("none.svg"), "No lines"));
}

TEST_CASE("draw: from behind, roll, rods, edge heights and tyre room are on the page, at any height and sway", "[cli]") {
    const WorkingFolder folder;
    const char* const demo = "compact-rear-blade-tilted";
    CHECK(run({"draw", demo, "--view", "rear", "-o", "x.svg"}).code == 0);
    const std::string svg = read_file("x.svg");
    for (const char* words : {"From behind, looking forward", "the working height", "left lift rod 16 5/8 in", "right lift rod 17 1/4 in", "left side up", "left ball", "right ball",
                              "left end", "right end", "room to the tyre", "CAUTION"}) {
        CAPTURE(words);
        CHECK(contains(svg, words));
    }
    CHECK_FALSE(contains(svg, "Not placed"));
    CHECK(run({"draw", demo, "--view", "rear", "-o", "y.svg", "--height", "20in", "--sway", "-1/2in"}).code == 0);
    CHECK(contains(read_file("y.svg"), "Ball height 20 in, balls 1/2 in to the left"));
    CHECK(run({"draw", demo, "--view", "plan", "-o", "z.svg"}).code == 0);
    for (const char* words : {"tail swing", "sway 1 1/2 in", "room to the tyre"}) CHECK(contains(read_file("z.svg"), words));
    for (const char* ending : {"pdf", "png"}) CHECK(run({"draw", demo, "--view", "rear", "-o", std::string("x.") + ending}).code == 0);
}

TEST_CASE("draw: from behind, what is missing is said, and what cannot be shown is refused", "[cli]") {
    const WorkingFolder folder;
    CHECK(run({"draw", "compact-box-blade", "--view", "rear", "-o", "x.svg", "--set", "tractor.lift_rod.length="}).code == 0);
    CHECK(contains(read_file("x.svg"), "the hitch is drawn level"));
    CHECK(run({"draw", "compact-box-blade", "--view", "rear", "-o", "y.svg", "--set", "tractor.lower_link.length="}).code == 0);
    CHECK(contains(read_file("y.svg"), "No picture"));
    const Run drawn = run({"draw", "utility-drawn-cutter-fits", "--view", "rear", "-o", "no.svg"});
    CHECK(drawn.code == 2);
    CHECK(contains(unwrap(drawn.err), "a drawn implement hangs on no lift rods"));
    const Run still = run({"draw", "compact-box-blade", "--view", "rear", "--sway", "1/2in", "-o", "no.svg"});
    CHECK(still.code == 2);
    CHECK(contains(unwrap(still.err), "nobody measured how far the hitch sways"));
    const Run far = run({"draw", "compact-rear-blade-tilted", "--view", "rear", "--sway", "2in", "-o", "no.svg"});
    CHECK(far.code == 2);
    CHECK(contains(unwrap(far.err), "the balls go from -3/4 in to 3/4 in"));
    CHECK(run({"draw", "compact-box-blade", "--view", "side", "--sway", "0in", "-o", "no.svg"}).code == 2);
    CHECK_FALSE(std::filesystem::exists("no.svg"));
}

TEST_CASE("draw: a caption and a height are shown, and what cannot be is refused and nothing is written", "[cli]") {
    const WorkingFolder folder;
    CHECK(run({"draw", "compact-tiller-bottoms-out", "-o", "x.svg", "--caption", "north & yard <1>", "--height", "20in"}).code == 0);
    CHECK(contains(read_file("x.svg"), "north &amp; yard &lt;1&gt;"));
    CHECK(contains(read_file("x.svg"), "ball height 20 in"));
    const std::vector<std::vector<std::string>> wrong = {
        {"--height", "40in"}, {"--height", "7 15/16in"}, {"--height", "x"}, {"--height", "nan"},
        {"--view", "nosuch"}, {"--view", "travel", "--height", "20in"}, {"--caption", std::string(301, 'w')}};
    for (std::vector<std::string> more : wrong) {
        CAPTURE(show(more));
        more.insert(more.begin(), {"draw", "compact-tiller-bottoms-out", "-o", "no.svg"});
        const Run result = run(more);
        CHECK(result.code == 2);
        CHECK_FALSE(result.err.empty());
        CHECK_FALSE(std::filesystem::exists("no.svg"));
    }
}
