// An implement that rides on wheels, rollers or skids: the pitch the ground gives it, and what its floating upper link
// has left to follow humps and hollows.
//
// Ground: a straight line through G at slope g, normal n. A contact is a circle of radius r (skid: 0) about C in the
// implement frame; with the ball H held at its height it touches when
//     n . (H + R(p) C - G) = r   <=>   |C| sin(p - g + k) = r - n . (H - G),   k = direction of C,
// which is solved in closed form. A contact behind the ball rises with pitch: it touches on the way down. The implement
// rests on whichever touches first, the one with the greatest such pitch. A contact ahead of the ball limits from the
// other side; if it is pushed into the ground the ball is too low for this ground.
// Rigid ground, rigid wheels (loaded radius). Frame T, m and rad; pitch positive: rear up.
#pragma once

#include <cstddef>
#include <span>

#include "geometry/floating_link.h"
#include "geometry/point.h"

namespace hitchwright {

/// Straight ground behind the tractor.
struct GroundLine {
    Point through = Point::Zero();  ///< any point of it, m
    double slope = 0.0;             ///< rad in (-pi/2, pi/2), positive: rising rearward

    bool operator==(const GroundLine&) const = default;
};

/// A wheel or skid of the implement, frame I.
struct Contact {
    Point centre = Point::Zero();  ///< wheel centre or skid point, m
    double radius = 0.0;           ///< m, loaded; 0 for a skid

    bool operator==(const Contact&) const = default;
};

/// What holds, or fails to hold, the implement on the ground at a ball height.
enum class GroundState {
    rests,            ///< the named contact touches, no other is in the ground
    ball_too_high,    ///< no contact behind the ball reaches the ground at any pitch
    ball_too_low,     ///< the named contact is in the ground: at every pitch, or at the pitch the others give
    no_rear_contact,  ///< nothing behind the ball to rest on
    undefined,        ///< a number that is not finite, or a negative radius
};

/// The implement laid on the ground.
struct GroundRest {
    GroundState state = GroundState::undefined;
    double pitch = 0.0;       ///< rad; valid when it rests
    std::size_t contact = 0;  ///< index of the contact named by `state`
    double shortfall = 0.0;   ///< m: how much lower the ball must be for the nearest to reach (ball_too_high, measured
                              ///< square to the ground), or how deep the named contact is in the ground (ball_too_low)

    bool operator==(const GroundRest&) const = default;
};

/// Depth into the ground that counts as touching, m: rounding of the closed form, far below any reading.
inline constexpr double touch_tolerance = 1e-9;

/// Clearance under a contact, m, square to the ground line; negative: in the ground.
double find_clearance(const Point& ball, double pitch, const Contact& contact, const GroundLine& ground);

/// Pitch at which the implement rests on the ground with its ball at `ball` (frame T).
GroundRest solve_ground_rest(const Point& ball, std::span<const Contact> contacts, const GroundLine& ground);

/// Who decides the pitch of a floating implement.
enum class FloatState {
    ground_borne,  ///< the ground, the link between its stops
    carried,       ///< the link: taut, the rear hangs clear of the ground
    against_stop,  ///< the link at its other stop, the ground still pushing: it must lift the ball or bend something
    no_pitch,      ///< nobody: see the band's closure and the state of the GroundRest
};

/// Pitch of a floating implement and what is left to either stop.
struct FloatPose {
    FloatState state = FloatState::no_pitch;
    double pitch = 0.0;            ///< rad, the pitch taken
    double pitch_down_left = 0.0;  ///< rad the rear may fall until the link is at its stop; negative when carried
    double pitch_up_left = 0.0;    ///< rad the rear may rise; negative when against the stop
    double hollow_left = 0.0;  ///< m the ground under the resting contact may fall, vertically, until the link carries
    double hump_left = 0.0;    ///< m it may rise until the link is at its other stop

    bool operator==(const FloatPose&) const = default;
};

/// Lays the implement `rest`ing on the ground into the pitch `band` its floating link leaves at this ball. The amounts
/// left are zero unless the ground gives a pitch (an implement clear of the ground is carried, at band.low); hollow and
/// hump are shifts of the ground under the resting contact, parallel to `ground`. A ball too low for the ground, or
/// measures that are undefined, give no_pitch.
FloatPose solve_float(const Point& ball, const PitchBand& band, const GroundRest& rest,
                      std::span<const Contact> contacts, const GroundLine& ground);

}  // namespace hitchwright
