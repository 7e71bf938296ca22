// See ground_contact.h.
#include "geometry/ground_contact.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "geometry/angle.h"

namespace hitchwright {
namespace {

Point find_normal(const GroundLine& ground) { return perpendicular(unit_vector(ground.slope)); }

bool is_sound(const Point& ball, std::span<const Contact> contacts, const GroundLine& ground) {
    const bool contacts_sound = std::all_of(contacts.begin(), contacts.end(), [](const Contact& contact) {
        return contact.centre.allFinite() && std::isfinite(contact.radius) && contact.radius >= 0.0;
    });
    return contacts_sound && ball.allFinite() && ground.through.allFinite() && std::abs(ground.slope) < 0.5 * pi;
}

/// A contact behind the ball, on its own: the pitch at which it touches, or how far it is from ever doing so.
struct Touch {
    bool touches = false;
    double pitch = 0.0;
    double beyond = 0.0;  ///< m; positive: hangs free at every pitch, negative: in the ground at every pitch
};

Touch find_touch(const Point& ball, const Contact& contact, const GroundLine& ground) {
    const double arm = std::hypot(contact.centre.x(), contact.centre.y());
    const double needed = contact.radius - find_normal(ground).dot(ball - ground.through);
    if (std::abs(needed) > arm) {
        return {.beyond = needed < 0.0 ? -needed - arm : arm - needed};
    }
    // atan2 rather than asin: full accuracy also where the arm hangs almost square to the ground.
    const double above_ground_line = std::atan2(needed, std::sqrt((arm - needed) * (arm + needed)));
    return {.touches = true, .pitch = wrap_angle(above_ground_line + ground.slope - direction(contact.centre))};
}

/// The deepest contact at a pitch; nothing when all are at least touching.
std::optional<GroundRest> find_buried(const Point& ball, double pitch, std::span<const Contact> contacts,
                                      const GroundLine& ground) {
    std::optional<GroundRest> deepest;
    for (std::size_t i = 0; i < contacts.size(); ++i) {
        const double depth = -find_clearance(ball, pitch, contacts[i], ground);
        if (depth > touch_tolerance && (!deepest || depth > deepest->shortfall)) {
            deepest = GroundRest{.state = GroundState::ball_too_low, .contact = i, .shortfall = depth};
        }
    }
    return deepest;
}

/// Vertical gap under a contact.
double find_vertical_gap(const Point& ball, double pitch, const Contact& contact, const GroundLine& ground) {
    return find_clearance(ball, pitch, contact, ground) / std::cos(ground.slope);
}

}  // namespace

double find_clearance(const Point& ball, double pitch, const Contact& contact, const GroundLine& ground) {
    const Point centre = ball + rotate(contact.centre, pitch);
    return find_normal(ground).dot(centre - ground.through) - contact.radius;
}

GroundRest solve_ground_rest(const Point& ball, std::span<const Contact> contacts, const GroundLine& ground) {
    if (!is_sound(ball, contacts, ground)) {
        return {};
    }
    GroundRest rest{.state = GroundState::no_rear_contact};
    for (std::size_t i = 0; i < contacts.size(); ++i) {
        if (contacts[i].centre.x() <= 0.0) {
            continue;
        }
        const Touch touch = find_touch(ball, contacts[i], ground);
        if (touch.beyond < 0.0) {
            return {.state = GroundState::ball_too_low, .contact = i, .shortfall = -touch.beyond};
        }
        if (touch.touches && (rest.state != GroundState::rests || touch.pitch > rest.pitch)) {
            rest = {.state = GroundState::rests, .pitch = touch.pitch, .contact = i};
        } else if (!touch.touches && rest.state != GroundState::rests &&
                   (rest.state == GroundState::no_rear_contact || touch.beyond < rest.shortfall)) {
            rest = {.state = GroundState::ball_too_high, .contact = i, .shortfall = touch.beyond};
        }
    }
    if (rest.state == GroundState::rests) {
        return find_buried(ball, rest.pitch, contacts, ground).value_or(rest);
    }
    return rest;
}

FloatPose solve_float(const Point& ball, const PitchBand& band, const GroundRest& rest,
                      std::span<const Contact> contacts, const GroundLine& ground) {
    FloatPose pose;
    if (!band.closure.closes()) {
        return pose;
    }
    if (rest.state == GroundState::ball_too_high || rest.state == GroundState::no_rear_contact) {
        pose.state = FloatState::carried;
        pose.pitch = band.low;
        return pose;
    }
    if (rest.state != GroundState::rests || rest.contact >= contacts.size()) {
        return pose;
    }
    const Contact& contact = contacts[rest.contact];
    pose.pitch = std::clamp(rest.pitch, band.low, band.high);
    pose.state = rest.pitch < band.low    ? FloatState::carried
                 : rest.pitch > band.high ? FloatState::against_stop
                                          : FloatState::ground_borne;
    pose.pitch_down_left = rest.pitch - band.low;
    pose.pitch_up_left = band.high - rest.pitch;
    pose.hollow_left = -find_vertical_gap(ball, band.low, contact, ground);
    pose.hump_left = find_vertical_gap(ball, band.high, contact, ground);
    return pose;
}

}  // namespace hitchwright
