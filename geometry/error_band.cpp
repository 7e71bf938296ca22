#include "geometry/error_band.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "geometry/visit_readings.h"

namespace hitchwright {
namespace {

/// A place in a height range that survives a change of the readings: an end stays an end.
struct Place {
    enum class Kind { low_end, high_end, inside } kind = Kind::inside;
    double height = 0.0;
    bool in_work = false;          ///< of the working band instead of the travel
    double length_share = 0.0;     ///< effective upper-link length, 0 shortest .. 1 longest
};

Place find_place(const TravelExtreme& e, const HeightRange& range, const HeightRange& lengths, bool in_work) {
    Place p;
    p.in_work = in_work;
    p.height = e.height;
    if (e.height - range.low < 1.0e-6) p.kind = Place::Kind::low_end;
    if (range.high - e.height < 1.0e-6) p.kind = Place::Kind::high_end;
    if (lengths.high > lengths.low) p.length_share = (e.upper_length - lengths.low) / (lengths.high - lengths.low);
    return p;
}

constexpr std::size_t quantities = 7;
using Values = std::array<double, quantities>;
using Places = std::array<Place, quantities>;

/// gap, overlap, joint angles in work, overlap in work at their places; false when a pose does not close.
bool evaluate(const MountedModel& m, const Places& places, Values& out) {
    const HeightRange lengths = effective_upper_lengths(m);
    for (std::size_t i = 0; i < quantities; ++i) {
        const Place& p = places[i];
        const HeightRange& range = p.in_work ? m.working_band : m.travel;
        const double h = p.kind == Place::Kind::low_end    ? range.low
                         : p.kind == Place::Kind::high_end ? range.high
                                                           : p.height;
        PlanarLinkage k = m.linkage;
        k.upper_length = lengths.low + p.length_share * (lengths.high - lengths.low);
        if (!closes_at(k, h)) return false;
        const ShaftState<double> s = find_shaft_state(m.ends, solve_kernel<double>(k, h, k.upper_length));
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
    const HeightRange& lengths = linkage.box.upper_lengths;
    const Places places{find_place(shaft.travel.shortest, m.travel, lengths, false),
                        find_place(shaft.travel.longest, m.travel, lengths, false),
                        find_place(shaft.work.tractor_angle, m.working_band, lengths, true),
                        find_place(shaft.work.implement_angle, m.working_band, lengths, true),
                        find_place(shaft.work.longest, m.working_band, lengths, true),
                        find_place(shaft.travel.tractor_angle, m.travel, lengths, false),
                        find_place(shaft.travel.implement_angle, m.travel, lengths, false)};
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
        // A reading cannot leave its possible range (a slot below nothing); one-sided there.
        const std::array<double, 2> moved_to{std::max(value - r.tolerance, spec.least), std::min(value + r.tolerance, spec.most)};
        if (!(moved_to[0] < moved_to[1])) return;
        std::array<Values, 2> at{};
        for (std::size_t i = 0; i < 2; ++i) {
            r.value = moved_to[i];
            const MountedModelResult result = make_mounted_model(moved);
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

}  // namespace hitchwright
