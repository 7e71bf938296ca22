// The way across a ditch: worst states against a finer march, both ways, what still passes, and where it ends.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>
#include <optional>
#include <random>

#include "geometry/angle.h"
#include "geometry/ditch_search.h"
#include "geometry/ditch_study.h"
#include "tests/geometry/sample_drawn.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

struct Rig {
    Setup setup = make_drawn_setup();
    DrawnModel model;
    TerrainRig rig;

    explicit Rig(const Setup& s) : setup(s), model(make_drawn_model(s).model), rig(make_terrain_rig(s, model).rig) {}
    DitchLimits limits() const { return make_ditch_limits(setup, model, JointHold::pto_off); }
};

Crossing make_crossing(double depth, double slope_deg, double angle_deg) {
    return {make_ditch_profile(depth, 0.6, to_radians(slope_deg)).value(), to_radians(angle_deg)};
}

/// The study with what still passes.
DitchStudy search_ditch(const DrawnModel& m, const TerrainRig& rig, const Crossing& crossing, const DitchLimits& limits) {
    DitchStudy study = study_ditch(m, rig, crossing, limits);
    study.depth = find_passing_depth(m, rig, crossing, limits, study);
    study.angle = find_passing_angle(m, rig, crossing, limits, study);
    return study;
}

const DitchWorst& worst_of(const DitchStudy& study, DitchQuantity q) {
    const auto found = std::find_if(study.worst.begin(), study.worst.end(), [&](const DitchWorst& w) { return w.quantity == q; });
    REQUIRE(found != study.worst.end());
    return *found;
}

}  // namespace

TEST_CASE("ditch study: a ditch without depth leaves the level state everywhere", "[analytic]") {
    const Rig r(make_drawn_setup());
    const DitchStudy study = search_ditch(r.model, r.rig, {GroundProfile{}, to_radians(60.0)}, r.limits());
    const double level = find_driveline_state(r.model, {r.model.level_pitch, 0.0, 0.0}).length;
    CHECK(std::fabs(worst_of(study, DitchQuantity::shortest).value - level) < 1e-11);
    CHECK(std::fabs(worst_of(study, DitchQuantity::longest).value - level) < 1e-11);
    CHECK(worst_of(study, DitchQuantity::roll).value < 1e-11);
    CHECK((study.passes && study.depth.any && study.depth.value == 1.0));
    CHECK((study.angle.any && study.angle.monotone && std::fabs(study.angle.value - 0.5 * pi) < 1e-12));
}

TEST_CASE("ditch study: the worst states are those of a march twenty times as fine", "[oracle]") {
    const Rig r(make_drawn_setup());
    for (const auto& [depth, slope, angle] : {std::tuple{0.5, 30.0, 90.0}, std::tuple{0.6, 45.0, 55.0}, std::tuple{-0.4, 35.0, 120.0}}) {
        const Crossing c = make_crossing(depth, slope, angle);
        const DitchStudy study = study_ditch(r.model, r.rig, c, r.limits());
        REQUIRE(study.ways.size() == 2);
        double shortest = 1e9, longest = 0.0, bend = 0.0, up = -1.0, down = 1.0, roll = 0.0;
        for (const Heading heading : {Heading::as_given, Heading::other_way}) {
            const DitchWay fine = march(r.model, r.rig, c, heading, station_step / 20.0);
            REQUIRE(fine.complete);
            for (const DitchStation& s : fine.stations) {
                shortest = std::min(shortest, s.shaft.length);
                longest = std::max(longest, s.shaft.length);
                bend = std::max(bend, s.shaft.tractor_angle);
                up = std::max(up, s.pose.relative.pitch);
                down = std::min(down, s.pose.relative.pitch);
                roll = std::max(roll, std::fabs(s.pose.relative.roll));
            }
        }
        CAPTURE(depth, slope, angle);
        // The refined worst lies at or beyond the finest station, and near it.
        const auto check = [](double refined, double sampled, double sign) {
            CAPTURE(refined, sampled);
            CHECK(sign * refined >= sign * sampled - 1e-7);
            CHECK(sign * (refined - sampled) < 2e-3);
        };
        check(worst_of(study, DitchQuantity::shortest).value, shortest, -1.0);
        check(worst_of(study, DitchQuantity::longest).value, longest, 1.0);
        check(worst_of(study, DitchQuantity::tractor_angle).value, bend, 1.0);
        check(worst_of(study, DitchQuantity::pitch_up).value, up, 1.0);
        check(worst_of(study, DitchQuantity::pitch_down).value, down, -1.0);
        check(worst_of(study, DitchQuantity::roll).value, roll, 1.0);
        for (const DitchWay& way : study.ways) CHECK(way.return_difference < 1e-8);
    }
}

TEST_CASE("ditch study: a symmetrical ditch is the same from both sides, another is not", "[metamorphic]") {
    const Rig r(make_drawn_setup());
    const auto shortest = [&](const Crossing& c, Heading heading) {
        double least = 1e9;
        for (const DitchStation& s : march(r.model, r.rig, c, heading, station_step).stations) least = std::min(least, s.shaft.length);
        return least;
    };
    const Crossing even = make_crossing(0.5, 35.0, 65.0);
    CHECK(std::fabs(shortest(even, Heading::as_given) - shortest(even, Heading::other_way)) < 1e-8);
    const Crossing bank{{{Point(-1.0, 0.6), Point(0.0, 0.0)}}, 0.5 * pi};  // up it, or down it
    CHECK(std::fabs(shortest(bank, Heading::as_given) - shortest(bank, Heading::other_way)) > 1e-3);
}

TEST_CASE("ditch study: the depth that still passes, passes, and a little more does not", "[residual]") {
    Setup s = make_drawn_setup();
    s.driveline.closed_length = known(0.720);  // level: 0.830; the rear-up pitch in the bottom takes it to 0.72
    const Rig r(s);
    const Crossing c = make_crossing(0.6, 30.0, 90.0);
    const DitchStudy study = search_ditch(r.model, r.rig, c, r.limits());
    CHECK_FALSE(study.passes);
    REQUIRE((study.depth.any && study.depth.monotone));
    CHECK((study.depth.value > 0.3 && study.depth.value < 1.0));
    const auto passes = [&](double share) {
        return study_ditch(r.model, r.rig, {scale_heights(c.profile, share), c.angle}, r.limits()).passes;
    };
    CHECK(passes(study.depth.value));
    CHECK_FALSE(passes(study.depth.value + 2e-3));
    // And at a slant: the crossing angle nearest to square that passes.
    REQUIRE(study.angle.any);
    CHECK((study.angle.value < 0.5 * pi && study.angle.value > to_radians(15.0)));
    CHECK(study_ditch(r.model, r.rig, {c.profile, study.angle.value}, r.limits()).passes);
    CHECK_FALSE(study_ditch(r.model, r.rig, {c.profile, study.angle.value + to_radians(0.3)}, r.limits()).passes);
    // Mirrored crossing: the same angle on the other side of square.
    const DitchStudy mirrored = search_ditch(r.model, r.rig, {c.profile, to_radians(100.0)}, r.limits());
    CHECK(std::fabs(mirrored.angle.value - (pi - study.angle.value)) < 2e-3);
}

TEST_CASE("ditch study: a clevis without play for the ditch does not pass", "[analytic]") {
    Setup s = make_drawn_setup();
    const Crossing c = make_crossing(0.4, 30.0, 90.0);
    CHECK(study_ditch(Rig(s).model, Rig(s).rig, c, Rig(s).limits()).passes);
    s.implement.drawn.hitch = DrawnHitchKind::clevis;
    s.implement.drawn.pitch_play = known(to_radians(5.0));
    s.implement.drawn.roll_play = known(to_radians(5.0));
    const Rig r(s);
    const DitchStudy study = study_ditch(r.model, r.rig, c, r.limits());
    CHECK_FALSE(study.passes);
    CHECK(worst_of(study, DitchQuantity::pitch_up).value > to_radians(5.0));
}

TEST_CASE("ditch study: without a shaft the attitudes are there, shaft states are not", "[analytic]") {
    Setup s = make_drawn_setup();
    s.has_driveline = false;
    const Rig r(s);
    const DitchStudy study = study_ditch(r.model, r.rig, make_crossing(0.4, 30.0, 70.0), {});
    CHECK(study.passes);
    CHECK(study.worst.size() == 3);
    CHECK(study.worst.front().quantity == DitchQuantity::pitch_up);
}

TEST_CASE("ditch study: the short answer whether it passes is that of the whole study", "[oracle]") {
    int passing = 0, failing = 0;
    for (const double depth : {0.15, 0.35, 0.55}) {
        for (const double angle : {90.0, 60.0}) {
            for (const double closed : {0.600, 0.680, 0.740}) {
                CAPTURE(depth, angle, closed);
                Setup s = make_drawn_setup();
                s.driveline.closed_length = known(closed);
                const DrawnModel m = make_drawn_model(s).model;
                const TerrainRigResult rig = make_terrain_rig(s, m);
                REQUIRE(rig.missing.empty());
                const Crossing crossing{*make_ditch_profile(depth, 0.5, to_radians(30.0)), to_radians(angle)};
                const DitchLimits limits = make_ditch_limits(s, m, JointHold::stop);
                const bool passes = study_ditch(m, rig.rig, crossing, limits).passes;
                CHECK(passes_ditch(m, rig.rig, crossing, limits) == passes);
                ++(passes ? passing : failing);
            }
        }
    }
    CHECK((passing > 2 && failing > 2));
}

TEST_CASE("ditch study: a slit narrower than the stations looked at first is not stepped over", "[oracle]") {
    const GroundProfile slit{{{0.0, 0.0}, {0.01, -0.3}, {0.11, -0.3}, {0.12, 0.0}}};
    for (int i = 0; i < 12; ++i) {
        // Stations stand alike on every ground; a contact farther back meets the slit at another of them.
        Setup s = make_drawn_setup();
        for (GroundContact& contact : s.implement.ground_contacts) {
            contact.radius = Reading{};  // skids drop where wheels do not
            contact.x.value += 0.03 * i;
        }
        const Rig r(s);
        DitchLimits limits{-10.0, -10.0, std::nullopt, std::nullopt, std::nullopt, std::nullopt};
        limits.pitch_play = std::fabs(r.model.level_pitch) + 0.05;
        CAPTURE(i);
        CHECK(study_ditch(r.model, r.rig, {GroundProfile{{{0.0, 0.0}}}, 0.5 * pi}, limits).passes);
        CHECK_FALSE(study_ditch(r.model, r.rig, {slit, 0.5 * pi}, limits).passes);
        CHECK_FALSE(passes_ditch(r.model, r.rig, {slit, 0.5 * pi}, limits));
    }
}

TEST_CASE("ditch study: ground by points that is not the same from both sides gives the short answer too", "[oracle][random]") {
    std::mt19937 random(20261130);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    const Rig r(make_drawn_setup());
    int passing = 0, failing = 0;
    for (int i = 0; i < 40; ++i) {
        GroundProfile ground{{{0.0, 0.0}}};
        for (int k = 0; k < 4; ++k) ground.corners.push_back({ground.corners.back().x() + between(0.05, 0.9), k == 3 ? 0.0 : between(-0.5, 0.1)});
        const Crossing crossing{ground, i % 2 == 0 ? 0.5 * pi : to_radians(between(30.0, 150.0))};
        const DitchStudy study = study_ditch(r.model, r.rig, crossing, {});
        DitchLimits limits{-10.0, -10.0, std::nullopt, std::nullopt, std::nullopt, std::nullopt};
        const auto worst = std::find_if(study.worst.begin(), study.worst.end(), [](const DitchWorst& w) { return w.quantity == DitchQuantity::pitch_down; });
        if (worst == study.worst.end()) continue;
        limits.pitch_play = std::fabs(worst->value) + between(-0.01, 0.03);
        CAPTURE(i, crossing.angle);
        const bool passes = study_ditch(r.model, r.rig, crossing, limits).passes;
        CHECK(passes_ditch(r.model, r.rig, crossing, limits) == passes);
        ++(passes ? passing : failing);
    }
    CAPTURE(passing, failing);
    CHECK((passing > 5 && failing > 5));
}

TEST_CASE("ditch study: with limits set beside the worst state the short answer is still that of the whole study", "[oracle][random]") {
    std::mt19937 random(20261129);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    const Rig r(make_drawn_setup());
    int passing = 0, failing = 0;
    for (int i = 0; i < 140; ++i) {
        const double depth = (i % 3 == 0 ? -1.0 : 1.0) * between(0.1, 0.8);
        const GroundProfile ground = *make_ditch_profile(depth, i % 4 == 0 ? 0.0 : between(0.0, 1.2), to_radians(between(15.0, 60.0)));
        const Crossing crossing{ground, i % 2 == 0 ? 0.5 * pi : to_radians(between(20.0, 160.0))};
        const DitchStudy study = study_ditch(r.model, r.rig, crossing, {});
        const DitchWorst& w = study.worst.at(static_cast<std::size_t>(i) % study.worst.size());
        const double off = between(-0.005, 0.005);  // m or rad
        DitchLimits limits{-10.0, -10.0, std::nullopt, std::nullopt, std::nullopt, std::nullopt};
        switch (w.quantity) {
            case DitchQuantity::shortest: limits.gap = find_gap(r.model.halves, w.value) - off; break;
            case DitchQuantity::longest: limits.overlap = find_overlap(r.model.halves, w.value) - off; break;
            case DitchQuantity::tractor_angle: limits.tractor_angle = w.value + off; break;
            case DitchQuantity::implement_angle: limits.implement_angle = w.value + off; break;
            case DitchQuantity::roll: limits.roll_play = w.value + off; break;
            default: limits.pitch_play = std::fabs(w.value) + off;
        }
        CAPTURE(i, depth, crossing.angle, static_cast<int>(w.quantity), off);
        const bool passes = study_ditch(r.model, r.rig, crossing, limits).passes;
        CHECK(passes_ditch(r.model, r.rig, crossing, limits) == passes);
        ++(passes ? passing : failing);
    }
    CHECK((passing > 40 && failing > 40));
}

namespace {

/// What still passes by looking at every value of a row and halving, nothing left out.
template <class F>
StillPasses look_at_every_value(double good_end, double bad_end, int steps, double closeness, const F& passes) {
    std::vector<bool> kept;
    const auto value = [&](int i) { return good_end + (bad_end - good_end) * i / steps; };
    for (int i = 0; i <= steps; ++i) kept.push_back(passes(value(i)));
    int changes = 0, last = -1;
    for (int i = 0; i <= steps; ++i) {
        if (kept[static_cast<std::size_t>(i)]) last = i;
        if (i > 0 && kept[static_cast<std::size_t>(i)] != kept[static_cast<std::size_t>(i - 1)]) ++changes;
    }
    const bool any = last >= 0, monotone = changes <= 1 && (kept.front() || !any);
    if (!any || last == steps) return {any, monotone, any ? bad_end : good_end};
    double good = value(last), bad = value(last + 1);
    while (std::fabs(bad - good) > closeness) {
        const double middle = 0.5 * (good + bad);
        (passes(middle) ? good : bad) = middle;
    }
    return {any, monotone, good};
}

/// Limits that a crossing breaks or keeps by a part of what it takes, on some quantities.
template <class Random>
DitchLimits make_limits_near(const DrawnModel& m, const DitchStudy& study, Random& between) {
    DitchLimits l{-10.0, -10.0, std::nullopt, std::nullopt, std::nullopt, std::nullopt};
    const DrivelineState level = find_driveline_state(m, {m.level_pitch, 0.0, 0.0});
    for (const DitchWorst& w : study.worst) {
        if (between(0.0, 1.0) < 0.5) continue;
        const double share = between(0.5, 1.15);
        const auto part = [&](double from) { return from + share * (w.value - from); };
        switch (w.quantity) {
            case DitchQuantity::shortest: l.gap = find_gap(m.halves, part(level.length)); break;
            case DitchQuantity::longest: l.overlap = find_overlap(m.halves, part(level.length)); break;
            case DitchQuantity::tractor_angle: l.tractor_angle = part(level.tractor_angle); break;
            case DitchQuantity::implement_angle: l.implement_angle = part(level.implement_angle); break;
            case DitchQuantity::roll: l.roll_play = share * w.value + 0.001; break;
            default: l.pitch_play = std::max(l.pitch_play.value_or(0.0), std::fabs(m.level_pitch) + share * std::fabs(w.value - m.level_pitch));
        }
    }
    return l;
}

}  // namespace

TEST_CASE("ditch study: what still passes is found as by looking at every value", "[oracle][random]") {
    std::mt19937 random(20261127);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    int some = 0, back_and_forth = 0;
    for (int i = 0; i < 120; ++i) {
        Setup s = make_drawn_setup();
        for (GroundContact& c : s.implement.ground_contacts) c.x.value *= between(0.7, 1.4);
        const Rig r(s);
        GroundProfile ground{{{0.0, 0.0}}};
        for (int k = 0; i % 3 == 0 && k < 4; ++k) ground.corners.push_back({ground.corners.back().x() + between(0.05, 0.9), k == 3 ? 0.0 : between(-0.5, 0.15)});
        if (i % 3 != 0) ground = *make_ditch_profile((i % 5 == 0 ? -1.0 : 1.0) * between(0.1, 0.8), i % 4 == 0 ? 0.0 : between(0.0, 1.2), to_radians(between(12.0, 60.0)));
        const Crossing c{ground, i % 2 == 1 ? 0.5 * pi : to_radians(between(20.0, 160.0))};
        const DitchLimits limits = make_limits_near(r.model, study_ditch(r.model, r.rig, c, {}), between);
        const DitchStudy study = search_ditch(r.model, r.rig, c, limits);
        const auto passes_depth = [&](double share) { return passes_ditch(r.model, r.rig, {scale_heights(ground, share), c.angle}, limits); };
        const bool blunt = c.angle > 0.5 * pi;
        const auto passes_angle = [&](double angle) { return passes_ditch(r.model, r.rig, {ground, blunt ? pi - angle : angle}, limits); };
        const StillPasses depth = study.passes ? StillPasses{true, true, 1.0} : look_at_every_value(0.0, 1.0, 12, 1.0e-3, passes_depth);
        StillPasses angle = look_at_every_value(to_radians(15.0), 0.5 * pi, 15, 1.7e-3, passes_angle);
        if (blunt) angle.value = pi - angle.value;
        CAPTURE(i, c.angle, depth.value, study.depth.value, angle.value, study.angle.value);
        CHECK((study.depth.any == depth.any && study.depth.monotone == depth.monotone && study.depth.value == depth.value));
        CHECK((study.angle.any == angle.any && study.angle.monotone == angle.monotone && study.angle.value == angle.value));
        some += depth.any && depth.value < 1.0 ? 1 : 0;
        some += angle.any && std::fabs(angle.value - 0.5 * pi) > 1e-6 ? 1 : 0;
        back_and_forth += depth.monotone && angle.monotone ? 0 : 1;
    }
    CAPTURE(some, back_and_forth);
    CHECK((some > 50 && back_and_forth > 5));
}

TEST_CASE("ditch study: what is said to pass passes with every station looked at, in steep and deep ditches too", "[oracle][random]") {
    std::mt19937 random(20261128);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    const Rig r(make_drawn_setup());
    int without_stand = 0, some = 0;
    for (int i = 0; i < 40; ++i) {
        const GroundProfile ground = *make_ditch_profile(between(0.5, 1.5), between(0.5, 1.6), to_radians(between(55.0, 78.0)));
        const Crossing c{ground, to_radians(between(20.0, 160.0))};
        const DitchLimits none{-10.0, -10.0, std::nullopt, std::nullopt, std::nullopt, std::nullopt};
        const DitchStudy study = search_ditch(r.model, r.rig, c, none);
        if (std::any_of(study.ways.begin(), study.ways.end(), [](const DitchWay& w) { return !w.complete; })) ++without_stand;
        CAPTURE(i, c.angle, study.depth.value, study.angle.value);
        if (study.depth.any) CHECK(study_ditch(r.model, r.rig, {scale_heights(ground, study.depth.value), c.angle}, none).passes);
        if (study.angle.any) CHECK(study_ditch(r.model, r.rig, {ground, study.angle.value}, none).passes);
        some += study.depth.any && study.depth.value < 1.0 ? 1 : 0;
    }
    CAPTURE(without_stand, some);
    CHECK((without_stand > 10 && some > 10));
}

TEST_CASE("ditch study: what is said to pass passes by the whole study, in slits narrower than two stations are apart too", "[oracle][random]") {
    std::mt19937 random(20261127);
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    int some = 0, between_stations = 0;
    for (int i = 0; i < 300; ++i) {
        Setup s = make_drawn_setup();
        for (GroundContact& c : s.implement.ground_contacts) {
            c.x.value *= between(0.8, 1.2);
            c.radius = Reading{};  // a skid goes to the bottom
        }
        const Rig r(s);
        const double falls = between(0.002, 0.03), rises = between(0.002, 0.03);
        const Crossing c{{{Point(0.0, 0.0), Point(falls, -between(0.03, 0.3)), Point(falls + rises, 0.0)}}, i % 2 == 0 ? 0.5 * pi : to_radians(between(60.0, 120.0))};
        const DitchStudy whole = study_ditch(r.model, r.rig, c, {});
        if (whole.worst.empty()) continue;  // it stands nowhere in so narrow a slit
        DitchLimits limits;
        const double share = between(0.5, 0.999);
        if (i % 3 == 0) limits.pitch_play = share * std::fabs(worst_of(whole, DitchQuantity::pitch_down).value);
        else if (i % 3 == 1) limits.implement_angle = share * worst_of(whole, DitchQuantity::implement_angle).value;
        else limits.roll_play = share * worst_of(whole, DitchQuantity::roll).value;
        const DitchStudy study = search_ditch(r.model, r.rig, c, limits);
        CAPTURE(i, c.angle, study.depth.value, study.angle.value);
        if (study.depth.any) {
            const DitchStudy there = study_ditch(r.model, r.rig, {scale_heights(c.profile, study.depth.value), c.angle}, limits);
            CHECK(there.passes);
            for (const DitchWorst& w : there.worst) {
                const std::vector<DitchStation>& stations = there.ways.front().stations;
                between_stations += std::none_of(stations.begin(), stations.end(), [&](const DitchStation& at) { return at.pose.place == w.station.pose.place; });
            }
        }
        if (study.angle.any) CHECK(study_ditch(r.model, r.rig, {c.profile, study.angle.value}, limits).passes);
        some += study.depth.any && study.depth.value < 1.0 ? 1 : 0;
    }
    CAPTURE(some, between_stations);
    CHECK((some > 100 && between_stations > 100));
}

TEST_CASE("ditch search: a value known to pass is not marched again, any other that is returned is marched once", "[analytic]") {
    const Rig r(make_drawn_setup());
    const DitchLimits limits = r.limits();
    const GroundProfile shallow = make_ditch_profile(0.2, 0.6, to_radians(30.0)).value();
    for (const bool known : {true, false}) {
        int marches = 0;
        DitchSearch search(r.model, r.rig, limits, {to_radians(15.0), 0.5 * pi, 15, 1.7e-3}, [&](double angle) { return Crossing{shallow, angle}; },
                           [&](const Crossing& c) {
                               ++marches;
                               return study_ditch(r.model, r.rig, c, limits).passes;
                           });
        if (known) search.know(15, {true, true, look_whether_passes(r.model, r.rig, {shallow, 0.5 * pi}, limits).rooms, std::nullopt});
        const StillPasses found = search.run();
        CHECK((found.any && found.value == 0.5 * pi));
        CHECK(marches == (known ? 0 : 1));
    }
}
