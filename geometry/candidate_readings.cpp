#include "geometry/candidate_readings.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <string_view>

#include "geometry/carried_bands.h"
#include "geometry/direct_place.h"
#include "geometry/drawn_model.h"
#include "geometry/field_spec.h"
#include "geometry/moved_models.h"

namespace hitchwright {
namespace {

/// Heights nearer than this are one, m.
constexpr double same_height = 0.05;

/// What somebody decided on; nobody can read it.
bool is_wish(std::string_view key) { return key.starts_with("choices.") || key.starts_with("implement.work."); }

/// The points a tape reaches on both machine shafts, where their distance from the joint centres is known.
LengthReference find_reference(const Setup& s) {
    const bool grooves = s.driveline.tractor_joint.centre_to_groove.known && s.driveline.implement_joint.centre_to_groove.known;
    return grooves ? LengthReference::locking_grooves : LengthReference::joint_centres;
}

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
        if (m.has_shaft) places.push_back({DirectKind::shaft_length, find_reference(s), h, 0.0, 0.0, {}});
        places.push_back({DirectKind::pitch, {}, h, 0.0, 0.0, {}});
        if (rearmost != points.end()) places.push_back({DirectKind::tail_height, {}, h, 0.0, 0.0, rearmost->name});
    }
    if (m.has_working_height) places.push_back({DirectKind::upper_link_length, {}, m.working_height, m.working_pitch, 0.0, {}});
    places.push_back({DirectKind::lowest_ball_height, {}, 0.0, 0.0, 0.0, {}});
    places.push_back({DirectKind::greatest_ball_height, {}, 0.0, 0.0, 0.0, {}});
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

/// Level, straight on and at the sharpest turns.
std::vector<DirectPlace> list_places(const Setup& s, const DrawnModel& m) {
    std::vector<DirectPlace> places;
    if (!m.has_shaft) return places;
    for (const double turn : {0.0, m.box.yaw.low, m.box.yaw.high}) {
        const bool there = std::any_of(places.begin(), places.end(), [&](const DirectPlace& p) { return p.turn == turn; });
        if (!there) places.push_back({DirectKind::shaft_length, find_reference(s), 0.0, 0.0, turn, {}});
    }
    return places;
}

/// The error of an angle finder laid across tractor and tongue counts with the distance in a turn.
double find_error(DirectPlace p, const Setup& s, const DrawnModel& m) {
    const double turn = p.turn;
    p.turn = turn + field::angle_error;
    const std::optional<double> more = predict_at(p, s, m);
    p.turn = turn - field::angle_error;
    const std::optional<double> less = predict_at(p, s, m);
    return std::hypot(find_usual_error(p.kind), more && less ? 0.5 * (*more - *less) : 0.0);
}

/// Takes the slopes of what is predicted for the places; `own`: errors of taking them. Of a place without a prediction there is none.
void add_places(const ErrorModel& errors, const std::vector<DirectPlace>& places, const std::vector<double>& own,
                std::vector<std::vector<double>> slopes, std::vector<CandidateReading>& out) {
    const bool drawn = errors.setup().implement.attachment == Attachment::drawn;
    for (std::size_t i = 0; i < places.size(); ++i) {
        if (slopes[i].empty()) continue;
        const DirectPlace& p = places[i];
        CandidateReading c;
        NextReading& r = c.reading;
        r.kind = p.kind;
        r.dimension = find_dimension(p.kind);
        r.ball_height = p.ball_height;
        r.at_turn = drawn;
        r.reference = p.reference;
        r.turn = p.turn;
        r.point = p.point;
        r.error = find_usual_error(p.kind);
        c.slopes = std::move(slopes[i]);
        c.error = own[i];
        out.push_back(std::move(c));
    }
}

using Predictions = std::span<std::optional<double>>;

/// False where a reading surely leaves alone what is predicted for a place.
bool may_move(std::string_view key, const DirectPlace& p) {
    if (moves_shaft_alone(key)) return p.kind == DirectKind::shaft_length;
    return p.kind == DirectKind::tail_height || !key.starts_with("implement.point[");
}

/// What is predicted for the places with moved readings.
class PlacePredictions {
public:
    PlacePredictions(const ErrorModel& errors, const std::vector<DirectPlace>& places) : errors_(errors), places_(places) {}

    void operator()(const MovedSetup& moved, const MountedModel& now, Predictions all) {
        const std::optional<std::size_t> reading = as_read_.empty() ? std::nullopt : find_moved_reading(moved, errors_.readings().size());
        for (std::size_t i = 0; i < places_.size(); ++i) {
            const bool stays = reading && !may_move(errors_.readings()[*reading].key, places_[i]);
            all[i] = stays ? as_read_[i] : predict_at(places_[i], {}, moved.setup, now);
        }
        if (moved.move == 0) as_read_.assign(all.begin(), all.end());
    }

private:
    const ErrorModel& errors_;
    const std::vector<DirectPlace>& places_;
    std::vector<std::optional<double>> as_read_;
};

template <class Model>
std::vector<double> find_errors(const std::vector<DirectPlace>& places, const Setup& s, const Model& m) {
    std::vector<double> all;
    all.reserve(places.size());
    for (const DirectPlace& p : places) all.push_back(find_error(p, s, m));
    return all;
}

void add_mounted(const ErrorModel& errors, const MountedModel& m, std::vector<CandidateReading>& out) {
    const std::vector<DirectPlace> places = list_places(errors.setup(), m);
    const std::vector<double> own = find_errors(places, errors.setup(), m);
    PlacePredictions predictions(errors, places);
    const ModelNumbers predict = std::ref(predictions);
    add_places(errors, places, own,
               find_slopes(errors, places.size(), ask_models(errors, m.pin_decision, predict), reads_model_and(errors, m, {"implement.point"})), out);
}

void add_drawn(const ErrorModel& errors, const DrawnModel& m, std::vector<CandidateReading>& out) {
    const std::vector<DirectPlace> places = list_places(errors.setup(), m);
    const std::vector<double> own = find_errors(places, errors.setup(), m);
    const auto predict = [&](const MovedSetup& moved, Predictions all) {
        const DrawnModelResult r = make_drawn_model(moved.setup);
        for (std::size_t i = 0; r.hitch_ok && i < places.size(); ++i) all[i] = predict_at(places[i], moved.setup, r.model);
    };
    add_places(errors, places, own, find_slopes(errors, places.size(), predict, may_move_drawn), out);
}

void add_again(const ErrorModel& errors, std::vector<CandidateReading>& out) {
    for (std::size_t r = 0; r < errors.readings().size(); ++r) {
        const ReadingError& e = errors.readings()[r];
        if (e.key.starts_with("direct_reading") || e.key.starts_with("pose_reading") || e.key.starts_with("turn_reading")) continue;
        if (is_wish(e.key) && e.key != "choices.upper_link_length") continue;
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
    if (errors.setup().implement.attachment == Attachment::drawn) {
        const DrawnModelResult r = make_drawn_model(errors.setup());
        if (!r.hitch_ok) return all;
        add_drawn(errors, r.model, all);
    } else {
        const MountedModelResult r = make_mounted_model(errors.setup(), nullptr, RangeSearch::none);
        if (!r.linkage_ok) return all;
        add_mounted(errors, r.model, all);
    }
    add_again(errors, all);
    return all;
}

}  // namespace hitchwright
