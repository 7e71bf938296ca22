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
/// shaft on the bench, and last everything coupled and the way it goes. `none`: not a reading.
enum class Station {
    rear_axle,
    lower_links,
    upper_link,
    lift,
    pto,
    drawbar,
    front_axle,
    cab,
    add_on_parts,
    implement_pins,
    mast,
    hitch_joint,
    input,
    tongue,
    outline,
    contacts,
    weight,
    shaft,
    coupled,
    way,
    none
};

/// Which jobs ask for a reading.
enum class Asked {
    always,           ///< every implement hitched that way
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
    from_stub,        ///< jobs with a shaft, and drawn ones without: the drawbar is measured from the stub
    height_by_drop,   ///< the drawbar's height is not taped
    pitch_not_found,  ///< mounted implements, and drawn ones as long as no wheel says how they stand
    clevis,           ///< the hitch is one
    steady_bearing,   ///< the shaft ends at a bearing on the tongue
    ditch,            ///< drawn implements, for a ditch or ridge across the way
    if_known,         ///< another way to an answer: where the set-up has a value already, since it then counts
    other             ///< a decision, or a figure that no answer uses so far
};

/// Which implements have a field: those on the three-point linkage, those on the drawbar, or both.
enum class Hitched { mounted, drawn, either };

/// What is known about a numeric field besides its key.
struct FieldSpec {
    Dimension dimension;
    double least, most;  ///< SI, both allowed
    double tolerance;    ///< usual error, two sigma, SI; used when the file states none and the origin is measured
    Need need;
    const char* measure;  ///< from where to where, or what it is
    bool own_job = false;        ///< true: `asked` holds instead of what the table says
    Asked asked = Asked::always;
    const char* measure_drawn = nullptr;  ///< what a drawn implement calls it, if that is something else
    bool by_quantity = false;             ///< dimension and range are those of the quantity its line states

    /// The same field, asked for by the given jobs only.
    constexpr FieldSpec when(Asked jobs) const {
        FieldSpec spec = *this;
        spec.own_job = true;
        spec.asked = jobs;
        return spec;
    }
    /// The same field, on a drawn implement taken from or to other points.
    constexpr FieldSpec on_drawbar(const char* text) const {
        FieldSpec spec = *this;
        spec.measure_drawn = text;
        return spec;
    }
    constexpr const char* measure_for(bool drawn) const {
        return drawn && measure_drawn != nullptr ? measure_drawn : measure;
    }
};

/// Says where the fields behind it are taken, who asks for them, and which implements have them; visitors that do not
/// care never hear of it.
template <class V>
constexpr void stand_at(V& visitor, Station station, Asked asked = Asked::always, Hitched hitched = Hitched::mounted) {
    if constexpr (requires { visitor.stand_at(station, asked, hitched); }) visitor.stand_at(station, asked, hitched);
}

/// A word of a file and the value it stands for.
template <class E>
struct ChoiceName {
    const char* word;
    E value;
};

/// Words behind `grade =`.
inline constexpr ChoiceName<Grade> grades[] = {{"A", Grade::A}, {"B", Grade::B}, {"C", Grade::C}, {"D", Grade::D}, {"P", Grade::P}};

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
