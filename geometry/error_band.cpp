#include "geometry/error_band.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <optional>

#include "geometry/clearance.h"
#include "geometry/travel_place.h"
#include "geometry/visit_readings.h"

namespace hitchwright {
namespace {

constexpr std::size_t quantities = 7;
using Values = std::array<double, quantities>;
using Places = std::array<TravelPlace, quantities>;

/// The reading moved down and up by its tolerance. It cannot leave its possible range (a slot below nothing): one-sided there.
std::array<double, 2> find_moved(const Reading& r, const FieldSpec& spec) {
    return {std::max(r.value - r.tolerance, spec.least), std::min(r.value + r.tolerance, spec.most)};
}

/// gap, overlap, joint angles in work, overlap in work at their places; false when a pose does not close.
bool evaluate(const MountedModel& m, const Places& places, Values& out) {
    for (std::size_t i = 0; i < quantities; ++i) {
        const TravelBox at = find_box_at(places[i], m);
        const std::optional<ShaftState<double>> found = find_shaft_at(m, at);
        if (!found) return false;
        const ShaftState<double>& s = *found;
        const double overlap = find_overlap(m.halves, s.length);
        const double tractor = std::acos(std::clamp(s.cos_tractor_joint, -1.0, 1.0));
        const double implement = std::acos(std::clamp(s.cos_implement_joint, -1.0, 1.0));
        const std::array<double, quantities> all{find_gap(m.halves, s.length), overlap, tractor, implement, overlap,
                                                 tractor, implement};
        out[i] = all[i];
    }
    return true;
}

}  // namespace

ErrorBands find_error_bands(const Setup& setup, const LinkageAnalysis& linkage, const ShaftAnalysis& shaft) {
    const MountedModel& m = linkage.model;
    const TravelBox& box = linkage.box;
    const Places places{find_place(shaft.travel.shortest, m.travel, box, false),
                        find_place(shaft.travel.longest, m.travel, box, false),
                        find_place(shaft.work.tractor_angle, m.working_band, box, true),
                        find_place(shaft.work.implement_angle, m.working_band, box, true),
                        find_place(shaft.work.longest, m.working_band, box, true),
                        find_place(shaft.travel.tractor_angle, m.travel, box, false),
                        find_place(shaft.travel.implement_angle, m.travel, box, false)};
    ErrorBands bands;
    bands.known = true;
    const std::array<ErrorBand*, quantities> all{&bands.gap, &bands.overlap, &bands.tractor_angle_in_work,
                                                 &bands.implement_angle_in_work, &bands.overlap_in_work,
                                                 &bands.tractor_angle, &bands.implement_angle};
    Values squares{};
    Setup moved = setup;
    visit_readings(moved, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        if (!r.known || r.tolerance <= 0.0 || !bands.known) return;
        const double value = r.value;
        const std::array<double, 2> moved_to = find_moved(r, spec);
        if (!(moved_to[0] < moved_to[1])) return;
        std::array<Values, 2> at{};
        for (std::size_t i = 0; i < 2; ++i) {
            r.value = moved_to[i];
            const MountedModelResult result = make_mounted_model(moved, &m.pin_decision, RangeSearch::at_a_few_heights);
            const bool ok = result.linkage_ok && result.model.has_shaft && result.model.has_halves &&
                            evaluate(result.model, places, at[i]);
            bands.known = bands.known && ok;
        }
        r.value = value;
        if (!bands.known) {
            bands.broken_by = {key, r.tolerance};
            bands.broken_by_dimension = spec.dimension;
            return;
        }
        for (std::size_t q = 0; q < quantities; ++q) {
            const double share = std::fabs(at[1][q] - at[0][q]) * r.tolerance / (moved_to[1] - moved_to[0]);
            squares[q] += share * share;
            if (share > all[q]->widest.share) all[q]->widest = {key, share};
        }
    });
    if (!bands.known) {
        ErrorBands none;
        none.broken_by = bands.broken_by;
        none.broken_by_dimension = bands.broken_by_dimension;
        return none;
    }
    for (std::size_t q = 0; q < quantities; ++q) all[q]->width = std::sqrt(squares[q]);
    return bands;
}

std::vector<ErrorBand> find_clearance_bands(const Setup& setup, const MountedModel& model,
                                            const std::vector<Clearance>& clearances) {
    const std::size_t count = clearances.size();
    std::vector<TravelPlace> places;
    for (const Clearance& c : clearances) places.push_back(find_place(c.least, model.travel, make_travel_box(model), false));
    std::vector<ErrorBand> bands(count);
    std::vector<double> squares(count);
    std::array<std::vector<std::optional<double>>, 2> at{};
    for (auto& values : at) values.resize(count);
    Setup moved = setup;
    visit_readings(moved, [&](const std::string& key, Reading& r, const FieldSpec& spec) {
        if (!r.known || r.tolerance <= 0.0 || count == 0) return;
        const double value = r.value;
        const std::array<double, 2> moved_to = find_moved(r, spec);
        if (!(moved_to[0] < moved_to[1])) return;
        for (std::size_t i = 0; i < 2; ++i) {
            r.value = moved_to[i];
            const MountedModelResult result = make_mounted_model(moved, &model.pin_decision, RangeSearch::none);
            for (std::size_t q = 0; q < count; ++q) {
                at[i][q].reset();
                if (!result.linkage_ok) continue;  // said elsewhere
                at[i][q] = find_clearance_at(moved, result.model, find_box_at(places[q], result.model), clearances[q]);
            }
        }
        r.value = value;
        for (std::size_t q = 0; q < count; ++q) {
            if (!at[0][q] || !at[1][q]) continue;
            const double share = std::fabs(*at[1][q] - *at[0][q]) * r.tolerance / (moved_to[1] - moved_to[0]);
            squares[q] += share * share;
            if (share > bands[q].widest.share) bands[q].widest = {key, share};
        }
    });
    for (std::size_t q = 0; q < count; ++q) bands[q].width = std::sqrt(squares[q]);
    return bands;
}

}  // namespace hitchwright
