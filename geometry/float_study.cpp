// See float_study.h.
#include "geometry/float_study.h"

#include <algorithm>
#include <cmath>

#include "geometry/carried_bands.h"
#include "geometry/link_length.h"
#include "geometry/lower_link.h"
#include "geometry/pose_report.h"

namespace hitchwright {
namespace {

/// Where the stops are, as distances of the link's pins.
struct StopDistances {
    double shortest = 0.0, longest = 0.0;
};

double find_distance(const MountedModel& m, double height, double pitch) {
    return solve_upper_link_length(m.linkage, height, pitch).length;
}

/// From the band, so that a strap's stops count; a slot's are those of the link itself.
StopDistances find_stop_distances(const MountedModel& m, double height, const PitchBand& band) {
    const double a = find_distance(m, height, band.low), b = find_distance(m, height, band.high);
    return {std::min(a, b), std::max(a, b)};
}

class GroundStudy {
public:
    GroundStudy(const MountedModel& model, const PitchBand& band, std::vector<Contact> contacts)
        : model_(model), band_(band), contacts_(std::move(contacts)),
          ball_(solve_lower_link(model.linkage.lower_pivot, model.linkage.lower_length, model.working_height).ball),
          stops_(find_stop_distances(model, model.working_height, band)) {}

    GroundFollowing run(const Choices& c) const {
        GroundFollowing g;
        g.hump_typed = c.hump_angle.known;
        g.hollow_typed = c.hollow_angle.known;
        g.hump_angle = c.hump_angle.value_or(usual_ground_angle);
        g.hollow_angle = c.hollow_angle.value_or(usual_ground_angle);
        g.hump = rest_on(-g.hump_angle);
        g.level = rest_on(0.0);
        g.hollow = rest_on(g.hollow_angle);
        g.falls_to = find_touching_slope(ball_, band_.low, contacts_);
        g.rises_to = find_touching_slope(ball_, band_.high, contacts_);
        set_length(g);
        return g;
    }

private:
    FloatOnGround rest_on(double slope) const {
        FloatOnGround on;
        on.ground_angle = slope;
        const GroundLine ground{Point::Zero(), slope};
        const GroundRest rest = solve_ground_rest(ball_, contacts_, ground);
        on.pose = solve_float(ball_, band_, rest, contacts_, ground);
        // Where the ground alone would put the pin, the stops left out: what is left, or lacking.
        const WantedLength apart = solve_upper_link_length(model_.linkage, model_.working_height, rest.pitch);
        if (rest.state != GroundState::rests || !apart.closure.closes() || apart.past_dead_centre) {
            on.pose.state = FloatState::no_pitch;
            return on;
        }
        on.left_to_stretch = stops_.longest - apart.length;
        on.left_to_close = apart.length - stops_.shortest;
        return on;
    }

    /// The link that stands as far from one stop on the hump as from the other in the hollow.
    void set_length(GroundFollowing& g) const {
        if (g.hump.pose.state == FloatState::no_pitch || g.hollow.pose.state == FloatState::no_pitch) return;
        const double slack = stops_.longest - stops_.shortest;
        g.slack_needed = slack - g.hump.left_to_stretch - g.hollow.left_to_close;
        if (g.slack_needed > slack || model_.float_kind == UpperLinkKind::swing_strap) return;
        g.length_to_set = model_.linkage.upper_length + 0.5 * (g.hollow.left_to_close - g.hump.left_to_stretch);
    }

    const MountedModel& model_;
    PitchBand band_;
    std::vector<Contact> contacts_;
    Point ball_;
    StopDistances stops_;
};

std::vector<DeckEdgeFloat> study_deck_edges(const Setup& setup, const MountedModel& model, TravelBox box) {
    box.heights = model.working_band;
    TravelBox drawn_out = box, pushed_in = box;
    drawn_out.upper_lengths = {box.upper_lengths.high, box.upper_lengths.high};
    pushed_in.upper_lengths = {box.upper_lengths.low, box.upper_lengths.low};
    const std::vector<Clearance> all = find_deck_edge_clearances(setup, model, box);
    const std::vector<Clearance> longest = find_deck_edge_clearances(setup, model, drawn_out);
    const std::vector<Clearance> shortest = find_deck_edge_clearances(setup, model, pushed_in);
    std::vector<DeckEdgeFloat> edges;
    for (std::size_t i = 0; i < all.size(); ++i) {
        edges.push_back({all[i].part, all[i].least, longest[i].least.bound, shortest[i].least.bound});
    }
    return edges;
}

GroundBands find_ground_bands(const ErrorModel& errors, const MountedModel& model) {
    Propagation p = propagate_model(errors, model.pin_decision, 2,
                                    [](const MovedSetup& moved, const MountedModel& now, std::span<std::optional<double>> out) {
                                        const std::optional<GroundFollowing> g = study_ground(moved.setup, now);
                                        if (!g) return;
                                        if (g->hump.pose.state != FloatState::no_pitch) out[0] = g->hump.left_to_stretch;
                                        if (g->hollow.pose.state != FloatState::no_pitch) out[1] = g->hollow.left_to_close;
                                    });
    return {std::move(p.bands[0]), std::move(p.bands[1])};
}

}  // namespace

std::optional<double> find_touching_slope(const Point& ball, double pitch, std::span<const Contact> contacts) {
    std::optional<double> least;
    for (const Contact& c : contacts) {
        if (c.centre.x() <= 0.0) continue;
        const Point at = ball + rotate(c.centre, pitch);
        const double distance = at.norm();
        if (!(at.x() > 0.0) || !(distance > c.radius)) continue;
        const double slope = direction(at) - std::asin(c.radius / distance);
        least = least ? std::min(*least, slope) : slope;
    }
    return least;
}

std::optional<GroundFollowing> study_ground(const Setup& setup, const MountedModel& model) {
    if (!model.has_working_height || !model.travel.contains(model.working_height)) return std::nullopt;
    std::vector<Contact> contacts = list_contacts(setup.implement, model);
    const PitchBand band = find_float_band(model, model.working_height);
    if (contacts.empty() || !band.closure.closes()) return std::nullopt;
    return GroundStudy(model, band, std::move(contacts)).run(setup.choices);
}

std::optional<FloatStudy> study_float(const ErrorModel& errors, const MountedModel& model, const TravelBox& box) {
    if (model.float_kind == UpperLinkKind::rigid) return std::nullopt;
    FloatStudy study;
    study.heights = box.heights;
    study.at_low = find_float_band(model, box.heights.low);
    study.at_high = find_float_band(model, box.heights.high);
    study.strap_without_stops = model.float_kind == UpperLinkKind::swing_strap && !model.strap_has_stops;
    if (model.has_shaft) study.deck_edges = study_deck_edges(errors.setup(), model, box);
    if (!model.has_working_height || !box.heights.contains(model.working_height)) return study;
    study.at_working = find_float_band(model, model.working_height);
    study.ground = study_ground(errors.setup(), model);
    if (study.ground) study.bands = find_ground_bands(errors, model);
    return study;
}

}  // namespace hitchwright
