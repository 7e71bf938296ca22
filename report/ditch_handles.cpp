// See ditch_handles.h.
#include "report/ditch_handles.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "geometry/angle.h"
#include "geometry/ground_profile.h"
#include "report/picture_points.h"

namespace hitchwright {
namespace {

// Ranges of the keys (drawn_fields.h), and a slope below which a side would never end.
constexpr double depth_most = 3.0, width_most = 30.0, slope_least = 2.0, slope_most = 80.0, crossing_least = 5.0, crossing_most = 175.0;
constexpr double angle_step = 0.5;  // deg

double length_step(UnitSystem units) { return units == UnitSystem::inch ? metres_per_inch / 2.0 : 0.01; }

double crossing_of(const DitchReadings& d) { return d.crossing_angle.value_or(0.5 * 3.14159265358979323846); }

double top_half_width(const DitchReadings& d) { return 0.5 * d.bottom_width.value + std::fabs(d.depth.value) / std::tan(d.side_slope.value); }

double round_degrees(double radians, double least, double most) {
    return to_radians(std::clamp(round_to_step(to_degrees(radians), angle_step, Rounding::nearest, 0.0), least, most));
}

Reading& reading_of(DitchReadings& d, DitchMeasure measure) {
    switch (measure) {
        case DitchMeasure::depth: return d.depth;
        case DitchMeasure::bottom_width: return d.bottom_width;
        case DitchMeasure::side_slope: return d.side_slope;
        case DitchMeasure::crossing_angle: return d.crossing_angle;
    }
    return d.depth;
}

bool is_angle(DitchMeasure measure) { return measure == DitchMeasure::side_slope || measure == DitchMeasure::crossing_angle; }

double round_measure(DitchMeasure measure, double value, UnitSystem units) {
    switch (measure) {
        case DitchMeasure::depth: return std::clamp(round_to_step(value, length_step(units), Rounding::nearest, 0.0), -depth_most, depth_most);
        case DitchMeasure::bottom_width: return std::clamp(round_to_step(value, length_step(units), Rounding::nearest, 0.0), 0.0, width_most);
        case DitchMeasure::side_slope: return round_degrees(value, slope_least, slope_most);
        case DitchMeasure::crossing_angle: return round_degrees(value, crossing_least, crossing_most);
    }
    return value;
}

DitchReadings with_measure(DitchReadings d, DitchMeasure measure, double value) {
    Reading& r = reading_of(d, measure);
    r.value = value;
    r.known = true;
    return d;
}

}  // namespace

std::vector<DitchHandle> list_ditch_handles(const DitchReadings& d) {
    if (!d.points.empty() || !d.depth.known || !d.bottom_width.known || !d.side_slope.known) return {};
    if (!make_ditch_profile(d.depth.value, d.bottom_width.value, d.side_slope.value)) return {};
    const double angle = crossing_of(d), along = 1.0 / std::sin(angle);
    return {{DitchMeasure::depth, {0.0, -d.depth.value}},
            {DitchMeasure::bottom_width, {0.5 * d.bottom_width.value * along, -d.depth.value}},
            {DitchMeasure::side_slope, {top_half_width(d) * along, 0.0}},
            {DitchMeasure::crossing_angle, {std::cos(angle), std::sin(angle)}}};
}

DitchReadings pull_handle(const DitchReadings& before, DitchMeasure measure, DrawingPoint to, UnitSystem units) {
    const double across = std::fabs(to.x) * std::sin(crossing_of(before));
    double value = 0.0;
    switch (measure) {
        case DitchMeasure::depth: value = -to.z; break;
        case DitchMeasure::bottom_width: value = 2.0 * across; break;
        case DitchMeasure::side_slope: value = std::atan2(std::fabs(before.depth.value), std::max(across - 0.5 * before.bottom_width.value, 0.0)); break;
        // The dial's upper half is all there is: a line has no direction.
        case DitchMeasure::crossing_angle: value = std::atan2(std::max(to.z, 0.0), to.x); break;
    }
    return with_measure(before, measure, round_measure(measure, value, units));
}

DitchReadings step_handle(const DitchReadings& before, DitchMeasure measure, int steps, UnitSystem units) {
    DitchReadings d = before;
    const double now = measure == DitchMeasure::crossing_angle ? crossing_of(before) : reading_of(d, measure).value;
    const double step = is_angle(measure) ? to_radians(angle_step) : length_step(units);
    return with_measure(before, measure, round_measure(measure, now + steps * step, units));
}

Polyline draw_ditch_ground(const DitchReadings& d, double first, double last) {
    const auto profile = d.depth.known && d.bottom_width.known && d.side_slope.known ? make_ditch_profile(d.depth.value, d.bottom_width.value, d.side_slope.value) : std::nullopt;
    if (!profile) return {};
    const double along = 1.0 / std::sin(crossing_of(d));
    Polyline line{{{first, find_ground_height(*profile, first / along)}}};
    for (const Point& corner : profile->corners) {
        const double x = corner.x() * along;
        if (x > first && x < last) line.points.push_back({x, corner.y()});
    }
    line.points.push_back({last, find_ground_height(*profile, last / along)});
    return line;
}

const char* ditch_key(DitchMeasure measure) {
    switch (measure) {
        case DitchMeasure::depth: return "choices.ditch.depth";
        case DitchMeasure::bottom_width: return "choices.ditch.bottom_width";
        case DitchMeasure::side_slope: return "choices.ditch.side_slope";
        case DitchMeasure::crossing_angle: return "choices.ditch.crossing_angle";
    }
    return "";
}

std::string ditch_value(const DitchReadings& ditch, DitchMeasure measure, UnitSystem units) {
    DitchReadings d = ditch;
    if (measure == DitchMeasure::crossing_angle) return fmt::format("{:.9g} deg", to_degrees(crossing_of(d)));
    if (is_angle(measure)) return fmt::format("{:.9g} deg", to_degrees(reading_of(d, measure).value));
    return make_length_text(reading_of(d, measure).value, units, length_step(units)).first;
}

std::string say_ditch_measure(const DitchReadings& d, DitchMeasure measure, UnitSystem units) {
    switch (measure) {
        case DitchMeasure::depth: return (d.depth.value < 0.0 ? "ridge, height " : "depth ") + format_length(std::fabs(d.depth.value), units);
        case DitchMeasure::bottom_width: return (d.depth.value < 0.0 ? "width of the top " : "width of the bottom ") + format_length(d.bottom_width.value, units);
        case DitchMeasure::side_slope: return "side slope " + format_angle(d.side_slope.value);
        case DitchMeasure::crossing_angle: return "crossed at " + format_angle(crossing_of(d));
    }
    return {};
}

}  // namespace hitchwright
