// What the field lists need to describe one field: key facts, words of choices, usual errors.
//
// Apart from setup_fields.h so that lists of single kinds of machine (drawn_fields.h) can share it. Usual errors are two
// sigma; their sources stand in docs/references.md, "Measuring".
#pragma once

#include "geometry/reading.h"

namespace hitchwright {

/// Who needs a field: the file itself, every linkage answer, the driveline answer, the answer of a set-up that has the
/// part (a slot, a wide-angle joint), or nobody by force.
enum class Need { file, linkage, driveline, part, optional };

/// Where a person stands to take a reading, in walking order round the machine: the tractor alone, the implement, the
/// shaft on the bench, and last everything coupled. `none`: not a reading.
enum class Station {
    rear_axle,
    lower_links,
    upper_link,
    lift,
    pto,
    drawbar,
    cab,
    add_on_parts,
    implement_pins,
    mast,
    input,
    outline,
    contacts,
    weight,
    shaft,
    coupled,
    none
};

/// Which jobs ask for a reading.
enum class Asked {
    always,           ///< every mounted implement
    rod_holes,        ///< several holes for the foot of the lift rod are listed
    hidden_pivot,     ///< while the front pivot of the lower link is not taped
    direct_check,     ///< jobs with a shaft, if one wants the check or has nothing else
    as_found,         ///< a list that may stay empty: as many as there are
    with_shaft,       ///< the implement has a PTO input
    slot_or_chain,    ///< the upper link is held by one
    swing_strap,      ///< the upper link is held by one
    wide_angle,       ///< the joint at that end is one
    locking_grooves,  ///< lengths of the shaft are taken between them
    shaft_ends,       ///< lengths of the shaft are taken between them
    if_known,         ///< another way to an answer: where the set-up has a value already, since it then counts
    other             ///< a decision, or a figure that no answer uses so far
};

/// What is known about a numeric field besides its key.
struct FieldSpec {
    Dimension dimension;
    double least, most;  ///< SI, both allowed
    double tolerance;    ///< usual error, two sigma, SI; used when the file states none and the origin is measured
    Need need;
    const char* measure;  ///< from where to where, or what it is
    bool own_job = false;        ///< true: `asked` holds instead of what the table says
    Asked asked = Asked::always;

    /// The same field, asked for by the given jobs only.
    constexpr FieldSpec when(Asked jobs) const {
        FieldSpec spec = *this;
        spec.own_job = true;
        spec.asked = jobs;
        return spec;
    }
};

/// Says where the fields behind it are taken and who asks for them; visitors that do not care never hear of it.
template <class V>
constexpr void stand_at(V& visitor, Station station, Asked asked = Asked::always) {
    if constexpr (requires { visitor.stand_at(station, asked); }) visitor.stand_at(station, asked);
}

/// A word of a file and the value it stands for.
template <class E>
struct ChoiceName {
    const char* word;
    E value;
};

namespace field {
inline constexpr double inch = 0.0254;
inline constexpr double degree = 3.14159265358979323846 / 180.0;
inline constexpr double pin_error = inch / 16;    ///< tape between reachable pin centres
inline constexpr double floor_error = inch / 8;   ///< tape to a floor or a plumb mark
inline constexpr double hidden_error = inch * 3 / 8;  ///< plumbing a pivot one can hardly see
inline constexpr double groove_error = inch / 8;  ///< locking groove to locking groove, in the air
inline constexpr double frame_error = inch / 8;   ///< straight edge across the lower pins
inline constexpr double angle_error = 0.3 * degree;

constexpr FieldSpec length(double least, double most, double tolerance, Need need, const char* measure) {
    return {Dimension::length, least, most, tolerance, need, measure};
}
constexpr FieldSpec angle(double least_deg, double most_deg, Need need, const char* measure) {
    return {Dimension::angle, least_deg * degree, most_deg * degree, angle_error, need, measure};
}
}  // namespace field

}  // namespace hitchwright
