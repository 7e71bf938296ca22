// See direct_travel.h.
#include "geometry/direct_travel.h"
#include "geometry/standing_tractor.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include <Eigen/Core>
#include <Eigen/LU>

namespace hitchwright {
namespace {

constexpr double least_range = 0.050;
/// Heights nearer than this are one height, m (1/8 in).
constexpr double same_height = 0.0254 / 8.0;

/// y(t) = a + b t + c t^2 with t from -1 at the lowest to 1 at the highest reading; weights of each reading in it.
class SquareCurve {
public:
    SquareCurve(const std::vector<double>& heights, const std::vector<double>& squares)
        : middle_(0.5 * (heights.front() + heights.back())), half_(0.5 * (heights.back() - heights.front())) {
        Eigen::Matrix3d normal = Eigen::Matrix3d::Zero();
        for (const double h : heights) normal += row(h) * row(h).transpose();
        inverse_ = normal.inverse();
        for (std::size_t i = 0; i < heights.size(); ++i) abc_ += inverse_ * row(heights[i]) * squares[i];
    }

    double at(double h) const { return row(h).dot(abc_); }
    double slope(double h) const { return (abc_[1] + 2.0 * abc_[2] * (h - middle_) / half_) / half_; }
    /// Share of a reading at `of` in the curve at `h`.
    double weight(double h, double of) const { return row(h).dot(inverse_ * row(of)); }
    std::optional<double> vertex() const {
        if (abc_[2] == 0.0) return std::nullopt;
        const double t = -0.5 * abc_[1] / abc_[2];
        return std::fabs(t) < 1.0 ? std::optional<double>(middle_ + t * half_) : std::nullopt;
    }

private:
    Eigen::Vector3d row(double h) const {
        const double t = (h - middle_) / half_;
        return {1.0, t, t * t};
    }

    double middle_, half_;
    Eigen::Matrix3d inverse_;
    Eigen::Vector3d abc_ = Eigen::Vector3d::Zero();
};

DirectStatus check_heights(const std::vector<double>& h) {
    if (h.size() < 3) return DirectStatus::too_few;
    const double low = h.front(), range = h.back() - h.front();
    if (range < least_range) return DirectStatus::range_too_small;
    std::size_t places = 1;
    for (std::size_t i = 1; i < h.size(); ++i) places += h[i] - h[i - 1] > same_height ? 1U : 0U;
    if (places < 3) return DirectStatus::too_few;
    const bool middle = std::any_of(h.begin(), h.end(), [&](double x) { return std::fabs(x - low - 0.5 * range) <= 0.25 * range; });
    return middle ? DirectStatus::ok : DirectStatus::no_middle;
}

/// Least or greatest length, from the readings at one end of what they may mean.
class ExtremeSearch {
public:
    ExtremeSearch(const std::vector<DirectPoint>& points, bool least) : points_(points), least_(least), curve_(make_curve(points)) {}

    DirectExtreme run() {
        DirectExtreme best;
        for (std::size_t i = 0; i < points_.size(); ++i) {
            const DirectPoint& p = points_[i];
            if (i == 0 || better(p.length, best.length)) best = {p.length, p.height, find_reading_error(p), true};
        }
        const std::optional<double> v = curve_.vertex();
        const double square = v ? curve_.at(*v) : 0.0;
        if (square > 0.0 && better(std::sqrt(square), best.length)) best = {std::sqrt(square), *v, find_curve_error(*v), false};
        // Also beside a reading that is the extreme the curve may go a little farther.
        best.error = std::hypot(best.error, curve_allowance);
        return best;
    }

    double find_reading_error(const DirectPoint& p) const {
        return std::hypot(p.error, 0.5 * curve_.slope(p.height) / p.length * p.height_error);
    }
    double off(const DirectPoint& p) const {
        const double square = curve_.at(p.height);
        return points_.size() > 3 && square > 0.0 ? p.length - std::sqrt(square) : 0.0;
    }

private:
    static SquareCurve make_curve(const std::vector<DirectPoint>& points) {
        std::vector<double> heights, squares;
        for (const DirectPoint& p : points) {
            heights.push_back(p.height);
            squares.push_back(p.length * p.length);
        }
        return {heights, squares};
    }
    bool better(double a, double b) const { return least_ ? a < b : a > b; }

    double find_curve_error(double h) const {
        const double length = std::sqrt(curve_.at(h));
        double sum = 0.0;
        for (const DirectPoint& p : points_) {
            const double share = curve_.weight(h, p.height) * p.length / length * find_reading_error(p);
            sum += share * share;
        }
        return std::sqrt(sum);
    }

    const std::vector<DirectPoint>& points_;
    bool least_;
    SquareCurve curve_;
};

std::vector<double> list_heights(const std::vector<DirectPoint>& points) {
    std::vector<double> h;
    h.reserve(points.size());
    for (const DirectPoint& p : points) h.push_back(p.height);
    return h;
}

/// Both ends of what the readings may mean, in rising height.
DirectTravel fit_both(const std::vector<DirectPoint>& least, const std::vector<DirectPoint>& most, const std::vector<std::string>& names) {
    DirectTravel t;
    t.status = check_heights(list_heights(least));
    const auto possible = [](const DirectPoint& p) { return std::isfinite(p.length) && p.length > 0.0; };
    if (!std::all_of(least.begin(), least.end(), possible)) t.status = DirectStatus::impossible;
    if (t.status != DirectStatus::ok) return t;
    ExtremeSearch shortest(least, true), longest(most, false);
    t.shortest = shortest.run();
    t.longest = longest.run();
    for (std::size_t i = 0; i < least.size(); ++i) {
        const double error = longest.find_reading_error(most[i]), off = longest.off(most[i]);
        t.lengths.push_back({names[i], least[i].height, least[i].length, most[i].length, error, off});
        const bool rough = std::fabs(off) > std::hypot(error, curve_allowance);
        if (rough && (!t.rough || std::fabs(off) > std::fabs(t.lengths[t.roughest].off))) t.roughest = i;
        t.rough = t.rough || rough;
    }
    return t;
}

/// What lies between the point taped and the joint centre at one end, along the shaft when straight; empty: not known.
const Reading* find_distance(const JointReadings& joint, LengthReference reference) {
    static const Reading none = make_reading(0.0, Origin::computed);
    switch (reference) {
        case LengthReference::joint_centres: return &none;
        case LengthReference::locking_grooves: return &joint.centre_to_groove;
        case LengthReference::shaft_ends: return &joint.offset;
    }
    return &none;
}

class DirectReader {
public:
    DirectReader(const Setup& setup, double bend_most) : setup_(setup), bent_(std::cos(bend_most)) {}

    DirectTravel run() {
        DirectTravel t;
        if (setup_.direct_readings.empty()) return t;
        const Driveline& d = setup_.driveline;
        const bool wide = d.tractor_joint.kind == JointKind::wide_angle || d.implement_joint.kind == JointKind::wide_angle;
        t.status = wide ? DirectStatus::wide_angle : DirectStatus::ok;
        if (wide) return t;
        if (!read()) {
            t.status = DirectStatus::distance_missing;
            t.missing = missing_;
            return t;
        }
        t = fit_both(least_, most_, names_);
        if (t.status == DirectStatus::ok) compare_with_travel(t);
        return t;
    }

private:
    bool read() {
        std::vector<const DirectReading*> readings;
        for (const DirectReading& r : setup_.direct_readings) readings.push_back(&r);
        std::stable_sort(readings.begin(), readings.end(),
                         [](const DirectReading* a, const DirectReading* b) { return a->ball_height.value < b->ball_height.value; });
        for (const DirectReading* r : readings) {
            DirectPoint least{r->ball_height.value, r->distance.value, r->distance.tolerance, r->ball_height.tolerance};
            DirectPoint most = least;
            add_end("driveline.tractor_joint.", setup_.driveline.tractor_joint, r->reference, least, most);
            add_end("driveline.implement_joint.", setup_.driveline.implement_joint, r->reference, least, most);
            least_.push_back(least);
            most_.push_back(most);
            names_.push_back(r->name);
        }
        return missing_.empty();
    }

    void add_end(const char* end, const JointReadings& joint, LengthReference reference, DirectPoint& least, DirectPoint& most) {
        const Reading* away = find_distance(joint, reference);
        if (!away->known) {
            const std::string key = std::string(end) + (reference == LengthReference::shaft_ends ? "offset" : "centre_to_groove");
            if (std::find(missing_.begin(), missing_.end(), key) == missing_.end()) missing_.push_back(key);
            return;
        }
        const double bent = away->value * bent_;
        least.length -= std::max(away->value, bent);
        most.length -= std::min(away->value, bent);
        least.error = most.error = std::hypot(least.error, away->tolerance);
    }

    /// Stops and the typed travel against the readings' ends.
    void compare_with_travel(DirectTravel& t) const {
        const StandingSetup on(setup_);
        const TravelReadings& travel = on->tractor.travel;
        const Choices& c = setup_.choices;
        const Reading& low = c.lower_stop.known ? c.lower_stop : travel.ball_height_low;
        const Reading& high = c.lift_stop.known ? c.lift_stop : travel.ball_height_high;
        t.travel_assumed = !low.known || !high.known;
        const double below = low.known ? t.lengths.front().height - low.value : 0.0;
        const double above = high.known ? high.value - t.lengths.back().height : 0.0;
        t.missed_high = above > below;
        t.missed_by = std::max(below, above);
        if (t.missed_by > travel_end_slack) t.status = DirectStatus::misses_travel;
    }

    const Setup& setup_;
    double bent_;
    std::vector<DirectPoint> least_, most_;
    std::vector<std::string> names_, missing_;
};

}  // namespace

DirectTravel fit_direct_points(const std::vector<DirectPoint>& points) {
    return fit_both(points, points, std::vector<std::string>(points.size()));
}

DirectTravel find_direct_travel(const Setup& setup, double bend_most) { return DirectReader(setup, bend_most).run(); }

}  // namespace hitchwright
