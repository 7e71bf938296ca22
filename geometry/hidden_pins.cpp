// See hidden_pins.h.
#include "geometry/hidden_pins.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "geometry/lower_link.h"
#include "geometry/setup_fields.h"

namespace hitchwright {
namespace {

/// A tolerance below this (m, 0.01 mm) is no reading's; a file may state 0.
constexpr double least_tolerance = 1.0e-5;
/// Two residuals nearer than this share cannot be told apart: which of the readings is wrong stays open.
constexpr double alike = 0.02;
/// How far the rod's pin may stand off the link's line when nobody measured it, m (1/4 in, judgement).
constexpr double usual_pin_offset = field::inch / 4;

double find_sigma(const Reading& r, double usual = 0.0) {
    const double tolerance = r.tolerance > 0.0 ? r.tolerance : usual;
    return 0.5 * std::max(tolerance, least_tolerance);
}

/// Only what somebody read of this machine, or its manual says, counts beside the ball readings.
bool is_taped(const Reading& r) { return r.known && (r.origin == Origin::measured || r.origin == Origin::manual); }

/// A manual's figure without an error is trusted as far as a tape would be.
std::optional<NormalPrior> make_prior(const Reading& r, double usual) {
    if (!is_taped(r)) return std::nullopt;
    return NormalPrior{r.value, find_sigma(r, r.origin == Origin::manual ? usual : 0.0)};
}

Reading make_computed(double value, double tolerance) { return make_reading(value, Origin::computed, tolerance); }

bool has_spreads(const LowerLinkReadings& l) { return l.half_spread_at_pivot.known && l.half_spread_at_ball.known; }

double find_lateral(const LowerLinkReadings& l) { return l.half_spread_at_ball.value - l.half_spread_at_pivot.value; }

CirclePriors make_pivot_priors(const LowerLinkReadings& l) {
    CirclePriors p;
    p.x = make_prior(l.pivot_x, field::hidden_error);
    p.z = make_prior(l.pivot_z, field::inch / 4);
    const std::optional<NormalPrior> length = make_prior(l.length, field::floor_error);
    if (!length || !has_spreads(l)) return p;
    const ProjectedLength projected = project_length(LinkagePart::lower_link, length->mean, find_lateral(l));
    if (projected.closure.closes()) p.radius = NormalPrior{projected.length, length->sigma * length->mean / projected.length};
    return p;
}

std::vector<CirclePoint> make_points(const std::vector<BallReading>& readings, const std::vector<bool>& left_out) {
    std::vector<CirclePoint> points;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const BallReading& b = readings[i];
        if (left_out[i]) continue;
        points.push_back({Point(b.x.value, b.z.value), find_sigma(b.x), find_sigma(b.z)});
    }
    return points;
}

class PivotFit {
public:
    PivotFit(const Tractor& tractor, HiddenPins& pins)
        : readings_(tractor.ball_readings), priors_(make_pivot_priors(tractor.lower_link)), pins_(pins) {}

    void fit_as_decided(const PinDecision& decided) {
        pins_.decision.left_out = decided.left_out;
        pins_.decision.tape_left_out = decided.tape_left_out;
        if (decided.tape_left_out[0]) priors_.x.reset();
        if (decided.tape_left_out[1]) priors_.z.reset();
        if (decided.tape_left_out[2]) priors_.radius.reset();
        fit(decided.left_out);
    }

    /// Leaves out what was taped and contradicts the ball readings, where these say enough by themselves; then ball readings.
    void fit_and_judge() {
        const CirclePriors taped = std::exchange(priors_, {});
        judge_readings();
        const CircleFit alone = pins_.pivot;
        const bool certain = alone.status == CircleFitStatus::ok && !pins_.one_is_wrong;
        priors_ = taped;
        for (int member = 0; member < 3; ++member) {
            std::optional<NormalPrior>& prior = member == 0 ? priors_.x : member == 1 ? priors_.z : priors_.radius;
            if (!certain || !prior) continue;
            const double sigma = std::hypot(prior->sigma, 0.5 * alone.error(member));
            const double value = member == 2 ? alone.radius : alone.centre[member];
            if (std::fabs(prior->mean - value) <= residual_doubt * sigma) continue;
            pins_.decision.tape_left_out[static_cast<std::size_t>(member)] = true;
            prior.reset();
        }
        judge_readings();
    }

    void check_readings() {
        std::size_t kept = 0;
        for (std::size_t i = 0; i < readings_.size(); ++i) {
            if (!pins_.decision.left_out[i]) pins_.readings.push_back(pins_.pivot.checks.at(kept++));
            else pins_.readings.push_back(check_left_out(readings_[i]));
        }
    }

private:
    void fit(const std::vector<bool>& left_out) {
        pins_.decision.left_out = left_out;
        pins_.pivot = fit_circle(make_points(readings_, left_out), priors_);
    }

    /// Leaves out the worst reading as long as one stands alone as wrong and enough are left.
    void judge_readings() {
        pins_.one_is_wrong = false;
        fit(std::vector<bool>(readings_.size(), false));
        while (pins_.pivot.status == CircleFitStatus::ok) {
            const std::vector<std::size_t> doubted = find_doubted_points(pins_.pivot);
            if (doubted.empty()) break;
            if (!stands_alone(doubted)) {
                pins_.one_is_wrong = true;
                break;
            }
            std::vector<bool> left_out = pins_.decision.left_out;
            left_out[find_reading(doubted.front())] = true;
            const HiddenPins before = pins_;
            fit(left_out);
            if (pins_.pivot.status == CircleFitStatus::ok) continue;
            pins_ = before;
            pins_.one_is_wrong = true;
            break;
        }
    }

    /// True when the worst residual is clearly the worst and the rest still checks itself.
    bool stands_alone(const std::vector<std::size_t>& doubted) const {
        const std::vector<FitCheck>& checks = pins_.pivot.checks;
        const double worst = std::fabs(checks[doubted.front()].normalised);
        for (std::size_t i = 0; i < checks.size(); ++i) {
            if (i != doubted.front() && std::fabs(checks[i].normalised) > (1.0 - alike) * worst) return false;
        }
        return pins_.pivot.freedom >= 2;
    }

    /// Index among all readings of the fit's point `point`.
    std::size_t find_reading(std::size_t point) const {
        std::size_t i = 0;
        for (;; ++i) {
            if (pins_.decision.left_out[i]) continue;
            if (point == 0) return i;
            --point;
        }
    }

    /// Against the circle of the others, whose own error counts too.
    FitCheck check_left_out(const BallReading& b) const {
        const Point away = Point(b.x.value, b.z.value) - pins_.pivot.centre;
        const Point n = away / away.norm();
        const Eigen::Vector3d slope(-n.x(), -n.y(), -1.0);
        const double own = std::hypot(n.x() * find_sigma(b.x), n.y() * find_sigma(b.z));
        const double sigma = std::sqrt(own * own + slope.dot(pins_.pivot.covariance * slope));
        FitCheck check;
        check.checked = true;
        check.off = away.norm() - pins_.pivot.radius;
        check.allowed = 2.0 * sigma;
        check.normalised = check.off / sigma;
        return check;
    }

    const std::vector<BallReading>& readings_;
    CirclePriors priors_;
    HiddenPins& pins_;
};

void set_pivot_values(const LowerLinkReadings& l, HiddenPins& pins) {
    const CircleFit& f = pins.pivot;
    pins.pivot_x = make_computed(f.centre.x(), f.error(0));
    pins.pivot_z = make_computed(f.centre.y(), f.error(1));
    pins.projected_length = make_computed(f.radius, f.error(2));
    if (!has_spreads(l)) return;
    const double lateral = find_lateral(l), length = std::hypot(f.radius, lateral);
    const double spread = std::hypot(l.half_spread_at_ball.tolerance, l.half_spread_at_pivot.tolerance);
    pins.length = make_computed(length, std::hypot(f.radius * f.error(2), lateral * spread) / length);
}

/// A taped value left out of the fit, against the fit.
FitCheck compare_left_out(const NormalPrior& prior, double value, double error) {
    FitCheck check;
    check.checked = true;
    check.off = prior.mean - value;
    check.allowed = std::hypot(2.0 * prior.sigma, error);
    check.normalised = 2.0 * check.off / check.allowed;
    return check;
}

void compare_with_tape(const Tractor& tractor, HiddenPins& pins) {
    const CircleFit& f = pins.pivot;
    const CirclePriors priors = make_pivot_priors(tractor.lower_link);
    const auto compare = [&](const char* key, std::size_t member, const std::optional<NormalPrior>& prior, double value, FitCheck check) {
        if (!prior) return;
        const bool left_out = pins.decision.tape_left_out[member];
        if (left_out) check = compare_left_out(*prior, value, f.error(static_cast<int>(member)));
        if (!check.checked) return;
        pins.taped.push_back({key, check.off, check.allowed, !left_out && std::fabs(check.normalised) <= residual_doubt});
    };
    compare("tractor.lower_link.pivot_x", 0, priors.x, f.centre.x(), f.check_x);
    compare("tractor.lower_link.pivot_z", 1, priors.z, f.centre.y(), f.check_z);
    compare("tractor.lower_link.length", 2, priors.radius, f.radius, f.check_radius);
}

void fit_pivot(const Tractor& tractor, const PinDecision* decided, HiddenPins& pins) {
    PivotFit fit(tractor, pins);
    if (decided) fit.fit_as_decided(*decided);
    else fit.fit_and_judge();
    // The ball stands behind its pivot on every three-point linkage; a circle bent the other way is a misreading.
    bool behind = pins.pivot.converged;
    for (const BallReading& b : tractor.ball_readings) behind = behind && b.x.value > pins.pivot.centre.x();
    if (!behind && pins.pivot.status == CircleFitStatus::ok) pins.pivot.status = CircleFitStatus::too_straight;
    const bool sound = pins.pivot.status == CircleFitStatus::ok;
    pins.decision.use_pivot = decided ? decided->use_pivot && pins.pivot.converged && behind : sound;
    if (!pins.decision.use_pivot) return;
    fit.check_readings();
    set_pivot_values(tractor.lower_link, pins);
    compare_with_tape(tractor, pins);
}

/// The arm end seen from the link, for each reading with an arm angle.
std::vector<CirclePoint> make_arm_points(const Tractor& t, const Point& pivot, const std::vector<bool>& left_out) {
    const LiftArmReadings& a = t.lift_arm;
    std::vector<CirclePoint> points;
    for (std::size_t i = 0; i < t.ball_readings.size(); ++i) {
        const BallReading& b = t.ball_readings[i];
        if (left_out[i] || !b.arm_angle.known) continue;
        const Point link = Point(b.x.value, b.z.value) - pivot;
        const Point end = Point(a.pivot_x.value, a.pivot_z.value) + a.length.value * unit_vector(b.arm_angle.value);
        // The arm's angle moves E along its circle, the ball's height turns the link under it. What all readings share
        // (arm pivot, arm length) is left to find_rod_errors.
        const double turn = find_sigma(b.z) / link.norm() * (end - pivot).norm();
        const double sigma = std::max(std::hypot(a.length.value * 0.5 * b.arm_angle.tolerance, turn), 0.5 * least_tolerance);
        points.push_back({rotate(Point(end - pivot), -direction(link)), sigma, sigma});
    }
    return points;
}

struct RodGeometry {
    Reading length, along, off;
    bool possible = false;
};

/// Projected values back to lengths in space.
RodGeometry make_rod(const Tractor& t, const CircleFit& f, double length, double projected) {
    RodGeometry rod;
    const double along = f.centre.x() * length / projected;
    const double at_pin = t.lower_link.half_spread_at_pivot.value + find_lateral(t.lower_link) * along / length;
    const double lateral = t.lift_arm.half_spread.value - at_pin;
    rod.length = make_computed(std::hypot(f.radius, lateral), f.error(2));
    rod.along = make_computed(along, f.error(0) * length / projected);
    rod.off = make_computed(f.centre.y(), f.error(1));
    rod.possible = along > 0.0 && f.radius > 0.0;
    return rod;
}

CirclePriors make_rod_priors(const Tractor& t, double length, double projected) {
    CirclePriors p;
    p.x = make_prior(t.lift_rod.pin_along_link, field::floor_error);
    if (p.x) p.x = NormalPrior{p.x->mean * projected / length, p.x->sigma * projected / length};
    p.z = make_prior(t.lift_rod.pin_off_link, field::floor_error);
    if (!p.z) p.z = NormalPrior{t.lift_rod.pin_off_link.value_or(0.0), 0.5 * usual_pin_offset};
    const std::optional<NormalPrior> rod = make_prior(t.lift_rod.length, field::pin_error);
    if (!rod || !p.x) return p;  // without the pin's place the rod's slant is not known
    const double at_pin = t.lower_link.half_spread_at_pivot.value + find_lateral(t.lower_link) * p.x->mean / projected;
    const ProjectedLength seen = project_lift_rod(rod->mean, t.lift_arm.half_spread.value, at_pin);
    if (seen.closure.closes()) p.radius = NormalPrior{seen.length, rod->sigma * rod->mean / seen.length};
    return p;
}

RodStatus find_rod_status(const Tractor& t, const HiddenPins& pins) {
    const LiftArmReadings& a = t.lift_arm;
    if (pins.arm_angles == 0) return RodStatus::not_asked;
    if (!a.pivot_x.known || !a.pivot_z.known || !a.length.known || !a.half_spread.known || !has_spreads(t.lower_link)) {
        return RodStatus::arm_unknown;
    }
    const LowerLinkReadings& l = t.lower_link;
    if (!pins.decision.use_pivot && !(l.pivot_x.known && l.pivot_z.known && l.length.known)) return RodStatus::pivot_unknown;
    return pins.arm_angles < 3 ? RodStatus::too_few : RodStatus::ok;
}

void fit_rod(const Tractor& t, const PinDecision* decided, HiddenPins& pins) {
    for (std::size_t i = 0; i < t.ball_readings.size(); ++i) {
        if (t.ball_readings[i].arm_angle.known && !pins.decision.left_out[i]) ++pins.arm_angles;
    }
    pins.rod_status = find_rod_status(t, pins);
    if (pins.rod_status != RodStatus::ok) return;
    const bool fitted = pins.decision.use_pivot;
    const LowerLinkReadings& l = t.lower_link;
    const Point pivot = fitted ? pins.pivot.centre : Point(l.pivot_x.value, l.pivot_z.value);
    const double length = fitted ? pins.length.value : l.length.value;
    const double projected = fitted ? pins.pivot.radius : project_length(LinkagePart::lower_link, length, find_lateral(l)).length;
    if (!(projected > 0.0)) {
        pins.rod_status = RodStatus::impossible;
        return;
    }
    pins.rod = fit_circle(make_arm_points(t, pivot, pins.decision.left_out), make_rod_priors(t, length, projected));
    const bool sound = pins.rod.status == CircleFitStatus::ok;
    if (!sound) pins.rod_status = RodStatus::too_straight;
    if (!(decided ? decided->use_rod && pins.rod.converged : sound)) return;
    const RodGeometry rod = make_rod(t, pins.rod, length, projected);
    if (!rod.possible) {
        pins.rod_status = RodStatus::impossible;
        return;
    }
    pins.decision.use_rod = true;
    pins.rod_length = rod.length;
    pins.rod_pin_along = rod.along;
    pins.rod_pin_off = rod.off;
}

/// Calls use(reading) for every reading the rod rests on.
template <class F>
void visit_rod_readings(Tractor& t, F&& use) {
    LowerLinkReadings& l = t.lower_link;
    LiftArmReadings& a = t.lift_arm;
    LiftRodReadings& r = t.lift_rod;
    for (Reading* reading : {&l.pivot_x, &l.pivot_z, &l.length, &l.half_spread_at_pivot, &l.half_spread_at_ball, &a.pivot_x,
                             &a.pivot_z, &a.length, &a.half_spread, &r.length, &r.pin_along_link, &r.pin_off_link}) {
        use(*reading);
    }
    for (BallReading& b : t.ball_readings) {
        use(b.x);
        use(b.z);
        use(b.arm_angle);
    }
}

}  // namespace

HiddenPins find_hidden_pins(const Tractor& tractor, const PinDecision* decided) {
    HiddenPins pins;
    pins.asked = !tractor.ball_readings.empty();
    if (!pins.asked) return pins;
    pins.decision.left_out.assign(tractor.ball_readings.size(), false);
    if (decided && decided->left_out.size() != tractor.ball_readings.size()) decided = nullptr;
    for (const BallReading& b : tractor.ball_readings) {
        if (!b.x.known || !b.z.known) return pins;
    }
    fit_pivot(tractor, decided, pins);
    fit_rod(tractor, decided, pins);
    return pins;
}

Tractor apply_hidden_pins(const Tractor& tractor, const HiddenPins& pins) {
    Tractor t = tractor;
    if (pins.decision.use_pivot) {
        t.lower_link.pivot_x = pins.pivot_x;
        t.lower_link.pivot_z = pins.pivot_z;
        if (pins.length.known) t.lower_link.length = pins.length;
    }
    if (pins.decision.use_rod) {
        t.lift_rod.length = pins.rod_length;
        t.lift_rod.pin_along_link = pins.rod_pin_along;
        t.lift_rod.pin_off_link = pins.rod_pin_off;
    }
    return t;
}

void find_rod_errors(const Tractor& tractor, HiddenPins& pins) {
    if (!pins.decision.use_rod) return;
    Eigen::Vector3d squares = Eigen::Vector3d::Zero();
    const auto values = [](const HiddenPins& p) {
        return Eigen::Vector3d(p.rod_length.value, p.rod_pin_along.value, p.rod_pin_off.value);
    };
    Tractor moved = tractor;
    visit_rod_readings(moved, [&](Reading& r) {
        if (!r.known || r.tolerance <= 0.0) return;
        const double value = r.value;
        r.value = value + r.tolerance;
        const Eigen::Vector3d up = values(find_hidden_pins(moved, &pins.decision));
        r.value = value - r.tolerance;
        const Eigen::Vector3d share = 0.5 * (up - values(find_hidden_pins(moved, &pins.decision)));
        r.value = value;
        squares += share.cwiseAbs2();
    });
    // Nobody read how far the pin stands off the line: that doubt belongs to no reading.
    if (!tractor.lift_rod.pin_off_link.known) {
        const Eigen::Vector3d by_offset = pins.rod.covariance.col(1) / pins.rod.covariance(1, 1) * usual_pin_offset;
        const double kept = std::min(1.0, pins.rod.error(1) / usual_pin_offset);
        squares += Eigen::Vector3d(by_offset[2], by_offset[0], by_offset[1]).cwiseAbs2() * kept * kept;
    }
    pins.rod_length.tolerance = std::sqrt(squares[0]);
    pins.rod_pin_along.tolerance = std::sqrt(squares[1]);
    pins.rod_pin_off.tolerance = std::sqrt(squares[2]);
}

}  // namespace hitchwright
