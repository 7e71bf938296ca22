// The fit to direct readings, by hand where it has one unknown, and by what must not change it.
#include <catch2/catch.hpp>

#include <algorithm>
#include <cmath>

#include <Eigen/LU>

#include "geometry/analysis.h"
#include "geometry/angle.h"
#include "geometry/direct_place.h"
#include "geometry/innovations.h"
#include "geometry/model_fit.h"
#include "geometry/visit_readings.h"
#include "tests/geometry/sample_drawn.h"
#include "tests/geometry/sample_setup.h"

using namespace hitchwright;
using namespace hitchwright::test;

namespace {

constexpr double eighth = 0.0254 / 8;

MountedModel model_of(const Setup& s) {
    const MountedModelResult r = make_mounted_model(s);
    REQUIRE(r.linkage_ok);
    return r.model;
}

/// Distance between joint centres at a height, `off` the one the model says.
void add_distance(Setup& s, const char* name, double height, double off, double error = eighth, double height_error = 0.0) {
    DirectReading r{name, known(height, height_error), known(0.0, error), LengthReference::joint_centres};
    r.distance.value = *predict_at({DirectKind::shaft_length, r.reference, height, 0.0, 0.0, {}}, {}, s, model_of(s)) + off;
    s.direct_readings.push_back(r);
}

void add_pitch(Setup& s, const char* name, double height, double off, double error) {
    PoseReading p;
    p.name = name;
    p.what = PoseQuantity::pitch;
    p.ball_height = known(height);
    p.angle = known(*predict_at({DirectKind::pitch, {}, height, 0.0, 0.0, {}}, {}, s, model_of(s)) + off, error);
    s.pose_readings.push_back(p);
}

/// The usual tolerance of its field for every known reading.
Setup with_usual_errors(Setup s) {
    visit_readings(s, [](const std::string&, Reading& r, const FieldSpec& spec) {
        if (r.known) r.tolerance = spec.tolerance;
    });
    return s;
}

/// Distance of the joint centres in the middle of the travel.
double find_middle_distance(const Setup& s) {
    return *predict_at({DirectKind::shaft_length, LengthReference::joint_centres, 0.560, 0.0, 0.0, {}}, {}, s, model_of(s));
}

const FittedInput* find_input(const ModelFit& fit, const char* key) {
    const auto at = std::find_if(fit.inputs.begin(), fit.inputs.end(), [&](const FittedInput& i) { return i.key == key; });
    return at == fit.inputs.end() ? nullptr : &*at;
}

}  // namespace

TEST_CASE("model fit: one unknown and one reading share the difference by the squares of their errors", "[analytic]") {
    Setup s = make_setup_a();
    s.tractor.pto.stub_x.tolerance = 0.008;
    add_distance(s, "mid", 0.560, 0.003, 0.004);
    const std::optional<FittedSetup> r = fit_model(s);
    REQUIRE(r);
    REQUIRE(r->fit.used);
    // The stub moved rearward shortens the distance by the cosine of the shaft's angle, nearly level here.
    Setup moved = s;
    moved.tractor.pto.stub_x.value += 1e-5;
    const DirectPlace place{DirectKind::shaft_length, LengthReference::joint_centres, 0.560, 0.0, 0.0, {}};
    const double slope = (*predict_at(place, {}, moved, model_of(moved)) - *predict_at(place, {}, s, model_of(s))) / 1e-5;
    const double prior = slope * 0.008, share = prior * prior / (prior * prior + 0.004 * 0.004);
    const FittedReading& f = r->fit.readings[0];
    CHECK(f.band == Approx(std::hypot(prior, 0.004)).epsilon(1e-4));
    CHECK(f.fitted - f.predicted == Approx(0.003 * share).epsilon(1e-3));
    CHECK(f.misfit == Approx(2.0 * 0.003 / std::hypot(prior, 0.004)).epsilon(1e-4));
    const FittedInput* stub = find_input(r->fit, "tractor.pto.stub_x");
    REQUIRE(stub != nullptr);
    CHECK(stub->fitted - stub->read == Approx(0.003 * share / slope).epsilon(1e-3));
    CHECK(stub->error_after == Approx(0.008 * std::sqrt(1.0 - share)).epsilon(1e-3));
    CHECK_FALSE(stub->beyond);
    CHECK(r->setup.tractor.pto.stub_x.value == Approx(stub->fitted).epsilon(1e-12));
    // A difference of zero moves nothing.
    s.direct_readings[0].distance.value = f.predicted;
    CHECK(fit_model(s)->fit.inputs.empty());
}

TEST_CASE("model fit: the posterior widths are those of the normal equations written out", "[oracle]") {
    Setup s = with_usual_errors(make_setup_a());
    add_distance(s, "low", 0.210, 0.001);
    add_distance(s, "high", 0.940, -0.001);
    add_pitch(s, "level", 0.400, to_radians(0.1), to_radians(0.3));
    const std::optional<FittedSetup> r = fit_model(s);
    REQUIRE((r && r->fit.used));
    const ErrorModel errors(r->setup, r->fit.narrowing);
    const auto n = static_cast<Eigen::Index>(errors.readings().size());
    const auto m = static_cast<Eigen::Index>(r->fit.narrowing.count);
    const Eigen::Map<const Eigen::Matrix<double, Eigen::Dynamic, Eigen::Dynamic, Eigen::RowMajor>> j(r->fit.narrowing.slopes.data(), m, n);
    Eigen::MatrixXd information = Eigen::MatrixXd::Identity(n, n);
    for (Eigen::Index k = 0; k < m; ++k) {
        const double error = r->fit.narrowing.errors[static_cast<std::size_t>(k)];
        information += j.row(k).transpose() * j.row(k) / (error * error);
    }
    const Eigen::MatrixXd covariance = information.inverse();
    std::vector<double> s1(static_cast<std::size_t>(n));
    for (std::size_t i = 0; i < s1.size(); ++i) s1[i] = std::sin(1.0 + static_cast<double>(i));
    const Eigen::Map<const Eigen::VectorXd> v(s1.data(), n);
    CHECK(errors.find_width(s1) == Approx(std::sqrt(v.dot(covariance * v))).epsilon(1e-9));
    CHECK(errors.find_width(s1) < ErrorModel(s).find_width(s1));
}

TEST_CASE("model fit: three distances leave half of the shaft's error or less, and the answer is of the fitted model", "[oracle]") {
    const Setup plain = with_usual_errors(make_setup_a());
    Setup s = plain;
    for (const double h : {0.210, 0.560, 0.940}) add_distance(s, h < 0.3 ? "low" : h < 0.6 ? "mid" : "high", h, 0.004);
    const Analysis before = analyze(plain, millimetre_mark), after = analyze(s, millimetre_mark);
    REQUIRE((after.fit && after.fit->used));
    CHECK((after.fit->equally.empty() && after.fit->cause == DirectCause::unknown));  // nothing is off
    const auto band = [](const Analysis& a, FindingKind kind) {
        const auto at = std::find_if(a.findings.begin(), a.findings.end(), [&](const Finding& f) { return f.kind == kind; });
        REQUIRE(at != a.findings.end());
        return at->band;
    };
    CHECK(band(after, FindingKind::gap_at_shortest) < 0.5 * band(before, FindingKind::gap_at_shortest));
    // All three 4 mm longer than computed: the shaft is, by nearly that.
    CHECK(after.shaft->travel.shortest.value - before.shaft->travel.shortest.value == Approx(0.004).margin(0.0006));
    CHECK(after.shaft->travel.longest.value - before.shaft->travel.longest.value == Approx(0.004).margin(0.0006));
}

TEST_CASE("model fit: the order of the readings is of no matter", "[metamorphic]") {
    Setup s = with_usual_errors(make_setup_a());
    add_distance(s, "low", 0.210, 0.002);
    add_distance(s, "mid", 0.560, -0.001);
    add_distance(s, "high", 0.940, 0.001);
    Setup turned = s;
    std::reverse(turned.direct_readings.begin(), turned.direct_readings.end());
    const ModelFit a = fit_model(s)->fit, b = fit_model(turned)->fit;
    for (const FittedReading& r : a.readings) {
        const auto same = std::find_if(b.readings.begin(), b.readings.end(), [&](const FittedReading& o) { return o.key == r.key; });
        REQUIRE(same != b.readings.end());
        CHECK(std::fabs(same->fitted - r.fitted) < 1e-9);
        CHECK(std::fabs(same->misfit - r.misfit) < 1e-6);
    }
}

TEST_CASE("model fit: readings that tell nothing of what may be off are not fitted", "[analytic]") {
    Setup s = make_setup_a();
    s.tractor.tyre.rear_width = known(0.400, 0.010);  // of no matter to a distance
    add_distance(s, "low", 0.210, 0.0);
    const std::optional<FittedSetup> r = fit_model(s);
    REQUIRE(r);
    CHECK_FALSE(r->fit.used);
    CHECK(r->fit.kept == 0);
}

TEST_CASE("model fit: a wrong reading is left out and not absorbed", "[analytic]") {
    Setup s = with_usual_errors(make_setup_a());
    for (const auto& [name, h] : {std::pair{"low", 0.210}, {"mid", 0.560}, {"high", 0.940}, {"work", 0.350}}) add_distance(s, name, h, 0.0);
    Setup wrong = s;
    wrong.direct_readings[1].distance.value += 6.0 * eighth;
    const ModelFit fit = fit_model(wrong)->fit;
    CHECK(fit.used);
    CHECK(fit.kept == 3);
    CHECK_FALSE(fit.readings[1].fits);
    CHECK(fit.cause == DirectCause::one_reading);
    CHECK(fit.subject == "direct_reading[mid]");
    // What is left says what the model said.
    for (const FittedReading& r : fit.readings) CHECK(std::fabs(r.fitted - r.predicted) < 1e-6);
    const Analysis a = analyze(wrong, millimetre_mark), without = analyze(s, millimetre_mark);
    CHECK(a.shaft->travel.shortest.bound == Approx(without.shaft->travel.shortest.bound).margin(1e-5));
    CHECK(a.verdict == Verdict::not_known);
}

TEST_CASE("model fit: a reading of the files that is off by many tolerances is named", "[analytic]") {
    Setup s = with_usual_errors(make_setup_a());
    for (const auto& [name, h] : {std::pair{"low", 0.210}, {"mid", 0.560}, {"high", 0.940}}) add_distance(s, name, h, 0.0);
    // Nothing else may take the blame: the stub alone has an error.
    visit_readings(s, [](const std::string& key, Reading& r, const FieldSpec&) {
        if (!key.starts_with("direct_reading")) r.tolerance = key == "tractor.pto.stub_x" ? 0.006 : 0.0;
    });
    s.tractor.pto.stub_x.value += 0.009;
    const Analysis a = analyze(s, millimetre_mark);
    REQUIRE(a.fit);
    const FittedInput* stub = find_input(*a.fit, "tractor.pto.stub_x");
    REQUIRE(a.fit->used);
    REQUIRE(stub != nullptr);
    CHECK(stub->beyond);
    CHECK(stub->fitted == Approx(stub->read - 0.009).margin(0.001));
    const auto f = std::find_if(a.findings.begin(), a.findings.end(), [](const Finding& x) { return x.kind == FindingKind::model_fit; });
    REQUIRE(f != a.findings.end());
    CHECK(f->severity == Severity::watch);
    CHECK(f->remedies.front().subject == "tractor.pto.stub_x");
}

TEST_CASE("model fit: the whole misfit speaks where each reading alone does not", "[analytic]") {
    Setup s = with_usual_errors(make_setup_a());
    // Two bands of all errors together: far from the model, near each other.
    for (const auto& [name, h] : {std::pair{"low", 0.210}, {"mid", 0.560}, {"high", 0.940}}) add_distance(s, name, h, 0.042);
    const ModelFit fit = fit_model(s)->fit;
    for (const FittedReading& r : fit.readings) CHECK(std::fabs(r.misfit) < misfit_limit);
    CHECK_FALSE(fit.used);
    CHECK(fit.inputs.empty());
    CHECK_FALSE(fit.equally.empty());
}

TEST_CASE("model fit: readings that are off together by more than all errors explain are not fitted, however alike", "[analytic]") {
    for (const double share : {0.95, 1.05}) {
        Setup s = with_usual_errors(make_setup_a());
        for (const auto& [name, h] : {std::pair{"low", 0.210}, {"high", 0.940}}) add_distance(s, name, h, 0.0);
        const FittedSetup as_computed = *fit_model(s);
        const double band = std::min(as_computed.fit.readings[0].band, as_computed.fit.readings[1].band);
        for (DirectReading& r : s.direct_readings) r.distance.value += share * direct_doubt * band;
        const ModelFit fit = fit_model(s)->fit;
        CAPTURE(share, band);
        for (const FittedReading& r : fit.readings) CHECK(std::fabs(r.misfit) < misfit_limit);
        CHECK(fit.misfit_sum < find_misfit_sum_limit(2));
        CHECK(fit.used == (share < 1.0));
    }
}

TEST_CASE("model fit: what is read besides distances is predicted as it is read", "[oracle]") {
    Setup s = make_setup_a();
    s.implement.points.push_back({"tail", known(1.5), known(0.3), Reading{}, false, {}});
    const MountedModel m = model_of(s);
    const double h = 0.45;
    const PlanarPose pose = solve_pose(m.linkage, h);
    const auto at = [&](DirectKind kind, double pitch = 0.0) { return predict_at({kind, {}, h, pitch, 0.0, "tail"}, {}, s, m); };
    CHECK(*at(DirectKind::pitch) == Approx(pose.pitch).margin(1e-12));
    CHECK(*at(DirectKind::tail_height) == Approx(h + 1.5 * std::sin(pose.pitch) + 0.3 * std::cos(pose.pitch)).margin(1e-12));
    CHECK(*at(DirectKind::upper_link_length, pose.pitch) == Approx(m.linkage.upper_length).margin(1e-9));
    CHECK(*at(DirectKind::lowest_ball_height) == Approx(m.travel.low).margin(1e-12));
    CHECK(*at(DirectKind::greatest_ball_height) == Approx(m.travel.high).margin(1e-12));
    CHECK_FALSE(predict_at({DirectKind::tail_height, {}, h, 0.0, 0.0, "no such"}, {}, s, m));
    CHECK_FALSE(predict_at({DirectKind::pitch, {}, 5.0, 0.0, 0.0, {}}, {}, s, m));
}

TEST_CASE("model fit: the chance that an error is caught is that of a shifted normal", "[random]") {
    CHECK(find_chance_caught(0.0) == Approx(0.001).epsilon(0.01));
    CHECK(find_chance_caught(misfit_limit) == Approx(0.5).margin(1e-6));
    CHECK(find_chance_caught(misfit_limit + 1.6449) == Approx(0.95).margin(1e-4));
    CHECK(find_chance_caught(-4.0) == find_chance_caught(4.0));
}

TEST_CASE("model fit: one reading alone cannot be checked, and another at the far end would", "[analytic]") {
    Setup s = with_usual_errors(make_setup_a());
    add_distance(s, "low", 0.210, 0.0);
    const ModelFit fit = fit_model(s)->fit;
    REQUIRE(fit.readings[0].chance_caught < checkable_chance);
    REQUIRE(fit.would_check);
    const NextReading& check = *fit.would_check;
    CHECK(check.kind == DirectKind::shaft_length);
    CHECK(check.chance_caught > fit.readings[0].chance_caught);
    // With it taken, the chance is what was promised.
    add_distance(s, "check", check.ball_height, 0.0, eighth, eighth);
    s.direct_readings.back().distance.tolerance = check.error;
    CHECK(fit_model(s)->fit.readings[0].chance_caught == Approx(check.chance_caught).margin(0.01));
}

TEST_CASE("model fit: a reading is checked on the machine, not by what is doubtful in the files once more", "[analytic]") {
    Setup s = make_setup_a();
    s.implement.pic.x.tolerance = 0.030;
    add_distance(s, "low", 0.210, 0.0);
    const ModelFit fit = fit_model(s)->fit;
    REQUIRE(fit.would_check);
    CHECK_FALSE(fit.would_check->again);
}

TEST_CASE("model fit: chi-square limits are those of the tables", "[handbook]") {
    // Upper 0.1 % points: Abramowitz and Stegun, table 26.8: 10.828, 13.816, 16.266, 20.515, 29.588 (1, 2, 3, 5, 10 degrees).
    CHECK(find_misfit_sum_limit(1) == Approx(10.828).margin(0.001));
    CHECK(find_misfit_sum_limit(2) == Approx(13.816).margin(0.001));
    CHECK(find_misfit_sum_limit(3) == Approx(16.266).margin(0.001));
    CHECK(find_misfit_sum_limit(5) == Approx(20.515).margin(0.001));
    CHECK(find_misfit_sum_limit(10) == Approx(29.588).margin(0.001));
}

TEST_CASE("model fit: other parts and holes are asked of the fitted model", "[analytic]") {
    Setup s = with_usual_errors(make_setup_a());
    for (const auto& [name, h] : {std::pair{"low", 0.210}, {"mid", 0.560}, {"high", 0.940}}) add_distance(s, name, h, 0.004);
    const Setup fitted = apply_fit(s);
    CHECK(fitted.direct_readings.empty());
    const double before = find_middle_distance(s), after = find_middle_distance(fitted);
    CHECK(after - before == Approx(0.004).margin(0.0006));
    // Nothing to fit, nothing changed.
    const Setup plain = make_setup_a();
    CHECK(apply_fit(plain) == plain);
}

TEST_CASE("model fit: a drawn machine is fitted to distances straight on and in turns", "[oracle]") {
    Setup s = make_drawn_setup();
    visit_readings(s, [](const std::string&, Reading& r, const FieldSpec& spec) {
        if (r.known) r.tolerance = spec.tolerance;
    });
    const Analysis before = analyze(s, millimetre_mark);
    REQUIRE((before.drawn && before.drawn->model.has_shaft));
    const DrawnModel m = before.drawn->model;
    for (const double turn : {0.0, m.box.yaw.low, m.box.yaw.high}) {
        // Straight on: the distance of the joint centres as the driveline's own state has it.
        const double distance = find_drawn_state(m, {m.level_pitch, 0.0, turn}).shaft.length + 0.004;
        s.turn_readings.push_back({std::to_string(s.turn_readings.size()), known(turn, to_radians(0.3)), known(distance, eighth), LengthReference::joint_centres});
    }
    const Analysis after = analyze(s, millimetre_mark);
    REQUIRE((after.fit && after.fit->used));
    for (const FittedReading& r : after.fit->readings) {
        CHECK(r.read - r.predicted == Approx(0.004).margin(1e-9));
        CHECK(std::fabs(r.read - r.fitted) < 0.002);
    }
    CHECK(after.drawn->straight.length - before.drawn->straight.length == Approx(0.004).margin(0.0012));
    // The pin in another position explains distances that are off by what lies between the positions.
    Setup moved = s;
    moved.tractor.drawbar_pins.push_back(moved.tractor.drawbar_pins[m.pin]);
    moved.tractor.drawbar_pins.back().name = "farther";
    moved.tractor.drawbar_pins.back().length.value += 0.100;
    for (TurnReading& r : moved.turn_readings) {
        DrawnModel other = with_drawbar_length(m, m.drawbar_length + 0.100);
        r.distance.value = find_drawn_state(other, {other.level_pitch, 0.0, r.turn.value}).shaft.length;
    }
    moved.choices.drawn.drawbar_pin = s.tractor.drawbar_pins[m.pin].name;
    const ModelFit wrong = fit_model(moved)->fit;
    CHECK_FALSE(wrong.used);
    CHECK(wrong.cause == DirectCause::drawbar_pin);
    CHECK(wrong.subject == "farther");
}
