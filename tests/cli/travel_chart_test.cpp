// The lines over the travel of built-in set-ups against values by other routes: rotation by hand, differences of poses,
// sums of lengths, many samples.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include "geometry/lift_study.h"
#include "geometry/travel_bands.h"
#include "presets/load_setup.h"
#include "report/curve_words.h"
#include "report/text_measure.h"
#include "report/travel_chart.h"
#include "report/travel_marks.h"

using namespace hitchwright;

namespace {

constexpr double inch = 0.0254;

struct Judged {
    Setup setup;
    Analysis analysis;
    std::vector<CurvePanel> panels;

    const ChartPanel& chart(CurveKind kind) const {
        const auto found =
            std::find_if(panels.begin(), panels.end(), [&](const CurvePanel& p) { return p.kind == kind; });
        REQUIRE(found != panels.end());
        return found->chart;
    }
    const ChartLine& line(CurveKind kind, std::size_t index = 0) const { return chart(kind).lines.at(index); }
};

Judged judge_setup(const char* name, std::vector<std::string> sets = {}) {
    const LoadedSetup loaded = load_setup(name, Library(), {std::move(sets), ""});
    REQUIRE(loaded.ok());
    Judged j{loaded.setup, analyze(loaded.setup, sixteenth_inch_mark), {}};
    j.panels = make_travel_panels(j.setup, j.analysis, UnitSystem::inch);
    return j;
}

bool has_panel(const Judged& j, CurveKind kind) {
    return std::any_of(j.panels.begin(), j.panels.end(), [&](const CurvePanel& p) { return p.kind == kind; });
}

/// Height of a point behind and above the balls, by plain rotation.
double rotated_height(const Judged& j, double ball_height, double x, double z) {
    const double pitch = make_pose_report(j.setup, j.analysis.linkage->model, ball_height).pose.pitch;
    return ball_height + x * std::sin(pitch) + z * std::cos(pitch);
}

}  // namespace

TEST_CASE("travel chart: the tail is the rearmost point turned by the pitch, the lowest line under every point",
          "[oracle]") {
    const Judged j = judge_setup("compact-tiller-bottoms-out");
    REQUIRE(j.analysis.linkage);
    const Implement& i = j.setup.implement;
    struct Bare {
        double x, z, radius;
    };
    std::vector<Bare> points;
    for (const ImplementPoint& p : i.points) points.push_back({p.x.value, p.z.value, 0.0});
    for (const GroundContact& c : i.ground_contacts)
        points.push_back({c.x.value, c.z.value, c.radius.known ? c.radius.value : 0.0});
    REQUIRE(points.size() > 1);
    const Bare tail =
        *std::max_element(points.begin(), points.end(), [](const Bare& a, const Bare& b) { return a.x < b.x; });
    const ChartLine &rear = j.line(CurveKind::tail_height), &lowest = j.line(CurveKind::tail_height, 1);
    REQUIRE(rear.points.size() == 121);
    for (std::size_t k = 0; k < rear.points.size(); ++k) {
        const double h = rear.points[k].x;
        CHECK(rear.points[k].y == Approx(rotated_height(j, h, tail.x, tail.z) - tail.radius).margin(1e-9).epsilon(0));
        double least = 1e9;
        for (const Bare& p : points) least = std::min(least, rotated_height(j, h, p.x, p.z) - p.radius);
        CHECK(lowest.points[k].y == Approx(least).margin(1e-9).epsilon(0));
    }
}

TEST_CASE("travel chart: overlap and shaft length add up to both tubes and the roots", "[analytic]") {
    for (const char* name : {"compact-tiller-bottoms-out", "compact-flail-separates", "utility-cutter-wrong-hole"}) {
        CAPTURE(name);
        const Judged j = judge_setup(name);
        const TelescopingHalves& h = j.analysis.linkage->model.halves;
        const double roots = h.closed_length - std::max(h.tube_a, h.tube_b);
        const ChartLine &length = j.line(CurveKind::shaft_length), &overlap = j.line(CurveKind::overlap);
        REQUIRE(length.points.size() == overlap.points.size());
        for (std::size_t k = 0; k < length.points.size(); ++k)
            CHECK(length.points[k].y + overlap.points[k].y ==
                  Approx(roots + h.tube_a + h.tube_b).margin(1e-9).epsilon(0));
        // Where the overlap's limit is, the length's is too.
        const double level = j.chart(CurveKind::overlap).limits.front().level;
        CHECK(j.chart(CurveKind::shaft_length).limits.at(1).level ==
              Approx(roots + h.tube_a + h.tube_b - level).margin(1e-9).epsilon(0));
        CHECK(j.chart(CurveKind::shaft_length).limits.at(0).level ==
              Approx(h.closed_length + j.analysis.shaft->limits.gap_required).margin(1e-9).epsilon(0));
    }
}

TEST_CASE("travel chart: the marked extremes hold over many more heights than are drawn", "[oracle]") {
    const Judged j = judge_setup("utility-cutter-wrong-hole");
    const ChartPanel& length = j.chart(CurveKind::shaft_length);
    double least = 1e9, most = -1e9, least_overlap = 1e9;
    for (const PoseReport& pose : sweep_travel(j.setup, 4001)) {
        least = std::min(least, pose.shaft_length);
        most = std::max(most, pose.shaft_length);
        least_overlap = std::min(least_overlap, pose.overlap);
    }
    CHECK(length.marks.at(0).at.y <= least);
    CHECK(length.marks.at(0).at.y == Approx(least).margin(1e-4).epsilon(0));
    CHECK(length.marks.at(1).at.y >= most);
    CHECK(length.marks.at(1).at.y == Approx(most).margin(1e-4).epsilon(0));
    CHECK(j.chart(CurveKind::overlap).marks.at(0).at.y == Approx(least_overlap).margin(1e-4).epsilon(0));
}

TEST_CASE("travel chart: what the lift carries balances the force at the balls by the load's rise", "[oracle]") {
    const Judged j = judge_setup("compact-tiller-bottoms-out");
    REQUIRE(j.analysis.lift);
    const LiftStudy& lift = *j.analysis.lift;
    const ChartLine& carries = j.line(CurveKind::lift);
    std::size_t compared = 0;
    for (const ChartPoint& p : carries.points) {
        const bool judged = p.x >= lift.travel.low && p.x <= lift.travel.high;
        CHECK(std::isfinite(p.y) == judged);
        if (!judged || p.x < lift.travel.low + 1e-4 || p.x > lift.travel.high - 1e-4) continue;
        constexpr double step = 1e-5;
        const double rise = (rotated_height(j, p.x + step, lift.load_at.x(), lift.load_at.y()) -
                             rotated_height(j, p.x - step, lift.load_at.x(), lift.load_at.y())) /
                            (2.0 * step);
        const double force = find_force_at(lift.force, p.x).value();
        CHECK(p.y * 9.80665 * rise == Approx(force).epsilon(1e-5));
        ++compared;
    }
    CHECK(compared > 50);
    CHECK(j.chart(CurveKind::lift).limits.front().level == j.setup.implement.mass.mass.value);
}

TEST_CASE("travel chart: a lift that hardly moves its load is broken off, not drawn to the sky", "[analytic]") {
    const Judged j = judge_setup("utility-cutter-wrong-hole");
    const ChartPanel& lift = j.chart(CurveKind::lift);
    double most = 0.0;
    for (const ChartPoint& p : lift.lines.front().points) most = std::isfinite(p.y) ? std::max(most, p.y) : most;
    REQUIRE(most > lift.y_most);
    const ChartAxes axes = find_chart_axes(lift, {0.0, 0.0, 140.0, 60.0}, UnitSystem::millimetre);
    CHECK(axes.y_high < 2.0 * lift.y_most);
    CHECK(axes.y_high > lift.limits.front().level);
}

TEST_CASE("travel chart: panels follow what the set-up has", "[practice]") {
    const Judged blade = judge_setup("compact-box-blade");
    CHECK(has_panel(blade, CurveKind::pitch));
    CHECK_FALSE(has_panel(blade, CurveKind::shaft_length));
    CHECK_FALSE(has_panel(blade, CurveKind::overlap));
    const LoadedSetup drawn = load_setup("utility-drawn-cutter-fits", Library(), {});
    const Analysis a = analyze(drawn.setup, sixteenth_inch_mark);
    CHECK(make_travel_panels(drawn.setup, a, UnitSystem::inch).empty());
    const std::vector<CurvePanel> turn =
        make_turn_panels(drawn.setup, *a.drawn, a.drawn->model.level_pitch, 0.0, UnitSystem::inch);
    REQUIRE(turn.size() == 3);
    for (const CurvePanel& p : turn) {
        CHECK(p.chart.x_dimension == Dimension::angle);
        CHECK(p.chart.x_range.low == a.drawn->model.box.yaw.low);
    }
    // Straight and level is a point of every line's middle, where the box is even.
    const ChartPoint middle = turn.front().chart.lines.front().points[60];
    CHECK(middle.y == Approx(find_driveline_state(a.drawn->model, {a.drawn->model.level_pitch, 0.0, middle.x}).length)
                          .margin(1e-12)
                          .epsilon(0));
}

TEST_CASE("travel chart: six panels find room on one page, with their zones hatched", "[practice]") {
    const Judged j = judge_setup("compact-tiller-bottoms-out");
    REQUIRE(j.panels.size() == 6);
    SideViewScene scene;
    const PagePicture page = compose_travel_chart(scene, j.panels, letter_landscape, BuiltInTextMeasure{});
    for (const CurvePanel& p : j.panels) {
        CAPTURE(p.chart.title);
        const bool titled = std::any_of(page.shapes.begin(), page.shapes.end(), [&](const PageShape& s) {
            const auto* text = std::get_if<PageText>(&s.form);
            return text != nullptr && text->text.find(p.chart.title) == 0;
        });
        CHECK(titled);
    }
    CHECK(std::any_of(page.shapes.begin(), page.shapes.end(),
                      [](const PageShape& s) { return s.role == Role::clash && s.part == PagePart::hatch; }));
    CHECK(page.description.find("pitch, tail height, shaft length, joint angles, overlap, lift") != std::string::npos);
}

TEST_CASE("curve words: number and standing of each line at a height", "[practice]") {
    const Judged j = judge_setup("compact-tiller-bottoms-out");
    const auto say = [&](CurveKind kind, double height) {
        return say_curve(kind, j.setup, j.analysis, make_pose_report(j.setup, j.analysis.linkage->model, height),
                         UnitSystem::inch);
    };
    // 31 in closed against 29 5/8 in: the gap is short by 1 3/8 in and a little.
    CHECK(say(CurveKind::shaft_length, 15.0 * inch) == CurveWords{"29 5/8 in, bottoms out by 1 7/16 in", true});
    CHECK(say(CurveKind::pitch, 15.0 * inch) == CurveWords{"level", false});
    CHECK(say(CurveKind::joint_angles, 27.0 * inch).text.find("no work") != std::string::npos);
    CHECK(say(CurveKind::joint_angles, 15.0 * inch) == CurveWords{"front 5.9 deg, rear 5.9 deg: free", false});
    CHECK_FALSE(say(CurveKind::overlap, 15.0 * inch).bad);
    CHECK(say(CurveKind::lift, 8.0 * inch).text == "not asked below work: it stands on the ground");
    CHECK(say(CurveKind::lift, 27.0 * inch).text.find("to spare") != std::string::npos);
    const Judged apart = judge_setup("compact-flail-separates");
    double longest = 0.0, where = 0.0;
    for (const PoseReport& pose : sweep_travel(apart.setup, 201)) {
        if (pose.shaft_length > longest) longest = pose.shaft_length, where = pose.pose.ball.y();
    }
    const CurveWords words =
        say_curve(CurveKind::overlap, apart.setup, apart.analysis,
                  make_pose_report(apart.setup, apart.analysis.linkage->model, where), UnitSystem::inch);
    CHECK(words.bad);
    CHECK(say_pitch(0.1) == "+5.7 deg, rear up");
    CHECK(say_pitch(-0.1) == "-5.7 deg, rear down");
}

TEST_CASE("curve words: the overlap asked for in work is judged and drawn over the working band", "[practice]") {
    const Judged j = judge_setup("utility-cutter-fits", {"rules=european-40mm", "choices.cut_tractor_half=8 in",
                                                         "choices.cut_implement_half=8 in"});
    const auto f = std::find_if(j.analysis.findings.begin(), j.analysis.findings.end(),
                                [](const Finding& g) { return g.kind == FindingKind::overlap_in_work; });
    REQUIRE(f != j.analysis.findings.end());
    REQUIRE(f->severity == Severity::forbids);
    const MountedModel& m = j.analysis.linkage->model;
    const std::optional<TravelBands> bands = find_travel_bands(j.setup, j.analysis);
    REQUIRE(bands);
    const auto say = [&](CurveKind kind, double height) {
        return say_curve(kind, j.setup, j.analysis, make_pose_report(j.setup, m, height), UnitSystem::inch, &*bands);
    };
    const double worst = j.analysis.shaft->work.longest.height;
    CHECK(say(CurveKind::overlap, worst) == CurveWords{"11 in, too little: 11 7/8 in needed in work", true});
    CHECK(say(CurveKind::shaft_length, worst).text.find("too little overlap in work") != std::string::npos);
    // Outside the working band the lesser limit counts.
    const double above = m.working_band.high + 0.02;
    REQUIRE(above < m.travel.high);
    CHECK(say(CurveKind::overlap, above).text.find("in work") == std::string::npos);
    const double apart = find_overlap(m.halves, 0.0);
    for (const auto& [kind, level] : {std::pair{CurveKind::overlap, f->limit}, {CurveKind::shaft_length, apart - f->limit}}) {
        const ChartLine& limit = j.line(kind, 1);
        REQUIRE(limit.points.size() == 2);
        CHECK(limit.points[0].x == m.working_band.low);
        CHECK(limit.points[1].x == m.working_band.high);
        CHECK(limit.points[0].y == Approx(level).margin(1e-9).epsilon(0));
        CHECK(limit.points[1].y == limit.points[0].y);
    }
    // Where nobody asks for more in work there is no second limit.
    CHECK(judge_setup("utility-cutter-fits").chart(CurveKind::overlap).lines.size() == 1);
}

TEST_CASE("curve words: joints stand as the bands of the travel and the findings say, errors allowed for", "[practice]") {
    const Judged j = judge_setup("utility-cutter-wrong-hole");
    const MountedModel& m = j.analysis.linkage->model;
    const std::optional<TravelBands> bands = find_travel_bands(j.setup, j.analysis);
    REQUIRE(bands);
    const auto say = [&](CurveKind kind, double height, const TravelBands* b) {
        return say_curve(kind, j.setup, j.analysis, make_pose_report(j.setup, m, height), UnitSystem::inch, b);
    };
    // The finding has the PTO off above 36 3/16 in.
    CHECK(say(CurveKind::joint_angles, 36.5 * inch, nullptr).text.find("PTO off") == std::string::npos);
    CHECK(say(CurveKind::joint_angles, 36.5 * inch, &*bands).text.find("PTO off") != std::string::npos);
    REQUIRE(bands->tubes);
    int seen = 0;
    for (int i = 0; i <= 200; ++i) {
        const double height = m.travel.low + (m.travel.high - m.travel.low) * i / 200;
        const auto in = [&](const std::vector<HeightRange>& all) {
            return std::any_of(all.begin(), all.end(), [&](const HeightRange& r) { return r.contains(height); });
        };
        CAPTURE(height);
        const CurveWords joints = say(CurveKind::joint_angles, height, &*bands);
        const bool off = in(bands->tractor_joint->pto_off) || in(bands->implement_joint->pto_off);
        const bool stop = in(bands->tractor_joint->past_stop) || in(bands->implement_joint->past_stop);
        CHECK((off || stop) == (joints.text.find("PTO off") != std::string::npos || joints.text.find("its stop") != std::string::npos));
        CHECK(say(CurveKind::overlap, height, &*bands).bad == in(bands->tubes->overlap_doubtful));
        if (off) ++seen;
    }
    CHECK(seen > 0);
}

TEST_CASE("curve words: where the load does not rise that is said", "[practice]") {
    const Judged j = judge_setup("compact-tiller-bottoms-out");
    REQUIRE(j.analysis.lift);
    const double height = 25.0 * inch;
    const PoseReport pose = make_pose_report(j.setup, j.analysis.linkage->model, height);
    int falling = 0;
    // So far from the balls the pitch alone decides; on one of the two sides the load sinks.
    for (const double x : {-100.0, 100.0}) {
        Analysis a = j.analysis;
        a.lift->load_at.x() = x;
        const CurveWords words = say_curve(CurveKind::lift, j.setup, a, pose, UnitSystem::inch);
        if (find_lift_row(*a.lift, a.linkage->model, height).rise > 0.0) continue;
        ++falling;
        CHECK(words == CurveWords{"the load does not rise here: no mass can be said", false});
    }
    CHECK(falling == 1);
}

TEST_CASE("travel marks: heights with the PTO off are named by the ends they have", "[analytic]") {
    const Judged j = judge_setup("utility-cutter-fits");
    const MountedModel& m = j.analysis.linkage->model;
    TravelBands bands = *find_travel_bands(j.setup, j.analysis);
    const auto says = [&](std::vector<HeightRange> off, const std::string& words) {
        bands.tractor_joint = JointBands{{}, std::move(off), {}};
        bands.implement_joint.reset();
        const Drawing d = draw_travel_marks(j.setup, m, bands, UnitSystem::inch);
        return std::any_of(d.labels.begin(), d.labels.end(), [&](const auto& label) { return label.text == words; });
    };
    const HeightRange& t = bands.travel;
    REQUIRE(t.low < 15.0 * inch);
    REQUIRE(t.high > 25.0 * inch);
    // Outward to the next sixteenth.
    CHECK(says({{15.01 * inch, 20.01 * inch}}, "PTO off from 15 in to 20 1/16 in"));
    CHECK(says({{t.low, 20.01 * inch}}, "PTO off below 20 1/16 in"));
    CHECK(says({{15.01 * inch, t.high}}, "PTO off above 15 in"));
    CHECK(says({t}, "PTO off at every height"));
}
