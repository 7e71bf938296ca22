// Axles of whole set-ups: moments written out by hand, mounted with and without coupler, drawn; shares, ballast,
// limits.
#include "geometry/axle_study.h"

#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <random>

#include "geometry/analysis.h"
#include "geometry/load_findings.h"
#include "sample_drawn.h"
#include "sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

Setup make_weighed() {
    Setup s = make_setup_a();
    s.implement.mass = {known(600.0), known(0.9), known(0.3)};
    s.tractor.mass.mass = known(2400.0);
    s.tractor.mass.front_share = known(0.42);
    s.tractor.mass.wheelbase = known(2.0);
    s.rules.front_axle_share = limit(0.20);
    s.rules.rear_axle_share = limit(0.45);
    return s;
}

AxleStudy study(const Setup& s) {
    const MountedModelResult r = make_mounted_model(s);
    REQUIRE(r.linkage_ok);
    return study_axles(ErrorModel(s), r.model);
}

const AxleState& state_of(const AxleStudy& x, LoadState state) {
    const auto found =
        std::find_if(x.states.begin(), x.states.end(), [&](const AxleState& s) { return s.state == state; });
    REQUIRE(found != x.states.end());
    return *found;
}

/// The first finding of a kind, which must be there.
Finding one(const std::vector<Finding>& findings, FindingKind kind) {
    const auto found = std::find_if(findings.begin(), findings.end(), [&](const Finding& f) { return f.kind == kind; });
    REQUIRE(found != findings.end());
    return *found;
}

}  // namespace

TEST_CASE("axle study: moments of a mounted set-up by hand in every state", "[geometry][oracle]") {
    const Setup s = make_weighed();
    const AxleStudy x = study(s);
    REQUIRE(x.known);
    const MountedModel m = make_mounted_model(s).model;
    for (const AxleState& state : x.states) {
        if (state.state == LoadState::unhitched || state.state == LoadState::on_ground) {
            CHECK(state.loads.front == Approx(0.42 * 2400.0));
            CHECK(state.loads.rear == Approx(0.58 * 2400.0));
            continue;
        }
        const double cg = place_point(solve_pose(m.linkage, state.height), Point(0.9, 0.3)).x();
        CHECK(state.load_x == Approx(cg));
        CHECK(state.loads.front == Approx(0.42 * 2400.0 - 600.0 * cg / 2.0));  // moments about the rear axle
        CHECK(state.loads.total() == Approx(3000.0));
    }
    CHECK(state_of(x, LoadState::lowest).height == m.travel.low);
    CHECK(state_of(x, LoadState::highest).height == m.travel.high);
}

TEST_CASE("axle study: the farthest place is not passed anywhere in the travel", "[geometry][random]") {
    std::mt19937 random(5);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    for (int i = 0; i < 40; ++i) {
        Setup s = make_weighed();
        s.implement.mass = {known(500.0), known(between(0.2, 1.5)), known(between(-0.4, 0.8))};
        if (i % 2 == 0) {
            s.implement.upper_link_float.kind = UpperLinkKind::slot;
            s.implement.upper_link_float.slack = known(0.02);
        }
        const AxleStudy x = study(s);
        const MountedModel m = make_mounted_model(s).model;
        PlanarLinkage k = m.linkage;
        k.upper_length = effective_upper_lengths(m).high;
        double farthest = -1e9;
        for (int j = 0; j <= 5000; ++j) {
            const PlanarPose pose = solve_pose(k, m.travel.low + (m.travel.high - m.travel.low) * j / 5000.0);
            farthest = std::max(
                farthest, place_point(pose, find_body_point(m, s.implement.mass.cg_x, s.implement.mass.cg_z)).x());
        }
        CHECK(state_of(x, LoadState::farthest).load_x >= farthest - 1e-6);
        CHECK(state_of(x, LoadState::farthest).load_x <= farthest + 1e-4);
        CHECK(x.states[x.lightest].state == LoadState::farthest);
    }
}

TEST_CASE("axle study: a coupler hangs on the links in every hitched state and sets the implement back", "[geometry]") {
    Setup s = make_weighed();
    const AxleStudy bare = study(s);
    s.parts.coupler.fitted = true;
    s.parts.coupler.set_back = known(0.10);
    s.parts.coupler.hook_height = known(0.60);
    s.parts.coupler.pin_height = known(0.62);
    s.choices.upper_link_length = known(0.62);
    const AxleStudy unweighed = study(s);
    CHECK(state_of(unweighed, LoadState::farthest).loads.front < state_of(bare, LoadState::farthest).loads.front);
    CHECK(state_of(unweighed, LoadState::on_ground).loads.front ==
          Approx(state_of(bare, LoadState::on_ground).loads.front));
    s.parts.coupler.mass = known(80.0);
    const AxleStudy weighed = study(s);
    const MountedModel m = make_mounted_model(s).model;
    const PlanarPose low = solve_pose(m.linkage, m.travel.low);
    CHECK(state_of(weighed, LoadState::on_ground).loads.front ==
          Approx(0.42 * 2400.0 - 80.0 * place_point(low, Point(0.10, 0.0)).x() / 2.0));
    CHECK(state_of(weighed, LoadState::farthest).loads.total() == Approx(3080.0));
}

TEST_CASE("axle study: the ballast named keeps the share, and a kilogram less does not", "[geometry][metamorphic]") {
    std::mt19937 random(11);
    const auto between = [&](double low, double high) {
        return std::uniform_real_distribution<double>(low, high)(random);
    };
    int wanted = 0;
    for (int i = 0; i < 60; ++i) {
        Setup s = make_weighed();
        s.implement.mass.mass = known(between(300.0, 1100.0));
        s.choices.ballast.base = i % 2 == 0 ? LoadBase::tractor_empty : LoadBase::all_together;
        s.choices.ballast.front_ahead = known(between(0.0, 0.8));
        s.choices.ballast.rear = known(between(0.0, 100.0));
        const std::size_t binding = i % 2 == 0 ? 0 : 1;
        const std::optional<double> least = study(s).shares[binding].ballast;
        REQUIRE(least);
        if (*least == 0.0) continue;
        ++wanted;
        s.choices.ballast.front = known(*least);
        CHECK(study(s).shares[binding].share == Approx(0.20).margin(1e-9));
        CHECK(*study(s).shares[binding].ballast == Approx(*least));  // what is fitted counts in
        s.choices.ballast.front = known(*least - 1.0);
        CHECK(study(s).shares[binding].share < 0.20);
    }
    CHECK(wanted > 15);
}

TEST_CASE("axle findings: too light wants ballast, tipping is forbidden, near the limit is too close to call",
          "[geometry]") {
    const auto judge = [](const Setup& s) { return check_axles(ErrorModel(s), study(s)); };
    Setup s = make_weighed();
    s.implement.mass.mass = known(100.0);
    CHECK(one(judge(s), FindingKind::front_axle_share).severity == Severity::good);
    s.implement.mass.mass = known(700.0);
    const Finding f = one(judge(s), FindingKind::front_axle_share);
    REQUIRE(f.severity == Severity::change);
    REQUIRE(f.remedies.size() == 1);
    CHECK(f.remedies.front().kind == RemedyKind::front_ballast);
    CHECK(f.remedies.front().subject == "assumed");
    s.implement.mass.mass = known(1500.0);
    CHECK(one(judge(s), FindingKind::front_axle_share).severity == Severity::forbids);
    CHECK(one(judge(s), FindingKind::front_axle_share).value < 0.0);
    // Exactly on the limit: the readings decide.
    s.implement.mass.mass = known(300.0);
    const AxleStudy x = study(s);
    const double lever = x.states[x.lightest].load_x / 2.0;
    s.implement.mass.mass = known((0.42 - 0.20) * 2400.0 / lever);
    CHECK(one(judge(s), FindingKind::front_axle_share).severity == Severity::unknown);
    CHECK(std::fabs(one(judge(s), FindingKind::front_axle_share).margin) < 1e-6);
}

TEST_CASE("axle findings: ballast that breaks the front axle's limit is no way out", "[geometry]") {
    Setup s = make_weighed();
    s.implement.mass.mass = known(700.0);
    s.choices.ballast.front_ahead = known(0.4);
    const Finding way = one(check_axles(ErrorModel(s), study(s)), FindingKind::front_axle_share);
    REQUIRE(way.severity == Severity::change);
    const double ballast = way.remedies.front().value;
    s.tractor.mass.front_axle_most = known(0.42 * 2400.0 + 0.5 * ballast);  // on the ground, with it, more
    const Finding none = one(check_axles(ErrorModel(s), study(s)), FindingKind::front_axle_share);
    CHECK(none.severity == Severity::forbids);
    CHECK(none.remedies.empty());
}

TEST_CASE("axle findings: limits of axles, tyres and the whole tractor are held in the state with the most",
          "[geometry]") {
    Setup s = make_weighed();
    s.tractor.mass.front_axle_most = known(900.0);
    s.tractor.mass.rear_axle_most = known(5000.0);
    s.tractor.mass.total_most = known(2500.0);
    s.tractor.tyre.rear_load_most = known(1500.0);
    const AxleStudy x = study(s);
    REQUIRE(x.carried.size() == 4);
    for (const CarriedLoad& c : x.carried) {
        double most = 0.0;
        for (const AxleState& state : x.states)
            most = std::max(most, c.part == CarryingPart::front_axle      ? state.loads.front
                                  : c.part == CarryingPart::whole_tractor ? state.loads.total()
                                                                          : state.loads.rear);
        CHECK(c.most == most);
    }
    const std::vector<Finding> findings = check_axles(ErrorModel(s), x);
    const auto severity = [&](std::string_view part) {
        for (const Finding& f : findings) {
            if (f.kind == FindingKind::carried_load && f.subject == part) return f.severity;
        }
        return Severity::watch;
    };
    CHECK(severity("front_axle") == Severity::forbids);
    CHECK(severity("rear_axle") == Severity::good);
    CHECK(severity("whole_tractor") == Severity::forbids);
    CHECK(severity("rear_tyres") == Severity::forbids);
    s.tractor.mass.total_most = known(2999.0);  // 1 kg over, the masses good to 3 %
    const AxleStudy near = study(s);
    // 3 % of either mass, as squares.
    for (const CarriedLoad& c : near.carried) {
        if (c.part == CarryingPart::whole_tractor) CHECK(c.band.width == Approx(std::hypot(0.03 * 2400.0, 0.03 * 600.0)));
    }
    for (const Finding& f : check_axles(ErrorModel(s), near)) {
        if (f.subject == "whole_tractor") CHECK(f.severity == Severity::unknown);
    }
}

TEST_CASE("axle study: a drawn implement puts its vertical load on the pin", "[geometry][oracle]") {
    Setup s = make_drawn_setup();
    s.tractor.mass.mass = known(3000.0);
    s.tractor.mass.front_share = known(0.4);
    s.tractor.mass.wheelbase = known(2.2);
    s.implement.drawn.vertical_load = known(500.0);
    s.rules.front_axle_share = limit(0.20);
    const DrawnModelResult r = make_drawn_model(s);
    REQUIRE(r.hitch_ok);
    const AxleStudy x = study_axles(ErrorModel(s), r.model);
    REQUIRE(x.known);
    const double pin = s.tractor.pto.stub_x.value + s.tractor.drawbar_pins[r.model.pin].length.value;
    CHECK(state_of(x, LoadState::hitched).loads.front == Approx(1200.0 - 500.0 * pin / 2.2));
    CHECK(state_of(x, LoadState::hitched).loads.total() == Approx(3500.0));
    CHECK(x.front_band.width > 0.0);
    s.tractor.mass.wheelbase = {};
    CHECK(study_axles(ErrorModel(s), r.model).missing == std::vector<std::string>{"tractor.mass.wheelbase"});
}

TEST_CASE("axle study: the band is that of random draws of the readings", "[geometry][random]") {
    Setup s = make_weighed();
    s.tractor.mass.mass.tolerance = 60.0;
    s.tractor.mass.front_share.tolerance = 0.02;
    s.tractor.mass.wheelbase.tolerance = 0.01;
    s.implement.mass.mass.tolerance = 40.0;
    s.implement.mass.cg_x.tolerance = 0.05;
    const AxleStudy x = study(s);
    std::mt19937 random(99);
    std::normal_distribution<double> normal(0.0, 0.5);
    const MountedModel m = make_mounted_model(s).model;
    const PlanarPose pose = solve_pose(m.linkage, x.states[x.lightest].height);
    double sum = 0.0, squares = 0.0, share_sum = 0.0, share_squares = 0.0;
    constexpr int draws = 20000;
    for (int i = 0; i < draws; ++i) {
        const double mass = 2400.0 + 60.0 * normal(random), share = 0.42 + 0.02 * normal(random),
                     base = 2.0 + 0.01 * normal(random);
        const double load = 600.0 + 40.0 * normal(random), cg = 0.9 + 0.05 * normal(random);
        const double front = share * mass - load * place_point(pose, Point(cg, 0.3)).x() / base;
        sum += front;
        squares += front * front;
        share_sum += front / mass;
        share_squares += front / mass * front / mass;
    }
    const double sigma = std::sqrt(squares / draws - sum / draws * sum / draws);
    CHECK(x.front_band.width == Approx(2.0 * sigma).epsilon(0.05));
    const double share_sigma = std::sqrt(share_squares / draws - share_sum / draws * share_sum / draws);
    CHECK(x.share_band.width == Approx(2.0 * share_sigma).epsilon(0.05));
}
