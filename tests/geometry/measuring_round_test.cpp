// Which readings a job calls for. Second route for "required": the reading is taken away and the analysis is asked.
#include <catch2/catch.hpp>

#include <algorithm>
#include <set>

#include "geometry/analysis.h"
#include "geometry/measuring_round.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

bool begins_any(const std::vector<MeasuringItem>& items, const std::string& start) {
    return std::any_of(items.begin(), items.end(), [&](const MeasuringItem& i) { return i.key.starts_with(start); });
}

const MeasuringItem* find_item(const std::vector<MeasuringItem>& items, const std::string& key) {
    const auto it = std::find_if(items.begin(), items.end(), [&](const MeasuringItem& i) { return i.key == key; });
    return it == items.end() ? nullptr : &*it;
}

Setup make_blade() {
    Setup s = make_setup_a();
    s.implement.pic = {};
    s.has_driveline = false;
    s.driveline = {};
    return s;
}

std::set<std::string> missing_subjects(const Setup& setup) {
    std::set<std::string> subjects;
    for (const Finding& f : analyze(setup, millimetre_mark).findings) {
        if (f.kind == FindingKind::missing_reading) subjects.insert(f.subject);
    }
    return subjects;
}

}  // namespace

TEST_CASE("measuring round: an item is required exactly when the analysis misses its reading once it is gone", "[oracle]") {
    Setup whole = make_setup_a();
    whole.tractor.upper_link = {known(0.3), known(0.9), known(0.005)};
    whole.tractor.pto.stub_slope = whole.implement.pic.slope = known(0.0);
    whole.implement.work.ball_height = known(0.4);
    whole.choices.working_ball_height = {};
    REQUIRE(missing_subjects(whole).empty());
    std::size_t required = 0, free = 0;
    for (const MeasuringItem& item : list_measuring_items(whole, {})) {
        if (item.form != ItemForm::reading || !item.reading.known || item.key.empty()) continue;
        Setup without = whole;
        visit_readings(without, [&](const std::string& key, Reading& r, const FieldSpec&) {
            if (key == item.key) r = {};
        });
        CAPTURE(item.key);
        // The halves follow from the closed overlap or a longest length as well; a tube is asked for as the direct way.
        if (item.plain.ends_with("_tube")) continue;
        CHECK(item.required == !missing_subjects(without).empty());
        item.required ? ++required : ++free;
    }
    CHECK(required >= 15);
    CHECK(free >= 5);
}

TEST_CASE("measuring round: a blade has no PTO, shaft or guard item, a driven implement has", "[analytic]") {
    const auto blade = list_measuring_items(make_blade(), {});
    const auto driven = list_measuring_items(make_setup_a(), {});
    for (const char* start : {"tractor.pto.", "implement.pic.", "driveline.", "tractor.drawbar."}) {
        CAPTURE(start);
        CHECK_FALSE(begins_any(blade, start));
        CHECK(begins_any(driven, start));
    }
    CHECK(std::none_of(blade.begin(), blade.end(), [](const MeasuringItem& i) { return i.key.empty(); }));
    CHECK(std::count_if(driven.begin(), driven.end(), [](const MeasuringItem& i) { return i.key.empty(); }) == 6);
}

TEST_CASE("measuring round: slack is asked for with a slot, the strap with a strap, neither with a plain pin", "[analytic]") {
    Setup s = make_setup_a();
    const struct {
        UpperLinkKind kind;
        bool slack, strap;
    } cases[] = {{UpperLinkKind::rigid, false, false}, {UpperLinkKind::slot, true, false},
                 {UpperLinkKind::chain, true, false}, {UpperLinkKind::swing_strap, false, true}};
    for (const auto& c : cases) {
        s.implement.upper_link_float.kind = c.kind;
        s.implement.upper_link_float.slack = s.implement.upper_link_float.strap_length = {};
        const auto items = list_measuring_items(s, {});
        const MeasuringItem* slack = find_item(items, "implement.upper_link_float.slack");
        const MeasuringItem* strap = find_item(items, "implement.upper_link_float.strap_length");
        CHECK((slack != nullptr) == c.slack);
        CHECK((strap != nullptr) == c.strap);
        if (slack) CHECK(slack->needed());
        if (strap) CHECK(strap->needed());
    }
}

TEST_CASE("measuring round: the lift arm stands in for ball heights only when it is read and they are not", "[analytic]") {
    Setup s = make_setup_a();
    s.tractor.travel = {known(0.2), known(0.8)};
    CHECK_FALSE(begins_any(list_measuring_items(s, {}), "tractor.lift_arm."));
    s.tractor.travel = {};
    s.tractor.lift_arm = {known(0.1), known(0.8), known(0.3), known(0.2), known(-0.2), known(0.9)};
    s.tractor.lift_rod.length = known(0.5);
    s.tractor.lift_rod.pin_along_link = known(0.4);
    const auto items = list_measuring_items(s, {});
    CHECK(begins_any(items, "tractor.lift_arm."));
    CHECK_FALSE(begins_any(items, "tractor.travel."));
    s.tractor.lift_arm.pivot_x = {};
    CHECK(begins_any(list_measuring_items(s, {}), "tractor.travel."));
}

TEST_CASE("measuring round: with nothing typed each list has items to write on, one hole of each needed", "[analytic]") {
    const auto items = list_measuring_items(Setup{}, {});
    for (const char* key : {"tractor.upper_link_pin[1].x", "implement.mast_pin[1].height", "tractor.lower_link.length",
                            "tractor.travel.ball_height_low", "implement.work.ball_height"}) {
        CAPTURE(key);
        REQUIRE(find_item(items, key));
        CHECK(find_item(items, key)->needed());
    }
    for (const char* key : {"tractor.upper_link_pin[2].x", "implement.point[front edge].x", "tractor.cab_line[top].x"}) {
        CAPTURE(key);
        REQUIRE(find_item(items, key));
        CHECK_FALSE(find_item(items, key)->required);
    }
}

TEST_CASE("measuring round: stations come in walking order and each key once", "[analytic]") {
    const auto items = list_measuring_items(make_setup_a(), {});
    CHECK(std::is_sorted(items.begin(), items.end(), [](const MeasuringItem& a, const MeasuringItem& b) { return a.station < b.station; }));
    std::set<std::string> keys;
    for (const MeasuringItem& item : items) {
        CAPTURE(item.key);
        CHECK((item.key.empty() || keys.insert(item.key).second));
        CHECK_FALSE(item.what.empty());
    }
}

TEST_CASE("measuring round: a word counts as known when it was given, also when it is the usual one", "[analytic]") {
    Setup s = make_setup_a();
    s.driveline.reference = LengthReference::joint_centres;
    const std::string key = "driveline.shaft.reference";
    CHECK(find_item(list_measuring_items(s, {}), key)->needed());
    const auto told = list_measuring_items(s, {{key, Origin::measured}});
    CHECK(find_item(told, key)->value == "joint_centres");
    CHECK_FALSE(find_item(told, key)->needed());
}

TEST_CASE("measuring round: names in brackets leave a plain key, whatever is in them", "[analytic]") {
    CHECK(find_plain_key("tractor.upper_link_pin[2].z") == "tractor.upper_link_pin.z");
    CHECK(find_plain_key("implement.point[a]b[c].x") == "implement.point.x");
    CHECK(find_plain_key("tractor.pto.stub_x") == "tractor.pto.stub_x");
    CHECK(find_plain_key("]odd[") == "]odd[");
}
