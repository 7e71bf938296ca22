// Variants: what is listed for a set-up, and that each answer is that of the set-up edited by hand.
#include "geometry/variant.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <string>
#include <vector>

#include "find_finding.h"
#include "sample_drawn.h"
#include "sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Setup make_rich() {
    Setup s = make_setup_a();
    Tractor& t = s.tractor;
    t.upper_link_pins.push_back({"2", known(0.240), known(0.900)});
    s.choices.upper_link_pin = "1";
    t.tyre.rear_radius = known(0.6);
    t.tyre_sets = {{"narrow", known(0.64), {}, {}, {}}, {"low", known(0.55), {}, {}, {}}};
    s.implement.mast_pins.push_back({"2", known(0.560), known(0.0)});
    s.choices.mast_pin = "1";
    s.parts.coupler.name = "hooks";
    s.parts.coupler.set_back = known(0.15);
    s.parts.coupler.hook_height = known(0.61);
    s.parts.coupler.pin_height = known(0.61);
    s.parts.overrunning_clutch.added_length = known(0.09);
    s.parts.overrunning_clutch.fitted = true;
    return s;
}

std::vector<std::string> words(const std::vector<Variant>& variants) {
    std::vector<std::string> all;
    for (const Variant& v : variants) all.push_back(format_switch(v));
    return all;
}

const VariantAnswer& find(const std::vector<VariantAnswer>& answers, const std::string& word) {
    const auto found = std::find_if(answers.begin(), answers.end(), [&](const VariantAnswer& a) { return format_switch(a.variant) == word; });
    REQUIRE(found != answers.end());
    return *found;
}

}  // namespace

TEST_CASE("variants: every switch that has its readings, in walking order, and no other", "[geometry]") {
    CHECK(words(list_variants(make_rich())) ==
          std::vector<std::string>{"coupler", "overrunning_clutch", "tyres=narrow", "tyres=low", "upper_link_pin=2", "mast_pin=2"});
    Setup on = make_rich();
    on.choices.tyre_set = "low";
    on.parts.coupler = {};
    CHECK(words(list_variants(on)) == std::vector<std::string>{"overrunning_clutch", "tyres=narrow", "tyres=", "upper_link_pin=2", "mast_pin=2"});
    CHECK(list_variants(make_setup_a()).empty());
    // Without an input shaft no clutch and no shaft; without a rear radius no other tyres.
    Setup blade = make_rich();
    blade.implement.pic = {};
    blade.tractor.tyre.rear_radius = Reading{};
    CHECK(words(list_variants(blade)) == std::vector<std::string>{"coupler", "upper_link_pin=2", "mast_pin=2"});
    Setup drawn = make_drawn_setup();
    drawn.parts = make_rich().parts;
    for (const Variant& v : list_variants(drawn)) {
        CHECK(v.kind != VariantKind::coupler);
        CHECK(v.kind != VariantKind::upper_link_pin);
    }
}

TEST_CASE("variants: a shaft of the list comes uncut, the set-up's own is none", "[geometry]") {
    Setup s = make_rich();
    s.choices.cut_tractor_half = known(0.02);
    ShaftCandidate other{s, false}, own{s, true};
    other.setup.driveline.key = "longer";
    other.setup.driveline.closed_length = known(0.9);
    const std::vector<Variant> all = list_variants(s, {other, own});
    REQUIRE(format_switch(all.back()) == "driveline=longer");
    const Setup put = apply_variant(s, all.back());
    CHECK(put.driveline.closed_length.value == 0.9);
    CHECK_FALSE(put.choices.cut_tractor_half.known);
    CHECK(std::count_if(all.begin(), all.end(), [](const Variant& v) { return v.kind == VariantKind::driveline; }) == 1);
}

TEST_CASE("variants: each answer is that of the set-up edited by hand", "[geometry][metamorphic]") {
    const Setup s = make_rich();
    const std::vector<VariantAnswer> answers = study_variants(s, list_variants(s), millimetre_mark);
    Setup coupler = s, clutch = s, tyres = s, hole = s, mast = s;
    coupler.parts.coupler.fitted = true;
    clutch.parts.overrunning_clutch.fitted = false;
    tyres.choices.tyre_set = "low";
    hole.choices.upper_link_pin = "2";
    mast.choices.mast_pin = "2";
    const std::pair<const char*, const Setup*> edited[] = {
        {"coupler", &coupler}, {"overrunning_clutch", &clutch}, {"tyres=low", &tyres}, {"upper_link_pin=2", &hole}, {"mast_pin=2", &mast}};
    for (const auto& [word, setup] : edited) {
        CAPTURE(word);
        const VariantAnswer& a = find(answers, word);
        CHECK(a.setup == *setup);
        CHECK(a.analysis.findings == analyze_alone(*setup, millimetre_mark).findings);
    }
}

TEST_CASE("variants: with a typed link another hole may not close, without one the link is set anew", "[geometry]") {
    Setup s = make_rich();
    s.tractor.upper_link_pins[1] = {"2", known(-0.4), known(1.1)};
    const Variant hole = list_variants(s)[4];
    REQUIRE(format_switch(hole) == "upper_link_pin=2");
    CHECK_FALSE(sets_link_anew(s, hole));
    const Analysis before = answer(s);
    const VariantAnswer typed = study_variants(s, {hole}, millimetre_mark).front();
    CHECK(find_finding(typed.analysis, FindingKind::linkage_cannot_close) != nullptr);
    CHECK(typed.analysis.verdict == Verdict::must_not_run);
    const std::vector<FindingDifference> flips = find_flips(before.findings, typed.analysis.findings);
    REQUIRE_FALSE(flips.empty());
    CHECK(flips.front().new_finding->severity == Severity::forbids);
    s.choices.upper_link_length = Reading{};
    CHECK(sets_link_anew(s, hole));
    CHECK(find_finding(study_variants(s, {hole}, millimetre_mark).front().analysis, FindingKind::linkage_cannot_close) == nullptr);
}

TEST_CASE("variants: distances taped on the machine as it is count for another shaft alone", "[geometry]") {
    Setup s = make_rich();
    s.direct_readings = {{"low", known(0.25), known(0.9), LengthReference::joint_centres}};
    for (const Variant& v : list_variants(s, {{s, false}})) {
        const bool shaft = v.kind == VariantKind::driveline;
        CHECK(drops_distances(s, v) != shaft);
        CHECK(apply_variant(s, v).direct_readings.empty() != shaft);
    }
}

TEST_CASE("variants: matched findings are all of both sides, each once", "[geometry][random]") {
    const Setup s = make_rich();
    const Analysis before = answer(s);
    for (const VariantAnswer& a : study_variants(s, list_variants(s), millimetre_mark)) {
        const std::vector<FindingDifference> all = match_findings(before.findings, a.analysis.findings);
        std::size_t old_count = 0, new_count = 0, different = 0;
        for (const FindingDifference& d : all) {
            old_count += d.old_finding != nullptr;
            new_count += d.new_finding != nullptr;
            different += differs(d);
        }
        CHECK(old_count == before.findings.size());
        CHECK(new_count == a.analysis.findings.size());
        CHECK(different == compare_findings(before.findings, a.analysis.findings).size());
        CHECK(std::is_sorted(all.begin(), all.end(), [](const auto& x, const auto& y) { return x.flipped() > y.flipped(); }));
    }
    for (const FindingDifference& d : match_findings(before.findings, before.findings)) CHECK_FALSE(differs(d));
}

TEST_CASE("variants: another hole of the lift rod flips a verdict where its travel leaves the working height", "[geometry]") {
    Setup s = make_setup_a();
    add_lift_a(s.tractor, -30.0, 35.0);
    const double own = s.tractor.lift_rod.pin_along_link.value;
    s.tractor.lift_rod.pin_along_link = Reading{};
    s.tractor.lift_rod_holes = {{"front", known(own)}, {"rear", known(own + 0.120)}};
    s.tractor.travel = {};
    s.choices.lift_rod_hole = "front";
    const HeightRange front = make_mounted_model(s).model.travel;
    s.choices.working_ball_height = known(front.low + 0.005);
    const std::vector<Variant> variants = list_variants(s);
    const auto rod = std::find_if(variants.begin(), variants.end(), [](const Variant& v) { return v.kind == VariantKind::lift_rod_hole; });
    REQUIRE(rod != variants.end());
    CHECK(format_switch(*rod) == "lift_rod_hole=rear");
    const Analysis before = answer(s);
    const VariantAnswer after = study_variants(s, {*rod}, millimetre_mark).front();
    CHECK(after.analysis.linkage->model.travel.low > front.low + 0.005);
    CHECK_FALSE(find_flips(before.findings, after.analysis.findings).empty());
}

TEST_CASE("variants: the word of each kind finds the kind", "[geometry]") {
    for (const VariantKind kind : {VariantKind::link_extender, VariantKind::coupler, VariantKind::overrunning_clutch, VariantKind::spline_extender,
                                   VariantKind::tyres, VariantKind::upper_link_pin, VariantKind::lift_rod_hole, VariantKind::mast_pin,
                                   VariantKind::drawbar_pin, VariantKind::driveline}) {
        VariantKind found{};
        REQUIRE(find_variant_kind(variant_word(kind), found));
        CHECK(found == kind);
    }
    VariantKind none{};
    CHECK_FALSE(find_variant_kind("wheels", none));
}

TEST_CASE("variants: of findings that flip, what is gone stands behind what is new", "[analytic]") {
    Finding gone, found;
    gone.kind = FindingKind::clearance;
    found.kind = FindingKind::dead_centre_in_travel;
    gone.severity = found.severity = Severity::forbids;
    const std::vector<Finding> before = {gone}, after = {found};
    const std::vector<FindingDifference> flips = find_flips(before, after);
    REQUIRE(flips.size() == 2);
    CHECK((flips[0].new_finding == &after[0] && flips[0].old_finding == nullptr));
    CHECK((flips[1].old_finding == &before[0] && flips[1].new_finding == nullptr));
}
