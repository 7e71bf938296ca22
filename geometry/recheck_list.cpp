#include "geometry/recheck_list.h"

#include <array>
#include <cmath>

#include "geometry/visit_readings.h"

namespace hitchwright {
namespace {

/// A key without its items, and what moves.
struct Settling {
    std::string_view key;
    Hitched hitched;
    const char* reason;
};

constexpr const char* tyres = "tyres lose air, or stand otherwise under the load";
constexpr const char* stops = "the stop at the lever or cylinder slips";
constexpr const char* drawbar = "the drawbar slides or sags in its support, its pins bed in";
constexpr const char* clamp = "its clamp or lock settles, and the part walks along the stub";
constexpr const char* height = "rods, stops and tyres have settled";
constexpr const char* thread = "its thread turns while the lock nut is loose";

constexpr std::array<Settling, 18> settling = {{
    {"tractor.lift_rod.length", Hitched::mounted, "its thread or crank turns while the lock is loose"},
    {"tractor.travel.ball_height_low", Hitched::mounted, height},
    {"tractor.travel.ball_height_high", Hitched::mounted, height},
    {"tractor.drawbar.top_height", Hitched::drawn, drawbar},
    {"tractor.drawbar_pin.length", Hitched::drawn, drawbar},
    {"tractor.drawbar_pin.top_height", Hitched::drawn, drawbar},
    {"tractor.tyre.rear_radius", Hitched::either, tyres},
    {"tractor.tyre.front_radius", Hitched::drawn, tyres},
    {"implement.upper_link_float.slack", Hitched::mounted, "pins and shackles bed in, a chain stretches"},
    {"implement.ground_contact.z", Hitched::either, "brackets of wheels and skids slip or bend"},
    {"coupler.set_back", Hitched::mounted, "hooks and latches bed in"},
    {"overrunning_clutch.added_length", Hitched::either, clamp},
    {"spline_extender.added_length", Hitched::either, clamp},
    {"choices.upper_link_length", Hitched::mounted, thread},
    {"choices.upper_link_length_now", Hitched::mounted, thread},
    {"choices.lift_stop", Hitched::mounted, stops},
    {"choices.lower_stop", Hitched::mounted, stops},
    {"direct_reading.distance", Hitched::mounted, "whatever has settled between both machines shows here"},
}};

// "tractor.drawbar_pin[2].length" -> "tractor.drawbar_pin.length"; a name may hold any character.
std::string drop_item(const std::string& key) {
    const std::size_t open = key.find('['), close = key.rfind(']');
    return open == std::string::npos || close == std::string::npos ? key : key.substr(0, open) + key.substr(close + 1);
}

// Of the positions of the drawbar only the one in use; without a choice all.
bool is_in_use(const Setup& setup, const std::string& key) {
    const std::string list = "tractor.drawbar_pin[", chosen = setup.choices.drawn.drawbar_pin;
    return chosen.empty() || !key.starts_with(list) || key.starts_with(list + chosen + "].");
}

const Settling* find_settling(const std::string& key, bool drawn) {
    const std::string pattern = drop_item(key);
    for (const Settling& s : settling) {
        if (s.key == pattern && s.hitched != (drawn ? Hitched::mounted : Hitched::drawn)) return &s;
    }
    return nullptr;
}

}  // namespace

std::vector<RecheckReading> list_recheck_readings(const Setup& setup) {
    std::vector<RecheckReading> readings;
    const bool drawn = setup.implement.attachment == Attachment::drawn;
    Setup visited = setup;
    visit_readings(visited, [&](const std::string& key, const Reading& reading, const FieldSpec& spec) {
        const Settling* s = reading.known && is_in_use(setup, key) ? find_settling(key, drawn) : nullptr;
        if (s == nullptr) return;
        readings.push_back({key, reading, spec.dimension, find_retake_error(spec), spec.measure_for(drawn), s->reason});
    });
    return readings;
}

double find_retake_error(const FieldSpec& spec) {
    if (spec.tolerance > 0.0) return spec.tolerance;
    if (spec.dimension == Dimension::length) return field::floor_error;
    return spec.dimension == Dimension::angle ? field::angle_error : 0.0;
}

Movement find_movement(const Reading& earlier, const Reading& later) {
    Movement m;
    m.moved = later.value - earlier.value;
    m.error = std::hypot(earlier.tolerance, later.tolerance);
    // An exact tie of typed fractions is no movement that could be told.
    constexpr double rounding = 1e-9;
    m.told = std::fabs(m.moved) > m.error + rounding;
    return m;
}

}  // namespace hitchwright
