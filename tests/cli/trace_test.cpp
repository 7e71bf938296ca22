// trace: the words of --seen, what is refused, the forms of the answer.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include <cmath>
#include <string>
#include <vector>

#include "cli/seen_words.h"
#include "geometry/angle.h"
#include "presets/load_setup.h"
#include "tests/cli/run.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr const char* blade = "compact-box-blade";
constexpr const char* cutter = "utility-cutter-fits";
constexpr const char* drawn = "utility-drawn-cutter-fits";
constexpr double inch = 0.0254;

Setup load(const char* name) {
    const LoadedSetup loaded = load_setup(name, Library(std::string()));
    REQUIRE(loaded.ok());
    return loaded.setup;
}

/// The one observation of a text that can be read.
Seen read_one(const std::string& text, const char* setup = cutter, UnitSystem units = UnitSystem::inch) {
    const SeenText read = read_seen(text, units, load(setup));
    CAPTURE(text, read.problem);
    REQUIRE(read.problem.empty());
    REQUIRE(read.seen.size() == 1);
    return read.seen.front();
}

std::string refuse(const std::string& text, const char* setup = cutter) {
    const SeenText read = read_seen(text, UnitSystem::inch, load(setup));
    CAPTURE(text);
    REQUIRE_FALSE(read.problem.empty());
    CHECK(read.seen.empty());
    return read.problem;
}

nlohmann::json json_of(std::vector<std::string> args) {
    args.insert(args.end(), {"--format", "json"});
    return nlohmann::json::parse(run(args).out);
}

}  // namespace

TEST_CASE("trace words: the same observation in several phrasings", "[cli]") {
    for (const char* text : {"tail 3 in low at working height", "Tail wheel 3in too low in work",
                             "the rear is 3 in lower at working height", "rear end 3 inches down, working",
                             "tail 76.2 mm low when working.", "back 0.25 ft low at the working height"}) {
        CAPTURE(text);
        const Seen s = read_one(text);
        CHECK(s.kind == SeenKind::tail_height);
        CHECK(s.place == SeenPlace::working);
        CHECK(s.against_setup);
        CHECK(s.value == Approx(-3 * inch));
        CHECK(s.error == Approx(inch / 8));
        CHECK(s.words == text);
    }
    for (const char* text :
         {"top link won't reach", "upper link will not reach", "the top link does not reach", "link out of reach"})
        CHECK(read_one(text).kind == SeenKind::link_out_of_reach);
    for (const char* text : {"shaft knocks when raised", "PTO shaft bottoms out at the top",
                             "driveline hits bottom fully raised", "shaft too long, right up"}) {
        CAPTURE(text);
        CHECK(read_one(text).kind == SeenKind::knocks);
        CHECK(read_one(text).place == SeenPlace::raised);
    }
}

TEST_CASE("trace words: kinds, senses, places, errors", "[cli]") {
    CHECK(read_one("front edge 1/2 high lowest").kind == SeenKind::front_height);
    CHECK(read_one("front edge 1/2 high lowest").value == Approx(0.5 * inch));
    const Seen down = read_one("pitch 2 deg nose down when raised"), up = read_one("tail down 2 raised"),
               is = read_one("pitch is 1.5 raised");
    CHECK(down.value == Approx(to_radians(2.0)));
    CHECK(up.kind == SeenKind::pitch);
    CHECK(up.value == Approx(to_radians(-2.0)));
    CHECK_FALSE(is.against_setup);
    CHECK(is.value == Approx(to_radians(1.5)));
    CHECK_FALSE(read_one("pitch is 2 deg nose up, lowest").against_setup);
    CHECK(read_one("pitch is 2 deg nose up, lowest").value == Approx(to_radians(-2.0)));
    const Seen at = read_one("tail 2 1/4 in +- 1/16 in high at 20 in");
    CHECK(at.place == SeenPlace::at_height);
    CHECK(at.height == Approx(20 * inch));
    CHECK(at.value == Approx(2.25 * inch));
    CHECK(at.error == Approx(inch / 16));
    const Seen gap = read_one("gap left is 1/2 in"), metric = read_one("gap 12", cutter, UnitSystem::millimetre);
    CHECK(gap.kind == SeenKind::gap);
    CHECK_FALSE(gap.against_setup);
    CHECK(gap.value == Approx(0.5 * inch));
    CHECK(metric.value == Approx(0.012));
    CHECK(read_one("overlap 1 in less").against_setup);
    CHECK(read_one("shaft 1 in short at 12in").kind == SeenKind::shaft_distance);
    CHECK(read_one("drawbar length 14 in", drawn).kind == SeenKind::drawbar_length);
    CHECK(read_one("shaft comes apart in dips", drawn).place == SeenPlace::in_dips);
    CHECK(read_one("tire meets the tongue in turns", drawn).kind == SeenKind::tyre_meets_tongue);
    CHECK(read_one("deck rubs on the shaft").kind == SeenKind::deck_touches);
    CHECK(read_one("shield hits the deck edge").kind == SeenKind::deck_touches);
    CHECK(read_one("vibration when raised").kind == SeenKind::chatters);
    CHECK(read_one("tail wheel drags").kind == SeenKind::tail_drags);
    CHECK(read_one("it will not lift").kind == SeenKind::will_not_lift);
    CHECK(read_one("top link too short").kind == SeenKind::link_too_short);
    const Seen key = read_one("tractor.upper_link_pin[4].z is 43 1/4 in"),
               spaced = read_one("implement.point[rear of the deck].x = 93 in");
    CHECK(key.kind == SeenKind::reading);
    CHECK(key.key == "tractor.upper_link_pin[4].z");
    CHECK(key.value == Approx(43.25 * inch));
    CHECK(spaced.key == "implement.point[rear of the deck].x");
    const SeenText stops = read_seen("ball height 1 in less at the stops", UnitSystem::inch, load(cutter));
    REQUIRE(stops.seen.size() == 2);
    CHECK(stops.seen[0].place == SeenPlace::lowest);
    CHECK(stops.seen[1].place == SeenPlace::raised);
    CHECK(stops.seen[0].value == stops.seen[1].value);
}

TEST_CASE("trace words: what cannot be meant is refused with what is allowed", "[cli]") {
    CHECK(contains(refuse("tial 3 in low"), "\"tial\" is no word"));
    CHECK(read_seen("tial 3 in low", UnitSystem::inch, load(cutter)).nearest == "tail");
    CHECK(contains(refuse("tail 3 in"), "high or low"));
    CHECK(contains(refuse("pitch 2 deg up"), "nose down"));
    CHECK(contains(refuse("tail 3 in low high"), "both ways"));
    CHECK(contains(refuse("tail -3 in low"), "minus"));
    CHECK(contains(refuse("tail 3 in low lowest raised"), "two places"));
    CHECK(contains(refuse("tail 3 in low 4 in"), "second number"));
    CHECK(contains(refuse("tail 3 in low at"), "place"));
    CHECK(contains(refuse("tail 3 deg low"), "3 deg"));
    CHECK(contains(refuse("tail 900 in low"), "10 m"));
    CHECK(contains(refuse("tail nan in low"), "no word"));
    CHECK(contains(refuse("tail 1e999 in low"), "1e999"));
    CHECK(contains(refuse("3 in low"), "not of what"));
    CHECK(contains(refuse("shaft knocks 3 in"), "complaint and a number"));
    CHECK(contains(refuse("shaft"), "neither"));
    CHECK(contains(refuse(""), "allowed"));
    CHECK(contains(refuse("tail 3 in low raised", drawn), "not lifted"));
    CHECK(contains(refuse("shaft knocks in turns"), "turns with the tractor"));
    CHECK(contains(refuse("tractor.pto.stub_x is far"), "allowed"));
    CHECK(contains(refuse("tractor.mass.mass is 3000 kg"), "lengths and angles"));
    CHECK(contains(refuse("tractor.pto.stub_xx is 3 in"), "no word"));
    CHECK(contains(refuse(std::string(500, 'x')), "500 characters"));
}

TEST_CASE("trace words: hostile text stays text", "[cli]") {
    for (const std::string& text : {std::string("\x1b[31mtail\x1b[0m 3 in low"), std::string("tail\0 3 in low", 14),
                                    std::string("\xff\xfe 3 in low"), std::string("tail 3 in low\n\n; rm"),
                                    std::string("%s%n tail"), std::string("{} tail"),
                                    std::string("\xe2\x80\xae"
                                                "tail 3 in low"),
                                    std::string("= = = ="), std::string("+- +- +-"), std::string("tail +-"),
                                    std::string("at at at"), std::string("is 3 is 3")}) {
        const Run r = run({"trace", blade, "--seen", text});
        CAPTURE(text);
        CHECK(r.code == 2);
        CHECK(r.out.empty());
        CHECK(contains(r.err, "--seen"));
        for (const char c : r.err) CHECK((c == '\n' || static_cast<unsigned char>(c) >= 0x20));
    }
    // Text that is read is shown back escaped and kept whole in JSON.
    const Run shown = run({"trace", cutter, "--seen", "will not lift", "--seen", "tail 3 in low"});
    CHECK(shown.code == 1);
    for (const char c : shown.out)
        CHECK((c == '\n' || (static_cast<unsigned char>(c) >= 0x20 && static_cast<unsigned char>(c) < 0x7f)));
}

TEST_CASE("trace: command line, codes and width", "[cli]") {
    CHECK(run({"trace", blade}).code == 2);
    CHECK(run({"trace", "--seen", "tail 3 in low"}).code == 2);
    CHECK(run({"trace", blade, "--seen"}).code == 2);
    CHECK(run({"trace", blade, "--seen", "tail 3 in low", "--format", "csv"}).code == 2);
    CHECK(run({"trace", "no-such-setup", "--seen", "tail 3 in low"}).code == 3);
    std::vector<std::string> many{"trace", blade};
    for (int i = 0; i < 41; ++i) many.insert(many.end(), {"--seen", "tail 3 in low"});
    CHECK(run(many).code == 2);
    CHECK(run({"trace", blade, "--seen", "tail 3 in low"}).code == 1);
    const Run within = run({"trace", blade, "--seen", "tail 1/8 in low"});
    CHECK(within.code == 0);
    CHECK(contains(within.out, "NOTHING NEED BE WRONG"));
    CHECK(run({"trace", blade, "--seen", "tail 3 in low", "--seen", "tail 3 in high"}).code == 5);
    const Run heavy = run({"trace", blade, "--seen", "will not lift"});
    CHECK(heavy.code == 1);
    CHECK(contains(heavy.out, "implement.mass.mass is"));
    CHECK(run({"trace", blade, "--set", "implement.mass.mass=", "--seen", "will not lift"}).code == 5);
    CHECK(run({"trace", blade, "--set", "tractor.lower_link.length=", "--seen", "tail 3 in low"}).code == 5);
    for (const char* setup : {blade, cutter}) {
        for (const char* units : {"in", "mm"}) {
            const Run all =
                run({"trace", setup, "--seen", "tail 3 in low at working height", "--units", units, "--all"});
            for (const std::string& line : split_lines(all.out)) CHECK(line.size() <= 80);
            CHECK(contains(all.out, "Cautions"));
        }
    }
    // Every --seen that is wrong is said, not the first alone.
    const Run two = run({"trace", blade, "--seen", "tial low", "--seen", "pitch 1 up"});
    CHECK(contains(two.err, "tial"));
    CHECK(contains(two.err, "nose down"));
}

TEST_CASE("trace: text and JSON name the same causes, each in one list only", "[cli][oracle]") {
    const std::vector<std::string> args{
        "trace", cutter, "--seen", "tail 2 in high raised", "--seen", "pitch is 1 deg lowest"};
    const nlohmann::json json = json_of(args);
    std::vector<std::string> with_all = args;
    with_all.push_back("--all");
    const std::string brief = unwrap(run(args).out), all = unwrap(run(with_all).out);
    REQUIRE(json.at("causes").size() + json.at("cannot").size() > 80);
    double sum = 0.0, last = 1.0;
    for (const nlohmann::json& c : json.at("causes")) {
        sum += c.at("share").get<double>();
        CHECK(c.at("share").get<double>() <= last);
        last = c.at("share");
        CHECK(c.at("predicted").size() == json.at("seen").size());
        CHECK(contains(all, unwrap(c.at("text").get<std::string>())));
    }
    CHECK(sum == Approx(json.at("causes").empty() ? 0.0 : 1.0));
    for (const nlohmann::json& c : json.at("cannot")) {
        CHECK(c.at("share") == 0.0);
        for (const nlohmann::json& other : json.at("causes"))
            CHECK_FALSE(
                (other.at("kind") == c.at("kind") && other.at("key") == c.at("key") && other.at("to") == c.at("to")));
    }
    CHECK(contains(brief, "--all"));
    CHECK(json.at("seen")[1].at("seen").get<double>() == Approx(1.0));
    CHECK(json.at("seen")[0].at("seen").get<double>() - json.at("seen")[0].at("believed").get<double>() ==
          Approx(50.8));
}

TEST_CASE("trace: a fault put into the set-up with --set is undone by the cause found", "[cli][metamorphic]") {
    // The machine has the link an inch longer than believed; what fit says of its pitch is what is seen.
    const nlohmann::json truth =
        json_of({"sweep", blade, "--set", "choices.upper_link_length=24.015106in", "--steps", "2"});
    const double low = truth.at("positions").front().at("pitch_deg"),
                 high = truth.at("positions").back().at("pitch_deg");
    const nlohmann::json t = json_of({"trace", blade, "--seen", "pitch is " + std::to_string(low) + " deg lowest",
                                      "--seen", "pitch is " + std::to_string(high) + " deg raised"});
    bool found = false;
    for (const nlohmann::json& c : t.at("causes")) {
        if (c.at("kind") != "link_turned") continue;
        found = true;
        CHECK(c.at("change").get<double>() == Approx(25.4).margin(0.01));
        CHECK(c.at("misfit").get<double>() == Approx(0.0).margin(1e-3));
    }
    CHECK(found);
}
