#include "geometry/candidate_readings.h"

#include <algorithm>
#include <cmath>

#include "geometry/direct_place.h"
#include "geometry/field_spec.h"

namespace hitchwright {
namespace {

/// Heights nearer than this are one, m.
constexpr double same_height = 0.05;

std::vector<double> list_heights(const MountedModel& m) {
    std::vector<double> heights{m.travel.low, m.travel.high};
    const auto add = [&](double h) {
        const bool near = std::any_of(heights.begin(), heights.end(), [&](double there) { return std::fabs(there - h) < same_height; });
        if (!near && m.travel.contains(h)) heights.push_back(h);
    };
    if (m.has_working_height) add(m.working_height);
    add(0.5 * (m.travel.low + m.travel.high));
    return heights;
}

std::vector<DirectPlace> list_places(const Setup& s, const MountedModel& m) {
    std::vector<DirectPlace> places;
    const auto& points = s.implement.points;
    const auto rearmost = std::max_element(points.begin(), points.end(), [](const ImplementPoint& a, const ImplementPoint& b) { return a.x.value < b.x.value; });
    for (const double h : list_heights(m)) {
        if (m.has_shaft) places.push_back({DirectKind::shaft_length, LengthReference::joint_centres, h, 0.0, {}});
        places.push_back({DirectKind::pitch, {}, h, 0.0, {}});
        if (rearmost != points.end()) places.push_back({DirectKind::tail_height, {}, h, 0.0, rearmost->name});
    }
    if (m.has_working_height) places.push_back({DirectKind::upper_link_length, {}, m.working_height, m.working_pitch, {}});
    places.push_back({DirectKind::lowest_ball_height, {}, 0.0, 0.0, {}});
    places.push_back({DirectKind::greatest_ball_height, {}, 0.0, 0.0, {}});
    return places;
}

bool has_height(DirectKind kind) { return kind != DirectKind::lowest_ball_height && kind != DirectKind::greatest_ball_height; }

/// Error of the reading with that of the height it is taken at, and of the pitch a link is measured at.
double find_error(DirectPlace p, const Setup& s, const MountedModel& m) {
    const double own = find_usual_error(p.kind);
    if (!has_height(p.kind)) return own;
    const auto half_change = [&](double& part, double by) {
        const double was = part;
        part = was + by;
        const std::optional<double> more = predict_at(p, {}, s, m);
        part = was - by;
        const std::optional<double> less = predict_at(p, {}, s, m);
        part = was;
        return more && less ? 0.5 * (*more - *less) : 0.0;
    };
    const double by_height = half_change(p.ball_height, field::floor_error);
    return std::hypot(own, by_height, p.kind == DirectKind::upper_link_length ? half_change(p.pitch, field::angle_error) : 0.0);
}

void add_places(const ErrorModel& errors, const MountedModel& m, std::vector<CandidateReading>& out) {
    const std::vector<DirectPlace> places = list_places(errors.setup(), m);
    const auto predict = [&](const Setup& moved) {
        std::vector<std::optional<double>> all(places.size());
        const MountedModelResult r = make_mounted_model(moved, &m.pin_decision, RangeSearch::none);
        if (!r.linkage_ok) return all;
        for (std::size_t i = 0; i < places.size(); ++i) all[i] = predict_at(places[i], {}, moved, r.model);
        return all;
    };
    const std::vector<std::optional<double>> now = predict(errors.setup());
    std::vector<CandidateReading> found(places.size());
    std::vector<bool> possible(places.size());
    for (std::size_t i = 0; i < places.size(); ++i) {
        possible[i] = now[i].has_value();
        const DirectPlace& p = places[i];
        found[i] = {{p.kind, false, {}, find_dimension(p.kind), p.ball_height, p.point, find_usual_error(p.kind), 0.0, 0.0, 0.0},
                    std::vector<double>(errors.readings().size()),
                    find_error(p, errors.setup(), m)};
    }
    for (std::size_t r = 0; r < errors.readings().size(); ++r) {
        const ReadingError& e = errors.readings()[r];
        const auto low = predict(errors.move(r, e.low)), high = predict(errors.move(r, e.high));
        errors.reset(r);
        for (std::size_t i = 0; i < places.size(); ++i) {
            if (!low[i] || !high[i]) continue;
            found[i].slopes[r] = (*high[i] - *low[i]) * e.error / (e.high - e.low);
        }
    }
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (possible[i]) out.push_back(std::move(found[i]));
    }
}

void add_again(const ErrorModel& errors, std::vector<CandidateReading>& out) {
    for (std::size_t r = 0; r < errors.readings().size(); ++r) {
        const ReadingError& e = errors.readings()[r];
        if (e.key.starts_with("direct_reading") || e.key.starts_with("pose_reading")) continue;
        const double usual = e.spec.tolerance > 0.0 ? std::min(e.error, e.spec.tolerance) : e.error;
        CandidateReading c;
        c.reading.again = true;
        c.reading.key = e.key;
        c.reading.dimension = e.spec.dimension;
        c.reading.error = c.error = usual;
        c.slopes.resize(errors.readings().size());
        c.slopes[r] = e.error;
        out.push_back(std::move(c));
    }
}

}  // namespace

std::vector<CandidateReading> list_candidates(const ErrorModel& errors) {
    std::vector<CandidateReading> all;
    const MountedModelResult r = make_mounted_model(errors.setup(), nullptr, RangeSearch::none);
    if (!r.linkage_ok) return all;
    add_places(errors, r.model, all);
    add_again(errors, all);
    return all;
}

}  // namespace hitchwright
