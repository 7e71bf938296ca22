// What was seen at the machine, as data: measured differences and readings, and complaints without a number.
//
// A measured observation is a value the model can predict, with the error it was taken with (two sigma). A complaint is
// a sign: the machine does what the model says only where a margin is broken (a shaft that knocks: no gap left).
// Heights are ball heights above the floor. Frame T; m and rad.
#pragma once

#include <string>

#include "geometry/reading.h"

namespace hitchwright {

/// What was seen. Up to `reading` it is measured and has a number; from `knocks` on it is a complaint.
enum class SeenKind {
    tail_height,     ///< rearmost wheel or point of the implement, its underside above the floor
    front_height,    ///< foremost edge of the deck (else foremost point) above the floor
    pitch,           ///< of the implement's frame against the floor, rear up positive
    ball_height,     ///< lower hitch points above the floor, at an end of the travel
    shaft_distance,  ///< between the joint centres
    gap,             ///< left before the shaft bottoms
    overlap,         ///< of the tubes
    drawbar_length,  ///< drawn: PTO's end to the pin
    reading,         ///< a reading of the set-up taken again; `key`

    knocks,             ///< the shaft bottoms
    comes_apart,        ///< the tubes part
    chatters,           ///< joints bent too far or unevenly
    tail_drags,         ///< something of the implement touches the ground
    deck_touches,       ///< a deck edge touches the guard of the shaft
    link_too_short,     ///< the upper link cannot be screwed long enough
    link_too_long,      ///< nor short enough
    link_out_of_reach,  ///< one of the two
    tyre_meets_tongue,  ///< drawn: in a turn that is driven
    will_not_lift,      ///< less is lifted than the implement weighs; margin: share of its mass to spare
    stated              ///< in words that only a list of specifications can know
};

constexpr bool is_complaint(SeenKind kind) { return kind >= SeenKind::knocks; }

/// Where it was seen.
enum class SeenPlace {
    usual,      ///< gap and complaints of length: where the travel is worst; heights and pitch: at the working height
    working,    ///< mounted: at the working height; drawn: straight and level
    lowest,     ///< lever right down
    raised,     ///< lever right up
    at_height,  ///< mounted: ball height `height`
    in_dips,    ///< drawn: anywhere in the box of attitudes
    in_turns    ///< drawn: in a level turn
};

/// One observation.
struct Seen {
    SeenKind kind{};
    SeenPlace place = SeenPlace::usual;
    double height = 0.0;         ///< at_height: ball height above the floor, m
    bool against_setup = false;  ///< `value` is the difference from what the set-up says, not the value itself
    double value = 0.0;          ///< m or rad; measured kinds
    double error = 0.0;          ///< two sigma of how it was taken
    std::string key;             ///< kind reading: dotted key
    std::string words;           ///< as a person said it

    bool operator==(const Seen&) const = default;
};

/// Dimension of the value, or of the margin of a complaint.
constexpr Dimension seen_dimension(SeenKind kind) {
    if (kind == SeenKind::pitch || kind == SeenKind::tyre_meets_tongue) return Dimension::angle;
    return kind == SeenKind::chatters || kind == SeenKind::will_not_lift ? Dimension::ratio : Dimension::length;
}

/// Usual error of taking it, two sigma: heights and the shaft's distance as setup_fields.h has them for a tape to the
/// floor, groove to groove; an angle finder on a frame is good to half a degree (the floor it is zeroed on counts in).
constexpr double usual_seen_error(SeenKind kind) {
    constexpr double inch = 0.0254, degree = 3.14159265358979323846 / 180.0;
    return kind == SeenKind::pitch ? 0.5 * degree : inch / 8;
}

}  // namespace hitchwright
