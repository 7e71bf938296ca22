// The columns of the hole study by a second method: own circle intersection, trigonometry, finite differences, grids.
//
// source: none needed, the truth is computed here from the readings; nothing of the kernel, the searches or the closure in
//   geometry/ is used. Rows for linkage A: linkage_a.csv (closed forms and 40-digit Newton) and linkage_values.toml
//   (arithmetic; a higher hole lifts more, about 10 %, agrees with field experience).
// tolerance: poses 1e-9 m and 1e-8 rad (two routes in double precision); extremes 0.01 mm and 0.001 deg as promised, their
//   bounds never inside a sample; rates 1e-5 (differences over 0.2 mm); heights inside a limit to a micrometre.
#include <catch2/catch.hpp>

#include <array>
#include <cmath>
#include <functional>
#include <iostream>

#include "geometry/angle.h"
#include "geometry/hole_study.h"
#include "tests/geometry/sample_setup.h"
#include "tests/validation/random_setup.h"
#include "tests/validation/value_file.h"

using namespace hitchwright;
using hitchwright::test::known;

namespace {

constexpr double pose_length = 1e-9, pose_angle = 1e-8, length_promise = 1e-5, angle_promise = 0.001 / 180.0 * 3.14159265358979;
constexpr int grid = 4000;

struct Xz {
    double x = 0.0, z = 0.0;
};

/// A pose by trigonometry: the triangle ball, upper-link pin, mast pin by the law of cosines.
struct OwnPose {
    Xz ball, mast;
    double pitch = 0.0;
    double mast_angle = 0.0;  ///< between mast and upper link at the mast pin

    Xz place(double x, double z) const {
        return {ball.x + x * std::cos(pitch) - z * std::sin(pitch), ball.z + x * std::sin(pitch) + z * std::cos(pitch)};
    }
};

/// One set of holes from the readings, side view and space.
class OwnMachine {
public:
    OwnMachine(const Setup& s, const HoleCombination& c) : setup_(s) {
        const LowerLinkReadings& l = s.tractor.lower_link;
        const double sideways = l.half_spread_at_ball.value - l.half_spread_at_pivot.value;
        link_ = std::sqrt(l.length.value * l.length.value - sideways * sideways);
        pivot_ = {l.pivot_x.value, l.pivot_z.value};
        pin_ = {s.tractor.upper_link_pins[c.tractor_pin].x.value, s.tractor.upper_link_pins[c.tractor_pin].z.value};
        const MastPin& m = s.implement.mast_pins[c.mast_pin];
        mast_ = {m.offset.value, m.height.value};
    }

    Xz ball(double h) const {
        const double angle = std::asin((h - pivot_.z) / link_);
        return {pivot_.x + link_ * std::cos(angle), h};
    }
    /// Distance of the holes with the implement at a pitch.
    double link_for(double h, double pitch) const {
        const Xz b = ball(h);
        const double reach = std::hypot(mast_.x, mast_.z), angle = std::atan2(mast_.z, mast_.x) + pitch;
        return std::hypot(b.x + reach * std::cos(angle) - pin_.x, b.z + reach * std::sin(angle) - pin_.z);
    }
    std::optional<OwnPose> pose(double h, double e) const {
        OwnPose p;
        p.ball = ball(h);
        const double m = std::hypot(mast_.x, mast_.z), d = std::hypot(pin_.x - p.ball.x, pin_.z - p.ball.z);
        const double cosine = (d * d + m * m - e * e) / (2.0 * d * m);
        if (!(std::fabs(cosine) < 1.0)) return std::nullopt;
        // Seen from the ball the upper-link pin lies ahead; the mast stands above that line: turned towards the rear.
        const double line = std::atan2(pin_.z - p.ball.z, pin_.x - p.ball.x), mast_line = line - std::acos(cosine);
        p.mast = {p.ball.x + m * std::cos(mast_line), p.ball.z + m * std::sin(mast_line)};
        p.pitch = std::remainder(mast_line - std::atan2(mast_.z, mast_.x), 2.0 * pi);
        p.mast_angle = std::acos(std::clamp((m * m + e * e - d * d) / (2.0 * m * e), -1.0, 1.0));
        return p;
    }

    using Vector = std::array<double, 3>;
    static Vector axis(double slope, double plan) {
        return {std::cos(slope) * std::cos(plan), std::cos(slope) * std::sin(plan), std::sin(slope)};
    }
    /// Length and both joint angles; plain joints, angles by arctangents.
    std::array<double, 3> shaft(const OwnPose& p) const {
        const PtoReadings& t = setup_.tractor.pto;
        const PicReadings& i = setup_.implement.pic;
        const Vector u = axis(t.stub_slope.value, t.stub_plan_angle.value), w = axis(i.slope.value, i.plan_angle.value);
        const double a = setup_.driveline.tractor_joint.offset.value, b = setup_.driveline.implement_joint.offset.value;
        const Xz k = p.place(i.x.value - b * w[0], i.z.value - b * w[2]), way = p.place(w[0], w[2]);
        const Vector turned{way.x - p.ball.x, w[1], way.z - p.ball.z};
        const Vector v{k.x - t.stub_x.value - a * u[0], i.y.value - b * w[1] - t.stub_y.value - a * u[1],
                       k.z - t.stub_z.value - a * u[2]};
        return {std::hypot(v[0], v[1], v[2]), angle_between(u, v), angle_between(v, turned)};
    }

private:
    static double angle_between(const Vector& a, const Vector& b) {
        const Vector c{a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]};
        return std::atan2(std::hypot(c[0], c[1], c[2]), a[0] * b[0] + a[1] * b[1] + a[2] * b[2]);
    }

    Setup setup_;
    double link_ = 0.0;
    Xz pivot_, pin_, mast_;
};

/// Greatest value over a grid, refined by halving steps about the best node.
struct Peak {
    double sampled = -1e300, refined = -1e300, at = 0.0;
};
Peak find_peak(const HeightRange& range, const std::function<double(double)>& f) {
    Peak p;
    const double step = (range.high - range.low) / grid;
    for (int i = 0; i <= grid; ++i) {
        const double h = i == grid ? range.high : range.low + step * i;
        if (const double v = f(h); v > p.sampled) p = {v, v, h};
    }
    for (double d = step; d > 1e-10; d *= 0.5) {
        for (const double h : {p.at - d, p.at + d}) {
            const double inside = std::clamp(h, range.low, range.high);
            if (const double v = f(inside); v > p.refined) {
                p.refined = v;
                p.at = inside;
            }
        }
    }
    return p;
}

/// A greatest extreme: never below a sample, and as near as promised.
void check_greatest(double bound, const Peak& p, double promise, double rounding) {
    CAPTURE(bound, p.sampled, p.refined, p.at);
    CHECK(bound >= p.refined - rounding);
    CHECK(bound - p.refined < promise);
}

/// Random machine with three holes on the tractor and two on the mast, and all readings the columns want.
Setup make_study_setup(std::mt19937& random, bool beside) {
    const auto between = [&](double low, double high) { return std::uniform_real_distribution<double>(low, high)(random); };
    Setup s = validation::make_random_setup(random, {beside, false, false, false}).setup;
    NamedPoint pin = s.tractor.upper_link_pins[0];
    s.tractor.upper_link_pins.clear();
    for (const char* name : {"low", "middle", "high"}) {
        pin.name = name;
        s.tractor.upper_link_pins.push_back(pin);
        pin.z.value += between(0.02, 0.06);
        pin.x.value += between(-0.02, 0.02);
    }
    MastPin second = s.implement.mast_pins[0];
    second.name = "upper";
    second.height.value += between(-0.06, 0.06);
    second.offset.value += between(-0.03, 0.03);
    s.implement.mast_pins.push_back(second);
    s.tractor.upper_link.length_least = known(between(0.3, 0.6));
    s.tractor.upper_link.length_most = known(between(0.6, 0.9));
    s.tractor.upper_link.advance_per_turn = known(0.008);
    s.choices.upper_link_length_now = known(0.6);
    s.choices.transport_ball_height = known(s.tractor.travel.ball_height_high.value - between(0.0, 0.1));
    s.choices.working_band_high = known(s.implement.work.ball_height.value + between(0.05, 0.2));
    s.implement.points = {{"rear", known(between(0.8, 1.8)), known(between(-0.2, 0.3)), Reading{}, false},
                          {"front", known(between(0.0, 0.3)), known(between(-0.3, 0.0)), Reading{}, false}};
    s.implement.ground_contacts = {{"wheel", known(between(1.0, 2.0)), known(-0.1), known(between(0.1, 0.2))}};
    s.implement.mass.cg_x = known(between(0.3, 1.0));
    s.implement.mass.cg_z = known(between(-0.1, 0.4));
    return s;
}

/// A slope by differences of fourth order, one-sided nowhere: the pose exists a little beyond the travel too.
double slope(const std::function<double(double)>& f, double x) {
    constexpr double d = 1e-4;
    return (8.0 * (f(x + d) - f(x - d)) - (f(x + 2 * d) - f(x - 2 * d))) / (12.0 * d);
}

/// Everything of one row against the own route.
class RowJudge {
public:
    RowJudge(const Setup& s, const HoleNumbers& row) : s_(s), row_(row), own_(s, row.holes) {
        work_ = s.implement.work.ball_height.value;
        e_ = own_.link_for(work_, s.implement.work.pitch.value);
    }

    /// False when a pose of the own route is missing or near a dead centre: compared elsewhere.
    bool is_ordinary() const {
        for (int i = -8; i <= grid + 8; ++i) {
            const auto p = own_.pose(height(i), e_);
            if (!p || std::min(p->mast_angle, pi - p->mast_angle) < to_radians(3.0)) return false;
        }
        return true;
    }

    void check() {
        check_poses();
        check_rates();
        check_points();
        check_dead_centre();
        check_shaft();
        check_heights();
    }

private:
    double height(int i) const { return row_.travel.low + (row_.travel.high - row_.travel.low) * i / grid; }
    OwnPose at(double h) const { return own_.pose(h, e_).value(); }

    void check_poses() {
        CHECK(std::fabs(row_.upper_length - e_) < pose_length);
        CHECK(row_.for_working_attitude);
        CHECK(std::fabs(row_.pitch_low - at(row_.travel.low).pitch) < pose_angle);
        CHECK(std::fabs(row_.pitch_top - at(row_.travel.high).pitch) < pose_angle);
        REQUIRE(row_.pitch_working);
        CHECK(std::fabs(*row_.pitch_working - s_.implement.work.pitch.value) < pose_angle);
        const double level = own_.link_for(s_.tractor.lower_link.pivot_z.value, 0.0);
        const auto lifted = own_.pose(s_.choices.transport_ball_height.value, level);
        REQUIRE(row_.transport_pitch.has_value() == lifted.has_value());
        if (lifted) CHECK(std::fabs(*row_.transport_pitch - lifted->pitch) < pose_angle);
        CHECK(std::fabs(*row_.turns - (e_ - 0.6) / 0.008) < 1e-6);
        const double least = s_.tractor.upper_link.length_least.value, most = s_.tractor.upper_link.length_most.value;
        REQUIRE(row_.reach);
        CHECK(row_.reach->within == (least <= e_ && e_ <= most));
        if (row_.reach->within) {
            CHECK(std::fabs(row_.reach->thread_left_to_shorten - (e_ - least)) < pose_length);
            CHECK(std::fabs(row_.reach->thread_left_to_lengthen - (most - e_)) < pose_length);
        }
    }

    void check_rates() {
        const auto pitch = [&](double h) { return at(h).pitch; };
        REQUIRE(row_.inverse_hitch_distance);
        CHECK(std::fabs(*row_.inverse_hitch_distance - slope(pitch, work_)) < 1e-5);
        const auto load = [&](double h) { return at(h).place(s_.implement.mass.cg_x.value, s_.implement.mass.cg_z.value).z; };
        REQUIRE(row_.lift.known);
        CHECK(row_.lift.point == LoadPoint::centre_of_gravity);
        const Peak most = find_peak(row_.travel, [&](double h) { return slope(load, h); });
        const Peak least = find_peak(row_.travel, [&](double h) { return -slope(load, h); });
        check_greatest(row_.lift.rise_most.bound, most, 3e-5, 1e-5);
        check_greatest(-row_.lift.rise_least.bound, least, 3e-5, 1e-5);
        CHECK(std::fabs(slope(load, row_.lift.rise_most.height) - most.refined) < 3e-5);
        if (most.refined > 0.01) CHECK(std::fabs(row_.lift.worst().value() * most.refined - 1.0) < 3e-3);
        CHECK(row_.lift.load_stops() == (least.refined > 0.0));
    }

    void check_points() {
        const OwnPose top = at(row_.travel.high);
        const double wheel = top.place(s_.implement.ground_contacts[0].x.value, s_.implement.ground_contacts[0].z.value).z -
                             s_.implement.ground_contacts[0].radius.value;
        const double rear = top.place(s_.implement.points[0].x.value, s_.implement.points[0].z.value).z;
        const double front = top.place(s_.implement.points[1].x.value, s_.implement.points[1].z.value).z;
        const bool wheel_last = s_.implement.ground_contacts[0].x.value > s_.implement.points[0].x.value;
        REQUIRE((row_.tail && row_.lowest));
        CHECK(row_.tail->name == (wheel_last ? "wheel" : "rear"));
        CHECK(std::fabs(row_.tail->height - (wheel_last ? wheel : rear)) < pose_length);
        CHECK(std::fabs(row_.lowest->height - std::min({wheel, rear, front})) < pose_length);
    }

    void check_dead_centre() {
        const Peak nearest = find_peak(row_.travel, [&](double h) {
            const double angle = at(h).mast_angle;
            return -std::min(angle, pi - angle);
        });
        CAPTURE(row_.dead_centre.height, nearest.at);
        CHECK(std::fabs(row_.dead_centre.angle + nearest.refined) < 1e-7);
        if (!row_.dead_centre.beyond) return;
        // Just short of it the loop closes, just past it it does not.
        const double out = *row_.dead_centre.beyond, way = out > row_.travel.high ? 1e-6 : -1e-6;
        if (std::fabs(out - s_.tractor.lower_link.pivot_z.value) > s_.tractor.lower_link.length.value - 0.05) return;
        CHECK(own_.pose(out - way, e_).has_value());
        CHECK(!own_.pose(out + way, e_).has_value());
    }

    void check_shaft() {
        REQUIRE(row_.shaft);
        const auto part = [&](std::size_t k, double sign) {
            return [this, k, sign](double h) { return sign * own_.shaft(at(h))[k]; };
        };
        const HeightRange band{work_, s_.choices.working_band_high.value};
        check_greatest(-row_.shaft->shortest.bound, find_peak(row_.travel, part(0, -1.0)), length_promise, 1e-10);
        check_greatest(row_.shaft->longest.bound, find_peak(row_.travel, part(0, 1.0)), length_promise, 1e-10);
        const auto worst = [&](const HeightRange& range) {
            const Peak t = find_peak(range, part(1, 1.0)), i = find_peak(range, part(2, 1.0));
            return t.refined > i.refined ? t : i;
        };
        check_greatest(row_.shaft->travel_angle.bound, worst(row_.travel), angle_promise, 1e-7);
        check_greatest(row_.shaft->work_angle.bound, worst(band), angle_promise, 1e-7);
        REQUIRE(row_.shaft->has_plan);
        const Driveline& d = s_.driveline;
        const double shorter = std::min(d.tractor_tube.value, d.implement_tube.value);
        CHECK(std::fabs(row_.shaft->plan.uncut.gap - (row_.shaft->shortest.bound - d.closed_length.value)) < pose_length);
        CHECK(std::fabs(row_.shaft->plan.uncut.overlap - (d.closed_length.value + shorter - row_.shaft->longest.bound)) < pose_length);
    }

    void check_heights() {
        const std::array<std::pair<const std::vector<HeightRange>*, double>, 2> lists{
            {{&row_.shaft->work_heights, s_.rules.angle_free.value}, {&row_.shaft->pto_heights, s_.rules.angle_pto_off.value}}};
        for (const auto& [list, limit] : lists) {
            int wrong = 0;
            for (int i = 0; i <= grid; ++i) {
                const auto s = own_.shaft(at(height(i)));
                const double angle = std::max(s[1], s[2]);
                const double h = height(i);
                const bool inside = std::any_of(list->begin(), list->end(), [h](const HeightRange& r) { return r.contains(h); });
                if (angle < limit - 1e-7) wrong += !inside;
                if (angle > limit + 1e-7) wrong += inside;
            }
            CHECK(wrong == 0);
            for (const HeightRange& r : *list) {
                for (const double end : {r.low, r.high}) {
                    if (end <= row_.travel.low || end >= row_.travel.high) continue;
                    const auto s = own_.shaft(at(end));
                    CHECK(std::fabs(std::max(s[1], s[2]) - limit) < 1e-5);  // rad, over a micrometre of height
                }
            }
        }
    }

    const Setup& s_;
    const HoleNumbers& row_;
    OwnMachine own_;
    double work_ = 0.0, e_ = 0.0;
};

/// Linkage A set for the pitch of a row of its table at that height, travel up to it.
Setup make_setup_at(const validation::TableRow& row) {
    Setup s = hitchwright::test::make_setup_a();
    const double h = row.number("ball_height_mm") * 0.001;
    s.choices.upper_link_length = Reading{};
    s.implement.work = {known(h), known(to_radians(row.number("pitch_deg")))};
    s.tractor.travel = {known(h - 5e-5), known(h + 5e-5)};
    return s;
}

HoleNumbers find_row(const Setup& s, std::size_t index) { return find_all_hole_numbers(s, millimetre_mark).at(index); }

}  // namespace

TEST_CASE("hole study: every column of 25 random set-ups by circles, trigonometry and differences", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    std::mt19937 random(seed);
    int rows = 0, left_out = 0, stopped = 0, cut_short = 0;
    for (int i = 0; i < 25; ++i) {
        const Setup s = make_study_setup(random, i % 2 == 1);
        for (const HoleNumbers& row : find_all_hole_numbers(s, millimetre_mark)) {
            CAPTURE(seed, i, row.tractor_pin, row.mast_pin);
            RowJudge judge(s, row);
            if (!row.has_numbers || !row.whole_travel || !judge.is_ordinary()) {
                ++left_out;
                continue;
            }
            judge.check();
            ++rows;
            stopped += row.lift.load_stops();
            cut_short += row.shaft->work_heights.empty() || row.shaft->work_heights[0].high < row.travel.high;
        }
    }
    CAPTURE(rows, left_out, stopped, cut_short);
    CHECK((rows >= 100 && cut_short >= 20));
    std::cout << "hole study columns: " << rows << " combinations compared, " << left_out
              << " that do not close or come near a dead centre left out" << std::endl;
}

TEST_CASE("hole study: a combination has numbers just when the circles meet", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    std::mt19937 random(seed);
    int whole = 0, broken = 0;
    for (int i = 0; i < 25; ++i) {
        Setup s = make_study_setup(random, false);
        // A short mast far up the tractor and a long travel: some combinations lock on the way.
        s.implement.mast_pins[1].height.value *= 0.6;
        s.tractor.travel.ball_height_high.value += 0.08;
        for (const HoleNumbers& row : find_all_hole_numbers(s, millimetre_mark)) {
            CAPTURE(seed, i, row.tractor_pin, row.mast_pin);
            const OwnMachine own(s, row.holes);
            const double work = s.implement.work.ball_height.value;
            const double e = own.link_for(work, s.implement.work.pitch.value);
            const auto set = own.pose(work, e);
            if (!set || std::fabs(set->pitch - s.implement.work.pitch.value) > 1e-6) {
                CHECK(!row.has_numbers);  // the other side of the dead centre
                continue;
            }
            bool closes = true;
            for (int k = 0; k <= grid; ++k) {
                const double low = s.tractor.travel.ball_height_low.value, high = s.tractor.travel.ball_height_high.value;
                closes = closes && own.pose(low + (high - low) * k / grid, e).has_value();
            }
            CHECK(row.whole_travel == closes);
            ++(closes ? whole : broken);
        }
    }
    CHECK((whole > 20 && broken > 5));
}

TEST_CASE("hole study: the table of linkage A", "[oracle]") {
    for (const validation::TableRow& row : validation::load_table("linkage_a.csv")) {
        CAPTURE(row.text("ball_height_mm"));
        const HoleNumbers n = find_row(make_setup_at(row), 0);
        REQUIRE(n.has_numbers);
        CHECK(std::fabs(n.upper_length - 0.660) < 1e-12);
        const double x = (row.number("ball_x_mm") - row.number("ic_x_mm")) * 0.001;
        REQUIRE(n.inverse_hitch_distance);
        CHECK(std::fabs(*n.inverse_hitch_distance - 1.0 / x) < 1e-9);
        CHECK(n.lift.point == LoadPoint::behind_610);
        REQUIRE(n.lift.worst());
        // Over 0.1 mm of travel the ratio changes by less than 1e-4.
        CHECK(std::fabs(*n.lift.worst() - row.number("ratio610")) < 1e-4);
    }
}

TEST_CASE("hole study: a higher hole on linkage A lifts more and pitches less at the top", "[oracle]") {
    for (const validation::ValueCheck& check : validation::load_checks("linkage_values.toml", "higher_pin")) {
        CAPTURE(check.name);
        Setup s = hitchwright::test::make_setup_a();
        s.tractor.upper_link_pins.push_back({"higher", known(0.240), known(0.960 + check.input("higher") * 0.001)});
        s.choices.upper_link_length = Reading{};
        for (const validation::TableRow& row : validation::load_table("linkage_a.csv")) {
            if (row.number("ball_height_mm") == 500.0) s.implement.work = {known(0.500), known(to_radians(row.number("pitch_deg")))};
        }
        REQUIRE(s.implement.work.ball_height.known);
        REQUIRE(s.implement.work.ball_height.value == 0.500);
        Setup top = s;
        top.tractor.travel = {known(0.500), known(0.9243)};
        const HoleNumbers low = find_row(top, 0), high = find_row(top, 1);
        CHECK(std::fabs(high.upper_length - check.out.at("upper_link") * 0.001) < 1e-6);
        CHECK(std::fabs(to_degrees(low.pitch_top - high.pitch_top) - check.out.at("less_pitch_at_924_3")) < check.tolerance);
        s.tractor.travel = {known(0.500), known(0.5001)};
        const double more = 100.0 * (find_row(s, 1).lift.worst().value() / find_row(s, 0).lift.worst().value() - 1.0);
        CHECK(std::fabs(more - check.out.at("more_lift_610")) < check.tolerance);
    }
}

TEST_CASE("hole study: pitch per mm of upper link on linkage A", "[oracle]") {
    for (const validation::ValueCheck& check : validation::load_checks("linkage_values.toml", "upper_link_change")) {
        CAPTURE(check.name);
        double least = 1e9, most = 0.0;
        for (int i = 0; i <= 100; ++i) {
            const double low = check.input("ball_low") * 0.001, high = check.input("ball_high") * 0.001;
            const double h = low + (high - low) * i / 100.0;
            Setup s = hitchwright::test::make_setup_a();
            s.implement.work.ball_height = Reading{};  // the typed length is kept
            s.tractor.travel = {known(h), known(h + 0.001)};
            const auto pitch = [&](double length) {
                s.choices.upper_link_length = known(length);
                const HoleNumbers n = find_row(s, 0);
                REQUIRE((n.has_numbers && !n.for_working_attitude));
                return to_degrees(n.pitch_low);
            };
            const double change = 0.5 * (pitch(0.659) - pitch(0.661));
            least = std::min(least, change);
            most = std::max(most, change);
        }
        CHECK(std::fabs(least - check.out.at("least")) < check.tolerance);
        CHECK(std::fabs(most - check.out.at("most")) < check.tolerance);
    }
}

TEST_CASE("hole study: with slack the extremes are those of a grid over heights and link lengths", "[random][oracle]") {
    const unsigned seed = Catch::rngSeed();
    std::mt19937 random(seed);
    int rows = 0;
    for (int i = 0; i < 6; ++i) {
        Setup s = make_study_setup(random, false);
        s.implement.upper_link_float = {UpperLinkKind::slot, known(0.03 + 0.01 * i), Reading{}};
        for (const HoleNumbers& row : find_all_hole_numbers(s, millimetre_mark)) {
            CAPTURE(seed, i, row.tractor_pin, row.mast_pin);
            const OwnMachine own(s, row.holes);
            const double slack = s.implement.upper_link_float.slack.value;
            const double e = own.link_for(s.implement.work.ball_height.value, s.implement.work.pitch.value) - 0.5 * slack;
            double shortest = 1e9, longest = 0.0, angle = 0.0;
            bool closes = row.has_numbers && row.whole_travel;
            for (int k = 0; closes && k <= 400; ++k) {
                for (int j = 0; j <= 40; ++j) {
                    const auto p = own.pose(row.travel.low + (row.travel.high - row.travel.low) * k / 400.0, e + slack * j / 40.0);
                    if (!p) {
                        closes = false;
                        break;
                    }
                    const auto shaft = own.shaft(*p);
                    shortest = std::min(shortest, shaft[0]);
                    longest = std::max(longest, shaft[0]);
                    angle = std::max({angle, shaft[1], shaft[2]});
                }
            }
            if (!closes) continue;
            ++rows;
            CHECK(std::fabs(row.upper_length - e) < pose_length);
            // The grid of 1.5 mm is within 2e-5 m and 2e-4 rad of the truth; the bound is never inside it.
            CHECK((row.shaft->shortest.bound <= shortest + 1e-10 && shortest - row.shaft->shortest.bound < 2e-5));
            CHECK((row.shaft->longest.bound >= longest - 1e-10 && row.shaft->longest.bound - longest < 2e-5));
            CHECK((row.shaft->travel_angle.bound >= angle - 1e-7 && row.shaft->travel_angle.bound - angle < 2e-4));
            // Raised, the link is in tension at its longest.
            CHECK(std::fabs(row.tail->height - [&] {
                const OwnPose top = own.pose(row.travel.high, e + slack).value();
                double height = 0.0, rearmost = -1.0;
                for (const ImplementPoint& p : s.implement.points) {
                    if (p.x.value > rearmost) height = top.place(p.x.value, p.z.value).z, rearmost = p.x.value;
                }
                const GroundContact& c = s.implement.ground_contacts[0];
                return c.x.value > rearmost ? top.place(c.x.value, c.z.value).z - c.radius.value : height;
            }()) < pose_length);
        }
    }
    CHECK(rows >= 10);
}
