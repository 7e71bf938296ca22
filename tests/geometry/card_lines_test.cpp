// The lines of a measuring card against the model: what the card calls needed is what the model cannot do without.

#include <catch2/catch.hpp>

#include <algorithm>
#include <random>
#include <set>

#include "geometry/card_lines.h"
#include "geometry/drawn_analysis.h"
#include "geometry/mounted_model.h"
#include "geometry/setup_entries.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_drawn.h"
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

std::set<std::string> drawn_missing(const Setup& setup) {
    std::set<std::string> keys;
    const DrawnModelResult result = make_drawn_model(setup);
    for (const auto* list : {&result.hitch_obstacles, &result.shaft_obstacles}) {
        for (const ModelObstacle& o : *list) {
            if (o.kind == ModelObstacle::Kind::missing || o.kind == ModelObstacle::Kind::pin_not_chosen) keys.insert(o.key);
        }
    }
    const DitchReadings& d = setup.choices.drawn.ditch;
    if (d.depth.known || d.bottom_width.known || d.side_slope.known || d.crossing_angle.known) {
        // An axle that lacks its place is named by that.
        for (const std::string& key : make_terrain_rig(setup, result.model).missing) {
            if (key != "implement.ground_contact" || setup.implement.ground_contacts.empty()) keys.insert(key);
        }
        if (!d.depth.known) keys.insert("choices.ditch.depth");
        if (!d.side_slope.known) keys.insert("choices.ditch.side_slope");
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

TEST_CASE("card lines: of a drawn set-up too what the model and the ditch miss is needed, and nothing else is", "[random]") {
    const unsigned seed = 20261125;
    CAPTURE(seed);
    std::mt19937 random(seed);
    std::size_t compared = 0, ditches = 0, unchosen = 0;
    for (int trial = 0; trial < 400; ++trial) {
        Setup setup = make_drawn_setup();
        if (trial % 4 == 1) setup.choices.drawn.ditch = {known(0.4), known(0.6), known(0.4), known(1.5), {}};
        if (trial % 4 == 2) {
            setup.implement.drawn.steady_bearing = {true, known(0.3), known(0.0), known(0.1), known(0.05), known(0.0)};
            setup.parts.spline_extender = {};
            setup.parts.spline_extender.fitted = true;
        }
        if (trial % 4 == 3) make_tractor_joint_wide(setup, 0.1);
        if (trial % 5 == 1) setup.choices.drawn.drawbar_pin.clear();
        if (trial % 7 == 1) setup.implement.pic.fitted = setup.has_driveline = false;
        if (trial % 3 == 1) {
            setup.tractor.drawbar.drop = known(0.2);
            setup.implement.ground_contacts.front().name.clear();
        }
        // A bar without its ends is refused by the reader.
        visit_readings(setup, [&](const std::string& key, Reading& r, const FieldSpec&) {
            if (random() % 8 == 0 && !key.starts_with("implement.tongue_bar")) r.known = false;
        });
        std::set<std::string> model = drawn_missing(setup);
        const std::set<std::string> card = card_missing(setup);
        for (const std::string& key : model) {
            CAPTURE(trial, key);
            CHECK(card.contains(key));
            ++compared;
        }
        ditches += model.contains("tractor.tyre.front_pivot_height") ? 1U : 0U;
        unchosen += model.contains("choices.drawbar_pin") ? 1U : 0U;
        // Given all it asked for, the model asks for what it could not see before.
        std::set<std::string> asked = model;
        for (int round = 0; round < 4 && !model.empty(); ++round) {
            visit_readings(setup, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
                if (model.contains(key)) r = known(std::clamp(0.4, spec.least, spec.most));
            });
            if (model.contains("choices.drawbar_pin")) setup.choices.drawn.drawbar_pin = "middle";
            model = drawn_missing(setup);
            asked.insert(model.begin(), model.end());
        }
        std::set<std::string> expected = card;
        expected.erase("driveline.shaft.reference");
        CAPTURE(trial);
        CHECK(asked == expected);
    }
    CHECK(compared > 500);
    CHECK((ditches > 5 && unchosen > 50));
}

TEST_CASE("card lines: a drawn implement is asked for the drawbar, never for the linkage, and the other way round", "[metamorphic]") {
    const auto patterns = [](const Setup& s) {
        std::set<std::string> all;
        for (const CardLine& line : list_card_lines(s)) all.insert(line.pattern);
        return all;
    };
    const std::set<std::string> drawn = patterns(make_blank_setup(true, Attachment::drawn)), mounted = patterns(make_blank_setup(true));
    for (const std::string& p : drawn) {
        CAPTURE(p);
        for (const char* part : {"tractor.hitch.", "lower_link", "upper_link", "lift", "travel", "ball", "cab_line", "mast", "implement.hitch.", "implement.point",
                                 "coupler", "link_extender", "working_band", "stop", "bushing", "out_of_the_way"})
            CHECK(p.find(part) == std::string::npos);
    }
    for (const std::string& p : mounted) {
        CAPTURE(p);
        for (const char* part : {"drawbar_pin", "drawbar.top_height", "articulation", "adapter_length", "front_", "wheelbase", "steering", "implement.drawn.",
                                 "tongue_bar", "half_track", "turn_", "pitch_up", "roll_most", "ditch"})
            CHECK(p.find(part) == std::string::npos);
    }
    // What both have: the stub, the rear tyres, the input, what it stands on, the shaft, and the pitch where nothing tells it.
    for (const char* p : {"tractor.pto.stub_x", "tractor.tyre.rear_track", "implement.pic.z", "implement.ground_contact[].x",
                          "driveline.shaft.closed_length", "choices.working_pitch"}) {
        CAPTURE(p);
        CHECK((drawn.contains(p) && mounted.contains(p)));
    }
    CHECK((is_drawn_card(list_card_lines(make_drawn_setup())) && !is_drawn_card(list_card_lines(make_sample()))));
}

TEST_CASE("card lines: on a drawn card the words name the points a drawn implement has", "[analytic]") {
    for (const CardLine& line : list_card_lines(make_blank_setup(true, Attachment::drawn))) {
        CAPTURE(line.key);
        CHECK(line.what.find("lower pins") == std::string::npos);
        CHECK(line.what.find("(drawn") == std::string::npos);
        if (line.key == "implement.pic.x") CHECK(line.what.find("centre of the hitch pin") == 0);
    }
}

TEST_CASE("card lines: a drawn implement's height, pitch, clevis, bearing and ditch are asked for as the job has them", "[analytic]") {
    Setup s = make_drawn_setup();
    const auto needed = [&](const std::string& key) {
        const std::vector<CardLine> lines = list_card_lines(s);
        const auto at = std::find_if(lines.begin(), lines.end(), [&](const CardLine& l) { return l.key == key; });
        return at != lines.end() && at->needed;
    };
    CHECK((!has_pattern(s, "tractor.drawbar.drop") && needed("tractor.drawbar.top_height")));
    s.tractor.drawbar.top_height = Reading{};
    CHECK((has_pattern(s, "tractor.drawbar.drop") && !needed("tractor.drawbar.drop") && needed("tractor.drawbar.top_height")));
    s.tractor.drawbar.drop = known(0.2);
    CHECK((needed("tractor.drawbar.drop") && !needed("tractor.drawbar.top_height")));
    s.tractor.drawbar.drop = Reading{};
    s.tractor.drawbar_pins[0].top_height = known(0.43);
    CHECK(needed("tractor.drawbar.top_height"));  // of another position than the chosen one
    s.tractor.drawbar_pins[1].top_height = known(0.43);
    CHECK((!needed("tractor.drawbar.top_height") && !needed("tractor.drawbar.drop")));
    CHECK_FALSE(has_pattern(s, "choices.working_pitch"));
    s.implement.ground_contacts.clear();
    CHECK((has_pattern(s, "choices.working_pitch") && !needed("implement.ground_contact[1].x")));
    CHECK_FALSE(has_pattern(s, "implement.drawn.pitch_play"));
    s.implement.drawn.hitch = DrawnHitchKind::clevis;
    CHECK(has_pattern(s, "implement.drawn.roll_play"));
    CHECK_FALSE(has_pattern(s, "implement.steady_bearing.x"));
    s.implement.drawn.steady_bearing.fitted = true;
    CHECK((needed("implement.steady_bearing.x") && needed("implement.steady_bearing.rear_joint_offset") && !needed("implement.steady_bearing.phase")));
    CHECK((has_pattern(s, "choices.ditch.depth") && !needed("choices.ditch.depth") && !needed("tractor.tyre.front_track")));
    CHECK_FALSE(has_pattern(s, "choices.ditch_point[].x"));
    s.choices.drawn.ditch.bottom_width = known(0.5);
    CHECK((needed("choices.ditch.depth") && needed("choices.ditch.side_slope") && needed("tractor.tyre.front_track") &&
           needed("implement.ground_contact[1].half_track") && !needed("tractor.tyre.front_width")));
    s.choices.drawn.ditch.points = {{"1", known(0.0), known(0.0)}, {"2", known(1.0), known(-0.3)}};
    CHECK((has_pattern(s, "choices.ditch_point[].x") && !needed("choices.ditch.depth") && needed("tractor.mass.wheelbase")));
    // Without a shaft the stub still carries the drawbar's lengths.
    s.implement.pic.fitted = s.has_driveline = false;
    CHECK((needed("tractor.pto.stub_x") && !has_pattern(s, "tractor.pto.power") && !has_pattern(s, "implement.steady_bearing.x")));
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
    for (const Setup& setup : {make_blank_setup(true), make_blank_setup(false), make_sample(), make_drawn_setup(), make_blank_setup(true, Attachment::drawn)}) {
        const bool drawn = setup.implement.attachment == Attachment::drawn;
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
        CHECK(lines.back().station == (drawn ? Station::way : Station::coupled));
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

TEST_CASE("setup entries: a choice has its words and the one that is chosen", "[analytic]") {
    Setup s = make_setup_a();
    s.tractor.pto.type = PtoType::type1;
    int choices = 0;
    for (const SetupEntry& e : list_setup_entries(s).entries) {
        if (e.form != CardForm::word) continue;
        CAPTURE(e.key);
        CHECK(e.words.size() > 1);
        if (e.known) CHECK(std::find(e.words.begin(), e.words.end(), e.text) != e.words.end());
        if (e.key == "tractor.pto.type") CHECK((e.known && e.text == "1"));
        ++choices;
    }
    CHECK(choices > 5);
}

TEST_CASE("card lines: an item of a list has its name in the key, not a line for it", "[analytic]") {
    Setup s = make_setup_a();
    s.implement.points = {{"lip", known(0.30), known(0.35), Reading{}, true}};
    for (const CardLine& line : list_card_lines(s)) {
        CAPTURE(line.pattern);
        if (line.pattern.find("[].") != std::string::npos) CHECK(line.form != CardForm::name);
    }
}

TEST_CASE("setup entries: stations first, then the specification, then the job", "[analytic]") {
    const auto rank = [](const EntryPlace& p) { return p.specification ? 1 : p.station == Station::none ? 2 : 0; };
    Setup s = make_setup_a();
    s.specification.emplace_back().name = "cable";
    const std::vector<SetupEntry> all = list_setup_entries(s).entries;
    CHECK(std::is_sorted(all.begin(), all.end(), [&](const SetupEntry& a, const SetupEntry& b) { return rank(a.place) < rank(b.place); }));
    for (int r = 0; r < 3; ++r) CHECK(std::any_of(all.begin(), all.end(), [&](const SetupEntry& e) { return rank(e.place) == r; }));
}
