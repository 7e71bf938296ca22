// The lines of a measuring card against the model: what the card calls needed is what the model cannot do without.

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>
#include <set>

#include "geometry/card_lines.h"
#include "geometry/mounted_model.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

std::set<std::string> model_missing(const Setup& setup) {
    std::set<std::string> keys;
    const MountedModelResult result = make_mounted_model(setup);
    for (const auto* list : {&result.linkage_obstacles, &result.shaft_obstacles}) {
        for (const ModelObstacle& o : *list) {
            if (o.kind == ModelObstacle::Kind::missing || o.kind == ModelObstacle::Kind::pin_not_chosen) keys.insert(o.key);
        }
    }
    return keys;
}

std::set<std::string> card_missing(const Setup& setup) {
    std::set<std::string> keys;
    for (const CardLine& line : list_card_lines(setup)) {
        if (line.missing()) keys.insert(line.key);
    }
    return keys;
}

bool has_pattern(const Setup& setup, const std::string& pattern) {
    const std::vector<CardLine> lines = list_card_lines(setup);
    return std::any_of(lines.begin(), lines.end(), [&](const CardLine& l) { return l.pattern == pattern; });
}

// Without the link's own length, so that the working height carries the answer.
Setup make_sample() {
    Setup s = make_setup_a();
    s.choices.upper_link_length = Reading{};
    s.choices.working_ball_height = known(0.300);
    return s;
}

}  // namespace

TEST_CASE("card lines: whatever a model says is missing is on the card as needed, and nothing else is", "[random]") {
    const unsigned seed = 20240611;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::size_t compared = 0;
    for (int trial = 0; trial < 300; ++trial) {
        Setup setup = make_sample();
        if (trial % 3 == 1) add_lift_a(setup.tractor, -10, 40);
        if (trial % 3 == 2) setup.implement.upper_link_float.kind = UpperLinkKind::slot;
        if (trial % 5 == 1) setup.tractor.upper_link_pins.push_back({"2", known(0.24), known(0.9)});
        visit_readings(setup, [&](const std::string&, Reading& r, const FieldSpec&) {
            if (random() % 8 == 0) r.known = false;
        });
        std::set<std::string> model = model_missing(setup);
        const std::set<std::string> card = card_missing(setup);
        for (const std::string& key : model) {
            CAPTURE(trial, key);
            CHECK(card.contains(key));
            ++compared;
        }
        // The model names some readings only when others are there: give it all it asked for, and again.
        std::set<std::string> asked = model;
        for (int round = 0; round < 4 && !model.empty(); ++round) {
            visit_readings(setup, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
                if (model.contains(key)) r = known(std::clamp(0.4, spec.least, spec.most));
            });
            if (model.contains("choices.upper_link_pin")) setup.choices.upper_link_pin = "1";
            model = model_missing(setup);
            asked.insert(model.begin(), model.end());
        }
        CAPTURE(trial);
        // The kind of a length has no reading of its own in the model; a length that is there vouches for it.
        std::set<std::string> expected = card;
        expected.erase("driveline.shaft.reference");
        CHECK(asked == expected);
    }
    CHECK(compared > 500);
}

TEST_CASE("card lines: a blade has no line of a shaft, and the same lines otherwise", "[metamorphic]") {
    const Setup blade = make_blank_setup(false), pto = make_blank_setup(true);
    std::set<std::string> blade_keys, other_keys;
    for (const CardLine& line : list_card_lines(blade)) {
        CAPTURE(line.key);
        CHECK(line.key.find(".pto.") == std::string::npos);
        CHECK(line.key.find(".pic.") == std::string::npos);
        CHECK_FALSE(line.key.starts_with("driveline."));
        CHECK(line.key.find("working_band") == std::string::npos);
        CHECK(line.station != Station::shaft);
        blade_keys.insert(line.key);
    }
    for (const CardLine& line : list_card_lines(pto)) {
        const bool shaft = line.key.find(".pto.") != std::string::npos || line.key.find(".pic.") != std::string::npos ||
                           line.key.starts_with("driveline.") || line.key.find("working_band") != std::string::npos ||
                           line.key == "choices.pto_speed_rpm" || line.key.starts_with("direct_reading[");
        if (!shaft) other_keys.insert(line.key);
    }
    CHECK(blade_keys == other_keys);
    CHECK(blade_keys.size() > 30);
}

TEST_CASE("card lines: parts are asked for where they are fitted", "[analytic]") {
    Setup s = make_sample();
    const std::string slack = "implement.upper_link_float.slack", strap = "implement.upper_link_float.strap_length";
    CHECK_FALSE(has_pattern(s, slack));
    CHECK_FALSE(has_pattern(s, strap));
    s.implement.upper_link_float.kind = UpperLinkKind::chain;
    CHECK(has_pattern(s, slack));
    CHECK_FALSE(has_pattern(s, strap));
    s.implement.upper_link_float.kind = UpperLinkKind::swing_strap;
    CHECK_FALSE(has_pattern(s, slack));
    CHECK(has_pattern(s, strap));
    CHECK_FALSE(has_pattern(s, "driveline.tractor_joint.spacing"));
    s.driveline.tractor_joint.kind = JointKind::wide_angle;
    CHECK(has_pattern(s, "driveline.tractor_joint.spacing"));
    CHECK_FALSE(has_pattern(s, "driveline.implement_joint.spacing"));
    CHECK_FALSE(has_pattern(s, "driveline.tractor_joint.centre_to_groove"));
    s.driveline.reference = LengthReference::locking_grooves;
    CHECK(has_pattern(s, "driveline.tractor_joint.centre_to_groove"));
    CHECK_FALSE(has_pattern(s, "driveline.tractor_joint.centre_to_end"));
    CHECK_FALSE(has_pattern(s, "tractor.lift_arm.length"));
    add_lift_a(s.tractor, -10, 40);
    CHECK(has_pattern(s, "tractor.lift_arm.length"));
}

TEST_CASE("card lines: in walking order, numbered from one, each key once", "[analytic]") {
    for (const Setup& setup : {make_blank_setup(true), make_blank_setup(false), make_sample()}) {
        const std::vector<CardLine> lines = list_card_lines(setup);
        REQUIRE(lines.size() > 30);
        std::set<std::string> keys;
        for (std::size_t i = 0; i < lines.size(); ++i) {
            CAPTURE(lines[i].key);
            CHECK(lines[i].number == static_cast<int>(i) + 1);
            CHECK(keys.insert(lines[i].key).second);
            CHECK_FALSE(lines[i].what.empty());
            CHECK(lines[i].station != Station::none);
            if (i > 0) CHECK(lines[i - 1].station <= lines[i].station);
        }
        CHECK(lines.front().station == Station::rear_axle);
        CHECK(lines.back().station == Station::coupled);
    }
}

TEST_CASE("card lines: holes are listed by name, an empty list has room for some, a dialogue for one more", "[analytic]") {
    Setup s = make_sample();
    s.tractor.upper_link_pins = {{"upper", known(0.24), known(0.96)}, {"lower", known(0.24), known(0.9)}};
    const auto count = [](const std::vector<CardLine>& lines, const std::string& pattern) {
        return std::count_if(lines.begin(), lines.end(), [&](const CardLine& l) { return l.pattern == pattern; });
    };
    const std::vector<CardLine> lines = list_card_lines(s);
    CHECK(count(lines, "tractor.upper_link_pin[].x") == 2);
    const auto named = std::find_if(lines.begin(), lines.end(), [](const CardLine& l) { return l.key == "tractor.upper_link_pin[lower].z"; });
    REQUIRE(named != lines.end());
    CHECK(named->item == "lower");
    CHECK(count(lines, "choices.upper_link_pin") == 1);
    CHECK(count(list_card_lines(s, BlankItems::one_more), "tractor.upper_link_pin[].x") == 3);
    s.tractor.upper_link_pins.clear();
    const std::vector<CardLine> blank = list_card_lines(s);
    CHECK(count(blank, "tractor.upper_link_pin[].x") == 3);
    // One hole is enough to go on with.
    CHECK(std::count_if(blank.begin(), blank.end(), [](const CardLine& l) { return l.pattern == "tractor.upper_link_pin[].x" && l.missing(); }) == 1);
}

TEST_CASE("card lines: an add-on part is asked for while it is fitted, between the tractor and the implement", "[analytic]") {
    Setup s = make_sample();
    CHECK_FALSE(has_pattern(s, "coupler.set_back"));
    s.parts.coupler.fitted = s.parts.link_extender.fitted = s.parts.overrunning_clutch.fitted = true;
    CHECK(card_missing(s) == std::set<std::string>{"coupler.set_back", "coupler.hook_height", "coupler.pin_height", "link_extender.length",
                                                   "overrunning_clutch.added_length"});
    CHECK(model_missing(s) == card_missing(s));
    CHECK(has_pattern(s, "coupler.hook_depth"));
    CHECK_FALSE(has_pattern(s, "coupler.fitted"));
    CHECK_FALSE(has_pattern(s, "spline_extender.added_length"));
    for (const CardLine& line : list_card_lines(s)) {
        if (line.key.starts_with("coupler.")) CHECK(line.station == Station::add_on_parts);
    }
}

TEST_CASE("card lines: ball positions are asked for while the pivot is not taped, and take its place", "[analytic]") {
    Setup s = make_blank_setup(true);
    CHECK(has_pattern(s, "tractor.ball_reading[].x"));
    s.tractor.lower_link.pivot_x = s.tractor.lower_link.pivot_z = make_reading(0.4, Origin::measured);
    CHECK_FALSE(has_pattern(s, "tractor.ball_reading[].x"));
    s.tractor.lower_link = {};
    s.tractor.ball_readings.resize(3);
    for (const CardLine& line : list_card_lines(s)) {
        if (line.key == "tractor.lower_link.pivot_x" || line.key == "tractor.lower_link.length") CHECK_FALSE(line.missing());
        if (line.pattern == "tractor.ball_reading[].z") CHECK(line.missing());
    }
}
